#include "study/question.hpp"

#include <algorithm>

#include "line/land.hpp"
#include "line/quantities.hpp"

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

}  // namespace airtally::study
