#include "report/page/assets.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

namespace airtally::report::page {
namespace {

std::uint32_t digit(char c) {
  return static_cast<std::uint32_t>(c <= '9' ? c - '0' : c - 'a' + 10);  // as CMake writes them: 0-9, a-f
}

}  // namespace

std::string policy_source(const Asset& asset) {
  constexpr std::string_view signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out = "sha256-";
  // Three bytes, six digits, become four signs; the last two of 32 bytes become three and a filler.
  for (std::size_t i = 0; i < asset.sha256.size(); i += 6) {
    const std::size_t bytes = (asset.sha256.size() - i >= 6) ? 3 : (asset.sha256.size() - i) / 2;
    std::uint32_t word = 0;
    for (std::size_t k = 0; k < 6; ++k) word = word << 4 | (k < 2 * bytes ? digit(asset.sha256[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k) out += k <= bytes ? signs[word >> (18 - 6 * k) & 63U] : '=';
  }
  return out;
}

}  // namespace airtally::report::page
