#include "report/page/flow_layout.hpp"

namespace airtally::report::page {
namespace {

struct Open {
  std::size_t element = 0, depth = 0, lane = 0;
  bool straight = false;  ///< it goes on in the lane of the one before
};

std::vector<std::size_t> sources(const line::Topology& topology) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < topology.before.size(); ++i)
    if (topology.before[i] == line::none) all.push_back(i);
  return all;
}

}  // namespace

std::vector<FlowCell> across(const line::Topology& topology) {
  std::vector<FlowCell> cells;
  cells.reserve(topology.before.size());
  std::size_t lanes = 0;  // used so far
  for (const std::size_t source : sources(topology)) {
    std::vector<Open> open{{source, 0, 0, false}};
    while (!open.empty()) {
      Open here = open.back();
      open.pop_back();
      if (!here.straight) here.lane = lanes++;
      cells.push_back({here.element, here.depth, here.lane});
      const auto& beyond = topology.beyond[here.element];
      for (std::size_t k = beyond.size(); k-- > 0;) open.push_back({beyond[k], here.depth + 1, here.lane, k == 0});
    }
  }
  return cells;
}

std::vector<FlowCell> downwards(const line::Topology& topology) {
  std::vector<FlowCell> cells;
  cells.reserve(topology.before.size());
  for (const std::size_t source : sources(topology)) {
    std::vector<Open> open{{source, 0, 0, true}};
    while (!open.empty()) {
      const Open here = open.back();
      open.pop_back();
      cells.push_back({here.element, cells.size(), here.lane});
      const auto& beyond = topology.beyond[here.element];
      for (std::size_t k = beyond.size(); k-- > 0;)
        open.push_back({beyond[k], 0, here.lane + (k + 1 == beyond.size() ? 0 : 1), false});
    }
  }
  return cells;
}

}  // namespace airtally::report::page
