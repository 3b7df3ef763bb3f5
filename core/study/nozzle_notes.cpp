#include "study/nozzle_notes.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "units/show.hpp"

namespace airtally::study {
namespace {

std::string quoted(const line::Line& line, std::size_t nozzle) { return '\'' + line.elements.at(nozzle).name + '\''; }

/// Whom a note is about. Four or more that follow each other are told by the first and the last.
std::string subject(const line::Line& line, const std::vector<std::size_t>& nozzles) {
  if (nozzles.size() == 1) return "nozzle " + quoted(line, nozzles.front());
  std::vector<std::size_t> all = line::all_of(line, line::Kind::nozzle);
  const auto begin = std::find(all.begin(), all.end(), nozzles.front());
  const bool in_a_row = static_cast<std::size_t>(all.end() - begin) >= nozzles.size() &&
                        std::equal(nozzles.begin(), nozzles.end(), begin);
  if (nozzles.size() > 3 && in_a_row)
    return "each of nozzles " + quoted(line, nozzles.front()) + " to " + quoted(line, nozzles.back());
  std::string text = "each of nozzles " + quoted(line, nozzles.front());
  for (std::size_t k = 1; k < nozzles.size(); ++k)
    text += (k + 1 < nozzles.size() ? ", " : " and ") + quoted(line, nozzles[k]);
  return text;
}

}  // namespace

void NozzleNotes::add(std::size_t nozzle, const std::string& note) {
  const auto same = std::find_if(notes_.begin(), notes_.end(), [&](const auto& known) { return known.first == note; });
  if (same == notes_.end())
    notes_.push_back({note, {nozzle}});
  else
    same->second.push_back(nozzle);
}

std::vector<std::string> NozzleNotes::sentences(const line::Line& line) const {
  std::vector<std::string> all;
  for (auto [note, nozzles] : notes_) {
    if (const std::size_t at = note.find(who); at != std::string::npos) note.replace(at, 1, subject(line, nozzles));
    all.push_back(std::move(note));
  }
  return all;
}

std::string own_parts_note(const line::Line& line) {
  const std::size_t nozzles = line::all_of(line, line::Kind::nozzle).size();
  if (nozzles < 2) return "";
  return fmt::format(
      "each of the {} nozzles is taken to carry a part of its own, of {}; where they carry one together, enter its "
      "mass "
      "divided by {} and leave out its height, as the other nozzles keep it from tilting; that some then carry more "
      "than others is left out",
      nozzles, units::show_fitting(line.part->mass.value, units::Dimension::mass, 3), nozzles);
}

}  // namespace airtally::study
