#include "line/twins.hpp"

#include <algorithm>
#include <string>

#include "line/difference.hpp"

namespace airtally::line {
namespace {

/// All that begins with an element, itself first and each before what is behind it.
std::vector<std::size_t> branch(const Topology& topology, std::size_t head) {
  std::vector<std::size_t> all{head};
  for (std::size_t i = 0; i < all.size(); ++i)
    all.insert(all.end(), topology.beyond[all[i]].begin(), topology.beyond[all[i]].end());
  return all;
}

bool joined(const Topology& topology, const std::vector<std::size_t>& branch) {
  return std::any_of(branch.begin(), branch.end(), [&](std::size_t i) {
    return topology.joined[i] != none ||
           std::find(topology.joined.begin(), topology.joined.end(), i) != topology.joined.end();
  });
}

/// Whether both hang together alike; the elements correspond by their place in the lists.
bool same_shape(const Topology& topology, const std::vector<std::size_t>& a, const std::vector<std::size_t>& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i)
    if (topology.beyond[a[i]].size() != topology.beyond[b[i]].size()) return false;
  return true;
}

/// The branch by itself, its elements called by their places in it.
Line alone(const Line& line, const std::vector<std::size_t>& branch) {
  Line part;
  part.site = line.site;
  for (std::size_t i = 0; i < branch.size(); ++i) {
    Element element = line.elements[branch[i]];
    element.name = std::to_string(i);
    element.after.clear();
    element.spacing.reset();  // to the next, of which the last has none: no air goes by that
    part.elements.push_back(std::move(element));
  }
  return part;
}

}  // namespace

std::vector<Twins> twins(const Line& line, const Topology& topology) {
  std::vector<Twins> found;
  for (const std::vector<std::size_t>& heads : topology.beyond) {
    std::vector<Twins> here;
    for (const std::size_t head : heads) {
      std::vector<std::size_t> next = branch(topology, head);
      if (joined(topology, next)) continue;
      const auto like = std::find_if(here.begin(), here.end(), [&](const Twins& one) {
        return same_shape(topology, one.front(), next) &&
               differences(std::vector{alone(line, one.front()), alone(line, next)}).empty();
      });
      if (like == here.end())
        here.push_back({std::move(next)});
      else
        like->push_back(std::move(next));
    }
    for (Twins& one : here)
      if (one.size() > 1) found.push_back(std::move(one));
  }
  return found;
}

}  // namespace airtally::line
