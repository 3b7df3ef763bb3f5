#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>

#include "report/bands_text.hpp"
#include "report/compare_text.hpp"
#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

using study::Comparison;
using study::Judgement;
using study::Result;
using study::Variant;

std::string named(std::span<const Variant> variants, std::size_t v) {
  return letter(v) + " (" + clean(variants[v].name) + ")";
}

double of(const Comparison& comparison, const Judgement& judgement, std::size_t variant) {
  return comparison.variants[variant].values[judgement.result];
}

std::string all_named(std::span<const Variant> variants, const std::vector<std::size_t>& which) {
  std::vector<std::string> parts;
  parts.reserve(which.size());
  for (const std::size_t v : which) parts.push_back(named(variants, v));
  return listed(parts);
}

std::string letters(const std::vector<std::size_t>& which) {
  std::vector<std::string> parts;
  parts.reserve(which.size());
  for (const std::size_t v : which) parts.push_back(letter(v));
  return listed(parts);
}

/// Those of `all` that aren't in `out`; both rise.
std::vector<std::size_t> without(const std::vector<std::size_t>& all, const std::vector<std::size_t>& out) {
  std::vector<std::size_t> rest;
  std::set_difference(all.begin(), all.end(), out.begin(), out.end(), std::back_inserter(rest));
  return rest;
}

/// Who are best together for something, and for what.
struct Winners {
  std::vector<std::size_t> variants;  ///< in the order given
  std::vector<std::string> aims;
};

std::vector<Winners> winners(const Comparison& comparison) {
  std::vector<Winners> all;
  for (const Judgement& judgement : comparison.judgements) {
    if (judgement.alike) continue;
    const auto known =
        std::find_if(all.begin(), all.end(), [&](const Winners& w) { return w.variants == judgement.level; });
    if (known == all.end())
      all.push_back({judgement.level, {std::string(study::word(judgement.aim))}});
    else
      known->aims.emplace_back(study::word(judgement.aim));
  }
  return all;
}

/// Those who are among the best for every aim.
std::vector<std::size_t> best_throughout(const std::vector<Winners>& all) {
  std::vector<std::size_t> common = all.front().variants;
  for (const Winners& group : all) common = without(common, without(common, group.variants));
  return common;
}

std::string overall(std::span<const Variant> variants, const Comparison& comparison) {
  const std::vector<Winners> all = winners(comparison);
  std::vector<std::string> alike;
  for (const Judgement& judgement : comparison.judgements)
    if (judgement.alike) alike.emplace_back(study::word(judgement.aim));
  if (all.empty()) return "They are alike in everything by which they are judged.";
  const char* degree = variants.size() == 2 ? "better" : "best";
  const std::string rest = alike.empty() ? "" : " For " + listed(alike) + " they are alike.";
  if (const std::vector<std::size_t> common = best_throughout(all); !common.empty()) {
    std::vector<std::string> aims;
    std::string others;
    for (const Winners& group : all) {
      aims.insert(aims.end(), group.aims.begin(), group.aims.end());
      const std::vector<std::size_t> more = without(group.variants, common);
      if (!more.empty())
        others +=
            fmt::format(" For {} {} {} as good.", listed(group.aims), letters(more), more.size() == 1 ? "is" : "are");
    }
    return fmt::format("{} {} the {} for {}.{}{}", all_named(variants, common), common.size() == 1 ? "is" : "are",
                       degree, listed(aims), others, rest);
  }
  std::vector<std::string> parts;
  parts.reserve(all.size());
  for (const Winners& group : all)
    parts.push_back(fmt::format("{} for {}", all_named(variants, group.variants), listed(group.aims)));
  return fmt::format("None is {} at everything: {}.{}", degree, listed(parts), rest);
}

std::string sureness(const Judgement& judgement, const study::CompareBands& bands) {
  const auto found = std::find(bands.drawn.begin(), bands.drawn.end(), judgement.result);
  if (bands.samples == 0 || found == bands.drawn.end()) return "";
  const auto r = static_cast<std::size_t>(found - bands.drawn.begin());
  const auto sure = bands.best_of(r, judgement.level);
  return sure ? fmt::format(" Sure of that: {}.", chance(*sure)) : "";
}

/// What is missing of two margins; empty where nothing is.
std::string margin_lack(double lift, double travel, const Look& look) {
  if (lift < 0.0) return vacuum(look, -lift) + " as it lifts";
  return travel < 0.0 ? vacuum(look, -travel) + " on its travel" : "";
}

/// What the cycle of a variant lacks; empty where it does, or where none is asked for.
std::string lacks(const study::VariantAnswer& answer, const Look& look) {
  return margin_lack(answer.values[study::result_of("margin_at_lift_pa")],
                     answer.values[study::result_of("margin_in_travel_pa")], look);
}

/// The same at the widest gap, of a cycle that does else.
std::string lacks_at_widest(const study::VariantAnswer& answer, const Look& look) {
  if (!lacks(answer, look).empty() || !answer.widest_at_lift) return "";
  return margin_lack(*answer.widest_at_lift, *answer.widest_in_travel, look);
}

/// Variants that may lose the part in their cycle, in a sentence of its own: being the best of them is no comfort.
std::string may_lose(const Comparison& comparison, const Look& look) {
  const std::size_t count = comparison.variants.size();
  std::vector<std::string> parts, widest;
  for (std::size_t v = 0; v < count; ++v) {
    const study::VariantAnswer& answer = comparison.variants[v];
    if (const std::string lack = lacks(answer, look); !lack.empty()) parts.push_back(letter(v) + " " + lack);
    if (const std::string lack = lacks_at_widest(answer, look); !lack.empty()) widest.push_back(letter(v) + " " + lack);
  }
  std::string out;
  if (!parts.empty())
    out = (parts.size() == count ? "None of them keeps its part through its cycle, since they lack vacuum: "
                                 : "Not all keep their part through their cycle, since they lack vacuum: ") +
          listed(parts) + '.';
  if (widest.empty()) return out;
  out += (out.empty() ? "" : " ") + std::string("At the widest gap of the part ");
  return out +
         (widest.size() == count ? "none of them keeps it through its cycle, since they lack vacuum: "
          : parts.empty()        ? "not all keep it through their cycle, since they lack vacuum: "
                                 : "others don't keep it either, since they lack vacuum: ") +
         listed(widest) + '.';
}

/// Sensing, where at least one tells as it stands with its line at rest.
std::string told_apart(const Comparison& comparison, const Judgement& judgement, const std::string& who,
                       const std::string& value, const std::string& by) {
  const auto& best = comparison.variants[judgement.best];
  const auto& next = comparison.variants[judgement.next];
  const bool one = judgement.level.size() == 1,
             rest = !best.tells.value_or(false) && best.tells_at_rest.value_or(false);
  std::string text =
      fmt::format("{} {} held from missed by {} deviations{}, {} more than {}", who, one ? "tells" : "tell", value,
                  rest ? " with the line at rest" : "", by, letter(judgement.next));
  const bool any = std::any_of(comparison.variants.begin(), comparison.variants.end(),
                               [](const auto& v) { return v.tells.value_or(false); });
  if (rest) {
    text += "; not in the pick of " + std::string(one ? "its" : "their") + " [cycle], where ";
    if (!any) return text + (comparison.variants.size() == 2 ? "neither tells." : "none of them tells.");
    return text + (next.tells.value_or(false) ? letter(judgement.next) + " does." : "another does.");
  }
  if (!any) return text + (comparison.variants.size() == 2 ? "; neither" : "; none of them") + " tells well enough.";
  if (!best.tells.value_or(false)) return text + "; it does not tell well enough.";
  if (next.tells.value_or(false)) return text + '.';
  return text + (next.tells_at_rest.value_or(false) ? ", which does not tell in the pick of its [cycle]."
                                                    : ", which does not tell well enough.");
}

/// Sensing, where none tells as it is set: what each would do with the set point that suits it best.
std::string set_best(const Comparison& comparison, const Judgement& judgement, const std::string& who,
                     const std::string& value, const std::string& by) {
  std::vector<std::size_t> tell;
  for (std::size_t v = 0; v < comparison.variants.size(); ++v)
    if (comparison.variants[v].tells_set_best.value_or(false)) tell.push_back(v);
  const bool two = comparison.variants.size() == 2;
  const std::string none = two ? "neither" : "none";
  std::string text = none + " tells held from missed as it is set. With the best set point of each, ";
  text += judgement.alike
              ? fmt::format("they are alike: {} deviations.", value)
              : fmt::format("{} {} {} deviations, {} more than {}.", who, judgement.level.size() == 1 ? "has" : "have",
                            value, by, letter(judgement.next));
  if (tell.empty()) {
    const bool rest = std::any_of(comparison.variants.begin(), comparison.variants.end(),
                                  [](const auto& v) { return v.tells_set_best_at_rest.value_or(false); });
    return text + (two ? " Neither" : " None") + " tells even then" + (rest ? ", in the pick of its [cycle]." : ".");
  }
  if (tell.size() == comparison.variants.size()) return text + (two ? " Both" : " All") + " tell then.";
  return text + ' ' + letters(tell) + (tell.size() == 1 ? " alone tells then." : " alone tell then.");
}

/// One aim: what the best have, and by how much more or less than the next.
std::string sentence(const Comparison& comparison, const Judgement& judgement, const Look& look) {
  const Result& result = study::results()[judgement.result];
  const double best = of(comparison, judgement, judgement.best), next = of(comparison, judgement, judgement.next);
  const std::string value = shown(result.quality, best, look);
  if (judgement.alike && result.key == "best_separation") return set_best(comparison, judgement, "", value, "");
  if (judgement.alike)
    return std::isinf(best) ? "alike: none gets there." : fmt::format("alike, {}: {}.", result.words, value);
  const bool one = judgement.level.size() == 1, two = comparison.variants.size() == 2;
  const std::string a = letters(judgement.level), b = letter(judgement.next);
  const std::string have = one ? "has" : "have", none = two ? "either" : "one of them";
  if (std::isinf(next)) {
    std::vector<std::size_t> all(comparison.variants.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    return fmt::format("{} may lift safely {} after touch, {} never.", a, value,
                       letters(without(all, judgement.level)));
  }
  const std::string by = shown(result.quality, std::fabs(best - next), look);
  if (result.key == "margin_pa") {
    if (best < 0.0)
      return fmt::format("{} {} the least: {}, {} less than {}. N{} holds.", a, one ? "lacks" : "lack",
                         shown(result.quality, -best, look), by, b, none);
    return fmt::format("{} {} {} to spare, {} more than {}{}.", a, have, value, by, b,
                       next < 0.0 ? ", which does not hold" : "");
  }
  if (result.key == "reach_s")
    return fmt::format("{} {} {} at the tip after {}, {} sooner than {}.", a, have,
                       vacuum(look, comparison.common_vacuum), value, by, b);
  if (result.key == "safe_lift_s")
    return fmt::format("{} may lift safely {} after touch, {} sooner than {}.", a, value, by, b);
  if (result.key == "separation") return told_apart(comparison, judgement, a, value, by);
  if (result.key == "best_separation") return set_best(comparison, judgement, a, value, by);
  return fmt::format("the {} of {} {} {}, {} more than that of {}.", one ? "tip" : "tips", a, one ? "gets" : "get",
                     value, by, b);
}

}  // namespace

std::string letter(std::size_t variant) {
  return variant < 26 ? std::string(1, static_cast<char>('A' + variant)) : std::to_string(variant + 1);
}

std::string compare_verdict(std::span<const Variant> variants, const Comparison& comparison,
                            const study::CompareBands& bands, const Look& look) {
  const std::string lost = may_lose(comparison, look);
  std::string out = paragraph((lost.empty() ? "" : lost + ' ') + overall(variants, comparison));
  for (const Judgement& judgement : comparison.judgements)
    out += paragraph(fmt::format("  {}: {}{}", study::word(judgement.aim), sentence(comparison, judgement, look),
                                 judgement.alike ? "" : sureness(judgement, bands)),
                     80, 4);
  return out;
}

}  // namespace airtally::report
