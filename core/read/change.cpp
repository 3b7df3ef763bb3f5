#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

#include "read/change_private.hpp"
#include "read/toml_file_private.hpp"
#include "units/spelling.hpp"
#include "units/suggest.hpp"
#include "units/trimmed.hpp"

namespace airtally::read {
namespace {

constexpr std::array<std::string_view, 6> tables{"site", "part", "move", "cycle", "sensor", "twist"};

/// One word between dots: "leak", or "curve[2]" for the second of several.
struct Step {
  std::string key;
  std::optional<std::size_t> number;  // from 1
};

/// "\"20 um\"" for 20 um; a list, a table or a quoted text as it stands.
std::string as_toml(const std::string& value) {
  if (value.starts_with('[') || value.starts_with('{') || value.starts_with('"')) return value;
  std::string text = "\"";
  for (const char c : value) text += c == '"' || c == '\\' ? std::string{'\\', c} : std::string(1, c);
  return text + '"';
}

class Changer {
 public:
  Changer(const Change& change, toml::table& file, Catalogue& catalogue, Complaints& complaints)
      : change_(change), file_(&file), catalogue_(&catalogue), complaints_(&complaints) {}

  void run() {
    std::size_t behind = 0;
    toml::table* owner = find_owner(behind);
    if (owner == nullptr) return;
    const auto steps = steps_of(change_.path.substr(behind));
    if (!steps) return;
    if (element_ != nullptr && (steps->size() > 1 || steps->front().number)) inherit(steps->front().key);
    put(*owner, *steps);
  }

 private:
  void complain(const std::string& sentence) { complaints_->add(Position{change_.place, 0, 0}, sentence); }

  /// The table that the path begins with; `behind` becomes where the keys begin.
  toml::table* find_owner(std::size_t& behind) {
    std::vector<std::string_view> names(tables.begin(), tables.end());
    toml::table* found = nullptr;
    std::size_t longest = 0;
    if (toml::array* elements = (*file_)["element"].as_array())
      for (toml::node& node : *elements) {
        toml::table* element = node.as_table();
        const toml::value<std::string>* name = element == nullptr ? nullptr : (*element)["name"].as_string();
        if (name == nullptr) continue;
        names.push_back(name->get());
        const bool here = change_.path.starts_with(name->get() + '.');
        if (!here || name->get().size() < longest) continue;
        found = element_ = element;
        longest = name->get().size();
      }
    const std::string first = change_.path.substr(0, change_.path.find('.'));
    const bool is_table =
        std::find(tables.begin(), tables.end(), first) != tables.end() && first.size() + 1 < change_.path.size();
    behind = (found != nullptr ? longest : first.size()) + 1;
    if (found != nullptr && is_table && longest == first.size() && file_->contains(first)) return either(first);
    if (found != nullptr) return found;
    if (is_table) {
      if (!file_->contains(first)) insert(*file_, first + " = {}", first);
      return (*file_)[first].as_table();
    }
    const auto near = units::nearest_name(first, names);
    complain(
        fmt::format("{} is no element of the line, nor one of its tables {}; a value is named as in 'nozzle.bore' "
                    "or 'part.gap'.{}",
                    units::quoted(first), fmt::join(tables, ", "),
                    near && *near != first ? fmt::format(" Did you mean '{}'?", *near) : ""));
    return nullptr;
  }

  /// The element or the table, both of that name: whichever has the key already.
  toml::table* either(const std::string& name) {
    const std::string rest = change_.path.substr(name.size() + 1);
    const std::string key = rest.substr(0, rest.find_first_of(".["));
    const auto use = (*element_)["use"].value<std::string>();
    const toml::table* entry = use ? catalogue_->look_up(*use) : nullptr;
    const bool by_element = element_->contains(key) || (entry != nullptr && entry->contains(key));
    toml::table* table = (*file_)[name].as_table();
    const bool by_table = table != nullptr && table->contains(key);
    if (by_element && !by_table) return element_;
    if (by_table && !by_element) {
      element_ = nullptr;
      return table;
    }
    complain(
        fmt::format("an element is named '{0}' like the table [{0}], and {1} of the two has '{2}'; give the element "
                    "another name, so that it is plain whose value is meant.",
                    name, by_table ? "each" : "neither", key));
    return nullptr;
  }

  std::optional<std::vector<Step>> steps_of(const std::string& path) {
    std::vector<Step> steps;
    for (std::size_t begin = 0; begin <= path.size();) {
      const std::size_t end = std::min(path.find('.', begin), path.size());
      Step step{path.substr(begin, end - begin), {}};
      const std::size_t bracket = step.key.find('[');
      if (bracket != std::string::npos) {
        std::size_t number = 0;
        const char* last = step.key.data() + step.key.size() - 1;
        const auto read = std::from_chars(step.key.data() + bracket + 1, last, number);
        if (read.ec != std::errc() || read.ptr != last || *last != ']' || number == 0) return refuse_key(step.key);
        step.key.resize(bracket);
        step.number = number;
      }
      const bool word = !step.key.empty() && std::all_of(step.key.begin(), step.key.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
      });
      if (!word) return refuse_key(step.key);
      steps.push_back(std::move(step));
      begin = end + 1;
    }
    return steps;
  }

  std::optional<std::vector<Step>> refuse_key(const std::string& key) {
    complain(
        fmt::format("{} is no key; a value is named as in 'nozzle.bore', 'rotary joint.leak.clearance' or "
                    "'pump.curve[2].flow'.",
                    units::quoted(key)));
    return std::nullopt;
  }

  /// Takes over what the element has from the catalogue under that key.
  void inherit(const std::string& key) {
    const auto use = (*element_)["use"].value<std::string>();
    if (!use || element_->contains(key)) return;
    const toml::table* entry = catalogue_->look_up(*use);  // its lack is complained of when the element is read
    const toml::node* node = entry == nullptr ? nullptr : entry->get(key);
    if (node == nullptr || node->is_value()) return;
    node->visit([&](const auto& n) { element_->insert_or_assign(key, n); });
  }

  /// Writes `toml` ("key = value") into `table` under `key`, with the place of the change.
  void insert(toml::table& table, const std::string& toml, const std::string& key) {
    toml::table parsed = parse_toml(toml, change_.place);
    for (auto&& [k, node] : parsed)
      if (k.str() == key) node.visit([&, &name = k](auto& n) { table.insert_or_assign(name, std::move(n)); });
  }

  /// Walks down to the last key and sets it; what is missing on the way is made.
  void put(toml::table& owner, const std::vector<Step>& steps) {
    toml::table* here = &owner;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const Step& step = steps[i];
      toml::node* node = here->get(step.key);
      const bool last = i + 1 == steps.size();
      if (!step.number && (last || node == nullptr)) {
        std::string text = as_toml(change_.value);
        for (std::size_t k = steps.size() - 1; k > i; --k) text = fmt::format("{{ {} = {} }}", steps[k].key, text);
        try {
          insert(*here, step.key + " = " + text, step.key);
        } catch (const BadInput& error) {
          complain(error.complaints().front().sentence);
        }
        return;
      }
      toml::table* inner = node == nullptr ? nullptr : node->as_table();
      toml::array* list = node == nullptr ? nullptr : node->as_array();
      if (list != nullptr) {
        if (!step.number && list->size() == 1) inner = list->get(0)->as_table();
        if (!step.number && list->size() != 1)
          return complain(fmt::format("'{0}' is a list of {1}; say which, as in {0}[1].", step.key, list->size()));
        if (step.number && *step.number > list->size())
          return complain(
              fmt::format("'{}' has {} entries, so there is no number {}.", step.key, list->size(), *step.number));
        if (step.number) inner = list->get(*step.number - 1)->as_table();
        if (step.number && inner == nullptr) return put_pair(*list->get(*step.number - 1), steps, i);
      } else if (step.number && *step.number != 1) {
        return complain(fmt::format("'{}' is no list, so it has no number {}.", step.key, *step.number));
      }
      if (inner == nullptr || last)
        return complain(fmt::format("'{}' is no table whose keys could be set one by one.", step.key));
      here = inner;
    }
  }

  /// One of the two values of a point such as ["30 kPa", "4.6 L/min"].
  void put_pair(toml::node& node, const std::vector<Step>& steps, std::size_t i) {
    toml::array* pair = node.as_array();
    const std::string second = steps[i].key == "curve" ? "flow" : steps[i].key;
    const std::string which = i + 1 < steps.size() ? steps[i + 1].key : std::string();
    if (pair == nullptr || pair->size() != 2 || i + 2 != steps.size() || (which != "vacuum" && which != second))
      return complain(
          fmt::format("a point of '{0}' has a 'vacuum' and a '{1}', as in {0}[2].{1}.", steps[i].key, second));
    toml::table parsed = parse_toml("v = " + as_toml(change_.value), change_.place);
    parsed.begin()->second.visit(
        [&](auto& n) { pair->replace(pair->cbegin() + (which == "vacuum" ? 0 : 1), std::move(n)); });
  }

  const Change& change_;
  toml::table* file_;
  Catalogue* catalogue_;
  Complaints* complaints_;
  toml::table* element_ = nullptr;
};

}  // namespace

void apply(const std::vector<Change>& changes, toml::table& file, Catalogue& catalogue, Complaints& complaints) {
  for (const Change& change : changes) Changer(change, file, catalogue, complaints).run();
}

Change change_of(const std::string& text) {
  const std::string place = "--set '" + text + "'";
  const std::size_t equals = text.find('=');
  const std::string_view all = text;
  const std::string_view value = equals == std::string::npos ? "" : units::trimmed(all.substr(equals + 1));
  Change change{std::string(units::trimmed(all.substr(0, equals))), std::string(value), place};
  if (equals == std::string::npos || change.path.empty() || change.value.empty())
    throw BadInput(Position{place, 0, 0}, "write a name and its value, such as 'nozzle.bore=0.8 mm'.");
  for (const char c : text)
    if (static_cast<unsigned char>(c) < 0x20)
      throw BadInput(Position{"--set", 0, 0}, "a change stands on one line, without control characters.");
  return change;
}

}  // namespace airtally::read
