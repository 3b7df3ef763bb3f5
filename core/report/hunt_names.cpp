// Elements by name; those that are alike as one.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "hunt/judgement.hpp"
#include "report/hunt_words_private.hpp"
#include "report/words.hpp"

namespace airtally::report {
namespace {

constexpr std::size_t several = 3;  ///< that are alike are told of as one

/// "needle 7" in two: "needle " and 7; nothing where no number ends it.
std::optional<std::pair<std::string, unsigned long>> name_and_number(const std::string& name) {
  std::size_t at = name.size();
  while (at > 0 && std::isdigit(static_cast<unsigned char>(name[at - 1])) != 0) --at;
  if (at == name.size() || name.size() - at > 6 || name[at] == '0') return std::nullopt;
  return std::pair(name.substr(0, at), std::stoul(name.substr(at)));
}

/// Whether their names count on from the first, and so are clear from the first and the last.
bool count_on(const line::Line& line, const std::vector<std::size_t>& group) {
  const auto first = name_and_number(name(line, group.front()));
  for (std::size_t k = 0; k < group.size(); ++k) {
    const auto own = name_and_number(name(line, group[k]));
    if (!first || !own || own->first != first->first || own->second != first->second + k) return false;
  }
  return true;
}

}  // namespace

std::vector<std::size_t> told_as_one(const hunt::Hunt& hunt, std::size_t element) {
  std::vector<std::size_t> group = hunt::like(hunt, element);
  return group.size() < several ? std::vector{element} : group;
}

std::string group_name(const line::Line& line, const std::vector<std::size_t>& group) {
  if (group.size() == 1) return name(line, group.front());
  if (count_on(line, group)) return name(line, group.front()) + " to " + name(line, group.back());
  return fmt::format("{} and {} more", name(line, group.front()), group.size() - 1);
}

std::vector<std::string> names(const line::Line& line, const std::vector<std::size_t>& elements) {
  std::vector<std::string> all;
  for (std::size_t i : elements) all.push_back(the(line.elements[i]));
  return all;
}

std::vector<std::string> names(const line::Line& line, const hunt::Hunt& hunt,
                               const std::vector<std::size_t>& elements) {
  const auto among = [&](std::size_t i) { return std::find(elements.begin(), elements.end(), i) != elements.end(); };
  std::vector<std::string> all;
  std::vector<bool> told(line.elements.size(), false);
  for (std::size_t i : elements) {
    if (told[i]) continue;
    std::vector<std::size_t> group = told_as_one(hunt, i);
    if (!std::all_of(group.begin(), group.end(), among)) group = {i};
    for (std::size_t k : group) told[k] = true;
    all.push_back(group.size() == 1 ? the(line.elements[i])
                  : count_on(line, group)
                      ? the(line.elements[group.front()]) + " to " + name(line, group.back())
                      : fmt::format("{} and the {} like it", the(line.elements[group.front()]), group.size() - 1));
  }
  return all;
}

}  // namespace airtally::report
