#include "study/hold.hpp"
#include "study/question.hpp"

namespace airtally::study {

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
