#pragma once
#include <cstdint>
#include <vector>

#include "solve/answer.hpp"

namespace airtally::study {

/// One thing that may be wrong with a line: an element's leaks, or its restriction.
struct Flaw {
  std::size_t element = 0;  ///< index into the line
  bool leak = true;         ///< true: all its leaks; false: its restriction
};

/// Everything that a line loses vacuum by, as the tip of nozzle `nozzle` (an index into the nozzles) sees it. The
/// passages of all other nozzles are the load and no flaw, and so is its own when it is open: wider ones would take
/// more air, not less. `network`: the line's, with its tips as they are to be judged. In line order.
std::vector<Flaw> flaws_of(const line::Line& line, const solve::Network& network, std::size_t nozzle);

/// The tip vacuum of a line with any choice of its flaws mended: solves each from the one before, which differs
/// little when few flaws change.
class Coalitions {
 public:
  /// `network`: with all flaws present; `topology`: of the same line; `nozzle`: index into the nozzles.
  Coalitions(const solve::Network& network, const line::Topology& topology, std::vector<Flaw> flaws,
             std::size_t nozzle);

  /// Tip vacuum [Pa] with exactly the flaws present that `present` (one per flaw) says. Throws NoConvergence.
  double vacuum(const std::vector<bool>& present);

  /// The flaws, in the order given.
  const std::vector<Flaw>& flaws() const { return flaws_; }
  /// How often vacuum() was asked.
  std::size_t solves() const { return solves_; }

 private:
  solve::Network network_;
  std::vector<Flaw> flaws_;
  std::vector<bool> state_;
  solve::Steady steady_;
  solve::Pressures x_;
  int node_;
  bool started_ = false;
  std::size_t solves_ = 0;
};

/// Shapley's value: what each flaw takes from the tip, averaged over all orders in which the flaws could have come in.
/// The shares add up to the loss of the line with all its flaws.
struct FairShares {
  std::vector<double> share;  ///< per flaw [Pa]
  std::vector<double> error;  ///< standard error of a sampled share; 0 when exact [Pa]
  bool exact = true;          ///< every coalition was solved; false: orders were sampled
  std::size_t orders = 0;     ///< that were sampled, which may be fewer than were asked for; 0 when exact
};

/// More flaws than this have more coalitions than it is sensible to keep: 2^24 take 128 MB.
inline constexpr std::size_t most_exact = 24;

/// All 2^n coalitions in Gray-code order, so that each solve changes one flaw. Source: Shapley, A value for n-person
/// games (1953). Meant for a dozen flaws. Throws DomainError above `most_exact`, NoConvergence.
FairShares exact_shares(Coalitions& coalitions);
/// `orders` random orders at most, half of them the reverse of the others (antithetic), four at least, seeded; any
/// number of flaws. Ends sooner, after 32 or more, once no share's standard error is above a ten-thousandth of the
/// whole loss: where flaws hardly depend on each other nearly every order says the same. Throws NoConvergence.
FairShares sampled_shares(Coalitions& coalitions, std::size_t orders, std::uint64_t seed);

}  // namespace airtally::study
