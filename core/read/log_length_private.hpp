#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "line/log.hpp"

namespace airtally::read {

/// Why a row can't be taken into a log, and whether those behind it need not be looked at.
struct RowTrouble {
  std::string sentence;
  bool rest_too = false;
};

/// What is wrong with one more row at `time` [s], written as `text` in `column`: too far from the log's zero, or one
/// row too many.
std::optional<RowTrouble> row_trouble(const line::Log& log, double time, std::string_view text,
                                      std::string_view column);

/// Throws BadInput where the log lasts as long, or as short, as none does: its times have another unit than `column`
/// says.
void judge_length(const line::Log& log, std::string_view column);

}  // namespace airtally::read
