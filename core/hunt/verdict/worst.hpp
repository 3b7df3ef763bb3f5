#pragma once
#include <vector>

#include "hunt/fit/forward.hpp"

namespace airtally::hunt {

/// What an element must cost, of the tip's vacuum, to be told of, or cost beyond what the file has it cost, of what the
/// tip has once the worst is mended [-]. Common practice, no source.
inline constexpr double notable = 0.02;

/// Open fraction below which a way is told of whatever that costs with the tips as they are [-]: a clogged nozzle costs
/// nothing while a part covers it. Common practice, no source.
inline constexpr double shut = 0.5;

/// What each element costs the tips in each sample, with the tips in their usual state.
struct Costs {
  std::vector<std::vector<double>> gain;  ///< per sample, per element: what mending it would gain [Pa]
  /// Per sample, per element: what one as the file has it would gain [Pa]; 0 where that is less than `notable`.
  std::vector<std::vector<double>> excess;
  /// Per sample, per element: what its way lets through, or its pump takes, over what the file has at least [-]; 1 of
  /// what does neither.
  std::vector<std::vector<double>> open;
  std::vector<std::size_t> worst;  ///< per sample: the element whose mending gains most
  std::vector<double> tip_vacuum;  ///< per sample: the best tip's [Pa]
};

/// What each element costs the tips in one state after the other, on one line that is kept.
class TipCosts {
 public:
  /// `suspects` must outlive it; `tips`: one state per nozzle. Throws BadInput when the line is not sound.
  TipCosts(const Suspects& suspects, const std::vector<solve::TipState>& tips);
  /// Per element: what mending it would gain where all unknowns are `z` [Pa]. Throws NoConvergence, and DomainError for
  /// a value that no law takes.
  std::vector<double> gains(const std::vector<double>& z);
  /// The same of one element alone, an index into the line [Pa].
  double gain(const std::vector<double>& z, std::size_t element);
  /// What one element, an index into the line, would gain if it were made as the file has it [Pa].
  double excess(const std::vector<double>& z, std::size_t element);
  /// Per element: that where it is `notable`, else 0 [Pa]. `gains`: those at `z`, just asked for.
  std::vector<double> notable_excess(const std::vector<double>& z, const std::vector<double>& gains);
  /// The best tip's vacuum where a gain was last asked for [Pa].
  double tip_vacuum() const;
  /// Whether any tip is open.
  bool open() const { return open_; }

 private:
  const Suspects* suspects_;
  bool open_;
  Rig rig_;
};

/// Per element: what its way lets through, or its pump takes, over what the file has at least [-], of all unknowns'
/// `values`; 1 of what does neither.
std::vector<double> open_shares(const Suspects& suspects, const std::vector<double>& values);

/// Solves each sample once as it is and once with each element mended (exact, no linearisation): leaks gone, way clear,
/// a pump as good as its curve. Samples that cannot be solved are an error of the caller: they come from a fit that
/// solved them. `z`: per sample all unknowns; `tips`: one state per nozzle. Throws NoConvergence.
Costs costs_of(const Suspects& suspects, const std::vector<std::vector<double>>& z,
               const std::vector<solve::TipState>& tips);

}  // namespace airtally::hunt
