#include "hunt/readings/cut.hpp"

#include <algorithm>

#include "line/variant.hpp"

namespace airtally::hunt {

using line::none;
using solve::Role;
using solve::TipState;

Cut cut(const line::Line& line, const line::Topology& topology, const Setting& setting) {
  Cut result;
  line::Capped left = setting.cap && setting.off.empty() ? line::cap(line, topology, *setting.cap)
                                                         : line::without(line, topology, setting.off);
  if (setting.cap && !setting.off.empty()) left = line::cap(left, *setting.cap);
  result.line = std::move(left.line);
  result.index = std::move(left.index);
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    if (result.index[nozzles[k]] == none) continue;
    result.tips.push_back(setting.cap == nozzles[k] ? TipState::blocked
                          : k < setting.tips.size() ? setting.tips[k]
                                                    : TipState::open);
  }
  if (setting.cap && setting.hole > 0.0) {
    result.plate = result.index[*setting.cap];
    result.hole = setting.hole;
    result.line.elements[result.plate].leaks.push_back(line::Hole{setting.hole});
  }
  return result;
}

namespace {

/// Whether another end was joined to that of the element: capping it would part them.
bool merged(const line::Topology& topology, std::size_t element) {
  return topology.joined[element] != none ||
         std::find(topology.joined.begin(), topology.joined.end(), element) != topology.joined.end();
}

/// What is off already with the cap or with another need not be taken off; and where all that goes on from one element
/// is off, the line is capped behind it.
void tidy_off(const line::Line& line, const line::Topology& topology, Setting& setting) {
  std::vector<std::size_t>& off = setting.off;
  std::sort(off.begin(), off.end());
  off.erase(std::unique(off.begin(), off.end()), off.end());
  if (setting.cap) {
    const std::vector<std::size_t> index = line::cap(line, topology, *setting.cap).index;
    std::erase_if(off, [&](std::size_t i) { return index[i] == none; });
  }
  const std::vector<std::size_t> all = off;
  std::erase_if(off, [&](std::size_t i) {
    return std::any_of(all.begin(), all.end(), [&](std::size_t other) {
      return other != i && line::without(line, topology, other).index[i] == none;
    });
  });
  for (std::size_t k = 0; k < off.size() && !setting.cap; ++k) {
    const std::size_t from = topology.before[off[k]];
    const std::vector<std::size_t>& beyond = topology.beyond[from];
    const auto is_off = [&](std::size_t i) { return std::find(off.begin(), off.end(), i) != off.end(); };
    if (merged(topology, from) || !std::all_of(beyond.begin(), beyond.end(), is_off)) continue;
    setting.cap = from;
    std::erase_if(off, [&](std::size_t i) { return topology.before[i] == from; });
  }
}

}  // namespace

Setting as_compared(const line::Line& line, const line::Topology& topology, Setting setting) {
  if (!setting.off.empty()) tidy_off(line, topology, setting);
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const std::vector<std::size_t> index = cut(line, topology, setting).index;
  setting.tips.resize(nozzles.size(), TipState::open);
  const bool capped = setting.cap && line.elements[*setting.cap].kind != line::Kind::nozzle;
  std::size_t left = 0, blocked = 0, last = none;
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    if (index[nozzles[k]] == none || setting.cap == nozzles[k]) setting.tips[k] = TipState::blocked;
    if (index[nozzles[k]] == none) continue;
    ++left;
    if (setting.tips[k] != TipState::blocked) continue;
    ++blocked;
    last = nozzles[k];
  }
  if (capped || setting.hole > 0.0) return setting;
  setting.cap.reset();
  if (blocked == 1 && left > 1) setting.cap = last;
  return setting;
}

solve::Network network_of(const Cut& cut) {
  const line::Topology topology = line::topology(cut.line, false);
  solve::Network network(cut.line, topology, cut.tips);
  // The plate's hole is air that is let in on purpose: no leak of the element, whatever that one's factor.
  int plate = -1;
  if (cut.plate != none)
    for (const int path : network.paths_of[cut.plate])
      if (network.paths[path].role == Role::leak) plate = path;
  if (plate >= 0) network.paths[plate].role = Role::seal;
  return network;
}

int plate_path(const solve::Network& network, const Cut& cut) {
  if (cut.plate == none) return -1;
  // A nozzle's own seals, if it is one, stand behind its leaks.
  const std::vector<int>& paths = network.paths_of[cut.plate];
  const auto first =
      std::find_if(paths.begin(), paths.end(), [&](int path) { return network.paths[path].role == Role::seal; });
  return first == paths.end() ? -1 : *first;
}

}  // namespace airtally::hunt
