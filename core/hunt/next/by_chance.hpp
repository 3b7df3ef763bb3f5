#pragma once
#include <cstddef>
#include <span>
#include <vector>

namespace airtally::hunt {

/// What readings tell, without what any readings would seem to tell.
///
/// Few samples, smoothed to densities, never look quite alike from element to element, so even readings that have
/// nothing to do with which element is the worst would be credited with some bits: B. They are found by dealing the
/// samples' readings out anew, at random, four times over. Of `bits` remains H (bits - B)/(H - B), H the entropy of who
/// is the worst: nothing where the readings tell what chance would, all of H where they settle the question. That is
/// the adjusted mutual information of Vinh, Epps and Bailey, J. Mach. Learn. Res. 11 (2010) 2837.
///
/// `readings`: per reading what each sample predicts, at least one, the most telling first; `worst`, `weight`, `noise`,
/// `elements`: as for information_of(); `bits`: what they seem to tell together [bit]. Returns bits, 0 to `bits`. The
/// same on any machine. Tested by tests/hunt/information_test.cpp.
double beyond_chance(std::span<const std::vector<double>> readings, std::span<const std::size_t> worst,
                     std::span<const double> weight, std::span<const double> noise, std::size_t elements, double bits);

}  // namespace airtally::hunt
