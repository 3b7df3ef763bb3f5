#include "line/difference.hpp"

#include <algorithm>

#include "line/quantities.hpp"

namespace airtally::line {
namespace {

using Either = Difference::Value;
using units::Dimension;

/// Who has facts. An element may be named like a table.
struct Owner {
  std::string name;
  bool table = false;
  bool operator==(const Owner&) const = default;
};

struct Fact {
  Owner owner;
  std::string key;
  Dimension dimension = Dimension::number;
  Either value;
};

bool same(const Either& a, const Either& b) {
  const auto* p = std::get_if<Quantity>(&a);
  const auto* q = std::get_if<Quantity>(&b);
  if (p == nullptr || q == nullptr)
    return a.index() == b.index() && std::get<std::string>(a) == std::get<std::string>(b);
  return p->spread == q->spread && p->value == q->value && p->low == q->low && p->high == q->high;
}

std::string_view word(ValveState state) {
  return state == ValveState::open ? "open" : state == ValveState::closed ? "closed" : "vent";
}

/// The facts of one line, each under its owner and key.
class Facts {
 public:
  explicit Facts(const Line& line) {
    Line copy = line;
    for (const Element& e : line.elements) words(e);
    if (line.part) add(table("part"), "", "a part");
    if (line.move) add(table("move"), "", "moves");
    if (line.cycle) add(table("cycle"), "", "a cycle");
    if (line.sensor) add(table("sensor"), "", "a sensor");
    each_quantity(copy, [&](const QuantityName& name, const Quantity& quantity, Dimension dimension) {
      facts.push_back({{name.owner, name.element == nullptr}, name.key, dimension, quantity});
    });
    if (line.move) add(table("move"), "seal", line.move->seal == SealAt::rim ? "rim" : "bore");
    if (line.cycle) {
      add(table("cycle"), "pump", line.cycle->pump_always_on ? "always on" : "switched");
      for (std::size_t i = 0; i < line.cycle->heads.size(); ++i)
        add(table("cycle"), "head[" + std::to_string(i + 1) + "].nozzle", line.cycle->heads[i].nozzle);
    }
    if (line.sensor) {
      add(table("sensor"), "at", line.sensor->at);
      add(table("sensor"), "switch", line.sensor->ready_made ? "a switch" : "none");
      if (!line.sensor->ready_made) {
        add(table("sensor"), "vacuum", line.sensor->vacuum_raises ? "up" : "down");
        add(table("sensor"), "amplifier.kind", std::string(line::word(line.sensor->amplifier.kind)));
      }
    }
    facts.push_back({table("site"), "pressure", Dimension::pressure, Quantity(line.site.pressure)});
    facts.push_back({table("site"), "temperature", Dimension::temperature, Quantity(line.site.temperature)});
  }

  const Either* find(const Owner& owner, const std::string& key) const {
    const auto found =
        std::find_if(facts.begin(), facts.end(), [&](const Fact& f) { return f.owner == owner && f.key == key; });
    return found == facts.end() ? nullptr : &found->value;
  }
  bool has(const Owner& owner) const { return owner == table("site") || find(owner, "") != nullptr; }

  std::vector<Fact> facts;

 private:
  static Owner table(const char* name) { return {name, true}; }

  void add(const Owner& owner, const std::string& key, std::string word) {
    facts.push_back({owner, key, Dimension::number, std::move(word)});
  }

  /// What of an element each_quantity() does not show. Its being there comes first.
  void words(const Element& e) {
    const Owner own{e.name};
    add(own, "", std::string(line::word(e.kind)));
    add(own, "kind", std::string(line::word(e.kind)));
    if (!e.after.empty()) add(own, "after", e.after);
    if (!e.joins.empty()) add(own, "joins", e.joins);
    if (e.valve) add(own, "state", std::string(word(e.valve->state)));
    if (e.gauge) add(own, "gauge", "a gauge");
    facts.push_back({own, "effort", Dimension::number, Quantity(e.effort)});
    for (std::size_t i = 0; i < e.leaks.size(); ++i)
      if (const auto* leak = std::get_if<RatedLeak>(&e.leaks[i]))
        add(own, (e.leaks.size() == 1 ? std::string("leak") : "leak[" + std::to_string(i + 1) + ']') + ".law",
            leak->orifice ? "orifice" : "laminar");
  }
};

/// The elements that all lines have, as one line orders them.
std::string common_order(const Line& line, std::span<const Line> lines) {
  std::string order;
  for (const Element& e : line.elements)
    if (std::all_of(lines.begin(), lines.end(), [&](const Line& l) { return line::find(l, e.name).has_value(); }))
      order += (order.empty() ? "" : ", ") + e.name;
  return order;
}

}  // namespace

std::vector<Difference> differences(std::span<const Line> lines) {
  std::vector<Facts> all;
  all.reserve(lines.size());
  for (const Line& line : lines) all.emplace_back(line);

  // Owners and their keys, those of later lines behind what stands before them there.
  std::vector<Owner> owners;
  for (const Facts& facts : all) {
    std::size_t at = 0;
    for (const Fact& fact : facts.facts) {
      const auto found = std::find(owners.begin(), owners.end(), fact.owner);
      if (found == owners.end()) {
        owners.insert(owners.begin() + static_cast<std::ptrdiff_t>(std::min(at, owners.size())), fact.owner);
        ++at;
      } else {
        at = static_cast<std::size_t>(found - owners.begin()) + 1;
      }
    }
  }

  std::vector<Difference> result;
  for (const Owner& owner : owners) {
    std::vector<std::string> keys;
    for (const Facts& facts : all)
      for (const Fact& fact : facts.facts)
        if (fact.owner == owner && std::find(keys.begin(), keys.end(), fact.key) == keys.end())
          keys.push_back(fact.key);
    for (const std::string& key : keys) {
      Difference difference{owner.name, key, Dimension::number, {}, {}};
      bool differ = false;
      const Either* first = nullptr;
      bool began = false;
      for (std::size_t k = 0; k < all.size(); ++k) {
        const Either* value = all[k].find(owner, key);
        difference.values.push_back(value == nullptr ? std::nullopt : std::optional<Either>(*value));
        difference.elements.push_back(owner.table ? std::nullopt : line::find(lines[k], owner.name));
        // Among those that have the owner; of the owner itself it counts only whether they have it.
        if (!key.empty() && !all[k].has(owner)) continue;
        if (began)
          differ = differ || (value == nullptr) != (first == nullptr) ||
                   (!key.empty() && value != nullptr && !same(*value, *first));
        first = began ? first : value;
        began = true;
      }
      for (const Facts& facts : all)
        for (const Fact& fact : facts.facts)
          if (fact.owner == owner && fact.key == key) difference.dimension = fact.dimension;
      if (differ) result.push_back(std::move(difference));
    }
  }
  Difference order{"line", "order", Dimension::number, {}, {}};
  for (const Line& line : lines) {
    order.values.emplace_back(Either(common_order(line, lines)));
    order.elements.emplace_back(std::nullopt);
  }
  const auto other = [&](const auto& v) { return !same(*v, *order.values.front()); };
  if (std::any_of(order.values.begin(), order.values.end(), other)) result.push_back(std::move(order));
  return result;
}

}  // namespace airtally::line
