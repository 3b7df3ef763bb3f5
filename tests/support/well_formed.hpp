#pragma once
#include <string>
#include <string_view>

namespace airtally::tests {

/// Whether the text is well-formed markup as XML has it: every element closed in its turn, every attribute quoted and
/// given once, no stray "<" or "&". Empty when it is, else what is wrong. Knows no comments, CDATA or processing
/// instructions; the text of <style> and <script> is skipped, as HTML does.
std::string well_formed(std::string_view text);

}  // namespace airtally::tests
