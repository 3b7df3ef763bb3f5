#include "hunt/readings/cut.hpp"

#include <algorithm>

#include "line/variant.hpp"

namespace airtally::hunt {

using line::none;
using solve::Role;
using solve::TipState;

Cut cut(const line::Line& line, const line::Topology& topology, const Setting& setting) {
  Cut result;
  if (setting.cap) {
    line::Capped capped = line::cap(line, topology, *setting.cap);
    result.line = std::move(capped.line);
    result.index = std::move(capped.index);
  } else {
    result.line = line;
    for (std::size_t i = 0; i < line.elements.size(); ++i) result.index.push_back(i);
  }
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

Setting as_compared(const line::Line& line, const line::Topology& topology, Setting setting) {
  if (!setting.cap) return setting;
  const std::vector<std::size_t> nozzles = line::all_of(line, line::Kind::nozzle);
  const std::vector<std::size_t> index = cut(line, topology, setting).index;
  setting.tips.resize(nozzles.size(), TipState::open);
  for (std::size_t k = 0; k < nozzles.size(); ++k)
    if (index[nozzles[k]] == none || setting.cap == nozzles[k]) setting.tips[k] = TipState::blocked;
  if (setting.hole == 0.0 && nozzles.size() == 1 && setting.cap == nozzles[0]) setting.cap.reset();
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
