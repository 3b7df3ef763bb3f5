#include "study/question_pumps.hpp"

#include <limits>

#include "errors.hpp"
#include "study/hold.hpp"
#include "study/need.hpp"
#include "study/required_private.hpp"

namespace airtally::study {

Question pumps_question(const line::Line& line, const PumpsOptions& options) {
  const std::size_t at = pump_at(line, options.at);
  needs_of_moves(line);  // a line without a part is refused here
  Question question;
  question.measures = {{"to_hold_vacuum_pa", "", "vacuum at the pump that holds the part", Quality::vacuum},
                       {"to_hold_flow_kg_s", "", "flow that it must give there", Quality::flow}};
  const auto add = [&](const std::string& name) {
    question.measures.push_back({"holds_probability", name, name + " holds", Quality::chance});
    question.measures.push_back({"margin_pa", name, "to spare, " + name, Quality::vacuum, false});
  };
  add(line.elements[at].name);
  for (const line::Element& pump : options.stock) add(pump.name);
  question.cost = 80.0 + 2.0 * static_cast<double>(options.stock.size() + 1);
  question.answer = [at, stock = options.stock](const line::Line& sample, std::span<double> out) {
    const auto point =
        line::why_not_closed(sample).empty() ? required_to_hold(sample, at, needs_of_moves(sample)) : std::nullopt;
    out[0] = point ? point->vacuum : std::numeric_limits<double>::quiet_NaN();
    out[1] = point ? point->flow : std::numeric_limits<double>::quiet_NaN();
    std::size_t next = 2;
    const auto ask = [&](const line::Line& tried) {
      const Hold held = hold(tried);
      const double margin = held.tips.at(held.weakest).margin;
      out[next++] = margin >= 0.0 ? 1.0 : 0.0;
      out[next++] = margin;
    };
    ask(sample);
    for (const line::Element& pump : stock) ask(with_pump(sample, at, pump));
  };
  return question;
}

}  // namespace airtally::study
