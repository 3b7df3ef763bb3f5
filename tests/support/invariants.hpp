#pragma once
#include <span>
#include <string>

#include "line/line.hpp"
#include "solve/network.hpp"

/// What must hold of every line, whatever its numbers. Each returns nothing when it does, else a sentence that says
/// what is broken and by how much. They throw what the solver throws; a sound line must make it throw nothing.
namespace airtally::support {

using Tips = std::span<const solve::TipState>;

/// What the comparisons below rest on. `sign` +1: with `after`, whose elements are those of `before`, no vacuum is
/// lower; -1: none is higher.
std::string compare(const line::Line& before, const line::Line& after, Tips tips, double sign, const std::string& what);
/// The same vacuums, to `within` [Pa]; `after` may have elements more.
std::string same(const line::Line& before, const line::Line& after, Tips tips, double within, const std::string& what);

/// Every place's flows balance to 1e-9, and every pressure lies between the deepest that a source pulls and the highest
/// outside.
std::string balances(const line::Line& line, Tips tips);
/// Sealing element `i` lowers no vacuum, drilling a hole into it raises none. Nothing is said of lines with a pressure
/// above ambient, where a leak lets air out.
std::string leaks_cost(const line::Line& line, Tips tips, std::size_t i);
/// With every pump half as fast again, no vacuum is lower.
std::string stronger_is_no_worse(const line::Line& line, Tips tips);
/// The elements the other way round, under other names, have the same vacuums.
std::string order_and_names_are_nothing(const line::Line& line, Tips tips);
/// Tube `i` as two of half the length behind one another: the same vacuums.
std::string a_tube_is_two_halves(const line::Line& line, Tips tips, std::size_t i);
/// The isothermal pull-down ends at the steady answer.
std::string pull_down_ends_at_rest(const line::Line& line, Tips tips);
/// With heat from the walls, mass and energy close over a pull-down.
std::string mass_and_energy_close(const line::Line& line, Tips tips);

/// All of these, on an element that `pick` in [0, 1) chooses; the last two, which cost a hundred times as much, only
/// when `moving`. The first that is broken.
std::string broken_invariant(const line::Line& line, Tips tips, double pick, bool moving);

}  // namespace airtally::support
