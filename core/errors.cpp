#include "errors.hpp"

namespace airtally {

std::string to_string(const Position& at) {
  if (at.line <= 0) return at.file;
  return at.file + ':' + std::to_string(at.line) + ':' + std::to_string(at.column);
}

namespace {

std::string join(const std::vector<Complaint>& complaints) {
  std::string all;
  for (const Complaint& c : complaints) {
    if (!all.empty()) all += '\n';
    const std::string at = to_string(c.at);
    all += at.empty() ? c.sentence : at + ": " + c.sentence;
  }
  return all;
}

}  // namespace

BadInput::BadInput(std::vector<Complaint> complaints)
    : std::runtime_error(join(complaints)), complaints_(std::move(complaints)) {}

BadInput::BadInput(Position at, std::string sentence)
    : BadInput(std::vector<Complaint>{{std::move(at), std::move(sentence)}}) {}

}  // namespace airtally
