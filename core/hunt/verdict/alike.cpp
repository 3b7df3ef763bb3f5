#include "hunt/verdict/alike.hpp"

#include <algorithm>
#include <numeric>

#include "line/twins.hpp"

namespace airtally::hunt {
namespace {

/// Two branches changing places: per element the one whose place it takes.
using Exchange = std::vector<std::size_t>;

Exchange exchange(std::size_t elements, const std::vector<std::size_t>& a, const std::vector<std::size_t>& b) {
  Exchange all(elements);
  std::iota(all.begin(), all.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) std::swap(all[a[i]], all[b[i]]);
  return all;
}

/// Whether the tips' states are what they were, each taken along with its nozzle.
bool keeps(const line::Line& line, const Exchange& exchange, const std::vector<solve::TipState>& tips) {
  std::vector<std::size_t> nozzle(line.elements.size(), line::none);
  std::size_t count = 0;
  for (std::size_t i = 0; i < nozzle.size(); ++i)
    if (line.elements[i].kind == line::Kind::nozzle) nozzle[i] = count++;
  for (std::size_t i = 0; i < nozzle.size(); ++i)
    if (nozzle[i] != line::none && tips[nozzle[i]] != tips[nozzle[exchange[i]]]) return false;
  return true;
}

bool keeps(const line::Line& line, const Exchange& exchange, const Reading& reading) {
  const std::optional<std::size_t>& cap = reading.setting.cap;
  const std::vector<std::size_t>& off = reading.setting.off;
  const auto stays_off = [&](std::size_t i) { return std::find(off.begin(), off.end(), exchange[i]) != off.end(); };
  return exchange[reading.at] == reading.at && (!cap || exchange[*cap] == *cap) &&
         std::all_of(off.begin(), off.end(), stays_off) && keeps(line, exchange, reading.setting.tips);
}

}  // namespace

std::vector<std::vector<std::size_t>> alike(const line::Line& line, std::span<const Reading> readings,
                                            const std::vector<solve::TipState>& tips) {
  std::vector<std::size_t> first(line.elements.size());  // of those that are like it
  std::iota(first.begin(), first.end(), std::size_t{0});
  const auto kept = [&](const Exchange& one) {
    return keeps(line, one, tips) &&
           std::all_of(readings.begin(), readings.end(), [&](const Reading& r) { return keeps(line, one, r); });
  };
  for (const line::Twins& twins : line::twins(line, line::topology(line)))
    for (std::size_t j = 1; j < twins.size(); ++j)
      for (std::size_t i = 0; i < j; ++i) {
        if (!kept(exchange(first.size(), twins[i], twins[j]))) continue;
        for (std::size_t k = 0; k < twins[j].size(); ++k) {
          const auto [low, high] = std::minmax(first[twins[i][k]], first[twins[j][k]]);
          std::replace(first.begin(), first.end(), std::size_t{high}, std::size_t{low});
        }
        break;
      }
  std::vector<std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < first.size(); ++i) {
    std::vector<std::size_t> group;
    for (std::size_t k = i; k < first.size(); ++k)
      if (first[k] == i) group.push_back(k);
    if (group.size() > 1) groups.push_back(std::move(group));
  }
  return groups;
}

}  // namespace airtally::hunt
