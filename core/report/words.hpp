#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "line/line.hpp"
#include "solve/network.hpp"
#include "units/dimension.hpp"

/// Words for things, as sentences need them.
namespace airtally::report {

/// The element's name with its article where English wants one: "the rotary joint", but "nozzle 2".
std::string the(const line::Element& element);
/// The same at the beginning of a sentence.
std::string The(const line::Element& element);

/// "open", "part" or "blocked".
std::string_view word(solve::TipState state);
/// The state that all tips share, else "mixed".
std::string_view word(std::span<const solve::TipState> states);
/// "with the tip open", "with the part on", "with the tip blocked"; for several tips "with all tips open" and so on.
std::string state_phrase(std::span<const solve::TipState> states);

/// To three digits in the unit that fits: "2.4 m", "35 um".
std::string fitting(double si, units::Dimension dimension);

/// "1 nozzle", "8 nozzles"; "es" behind an h.
std::string counted(std::size_t number, std::string_view thing);
/// What to say of a need beyond all the pressure of the room, which is told as `room`. Begins with a space.
std::string no_vacuum(const std::string& room);
/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& things);
/// What an element table calls several tips whose rows are all alike.
std::string all_tips(std::size_t number);
/// The first letter in upper case where it is ASCII.
std::string capital(std::string text);

/// The title of the line, or its file where it has none.
std::string title(const line::Line& line);
/// The name of the element, an index into the line, fit for a terminal. Throws std::out_of_range beyond.
std::string name(const line::Line& line, std::size_t element);
/// A word as one would type it, quoted where a shell needs it.
std::string typed(const std::string& word);
/// A file as one would type it behind a command.
std::string typed_file(const std::string& file);
/// The line's file as one would type it behind a command; "LINE" where it has none.
std::string typed_file(const line::Line& line);
/// The same with a --set for each of the changes, so that a command which is copied asks about the same line.
std::string typed_line(const line::Line& line, const std::vector<std::string>& changes);

}  // namespace airtally::report
