#include "study/hold.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "errors.hpp"
#include "laws/holding.hpp"
#include "line/topology.hpp"
#include "solve/answer.hpp"
#include "study/first_of.hpp"
#include "study/nozzle_notes.hpp"
#include "study/rim.hpp"
#include "units/show.hpp"

namespace airtally::study {
namespace {

/// Mouth vacuum per nozzle with the part's gap at `gap` [m]; none where it stays open.
std::vector<double> mouth_vacuum(line::Line line, line::Part part, double gap, std::span<const solve::TipState> tips) {
  part.gap = gap;
  line.part = part;
  const solve::SteadyAnswer answer = solve::steady(line, tips);
  std::vector<double> vacuum(answer.tips.size());
  std::transform(answer.tips.begin(), answer.tips.end(), vacuum.begin(),
                 [](const solve::Tip& tip) { return tip.mouth_vacuum; });
  return vacuum;
}

laws::Body body_of(const line::Part& part, const line::Move& move) {
  laws::Body body;
  body.mass = part.mass.value;
  body.offset = move.offset.value;
  body.depth = part.height ? 0.5 * part.height->value : 0.0;
  // A block about its upright axis: (l^2 + w^2)/12.
  if (const auto sides = line::sides_of(part))
    body.gyration_area = (sides->longer * sides->longer + sides->shorter * sides->shorter) / 12.0;
  return body;
}

laws::Motion motion_of(const line::Move& move) {
  return {move.lift.value, move.travel.value, move.spin.value, move.spin_up.value};
}

laws::Safety safety_of(const line::Move& move) { return {move.lift_safety.value, move.side_safety.value}; }

const line::Part& part_of(const line::Line& line) {
  if (!line.part)
    throw BadInput({line.file, 0, 0}, "there is no part to hold; add a table [part] with its mass and gap.");
  return *line.part;
}

std::array<double, 3> in_order(const laws::NeededForce& force) { return {force.lift, force.slide, force.tilt}; }

double largest(const laws::NeededForce& force) { return std::max({force.lift, force.slide, force.tilt}); }

/// Largest value of one acceleration at which `force` suffices. The need is the largest of straight lines in it, so it
/// rises without bound; bisection finds where it meets the force to 1e-12 of it.
template <typename Need>
std::optional<double> largest_acceleration(double force, Need need) {
  if (need(0.0) > force) return std::nullopt;
  double low = 0.0, high = 1.0;
  while (need(high) <= force) high *= 2.0;
  // At rest nothing asks for the safety sideways, so the need may jump at 0: then it is 0 that is found.
  while (high - low > 1e-12 * high && high > 1e-9) {
    const double middle = 0.5 * (low + high);
    (need(middle) <= force ? low : high) = middle;
  }
  return low;
}

void note_shape(Hold& result, const line::Part& part, const line::Move& move) {
  const bool turns = move.spin.value != 0.0 || move.spin_up.value != 0.0;
  const bool sideways = move.travel.value > 0.0 || (turns && move.offset.value > 0.0);
  if (!sideways && !turns && move.lift.value == 0.0)
    result.notes.emplace_back("no acceleration is given: the part is held at rest only");
  if (sideways && !part.height)
    result.notes.emplace_back("the part's height is not given: sideways moves are taken not to tilt it");
  if (move.spin_up.value != 0.0 && !part.length && !part.width)
    result.notes.emplace_back("the part's length and width are not given: it is taken to turn without inertia");
}

/// What every nozzle is asked: the part through its moves.
struct Handled {
  const line::Move& move;
  laws::Body body;
  laws::Motion motion;
  laws::Safety safety;

  Handled(const line::Part& part, const line::Move& how)
      : move(how), body(body_of(part, how)), motion(motion_of(how)), safety(safety_of(how)) {}

  laws::NeededForce force(const laws::Grip& grip, const laws::Motion& through) const {
    return laws::needed_force(body, grip, through, safety);
  }
};

/// The budget of one nozzle, an index into the line, with these vacuums at its mouth.
TipHold tip_hold(const line::Line& line, std::size_t nozzle, const Handled& handled, const VacuumHad& nominal,
                 const VacuumHad& least, const VacuumHad& most) {
  const laws::Grip grip = grip_of(line, nozzle, handled.move);
  TipHold tip;
  tip.element = nozzle;
  tip.area = grip.area;
  tip.seat = line::seat_of(line, nozzle);
  tip.why_not_closed = line::why_not_closed(line, nozzle);
  tip.nominal = nominal;
  tip.least = least;
  tip.most = most;
  const laws::NeededForce force = handled.force(grip, handled.motion);
  for (std::size_t i = 0; i < all_losses.size(); ++i) tip.needed[i] = in_order(force)[i] / grip.area;
  const auto worst = std::max_element(tip.needed.begin(), tip.needed.end());
  tip.limit = all_losses.at(static_cast<std::size_t>(worst - tip.needed.begin()));
  tip.needed_vacuum = *worst;
  tip.force = tip.least.vacuum * grip.area;
  tip.margin = tip.least.vacuum - tip.needed_vacuum;
  tip.heaviest = tip.force / largest(force) * handled.body.mass;  // every need is proportional to the mass
  const auto most_of = [&](double laws::Motion::*acceleration) {
    return largest_acceleration(tip.force, [&](double a) {
      laws::Motion other = handled.motion;
      other.*acceleration = a;
      return largest(handled.force(grip, other));
    });
  };
  tip.most_lift = most_of(&laws::Motion::lift);
  tip.most_travel = most_of(&laws::Motion::travel);
  return tip;
}

/// What is taken for granted of the rim of a nozzle that has the part on.
void note_rim(NozzleNotes& notes, const line::Line& line, std::size_t nozzle) {
  const double gap = line.part->gap.high;
  if (const double share = creeping_share(line, nozzle); share < 1.0) {
    notes.add(nozzle,
              fmt::format(
                  "air creeps under the part over the rim of {} (gap up to {}), yet the vacuum is counted on all of "
                  "it, as seal = \"rim\" says; where the rim does not seal at its outer edge the force is {:.0f} % "
                  "of that, so the part then asks for {:.1f} times the vacuum",
                  NozzleNotes::who, units::show_fitting(gap, units::Dimension::length, 2), 100.0 * share, 1.0 / share));
  }
}

}  // namespace

std::string_view word(Loss loss) {
  constexpr std::array<std::string_view, 3> words{"lift", "slide", "tilt"};
  return words.at(static_cast<std::size_t>(loss));
}

NeededVacuum needed_vacuum(const line::Line& line, std::size_t nozzle) {
  const line::Part& part = part_of(line);
  const line::Move move = line.move.value_or(line::Move{});
  const laws::Grip grip = grip_of(line, nozzle, move);
  const laws::Body body = body_of(part, move);
  const laws::Motion all = motion_of(move);
  const laws::Motion up{all.lift, 0.0, 0.0, 0.0};
  return {largest(laws::needed_force(body, grip, up, safety_of(move))) / grip.area,
          largest(laws::needed_force(body, grip, all, safety_of(move))) / grip.area,
          body.mass * laws::free_fall / grip.area};
}

Hold hold(const line::Line& line, std::span<const solve::TipState> asked) {
  if (line::all_of(line, line::Kind::nozzle).empty()) line::topology(line);  // which complains of that
  const line::Part& part = part_of(line);
  Hold result;
  result.ambient = line.site.pressure;
  result.mass = part.mass.value;
  result.move = line.move.value_or(line::Move{});
  const line::Move& move = result.move;
  const Handled handled(part, move);

  const std::vector<solve::TipState> usual = solve::usual_tips(line);
  std::vector<solve::TipState> tips = usual;
  for (std::size_t k = 0; k < asked.size(); ++k)
    if (asked[k] != solve::TipState::part) tips.at(k) = asked[k];
  const double tight = std::max(part.gap.low, 0.0), loose = std::max(part.gap.high, 0.0);
  const std::vector<double> nominal = mouth_vacuum(line, part, part.gap.value, tips);
  const std::vector<double> at_tight = part.gap.is_exact() ? nominal : mouth_vacuum(line, part, tight, tips);
  const std::vector<double> at_loose = part.gap.is_exact() ? nominal : mouth_vacuum(line, part, loose, tips);

  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  NozzleNotes tip_notes;
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    TipHold tip =
        tip_hold(line, nozzles[k], handled, {part.gap.value, nominal[k]}, {loose, at_loose[k]}, {tight, at_tight[k]});
    tip.state = tips[k];
    tip.judged = asked.empty() || asked[k] == solve::TipState::part;
    if (tip.state == solve::TipState::part) note_rim(tip_notes, line, tip.element);
    result.tips.push_back(tip);
  }
  if (std::none_of(result.tips.begin(), result.tips.end(), [](const TipHold& tip) { return tip.judged; }))
    throw BadInput({line.file, 0, 0}, "no tip is to have a part on, so there is nothing to hold.");
  constexpr double not_asked = 1e300;
  result.weakest = first_least(
      result.tips, [](const TipHold& tip) { return tip.judged ? tip.margin : not_asked; }, pressure_tie);
  result.factors = {{"safety lifting", handled.safety.lift, move.lift_safety_stated},
                    {"safety sideways", handled.safety.side, move.side_safety_stated},
                    {"friction", move.friction.value, move.friction_stated}};
  result.notes = tip_notes.sentences(line);
  note_shape(result, part, move);
  if (const std::string own = own_parts_note(line); !own.empty()) result.notes.push_back(own);
  return result;
}

}  // namespace airtally::study
