#pragma once
#include <span>
#include <vector>

namespace airtally::laws {

/// The never rising values nearest to `y`: of all z with z[0] >= z[1] >= ..., the one of least sum w (y - z)^2, by
/// pooling neighbours that rise into their weighted mean until none does (one pass, each pool is merged at most once).
///
/// `weight` > 0, one per value. Throws DomainError otherwise. Source: Ayer, Brunk, Ewing, Reid and Silverman, Ann.
/// Math. Stat. 26 (1955) 641; Robertson, Wright and Dykstra, Order Restricted Statistical Inference, Wiley 1988, 1.2
/// (from memory). Ours and not a library's: neither Boost, GSL nor Eigen has it. Tested by
/// tests/laws/isotonic_test.cpp, against the min-max formula of the latter and a printed example.
std::vector<double> never_rising(std::span<const double> y, std::span<const double> weight);

}  // namespace airtally::laws
