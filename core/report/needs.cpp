#include "report/needs.hpp"

#include <algorithm>

namespace airtally::report {
namespace {

/// "27.0 kPa", or the least and the most where they are shown otherwise.
std::string range_of(std::span<const double> needs, const Look& look, bool& alike) {
  const auto [least, most] = std::minmax_element(needs.begin(), needs.end());
  const std::string low = vacuum(look, *least), high = vacuum(look, *most);
  alike = low == high;
  return alike ? high : low + " to " + high;
}

}  // namespace

std::string needs_at_tips(std::span<const double> needs, const Look& look) {
  bool alike = true;
  const std::string range = range_of(needs, look, alike);
  return range + (alike ? " at the tip" : " at the tips");
}

std::string until_needs(std::span<const double> needs, const Look& look) {
  bool alike = true;
  const std::string range = range_of(needs, look, alike);
  return alike ? "the tip has the " + range + " that" : "every tip has its own of the " + range + " that";
}

}  // namespace airtally::report
