#include <algorithm>
#include <tuple>

#include "read/complaints_private.hpp"

namespace airtally::read {

void Complaints::throw_if_any() const {
  if (all_.empty()) return;
  std::vector<Complaint> sorted = all_;
  std::stable_sort(sorted.begin(), sorted.end(), [this](const Complaint& a, const Complaint& b) {
    const auto place = [this](const Position& p) { return std::tuple(p.file != file_, p.file, p.line, p.column); };
    return place(a.at) < place(b.at);
  });
  // An entry of a catalogue may be used many times; each of its mistakes is told once.
  const auto again = [this](const Complaint& a, const Complaint& b) {
    return a.at.file != file_ && a.at.file == b.at.file && a.at.line == b.at.line && a.at.column == b.at.column;
  };
  sorted.erase(std::unique(sorted.begin(), sorted.end(), again), sorted.end());
  // Beyond this a file is not one with mistakes but another kind of file.
  constexpr std::size_t most = 50;
  if (sorted.size() > most) {
    const Position next = sorted[most].at;
    const std::size_t more = sorted.size() - most;
    sorted.resize(most);
    sorted.push_back({next, "and " + std::to_string(more) + " more from here on; mend those above first."});
  }
  throw BadInput(std::move(sorted));
}

}  // namespace airtally::read
