#pragma once
#include <span>
#include <vector>

#include "line/topology.hpp"
#include "solve/answer.hpp"
#include "solve/network.hpp"
#include "solve/steady.hpp"
#include "study/check.hpp"

namespace airtally::study {

/// What the flow laws leave out, where it matters in a line at rest: each sentence names the element, the number that
/// is beyond its law's range, and how much that may change or what to do.
///
///   clearance, face gap   laminar friction: Reynolds number above 1000
///   clearance, face gap,  Knudsen number above 0.1, where first-order slip is an estimate
///   duct
///   duct                  Reynolds number 2000 to 4000, where nothing tells laminar from turbulent, if its drop is a
///                         tenth of what the line could pull or more
///
///   source                another pulls deeper than it ever could: it is taken to pass no air back
///
///   nozzle                it has no rim, so that the gap of the part on it is not counted
///
/// One warning for each of these and state, for the element where it is worst; it names others that it holds for.
/// `when` ends a clause, as in "with the tips open". `x` and `solver` are of a finished solve of `network`. Empty when
/// all is well.
std::vector<Warning> law_limits(const line::Line& line, const solve::Network& network, const solve::Steady& solver,
                                const solve::Pressures& x, const std::string& when);

/// A line at rest and the limits that it is beyond, from one solve.
struct Rest {
  solve::SteadyAnswer answer;   ///< as solve::steady() gives it
  std::vector<Warning> limits;  ///< what it is beyond; empty: nothing
};
/// solve::steady() with law_limits(). `tips`: one state per nozzle. Throws BadInput, NoConvergence.
Rest at_rest(const line::Line& line, std::span<const solve::TipState> tips);

}  // namespace airtally::study
