#pragma once
#include <Eigen/Dense>
#include <vector>

namespace airtally::hunt {

/// By how much the kernel of each sample is narrower than what suits all of them together [-]: 1 where the samples lie
/// as loosely as a normal distribution has them in its middle or more loosely, less where they crowd, down to 0 where
/// they fall on one another. The samples of one element are often of two sorts: faults that the test can see, and
/// faults that it can't, all at one reading. A kernel as wide as both together would spread the second over readings
/// that they never give, and the test would seem to tell what it doesn't.
///
/// `at`: a reading per sample, in their standard deviations. Crowded is where the tenth of the samples that is nearest
/// (two at least) lies within less than the middle of a normal distribution takes for that part. All 1 for fewer than
/// five samples.
std::vector<double> crowding(const Eigen::RowVectorXd& at);

}  // namespace airtally::hunt
