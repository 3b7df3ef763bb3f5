#include "study/question.hpp"

#include <algorithm>

#include "line/land.hpp"
#include "line/quantities.hpp"
#include "study/hold.hpp"

namespace airtally::study {

line::Line as_stated(const line::Line& line) {
  line::Line stated = line;
  line::each_number(stated, [](units::Quantity& quantity) {
    if (!quantity.is_exact()) quantity = units::Quantity(quantity.value);
  });
  return stated;
}

line::Line drawn_from(const Question& question, const line::Line& line) {
  line::Line result = line;
  line::each_quantity(result, [&](const line::QuantityName& name, units::Quantity& quantity, units::Dimension) {
    if (name.element != nullptr || quantity.is_exact()) return;
    const auto here = [path = name.path()](const std::string& fixed) { return path.starts_with(fixed); };
    if (std::any_of(question.fixed.begin(), question.fixed.end(), here)) quantity = units::Quantity(quantity.value);
  });
  return result;
}

std::vector<std::string> no_say_in_flow(const line::Line& line) {
  std::vector<std::string> names{"part.mass", "part.height", "move.", "cycle.", "sensor."};
  const auto ends_on_it = [&](const line::Element& e) { return line::ends_on_rim(line, e); };
  if (std::none_of(line.elements.begin(), line.elements.end(), ends_on_it))
    names.insert(names.end(), {"part.length", "part.width"});
  return names;
}

std::vector<double> nominal(const Question& question, const line::Line& line) {
  std::vector<double> out(question.measures.size());
  question.answer(as_stated(line), out);
  return out;
}

std::optional<Matter> what_matters(const Question& question, const Bands& bands) {
  for (std::size_t m = 0; m < bands.influence.size(); ++m) {
    const auto& influence = bands.influence[m];
    if (question.measures[m].time >= 0.0) continue;
    const auto most = std::max_element(influence.begin(), influence.end(),
                                       [](const Influence& a, const Influence& b) { return a.first < b.first; });
    if (most == influence.end() || most->total <= 0.0) continue;
    return Matter{m, static_cast<std::size_t>(most - influence.begin())};
  }
  return std::nullopt;
}

Question hold_question(const line::Line& line, std::vector<solve::TipState> tips) {
  Question question;
  std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const auto no_part = [&](std::size_t k) { return k < tips.size() && tips[k] != solve::TipState::part; };
  for (std::size_t k = nozzles.size(); k-- > 0;)
    if (no_part(k)) nozzles.erase(nozzles.begin() + static_cast<std::ptrdiff_t>(k));
  question.measures = {{"margin_pa", "", "to spare", Quality::vacuum},
                       {"holds_probability", "", "holds", Quality::chance}};
  for (const std::size_t n : nozzles) {
    const std::string& name = line.elements[n].name;
    const std::string of = nozzles.size() > 1 ? ", " + name : "";
    question.measures.push_back({"margin_pa", name, "to spare" + of, Quality::vacuum, nozzles.size() > 1});
    question.measures.push_back({"vacuum_pa", name, "has" + of, Quality::vacuum});
    question.measures.push_back({"heaviest_kg", name, "heaviest part" + of, Quality::mass});
  }
  question.cost = 2;
  question.fixed = {"cycle.", "sensor."};
  question.answer = [tips = std::move(tips)](const line::Line& sample, std::span<double> out) {
    const Hold held = hold(sample, tips);
    std::size_t next = 0;
    out[next++] = held.tips.at(held.weakest).margin;
    out[next++] = held.holds() ? 1.0 : 0.0;
    for (const TipHold& tip : held.tips) {
      if (!tip.judged) continue;
      out[next++] = tip.margin;
      out[next++] = tip.nominal.vacuum;
      out[next++] = tip.heaviest;
    }
  };
  return question;
}

}  // namespace airtally::study
