#include "study/compare.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "errors.hpp"
#include "solve/answer.hpp"
#include "study/bands.hpp"
#include "study/hold.hpp"
#include "study/need.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

constexpr std::array<Result, 15> all_results{{
    {"open_vacuum_pa", "tip vacuum, open", Quality::vacuum, true},
    {"part_vacuum_pa", "tip vacuum, part on", Quality::vacuum, true},
    {"blocked_vacuum_pa", "tip vacuum, blocked", Quality::vacuum, true},
    {"margin_pa", "to spare for its moves", Quality::vacuum, true},
    {"heaviest_kg", "heaviest part", Quality::mass, true},
    {"settle_s", "settles in", Quality::time, false, false},
    {"reach_s", "common vacuum after", Quality::time, false},
    {"safe_lift_s", "cycle: wait to lift", Quality::time, false},
    {"margin_at_lift_pa", "cycle: spare at lift", Quality::vacuum, true},
    {"margin_in_travel_pa", "cycle: spare in travel", Quality::vacuum, true},
    {"leaks_kg_s", "all leaks", Quality::leak, false, false},  // a weaker vacuum has less come in by the same holes
    {"total_loss_pa", "what the tip lacks", Quality::vacuum, false, false},  // and has less to lose
    {"separation", "sensor: deviations", Quality::number, true},
    {"best_separation", "sensor: set best", Quality::number, true},
    {"safe_after_s", "sensor: safe after", Quality::time, false},
}};

double& value(VariantAnswer& answer, std::string_view key) { return answer.values[result_of(key)]; }

void ask_steady(const line::Line& line, VariantAnswer& answer) {
  const auto at = [&](solve::TipState state) { return solve::steady(line, solve::all_tips(line, state)); };
  value(answer, "open_vacuum_pa") = weakest_vacuum(at(solve::TipState::open));
  value(answer, "blocked_vacuum_pa") = weakest_vacuum(at(solve::TipState::blocked));
  // A part that closes no nozzle leaves it open.
  const solve::SteadyAnswer usual = solve::steady(line, solve::usual_tips(line));
  if (line.part) value(answer, "part_vacuum_pa") = weakest_vacuum(usual);
  double leaks = 0.0;
  for (const solve::ElementState& element : usual.elements) leaks += element.leak;
  value(answer, "leaks_kg_s") = leaks;
}

void ask_hold(const line::Line& line, VariantAnswer& answer) {
  const Hold held = hold(line);
  value(answer, "margin_pa") = held.tips.at(held.weakest).margin;
  double least = held.tips.front().heaviest;
  for (const TipHold& tip : held.tips) least = std::min(least, tip.heaviest);
  value(answer, "heaviest_kg") = least;
}

void ask_cycle(const line::Line& line, const CompareOptions& options, VariantAnswer& answer) {
  CycleOptions asked;
  asked.thermal = options.thermal;
  asked.limits = false;
  const CycleAnswer found = cycle(line, asked);
  const PickResults worst = pick_results(found.heads);
  value(answer, "safe_lift_s") = worst.wait;
  value(answer, "margin_at_lift_pa") = worst.margin_at_lift;
  value(answer, "margin_in_travel_pa") = worst.margin_in_travel;
  answer.cycle_works = found.works();
  if (found.widest.empty()) return;
  const PickResults widest = pick_results(found.widest);
  answer.widest_at_lift = widest.margin_at_lift;
  answer.widest_in_travel = widest.margin_in_travel;
}

VariantAnswer ask(const line::Line& line, const CompareOptions& options) {
  VariantAnswer answer;
  answer.values.assign(all_results.size(), nothing);
  ask_steady(line, answer);
  if (line.part) ask_hold(line, answer);
  RiseOptions rising;
  rising.thermal = options.thermal;
  const Rise risen = rise(line, solve::usual_tips(line), rising);
  value(answer, "settle_s") = risen.settle;
  answer.segments = risen.segments;
  if (line.cycle && line.part) ask_cycle(line, options, answer);
  RankOptions ranking;
  ranking.settle_gains = false;
  const Ranking ranked = rank(line, solve::usual_tips(line), ranking);
  value(answer, "total_loss_pa") = ranked.total_loss;
  if (!ranked.elements.empty() && ranked.elements.front().fair_share > 0.0) {
    answer.culprit = ranked.elements.front().element;
    answer.culprit_share = ranked.elements.front().fair_share;
  }
  if (line.sensor && line.part) {
    const Sense sensed = sense(line);
    answer.tells = answer.tells_set_best = sensed.works();
    answer.tells_at_rest = answer.tells_set_best_at_rest = sensed.tells;
    value(answer, "separation") = sensed.separation;
    if (sensed.points) {
      value(answer, "best_separation") = sensed.points->best_separation;
      if (!sensed.tells) {
        answer.tells_set_best_at_rest = sensed.points->best_on.has_value();
        answer.tells_set_best = sensed.points->best_works();
      }
    }
    value(answer, "safe_after_s") = sensed.safe_after.value_or(never);
  }
  return answer;
}

/// What is not worth calling one variant better than another.
double trifle(Quality quality) {
  return quality == Quality::vacuum ? 10.0 : quality == Quality::time ? 1e-4 : quality == Quality::number ? 0.05 : 0.0;
}

std::optional<Judgement> judged(Aim aim, std::initializer_list<std::string_view> keys,
                                const std::vector<VariantAnswer>& answers) {
  for (const std::string_view key : keys) {
    Judgement judgement;
    judgement.aim = aim;
    judgement.result = result_of(key);
    const auto of = [&](std::size_t v) { return answers[v].values[judgement.result]; };
    std::vector<std::size_t> order;
    for (std::size_t v = 0; v < answers.size(); ++v)
      if (!std::isnan(of(v))) order.push_back(v);
    if (order.size() < answers.size()) continue;
    const Result& result = all_results.at(judgement.result);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return better(result, of(a), of(b)); });
    judgement.best = order[0];
    judgement.next = order[1];
    const auto with_best = [&](std::size_t v) { return level(result, of(v), of(judgement.best)); };
    for (std::size_t v = 0; v < answers.size(); ++v)
      if (with_best(v)) judgement.level.push_back(v);
    const auto behind = std::find_if_not(order.begin(), order.end(), with_best);
    judgement.alike = behind == order.end();
    if (!judgement.alike) judgement.next = *behind;
    return judgement;
  }
  return std::nullopt;
}

}  // namespace

std::span<const Result> results() { return all_results; }

std::size_t result_of(std::string_view key) {
  const auto* found =
      std::find_if(all_results.begin(), all_results.end(), [&](const Result& r) { return r.key == key; });
  if (found == all_results.end()) throw DomainError("compare: there is no result '" + std::string(key) + "'.");
  return static_cast<std::size_t>(found - all_results.begin());
}

PickResults pick_results(std::span<const HeadCycle> heads) {
  PickResults worst;
  for (const HeadCycle& head : heads) {
    worst.wait = std::max(worst.wait, head.safe_lift.value_or(never) - head.touch);
    worst.margin_at_lift = std::min(worst.margin_at_lift, head.margin_at_lift);
    worst.margin_in_travel = std::min(worst.margin_in_travel, head.margin_in_travel);
  }
  return worst;
}

double reach_time(const line::Line& line, double vacuum, int segments, solve::Thermal thermal) {
  const auto tips = solve::usual_tips(line);
  double slowest = 0.0;
  for (std::size_t k = 0; k < tips.size(); ++k)
    slowest = std::max(slowest, timing(line, tips, k, vacuum, segments, thermal).reach.value_or(never));
  return slowest;
}

std::string_view word(Aim aim) {
  constexpr std::array<std::string_view, 3> words{"holding", "speed", "sensing"};
  return words.at(static_cast<std::size_t>(aim));
}

bool better(const Result& result, double a, double b) {
  if (std::isnan(a) || std::isnan(b)) return false;
  if (std::isinf(a) || std::isinf(b)) return result.more ? a > b : a < b;
  const double ahead = result.more ? a - b : b - a;
  return ahead > 1e-6 * std::max(std::fabs(a), std::fabs(b));
}

bool level(const Result& result, double a, double b) {
  if (std::isnan(a) || std::isnan(b)) return false;
  if (std::isinf(a) || std::isinf(b)) return a == b;
  return std::fabs(a - b) <= std::max(0.01 * std::max(std::fabs(a), std::fabs(b)), trifle(result.quality));
}

Comparison compare(std::span<const Variant> variants, const CompareOptions& options) {
  if (variants.size() < 2) throw BadInput(Position{}, "a comparison needs two variants or more.");
  for (const Variant& variant : variants)
    if (line::all_of(variant.line, line::Kind::nozzle).empty())
      throw BadInput({variant.line.file, 0, 0}, "the line has no nozzle, so it has no tip to be compared by.");
  Comparison result;
  result.variants.resize(variants.size());
  parallel(
      variants.size(), options.threads, [&](std::size_t v) { result.variants[v] = ask(variants[v].line, options); },
      options.progress);
  result.common_vacuum = never;
  for (std::size_t v = 0; v < variants.size(); ++v) {
    const auto usual = solve::usual_tips(variants[v].line);
    result.common_vacuum =
        std::min(result.common_vacuum, 0.95 * weakest_vacuum(solve::steady(variants[v].line, usual)));
  }
  parallel(variants.size(), options.threads, [&](std::size_t v) {
    value(result.variants[v], "reach_s") =
        reach_time(variants[v].line, result.common_vacuum, result.variants[v].segments, options.thermal);
  });
  std::vector<line::Line> lines;
  for (const Variant& variant : variants) lines.push_back(variant.line);
  result.differences = line::differences(lines);
  const auto judge = [&](Aim aim, std::initializer_list<std::string_view> keys) {
    if (const auto found = judged(aim, keys, result.variants)) result.judgements.push_back(*found);
  };
  judge(Aim::holding, {"margin_pa", "part_vacuum_pa", "blocked_vacuum_pa"});
  judge(Aim::speed, {"safe_lift_s", "reach_s"});
  // By how much a set point is wrong says nothing of the line: where all of them are, each counts as set best.
  const auto& all = result.variants;
  const bool told = std::any_of(all.begin(), all.end(), [](const auto& v) { return v.tells_at_rest.value_or(false); });
  const bool switches = std::any_of(all.begin(), all.end(),
                                    [](const auto& v) { return !std::isnan(v.values[result_of("best_separation")]); });
  if (switches)
    for (VariantAnswer& variant : result.variants)
      if (std::isnan(value(variant, "best_separation")))
        value(variant, "best_separation") = value(variant, "separation");
  if (told || !switches)
    judge(Aim::sensing, {"separation"});
  else
    judge(Aim::sensing, {"best_separation"});
  return result;
}

}  // namespace airtally::study
