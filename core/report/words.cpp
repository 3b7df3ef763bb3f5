#include "report/words.hpp"

#include <algorithm>
#include <cctype>

#include "report/width.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

bool letter(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }

/// "nozzle 2", "pump A" and "K1" are names of one thing and take no article.
bool numbered(const std::string& name) {
  const std::string last = name.substr(name.find_last_of(' ') + 1);
  const bool digit = std::any_of(last.begin(), last.end(), [](char c) { return c >= '0' && c <= '9'; });
  return digit || last.size() < 2;
}

}  // namespace

std::string the(const line::Element& element) {
  const std::string own = clean(element.name);
  return numbered(own) || own.starts_with("the ") ? own : "the " + own;
}

std::string fitting(double si, units::Dimension dimension) { return units::show_fitting(si, dimension, 3); }

std::string The(const line::Element& element) { return capital(the(element)); }

std::string_view word(solve::TipState state) {
  switch (state) {
    case solve::TipState::open:
      return "open";
    case solve::TipState::part:
      return "part";
    case solve::TipState::blocked:
      return "blocked";
  }
  return "open";
}

std::string_view word(std::span<const solve::TipState> states) {
  if (states.empty()) return "open";
  const bool same = std::all_of(states.begin(), states.end(), [&](auto s) { return s == states.front(); });
  return same ? word(states.front()) : "mixed";
}

std::string state_phrase(std::span<const solve::TipState> states) {
  const std::string_view shared = word(states);
  const bool one = states.size() < 2;
  if (shared == "mixed") {
    std::vector<std::string> parts;
    for (const auto& [state, text] :
         {std::pair(solve::TipState::open, "open"), std::pair(solve::TipState::part, "with a part on"),
          std::pair(solve::TipState::blocked, "blocked")}) {
      const auto count = std::count(states.begin(), states.end(), state);
      if (count > 0)
        parts.push_back(std::to_string(count) + (parts.empty() ? count == 1 ? " tip " : " tips " : " ") + text);
    }
    return "with " + listed(parts);
  }
  if (shared == "part") return one ? "with the part on" : "with a part on every tip";
  return (one ? "with the tip " : "with all tips ") + std::string(shared);
}

std::string counted(std::size_t number, std::string_view thing) {
  return std::to_string(number) + ' ' + std::string(thing) + (number == 1 ? "" : thing.ends_with('h') ? "es" : "s");
}

std::string no_vacuum(const std::string& room) {
  return " No vacuum can: all that the room has is " + room +
         ". A larger bore, a lighter part or gentler moves need less.";
}

std::string listed(const std::vector<std::string>& things) {
  std::string out;
  for (std::size_t i = 0; i < things.size(); ++i)
    out += (i == 0 ? "" : i + 1 == things.size() ? " and " : ", ") + things[i];
  return out;
}

std::string all_tips(std::size_t number) { return "all " + std::to_string(number) + " tips"; }

std::string capital(std::string text) {
  if (!text.empty() && letter(text.front()))
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

std::string title(const line::Line& line) { return clean(line.title.empty() ? line.file : line.title); }

std::string name(const line::Line& line, std::size_t element) { return clean(line.elements.at(element).name); }

std::string typed(const std::string& word) {
  const std::string plain = clean(word);
  if (plain.find_first_of(" '\"\\$&;()<>*?`|!#~[]{}") == std::string::npos) return plain;
  std::string quoted = "'";
  for (const char c : plain) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + '\'';
}

std::string typed_file(const std::string& file) {
  // Behind a command a dash begins an option.
  return typed(file.starts_with('-') ? "./" + file : file);
}

std::string typed_file(const line::Line& line) { return typed_file(line.file.empty() ? "LINE" : line.file); }

std::string typed_line(const line::Line& line, const std::vector<std::string>& changes) {
  std::string out = typed_file(line);
  for (const std::string& change : changes) out += " --set " + typed(change);
  return out;
}

}  // namespace airtally::report
