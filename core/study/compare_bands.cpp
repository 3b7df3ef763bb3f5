// Variants drawn together. A value that several variants call by the same name is one unknown: it is drawn once and
// stands in all of them, so that what is alike in two variants does not blur the difference between them.
#include <algorithm>
#include <cmath>
#include <limits>

#include "errors.hpp"
#include "study/attempted_private.hpp"
#include "study/bands.hpp"
#include "study/compare.hpp"
#include "study/quasi_random.hpp"

namespace airtally::study {
namespace {

/// One question of one variant, and where its numbers go.
struct Asked {
  Question question;
  struct Pick {
    std::size_t result;
    std::vector<std::size_t> measures;  ///< one, or one per nozzle of which the worst counts
  };
  std::vector<Pick> picks;
  std::vector<std::size_t> worst;  ///< measures that say which element is the worst, per element
};

std::vector<std::size_t> measures_of(const Question& question, std::string_view key) {
  std::vector<std::size_t> found;
  for (std::size_t m = 0; m < question.measures.size(); ++m)
    if (question.measures[m].key == key) found.push_back(m);
  return found;
}

/// When every tip has the vacuum by which all variants are compared.
Question reach_question(double vacuum, int segments, solve::Thermal thermal) {
  Question question;
  question.measures = {{"reach_s", "", "common vacuum after", Quality::time}};
  question.answer = [=](const line::Line& sample, std::span<double> out) {
    out[0] = reach_time(sample, vacuum, segments, thermal);
  };
  return question;
}

/// What cycle() says of a pick, as compare() asks it.
Question pick_question(solve::Thermal thermal) {
  CycleOptions quick;
  quick.thermal = thermal;
  quick.limits = quick.widest = false;
  quick.samples = 2;
  quick.relative = 1e-5;  // a band needs no more
  Question question;
  question.measures = {{"safe_lift_s", "", "", Quality::time},
                       {"margin_at_lift_pa", "", "", Quality::vacuum},
                       {"margin_in_travel_pa", "", "", Quality::vacuum}};
  question.answer = [quick](const line::Line& sample, std::span<double> out) {
    const PickResults worst = pick_results(cycle(sample, quick).heads);
    out[0] = worst.wait;
    out[1] = worst.margin_at_lift;
    out[2] = worst.margin_in_travel;
  };
  return question;
}

std::vector<Asked> questions(const line::Line& line, bool all, const CompareOptions& options, double common_vacuum,
                             int segments) {
  std::vector<Asked> asked;
  const auto usual = solve::usual_tips(line);
  for (const auto& [state, key] :
       {std::pair(solve::TipState::open, "open_vacuum_pa"), std::pair(solve::TipState::part, "part_vacuum_pa"),
        std::pair(solve::TipState::blocked, "blocked_vacuum_pa")}) {
    if (state == solve::TipState::part && !line.part) continue;
    const auto tips = state == solve::TipState::part ? usual : solve::all_tips(line, state);
    // The first measure is the vacuum of the only tip, or of the weakest.
    Asked one{steady_question(line, tips), {{result_of(key), {0}}}, {}};
    if (tips == usual) one.picks.push_back({result_of("leaks_kg_s"), measures_of(one.question, "leaks_kg_s")});
    asked.push_back(std::move(one));
  }
  if (line.part) {
    Asked one{hold_question(line), {{result_of("margin_pa"), {0}}}, {}};
    one.picks.push_back({result_of("heaviest_kg"), measures_of(one.question, "heaviest_kg")});
    asked.push_back(std::move(one));
  }
  if (!all) return asked;
  asked.push_back({rise_question(line, usual, options.thermal), {{result_of("settle_s"), {0}}}, {}});
  asked.push_back({reach_question(common_vacuum, segments, options.thermal), {{result_of("reach_s"), {0}}}, {}});
  if (line.cycle && line.part) {
    Asked one{pick_question(options.thermal), {}, {}};
    for (std::size_t m = 0; m < one.question.measures.size(); ++m)
      one.picks.push_back({result_of(one.question.measures[m].key), {m}});
    asked.push_back(std::move(one));
  }
  Asked ranked{rank_question(line, usual, {}), {}, {}};
  ranked.picks = {{result_of("total_loss_pa"), measures_of(ranked.question, "total_loss_pa")}};
  ranked.worst = measures_of(ranked.question, "worst_probability");
  asked.push_back(std::move(ranked));
  if (line.sensor && line.part) {
    Asked one{sense_question(line, std::nullopt), {}, {}};
    one.picks = {{result_of("separation"), {0}},
                 {result_of("safe_after_s"), measures_of(one.question, "safe_after_s")}};
    asked.push_back(std::move(one));
  }
  return asked;
}

/// What is never drawn here: what only differs from build to build of the same sensor; without the long questions
/// also what only these ask of.
Question not_drawn(bool all) {
  Question question;
  question.fixed = {"sensor.zero", "sensor.accuracy", "sensor.allowed"};
  if (!all) question.fixed.insert(question.fixed.end(), {"cycle.", "sensor."});
  return question;
}

/// A variant, what it is asked, and which of the unknowns are its own.
class Drawn {
 public:
  Drawn(const line::Line& line, std::vector<Asked> asked, const std::vector<line::Uncertain>& inputs)
      : line_(line), asked_(std::move(asked)) {
    for (const line::Uncertain& own : line::uncertain(line)) {
      const auto found = std::find_if(inputs.begin(), inputs.end(), [&](const auto& i) { return i.same_place(own); });
      place_.push_back(static_cast<std::size_t>(found - inputs.begin()));
    }
  }

  /// Writes a number per result and counts the worst element. `only`: nothing but this result.
  void answer(std::span<const double> u, std::span<double> out, std::span<double> worst, std::size_t only) const {
    std::vector<double> own(place_.size());
    for (std::size_t i = 0; i < own.size(); ++i) own[i] = u[place_[i]];
    const line::Line sample = line::sampled(line_, own);
    std::fill(out.begin(), out.end(), nothing);
    for (const Asked& asked : asked_) {
      const auto wanted = [&](const Asked::Pick& pick) { return only == results().size() || pick.result == only; };
      if (std::none_of(asked.picks.begin(), asked.picks.end(), wanted)) continue;
      std::vector<double> numbers(asked.question.measures.size());
      asked.question.answer(sample, numbers);
      for (const Asked::Pick& pick : asked.picks) out[pick.result] = worst_of(pick, numbers);
      for (std::size_t e = 0; e < asked.worst.size() && e < worst.size(); ++e) worst[e] = numbers[asked.worst[e]];
    }
  }

  std::size_t elements() const { return line_.elements.size(); }
  /// The results that it is asked for.
  void add_results(std::vector<bool>& drawn) const {
    for (const Asked& asked : asked_)
      for (const Asked::Pick& pick : asked.picks) drawn[pick.result] = true;
  }

 private:
  static double worst_of(const Asked::Pick& pick, const std::vector<double>& numbers) {
    double worst = nothing;
    for (const std::size_t m : pick.measures) {
      if (std::isnan(worst) || better(results()[pick.result], worst, numbers[m])) worst = numbers[m];
    }
    return worst;
  }

  line::Line line_;
  std::vector<Asked> asked_;
  std::vector<std::size_t> place_;
};

}  // namespace

std::vector<line::Uncertain> compare_inputs(std::span<const Variant> variants, bool all) {
  std::vector<line::Uncertain> inputs;
  for (const Variant& variant : variants)
    for (const line::Uncertain& own : line::uncertain(drawn_from(not_drawn(all), variant.line)))
      if (std::none_of(inputs.begin(), inputs.end(), [&](const auto& i) { return i.same_place(own); }))
        inputs.push_back(own);
  return inputs;
}

double compare_cost(std::span<const Variant> variants, bool all) {
  // Three states, the hold; and with all of it a rise, a cycle, a ranking and a sensor.
  return static_cast<double>(variants.size()) * (all ? 3500.0 : 6.0);
}

CompareBands compare_bands(std::span<const Variant> variants, const Comparison& comparison, bool all,
                           const SampleOptions& options, const CompareOptions& how) {
  CompareBands result;
  result.inputs = compare_inputs(variants, all);
  result.seed = options.seed;
  const std::size_t inputs = result.inputs.size(), n = options.samples, wide = results().size();
  if (inputs == 0) return result;
  result.samples = n;
  std::vector<Drawn> drawn;
  std::vector<bool> asked(wide, false);
  for (std::size_t v = 0; v < variants.size(); ++v) {
    const line::Line& line = variants[v].line;
    drawn.emplace_back(drawn_from(not_drawn(all), line),
                       questions(line, all, how, comparison.common_vacuum, comparison.variants[v].segments),
                       result.inputs);
    drawn.back().add_results(asked);
    result.worst.emplace_back(all ? drawn.back().elements() : 0, 0.0);
  }
  for (std::size_t r = 0; r < wide; ++r)
    if (asked[r]) result.drawn.push_back(r);

  // The first judgement whose result is drawn: what is unsure about it is worth knowing.
  const auto judged = std::find_if(comparison.judgements.begin(), comparison.judgements.end(),
                                   [&](const Judgement& j) { return asked[j.result] && !j.alike; });
  const bool influence = options.influence && judged != comparison.judgements.end();
  const std::size_t base = std::max<std::size_t>(n / 4, 16), count = variants.size();
  const std::size_t pieces = n * count + (influence ? base * (inputs + 2) : 0);
  const auto tell = [&](std::size_t before) {
    return options.progress
               ? Progress([&, before](std::size_t done, std::size_t) { options.progress(before + done, pieces); })
               : Progress();
  };

  check_inputs(inputs);
  const QuasiRandom points(n, 2 * inputs, options.seed);
  std::vector<double> rows(n * count * wide, nothing);
  std::vector<std::vector<double>> worst(n * count);
  std::vector<char> lost(n * count, 0);
  parallel(
      n * count, options.threads,
      [&](std::size_t k) {
        const std::size_t i = k / count, v = k % count;
        const std::span<double> out = std::span<double>(rows).subspan(k * wide, wide);
        worst[k].assign(result.worst[v].size(), 0.0);
        if (attempted([&] { drawn[v].answer(points[i].first(inputs), out, worst[k], wide); })) return;
        std::fill(out.begin(), out.end(), nothing);
        lost[k] = 1;
      },
      tell(0));
  for (std::size_t i = 0; i < n; ++i) {
    bool any = false;
    for (std::size_t v = 0; v < count; ++v) any = any || lost[i * count + v] != 0;
    result.failed += any ? 1 : 0;
  }
  if (result.failed == n) throw NoConvergence("not one of the lines drawn from the files' tolerances could be solved.");
  for (const std::size_t r : result.drawn) {
    std::vector<std::vector<double>> of(count, std::vector<double>(n));
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t v = 0; v < count; ++v) of[v][i] = rows[(i * count + v) * wide + r];
    result.values.push_back(std::move(of));
  }
  for (std::size_t k = 0; k < n * count; ++k)
    for (std::size_t e = 0; e < worst[k].size(); ++e) result.worst[k % count][e] += worst[k][e];
  for (std::size_t v = 0; v < count; ++v) {
    std::size_t solved = 0;
    for (std::size_t i = 0; i < n; ++i) solved += lost[i * count + v] == 0 ? 1 : 0;
    for (double& share : result.worst[v]) share /= static_cast<double>(std::max<std::size_t>(solved, 1));
  }

  if (influence) {
    const auto difference = [&](std::span<const double> u, std::span<double> out) {
      std::vector<double> of(wide);
      out[0] = nothing;
      attempted([&] {
        drawn[judged->best].answer(u, of, {}, judged->result);
        const double first = of[judged->result];
        drawn[judged->next].answer(u, of, {}, judged->result);
        out[0] = first - of[judged->result];
      });
    };
    result.influence = influences(inputs, 1, difference, {base, options.seed, options.threads, tell(n * count)})[0];
  }
  return result;
}

}  // namespace airtally::study
