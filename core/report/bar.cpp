#include "report/bar.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace airtally::report {

std::string bar(Span span, std::size_t columns, const Style& style) {
  if (!std::isfinite(span.from) || !std::isfinite(span.to) || span.from == span.to) return "";
  static constexpr std::array<std::string_view, 8> eighths{"", "▏", "▎", "▍", "▌", "▋", "▊", "▉"};
  const double all = static_cast<double>(columns);
  const double from = std::clamp(std::min(span.from, span.to), 0.0, 1.0) * all;
  const double to = std::clamp(std::max(span.from, span.to), 0.0, 1.0) * all;
  // Blocks fill from the left, so that a bar starts at a whole column: the nearest to its start that is on the axis.
  const double start = std::min(std::round(from), all - 1.0);
  const double parts = std::max(1.0, std::round((to - start) * (style.ascii ? 1.0 : 8.0)));
  std::string out(static_cast<std::size_t>(start), ' ');
  const auto left = static_cast<std::size_t>(parts);
  if (style.ascii) return out + std::string(left, '=');
  for (std::size_t i = 0; i < left / 8; ++i) out += "█";
  return out.append(eighths[left % 8]);
}

}  // namespace airtally::report
