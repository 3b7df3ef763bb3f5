#include "new_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "report/width.hpp"
#include "toml_text.hpp"
#include "units/parse.hpp"
#include "units/suggest.hpp"
#include "units/trimmed.hpp"

namespace airtally::cli {
namespace {

using read::CatalogueEntry;

using units::trimmed;

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Whether the comma at `at` stands in a number: behind a digit, and with one right behind it.
bool in_number(std::string_view text, std::size_t at) {
  const std::string_view front = trimmed(text.substr(0, at));
  return !front.empty() && is_digit(front.back()) && at + 1 < text.size() && is_digit(text[at + 1]);
}

/// What stands between the commas that part one thing from the next.
std::vector<std::string_view> split(std::string_view text) {
  std::vector<std::string_view> words;
  std::size_t from = 0;
  for (std::size_t at = 0; at <= text.size(); ++at) {
    if (at < text.size() && (text[at] != ',' || in_number(text, at))) continue;
    words.push_back(trimmed(text.substr(from, at - from)));
    from = at + 1;
  }
  return words;
}

/// What is wrong with a figure written with a decimal comma, in the words that a line file gets; empty where none is.
/// "2,5 mm" would else be the second of the list, 5 mm long.
std::string decimal_comma(std::string_view text) {
  for (const std::string_view word : split(text)) {
    if (word.find(',') == std::string_view::npos) continue;
    try {
      units::parse(word, units::Dimension::length);  // a comma is refused before the unit counts
    } catch (const units::UnitError& error) {
      return error.what();
    }
  }
  return "";
}

std::string filled(std::string_view pattern, const std::vector<std::string_view>& figures) {
  std::string out(pattern);
  for (std::size_t k = figures.size(); k > 0; --k) {
    const std::string mark = fmt::format("${}", k);
    for (auto at = out.find(mark); at != std::string::npos; at = out.find(mark)) {
      const std::string text = toml_text(figures[k - 1]);
      out.replace(at, mark.size(), text);
    }
  }
  return out;
}

/// The table that the part is in the file, with `keys` in it.
std::string in_its_table(const NewPart& part, std::string_view origin, std::string_view keys) {
  std::string out = "\n";
  for (const std::string& row : report::wrap(part.remark, 96)) out += "# " + row + '\n';
  if (!origin.empty()) out += fmt::format("# {}\n", origin);
  if (part.kinds.empty() && (part.name == "part" || part.name == "site" || part.name == "sensor"))
    out += fmt::format("[{}]\n", part.name);
  else
    out += fmt::format("[[element]]\nname = \"{}\"\n", part.name);
  return out + std::string(keys) + '\n';
}

Written from_entry(const NewPart& part, const CatalogueEntry& entry, std::string_view rest) {
  std::vector<std::string_view> figures;
  if (!trimmed(rest).empty()) figures = split(rest);
  if (figures.size() != part.missing.size() || std::count(figures.begin(), figures.end(), std::string_view()) > 0) {
    const std::string wanted = fmt::format("{}", fmt::join(part.missing, " and "));
    return {"", part.missing.empty()
                    ? fmt::format("'{}' takes nothing behind it.", entry.name)
                    : fmt::format("'{}' needs its {} behind a comma, such as: {}", entry.name, wanted, part.usual)};
  }
  std::string keys = fmt::format("kind = \"{}\"\n", line::word(entry.kind));
  for (const auto& [key, value] : entry.keys) keys += fmt::format("{} = {}\n", key, value);
  for (std::size_t k = 0; k < figures.size(); ++k)
    keys += fmt::format("{} = {}\n", part.missing[k], toml_text(figures[k]));
  keys.pop_back();
  const std::string origin =
      fmt::format("Catalogue values of \"{}\", common practice: put your own in their place.", entry.name);
  return {in_its_table(part, origin, keys), ""};
}

/// The text of a key in an inline table; empty if it has none.
std::string text_of(std::string_view key, std::string_view table) {
  const std::string mark = fmt::format("{} = \"", key);
  const std::size_t at = table.find(mark);
  if (at == std::string_view::npos) return "";
  const std::size_t from = at + mark.size();
  return std::string(table.substr(from, table.find('"', from) - from));
}

std::string what_is_allowed(const NewPart& part) {
  std::string words;
  if (!part.kinds.empty()) words += "a number or name from the list";
  if (!part.own.empty())
    words += fmt::format("{}{}, such as {}", words.empty() ? "" : (part.may_lack ? ", " : " or "), part.figures,
                         part.example);
  if (part.may_lack) words += ", or none";
  return words;
}

}  // namespace

std::vector<const CatalogueEntry*> choices(const NewPart& part, const std::vector<CatalogueEntry>& all) {
  std::vector<const CatalogueEntry*> list;
  list.reserve(all.size());
  for (const CatalogueEntry& entry : all)
    if (std::find(part.kinds.begin(), part.kinds.end(), entry.kind) != part.kinds.end()) list.push_back(&entry);
  return list;
}

std::string choice_words(const CatalogueEntry& entry) {
  std::string words;
  const auto say = [&](const std::string& phrase) { words += (words.empty() ? "" : ", ") + phrase; };
  for (const auto& [key, value] : entry.keys) {
    if (key == "curve") {  // free flow and deepest vacuum: the second text and the last but one
      const std::size_t flow = value.find('"', value.find(',')) + 1;
      const std::size_t last = value.rfind('[') + 2;
      return fmt::format("{}, {}", value.substr(flow, value.find('"', flow) - flow),
                         value.substr(last, value.find('"', last) - last));
    }
    if (key == "rated") return fmt::format("{} at {}", text_of("drop", value), text_of("flow", value));
    if (key == "leak") {
      const std::string rated = text_of("rated", value), gap = text_of("clearance", value);
      if (!rated.empty()) say("leak " + rated);
      if (!gap.empty()) say("clearance " + gap);
    }
    if (key == "bore" || key == "rim" || key == "conductance")
      say(fmt::format("{} {}", key, value.substr(1, value.size() - 2)));
  }
  return words;
}

Written write_part(const NewPart& part, std::string answer, const std::vector<const CatalogueEntry*>& list) {
  const std::string_view said = trimmed(answer);
  if (said == "none") {
    if (part.may_lack) return {};
    return {"", fmt::format("a line needs its {}; give {}.", part.name, what_is_allowed(part))};
  }
  const CatalogueEntry* named = nullptr;  // the longest name that the answer begins with
  for (const CatalogueEntry* entry : list) {
    const bool begins = said.starts_with(entry->name) && (said.size() == entry->name.size() ||
                                                          trimmed(said.substr(entry->name.size())).starts_with(','));
    if (begins && (named == nullptr || entry->name.size() > named->name.size())) named = entry;
  }
  std::string_view behind = trimmed(said.substr(named == nullptr ? 0 : named->name.size()));
  if (named != nullptr && !behind.empty()) behind.remove_prefix(1);
  std::string trouble = decimal_comma(behind);
  if (!trouble.empty()) {
    if (named == nullptr && !list.empty() && !part.missing.empty())
      trouble +=
          fmt::format(" Behind a number of the list the {} stands after a comma and a blank, as in \"3, 0.8 m\".",
                      fmt::join(part.missing, ", "));
    return {"", trouble};
  }
  if (named != nullptr) return from_entry(part, *named, behind);
  // A number of the list stands alone or before a comma; a figure has its unit.
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(said.data(), said.data() + said.size(), number);
  const std::string_view rest(end, static_cast<std::size_t>(said.data() + said.size() - end));
  if (!list.empty() && error == std::errc() && (trimmed(rest).empty() || trimmed(rest).front() == ',')) {
    if (number < 1 || number > list.size())
      return {"", fmt::format("{} is not in the list, which ends at {}.", number, list.size())};
    const std::size_t comma = rest.find(',');
    return from_entry(part, *list[number - 1], comma == std::string_view::npos ? "" : rest.substr(comma + 1));
  }
  const std::vector<std::string_view> figures = split(said);
  const auto figures_in = [](std::string_view toml) {
    return static_cast<std::size_t>(std::count(toml.begin(), toml.end(), '$'));
  };
  const std::size_t wanted = figures_in(part.own);
  const bool numbers = std::all_of(figures.begin(), figures.end(), [](std::string_view word) {
    return !word.empty() && std::string_view("0123456789.+-").find(word.front()) != std::string_view::npos;
  });
  if (figures.size() == wanted && numbers) return {in_its_table(part, "", filled(part.own, figures)), ""};
  if (numbers && figures.size() > wanted && figures.size() == figures_in(part.fuller))
    return {in_its_table(part, "", filled(part.fuller, figures)), ""};
  if (numbers && figures.size() < wanted)
    return {"", fmt::format("'{}' lacks a figure; give {}, with a comma between, as in: {}", report::clean(said),
                            part.figures, part.example)};
  std::vector<std::string_view> names;
  names.reserve(list.size());
  for (const CatalogueEntry* entry : list) names.push_back(entry->name);
  const auto near = units::nearest(said, names);
  return {"", fmt::format("'{}' is not understood; give {}.{}", report::clean(said), what_is_allowed(part),
                          near ? fmt::format(" Did you mean '{}'?", *near) : "")};
}

}  // namespace airtally::cli
