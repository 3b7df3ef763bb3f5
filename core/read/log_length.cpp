#include <fmt/format.h>

#include <cmath>

#include "errors.hpp"
#include "read/log_length_private.hpp"

namespace airtally::read {
namespace {

constexpr std::size_t most_rows = 1'000'000;  ///< fitting a course to more takes minutes
constexpr double latest = 1e11;               ///< of a time, either side of its zero [s]: seconds since 1970 are fewer
constexpr double longest = 1e8;               ///< from the first row to the last [s], three years
constexpr double shortest = 1e-3;             ///< the same [s]; a gauge answers no faster

}  // namespace

std::optional<RowTrouble> row_trouble(const line::Log& log, double time, std::string_view text,
                                      std::string_view column) {
  if (!(std::abs(time) <= latest))
    return RowTrouble{
        fmt::format("time {} (column '{}') is outside -1e11 s .. 1e11 s; is its unit right?", text, column)};
  if (log.time.size() < most_rows) return std::nullopt;
  return RowTrouble{fmt::format("the log has more than {} rows; keep every tenth, or the part that tells.", most_rows),
                    true};
}

void judge_length(const line::Log& log, std::string_view column) {
  if (log.time.size() < 2) return;
  const double lasts = log.time.back() - log.time.front();
  if (lasts >= shortest && lasts <= longest) return;
  throw BadInput(line::place_of(log, log.time.size() - 1),
                 fmt::format("from its first row to this one the log lasts {:.3g} s, which is outside 1 ms .. 1e8 s; "
                             "is the unit of column '{}' right?",
                             lasts, column));
}

}  // namespace airtally::read
