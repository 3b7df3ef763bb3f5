#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "line/line.hpp"
#include "solve/answer.hpp"

/// What every nozzle has, held against what that one needs.
namespace airtally::study {

/// Vacuum that the moves need at each nozzle [Pa], in line order: nozzles of unequal size need unequal vacuum for the
/// same part. Solves nothing. Throws BadInput as hold() does.
std::vector<double> needs_of_moves(const line::Line& line);

/// The tip of an answer that has least beyond its need, an index into its tips; of those that are equally weak, to
/// `pressure_tie`, the first. `needs`: one per tip [Pa]; empty: nothing is needed, and it is the one of least vacuum.
/// What a tip has is its tip_vacuum(), so at a place that hangs on its state. Throws DomainError for an answer without
/// a tip.
std::size_t weakest_tip(const solve::SteadyAnswer& answer, std::span<const double> needs = {});

/// The least of what the tips have beyond their needs [Pa]; below 0: one has too little. `needs` and Throws as above.
double least_spare(const solve::SteadyAnswer& answer, std::span<const double> needs);

/// The least tip_vacuum() of any tip [Pa]: not to be compared between states. Throws as above.
double weakest_vacuum(const solve::SteadyAnswer& answer);

}  // namespace airtally::study
