#include "line/variant.hpp"

#include <numbers>
#include <numeric>

#include "errors.hpp"

namespace airtally::line {

Line at_widest_gap(const Line& line) {
  Line widest = line;
  if (widest.part && !widest.part->gap.is_exact()) widest.part->gap = std::max(widest.part->gap.high, 0.0);
  return widest;
}

bool restricts(const Element& element) { return !std::holds_alternative<std::monostate>(element.restriction); }

double bore_volume(const Element& element) {
  const Bore* bore = std::get_if<Bore>(&element.restriction);
  return bore ? std::numbers::pi / 4 * bore->bore.value * bore->bore.value * bore->length.value : 0.0;
}

void seal(Element& element) { element.leaks.clear(); }

void clear_way(Element& element) { element.clear = true; }

namespace {

/// What is left of a line that is capped: which elements stay, and which ends are merged with which.
class Cut {
 public:
  Cut(const Line& line, const Topology& topology, std::size_t element)
      : topology_(topology),
        element_(element),
        group_(line.elements.size()),
        start_(group_.size(), none),
        stays_(line.elements.size(), false) {
    // Ends merged by `joins`; the capped end is out of its group, whose other ends stay merged.
    std::iota(group_.begin(), group_.end(), std::size_t{0});
    for (std::size_t i = 0; i < group_.size(); ++i) {
      const std::size_t from = find(i);
      if (topology.joined[i] != none) group_[from] = find(topology.joined[i]);
    }
    for (std::size_t i = 0; i < group_.size(); ++i) group_[i] = find(i);
    // An element stays when its way back to a source does not lead through the capped end alone. Old ways first; one
    // that only a merged end still feeds goes on from there, and what follows it on its old way again.
    while (feed(false) || feed(true)) {
    }
  }

  bool stays(std::size_t i) const { return stays_[i]; }

  /// The end at which element `i` starts now: its old one, or one that was merged with it.
  std::size_t start(std::size_t i) const { return start_[i]; }

  /// The first end before `last` that stays merged in that group, or `none`.
  std::size_t first_of(std::size_t group, std::size_t last) const {
    for (std::size_t j = 0; j < last; ++j)
      if (j != element_ && group_[j] == group && stays_[j]) return j;
    return none;
  }
  std::size_t group(std::size_t i) const { return group_[i]; }

 private:
  std::size_t find(std::size_t i) const {
    while (group_[i] != i) i = group_[i];
    return i;
  }

  /// Finds an element that is fed after all: at its old start, or (`merged`) at an end merged with that.
  bool feed(bool merged) {
    for (std::size_t i = 0; i < stays_.size(); ++i) {
      if (stays_[i]) continue;
      const std::size_t before = topology_.before[i];
      start_[i] = before;
      if (before == none || (before != element_ && stays_[before])) return stays_[i] = true;
      if (!merged) continue;
      start_[i] = first_of(group_[before], stays_.size());
      if (start_[i] != none) return stays_[i] = true;
    }
    return false;
  }

  const Topology& topology_;
  std::size_t element_;
  std::vector<std::size_t> group_;  // per element: that of its end
  std::vector<std::size_t> start_;
  std::vector<bool> stays_;
};

}  // namespace

Capped cap(const Line& line, const Topology& topology, std::size_t element) {
  const std::size_t n = line.elements.size();
  Capped capped{line, std::vector<std::size_t>(n, none)};
  if (line.elements[element].kind == Kind::nozzle) {
    std::iota(capped.index.begin(), capped.index.end(), std::size_t{0});
    return capped;
  }

  const Cut cut(line, topology, element);
  capped.line.elements.clear();
  for (std::size_t i = 0; i < n; ++i) {
    if (!cut.stays(i)) continue;
    Element e = line.elements[i];
    // "The one before it in the list" may be gone: say by name where this one starts.
    if (topology.before[i] != none) e.after = line.elements[cut.start(i)].name;
    // What is left of a group of merged ends is chained anew: each with the first of them.
    const std::size_t first = i == element ? none : cut.first_of(cut.group(i), i);
    e.joins = first == none ? std::string() : line.elements[first].name;
    capped.index[i] = capped.line.elements.size();
    capped.line.elements.push_back(std::move(e));
  }
  return capped;
}

Capped without(const Line& line, const Topology& topology, std::size_t element) {
  Capped capped = cap(line, topology, element);
  // Capped it is a leaf: nothing starts at its end and nothing is merged with it.
  const std::size_t own = capped.index[element];
  std::vector<Element>& left = capped.line.elements;
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    std::size_t& index = capped.index[i];
    if (index == none) continue;
    if (index > own && left[index].after.empty() && topology.before[i] != none)
      left[index].after = line.elements[topology.before[i]].name;
  }
  left.erase(left.begin() + static_cast<std::ptrdiff_t>(own));
  for (std::size_t& index : capped.index) {
    if (index == own)
      index = none;
    else if (index != none && index > own)
      --index;
  }
  return capped;
}

namespace {

/// What `then` did to the line of `left`, told of the elements of the whole line.
Capped after(const Capped& left, Capped then) {
  std::vector<std::size_t> index(left.index.size(), none);
  for (std::size_t i = 0; i < index.size(); ++i)
    if (left.index[i] != none) index[i] = then.index[left.index[i]];
  then.index = std::move(index);
  return then;
}

}  // namespace

Capped without(const Line& line, const Topology& topology, std::span<const std::size_t> elements) {
  Capped left{line, std::vector<std::size_t>(line.elements.size())};
  std::iota(left.index.begin(), left.index.end(), std::size_t{0});
  bool whole = true;
  for (const std::size_t element : elements) {
    const std::size_t at = left.index[element];
    if (at == none) continue;
    left = after(left, without(left.line, whole ? topology : line::topology(left.line, false), at));
    whole = false;
  }
  return left;
}

Capped cap(const Capped& left, std::size_t element) {
  if (left.index[element] == none) throw DomainError("What is off can't be capped.");
  return after(left, cap(left.line, topology(left.line, false), left.index[element]));
}

}  // namespace airtally::line
