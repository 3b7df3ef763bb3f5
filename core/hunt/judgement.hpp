#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "hunt/hunt.hpp"

/// What the numbers of a hunt amount to.
namespace airtally::hunt {

/// The elements that are like one of the line, itself among them, indices into the line in its order.
std::vector<std::size_t> like(const Hunt& hunt, std::size_t element);

/// Elements that are worse than the file has them, likely enough for a verdict, or more than half shut whatever that
/// costs; what gains most first.
std::vector<Finding> amiss(const Hunt& hunt);

/// Whether the readings contradict what the line file has of the element, whatever that costs: it leaks several times
/// as much with 95 %, or a fifth of its way is shut, or of a pump's flow or vacuum is gone. Never without readings.
bool off_file(const Hunt& hunt, const Finding& finding);

/// The reading that is worse than the file has it by the largest share, if any is: an index into Hunt::readings.
std::optional<std::size_t> missed(const Hunt& hunt);

/// The reading that is better than the file has it by the largest share, if any is: an index into Hunt::readings.
std::optional<std::size_t> spared(const Hunt& hunt);

/// Whether the readings say that the element surely leaks less than half of what the file has. Not of a leak that
/// the file has as a range, which may be little.
bool better_than_filed(const line::Line& line, const Finding& finding);

/// The seal of the part on an element, an index into the line, where it surely lets in twice what the file has, or
/// more: a gap a quarter wider. Null else, and without readings.
const Nuisance* poor_seal(const Hunt& hunt, std::size_t element);

/// Whether even the worst costs next to nothing, less than `notable`.
bool nothing_much(const Hunt& hunt);

/// A probability of being the worst at which a verdict is given [-].
inline constexpr double enough_for_verdict = 0.95;

/// Effective samples without which there is no verdict, nor a ranking worth telling.
inline constexpr double fewest_for_verdict = 20.0;

/// Chance of such a misfit, below which no verdict is given [-].
inline constexpr double unbelievable = 1e-3;

/// Why the likeliest element is, or is not, the verdict.
enum class Verdict {
  sure,         ///< likely enough, tested, and nothing speaks against it
  unsure,       ///< not likely enough yet, or no reading had it on the line
  rivalled,     ///< likely enough, but no reading has parted it from others whose fault would explain as much
  unexplained,  ///< likely enough, but the line file can't explain the readings (Quality::chance below a thousandth)
  unsettled,    ///< likely enough, but the samples are too few or do not agree on it
};

/// Whether the first element is `sure` to be the worst. Never without readings.
Verdict verdict(const Hunt& hunt);

/// Whether the worst is known, by what it costs anyhow, and not who of several is worse than the file has it: then
/// tests are weighed by what they tell of that.
bool still_among(const Hunt& hunt);

/// Whether anyone may be at fault in the place of one that is worse than filed: Finding::instead.
bool in_its_place(const Hunt& hunt);

/// What a test must tell to be worth making: of the doubt (entropy) about who is the worst, or of one bit [-].
inline constexpr double worth_of_doubt = 0.05;
/// And however little doubt there is [bit].
inline constexpr double least_worth = 0.02;

/// Whether the first of the next tests is worth making: it tells a twentieth of the doubt that is left or of one bit,
/// whichever is less, or speaks against a rival, or has the likeliest element on the line for the first time. Less than
/// that takes more tests than there are joints. False when there is none.
bool further_test(const Hunt& hunt);

}  // namespace airtally::hunt
