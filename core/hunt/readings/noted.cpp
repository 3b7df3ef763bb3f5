#include "hunt/readings/noted.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "hunt/readings/cut.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "units/suggest.hpp"

namespace airtally::hunt {

using solve::TipState;

Noted::Noted(const line::Line& line, std::vector<Complaint>& complaints)
    : line_(&line),
      complaints_(&complaints),
      topology_(line::topology(line)),
      nozzles_(line::all_of(line, line::Kind::nozzle)) {}

std::optional<std::size_t> Noted::element(const std::string& name, const Position& at) {
  if (const auto found = line::find(*line_, name)) return found;
  std::vector<std::string_view> names;
  for (const line::Element& e : line_->elements) names.push_back(e.name);
  const auto near = units::nearest(name, names);
  complain(at, fmt::format("the line has no element '{}'; it has {}.{}", name, fmt::join(names, ", "),
                           near ? fmt::format(" Did you mean '{}'?", *near) : ""));
  return std::nullopt;
}

std::vector<TipState> Noted::tips(const line::Note& note) {
  std::vector<TipState> states = solve::usual_tips(*line_);
  for (const std::string& text : note.tips) {
    const std::size_t equals = text.rfind('=');
    const std::string word = text.substr(equals == std::string::npos ? 0 : equals + 1);
    const auto state = word == "open"      ? std::optional(TipState::open)
                       : word == "part"    ? std::optional(TipState::part)
                       : word == "blocked" ? std::optional(TipState::blocked)
                                           : std::nullopt;
    if (!state) {
      complain(note.tip_at, fmt::format("'{}' is no state of a tip; say open, part or blocked.", word));
    } else if (state == TipState::part && !line_->part) {
      complain(note.tip_at, "the tip can't carry a part: the line file has no [part].");
    } else if (equals == std::string::npos) {
      std::fill(states.begin(), states.end(), *state);
    } else if (const auto nozzle = element(text.substr(0, equals), note.tip_at)) {
      const auto k = std::find(nozzles_.begin(), nozzles_.end(), *nozzle);
      if (k == nozzles_.end())
        complain(note.tip_at, fmt::format("'{}' is no nozzle.", line_->elements[*nozzle].name));
      else
        states[static_cast<std::size_t>(k - nozzles_.begin())] = *state;
    }
  }
  return states;
}

void Noted::take_off(const line::Note& note, Setting& setting) {
  for (const std::string& name : note.off) {
    const auto i = element(name, note.off_at);
    if (!i) continue;
    if (line::is_source(line_->elements[*i].kind))
      complain(note.off_at, fmt::format("'{}' is a source; what is taken off is a branch of the line, by the element "
                                        "that it begins with.",
                                        name));
    else
      setting.off.push_back(*i);
  }
  if (!setting.cap || setting.off.empty()) return;
  if (line::without(*line_, topology_, setting.off).index[*setting.cap] != line::none) return;
  complain(note.cap_at, fmt::format("'{}' is off with '{}'; a line is capped where something is left of it.",
                                    line_->elements[*setting.cap].name, fmt::join(note.off, "', '")));
  setting.cap.reset();  // what follows goes on with a line that can be
}

Setting Noted::setting(const line::Note& note) {
  Setting setting;
  setting.hole = note.hole;
  if (!note.cap.empty()) setting.cap = element(note.cap, note.cap_at);
  setting.tips = tips(note);
  take_off(note, setting);
  return setting;
}

bool Noted::on(const Setting& setting, std::size_t element) const {
  return (!setting.cap && setting.off.empty()) || cut(*line_, topology_, setting).index[element] != line::none;
}

std::string Noted::done(const Setting& setting) const {
  std::string text;
  if (setting.cap) text = fmt::format("capped behind '{}'", line_->elements[*setting.cap].name);
  for (std::size_t k = 0; k < setting.off.size(); ++k)
    text += fmt::format("{}'{}'",
                        k > 0          ? ", "
                        : text.empty() ? "without "
                                       : " and without ",
                        line_->elements[setting.off[k]].name);
  return text;
}

}  // namespace airtally::hunt
