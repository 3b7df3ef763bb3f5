#pragma once
#include <cstddef>
#include <filesystem>
#include <string>

namespace airtally::read {

/// Larger than any line or any hour at the bench that a person writes down.
inline constexpr std::size_t largest_file = 4'000'000;
/// A day of readings a hundredth of a second apart.
inline constexpr std::size_t largest_log = 64'000'000;

/// The whole text of a file of at most `largest` bytes. A pipe is read as long as somebody writes to it. Throws
/// BadInput when there is no such file, when it is a folder, can't be read, or goes on beyond the limit, which keeps a
/// mistaken path from filling the memory.
std::string text_of(const std::filesystem::path& file, std::size_t largest = largest_file);

}  // namespace airtally::read
