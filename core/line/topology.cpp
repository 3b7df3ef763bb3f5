#include "line/topology.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/connected_components.hpp>
#include <boost/graph/incremental_components.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/pending/disjoint_sets.hpp>
#include <map>

#include "line/variant.hpp"
#include "units/suggest.hpp"

namespace airtally::line {
namespace {

using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS>;
using Directed = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS>;

std::string quoted(const std::string& name) { return "'" + name + "'"; }

/// Collects complaints while the parts of the check run one after another.
class Checker {
 public:
  Checker(const Line& line, bool need_nozzle) : line_(line), n_(line.elements.size()), need_nozzle_(need_nozzle) {}

  Topology run() {
    ends();
    names();
    resolve();
    stop();
    circles();
    stop();
    middles();
    reach();
    loops();
    stop();
    return std::move(topology_);
  }

 private:
  const Element& at(std::size_t i) const { return line_.elements[i]; }

  void complain(const Position& where, std::string sentence) {
    complaints_.push_back(
        {where.line > 0 || !where.file.empty() ? where : Position{line_.file, 0, 0}, std::move(sentence)});
  }

  void stop() {
    if (complaints_.empty()) return;
    std::stable_sort(complaints_.begin(), complaints_.end(), [](const Complaint& a, const Complaint& b) {
      return std::pair(a.at.line, a.at.column) < std::pair(b.at.line, b.at.column);
    });
    throw BadInput(std::move(complaints_));
  }

  /// What every line must have.
  void ends() {
    const auto is = [](auto test) { return [test](const Element& e) { return test(e.kind); }; };
    const auto& all = line_.elements;
    if (all.empty()) {
      complain({}, "the line has no [[element]]; it needs at least a pump and a nozzle.");
      stop();
    }
    if (std::none_of(all.begin(), all.end(), is(is_source)))
      complain({},
               "the line has no source of vacuum; add an element of kind \"pump\" or \"ejector\" at its beginning.");
    if (need_nozzle_ && std::none_of(all.begin(), all.end(), is([](Kind k) { return k == Kind::nozzle; })))
      complain({}, "the line has no nozzle; add an element of kind \"nozzle\" at its end.");
  }

  void names() {
    for (std::size_t i = 0; i < n_; ++i) {
      const auto [first, fresh] = index_.emplace(at(i).name, i);
      if (fresh) continue;
      const Position& before = at(first->second).where;
      complain(at(i).where,
               "the name " + quoted(at(i).name) + " is taken" +
                   (before.line > 0 ? " by the element in line " + std::to_string(before.line) : std::string()) +
                   "; every element needs a name of its own.");
    }
  }

  std::size_t named(const std::string& name, std::size_t from, const char* key, const Position& where) {
    const auto found = index_.find(name);
    if (found == index_.end()) {
      std::vector<std::string_view> known;
      known.reserve(line_.elements.size());
      for (const Element& e : line_.elements) known.push_back(e.name);
      const auto near = units::nearest_name(name, known);
      complain(where, "element " + quoted(at(from).name) + ": " + key + " names " + quoted(name) +
                          ", which does not exist." +
                          (near ? " Did you mean " + quoted(std::string(*near)) + "?" : std::string()));
      return none;
    }
    if (found->second == from) {
      complain(where, "element " + quoted(name) + ": " + key + " names the element itself; name another one.");
      return none;
    }
    return found->second;
  }

  void resolve() {
    topology_.before.assign(n_, none);
    topology_.joined.assign(n_, none);
    for (std::size_t i = 0; i < n_; ++i) {
      const Element& e = at(i);
      if (!e.joins.empty()) topology_.joined[i] = named(e.joins, i, "joins", e.joins_at);
      if (is_source(e.kind)) {
        if (!e.after.empty())
          complain(e.after_at,
                   "element " + quoted(e.name) + ": a " + std::string(word(e.kind)) +
                       " starts a branch of its own and can't be after another element; use joins to bring its "
                       "branch into the line.");
      } else if (!e.after.empty()) {
        topology_.before[i] = named(e.after, i, "after", e.after_at);
      } else if (i > 0) {
        topology_.before[i] = i - 1;
      } else {
        complain(e.where, "element " + quoted(e.name) + ": a line starts at its source, but this is a " +
                              std::string(word(e.kind)) + "; put the pump or ejector first, or say after = \"...\".");
      }
    }
  }

  /// `after` in a circle: elements that hang on one another and on no source.
  void circles() {
    Directed graph(n_);
    for (std::size_t i = 0; i < n_; ++i)
      if (topology_.before[i] != none) boost::add_edge(topology_.before[i], i, graph);
    std::vector<std::size_t> component(n_);
    const std::size_t count = boost::strong_components(graph, component.data());
    std::vector<std::vector<std::size_t>> members(count);
    for (std::size_t i = 0; i < n_; ++i) members[component[i]].push_back(i);
    for (const auto& circle : members) {
      if (circle.size() < 2) continue;
      complain(at(circle.front()).after_at.line > 0 ? at(circle.front()).after_at : at(circle.front()).where,
               "elements " + list(circle) +
                   " are after one another in a circle; let one of them start at the source's side.");
    }
    topology_.beyond.assign(n_, {});
    for (std::size_t i = 0; i < n_; ++i)
      if (topology_.before[i] != none) topology_.beyond[topology_.before[i]].push_back(i);
  }

  std::string list(const std::vector<std::size_t>& members) const {
    std::string all;
    for (std::size_t i : members) all += (all.empty() ? "" : ", ") + quoted(at(i).name);
    return all;
  }

  /// Nozzles and plugs end a branch.
  void middles() {
    for (std::size_t i = 0; i < n_; ++i) {
      const Element& e = at(i);
      const std::size_t j = topology_.joined[i];
      const auto ends_branch = [](Kind k) { return k == Kind::nozzle || k == Kind::plug; };
      if (j != none && (ends_branch(e.kind) || ends_branch(at(j).kind)))
        complain(e.joins_at, "element " + quoted(e.name) + " can't join " + quoted(at(j).name) +
                                 ": a nozzle or plug ends its branch; join the element before it.");
      if (!ends_branch(e.kind)) continue;
      for (std::size_t k : topology_.beyond[i])
        complain(at(k).after_at.line > 0 ? at(k).after_at : at(k).where,
                 "element " + quoted(at(k).name) + " comes after " + quoted(e.name) + ", but a " +
                     std::string(word(e.kind)) +
                     " ends its branch; say after = \"...\" with the element where this one starts.");
    }
  }

  /// Every part of the line must hang on a source.
  void reach() {
    Graph graph(n_);
    for (std::size_t i = 0; i < n_; ++i) {
      if (topology_.before[i] != none) boost::add_edge(i, topology_.before[i], graph);
      if (topology_.joined[i] != none) boost::add_edge(i, topology_.joined[i], graph);
    }
    std::vector<std::size_t> component(n_);
    const std::size_t count = boost::connected_components(graph, component.data());
    std::vector<bool> fed(count, false);
    for (std::size_t i = 0; i < n_; ++i)
      if (is_source(at(i).kind)) fed[component[i]] = true;
    std::vector<bool> told(count, false);
    for (std::size_t i = 0; i < n_; ++i) {
      if (fed[component[i]] || told[component[i]]) continue;
      told[component[i]] = true;
      complain(at(i).where,
               "no source reaches " + quoted(at(i).name) +
                   ": nothing connects it to a pump or ejector; say after = \"...\" or put it behind one.");
    }
  }

  /// Merges ends with nothing between them; a circle of such ends would carry an undefined flow.
  void loops() {
    std::vector<std::size_t> rank(n_, 0), parent(n_);
    boost::disjoint_sets<std::size_t*, std::size_t*> sets(rank.data(), parent.data());
    for (std::size_t i = 0; i < n_; ++i) sets.make_set(i);
    const auto merge = [&](std::size_t i, std::size_t j, const Position& where) {
      const std::size_t a = sets.find_set(i), b = sets.find_set(j);
      if (a == b) {
        complain(
            where.line > 0 ? where : at(i).where,
            "element " + quoted(at(i).name) + " closes a loop through " + quoted(at(j).name) +
                " with nothing in it but tees and joins; air could run round in it for ever. Put a tube or another "
                "restriction into the loop.");
      } else {
        sets.link(a, b);
      }
    };
    for (std::size_t i = 0; i < n_; ++i)
      if (!restricts(at(i)) && topology_.before[i] != none) merge(i, topology_.before[i], at(i).where);
    for (std::size_t i = 0; i < n_; ++i)
      if (topology_.joined[i] != none) merge(i, topology_.joined[i], at(i).joins_at);

    topology_.place.assign(n_, none);
    std::vector<std::size_t> number(n_, none);
    for (std::size_t i = 0; i < n_; ++i) {
      std::size_t& place = number[sets.find_set(i)];
      if (place == none) place = topology_.places++;
      topology_.place[i] = place;
      topology_.sharing.resize(topology_.places, 0);
      ++topology_.sharing[place];
    }
  }

  const Line& line_;
  std::size_t n_;
  bool need_nozzle_;
  std::map<std::string, std::size_t, std::less<>> index_;
  Topology topology_;
  std::vector<Complaint> complaints_;
};

}  // namespace

Topology topology(const Line& line, bool need_nozzle) { return Checker(line, need_nozzle).run(); }

}  // namespace airtally::line
