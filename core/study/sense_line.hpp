#pragma once
#include <array>
#include <optional>
#include <utility>
#include <vector>

#include "line/line.hpp"
#include "line/topology.hpp"
#include "solve/network.hpp"
#include "solve/steady.hpp"
#include "study/sense.hpp"
#include "study/sense_bounded.hpp"
#include "study/sense_neighbours.hpp"
#include "study/sense_own_gap.hpp"

namespace airtally::study {

/// The looks that an answer has, and what it calls them.
inline constexpr std::array<std::pair<TipLook, const char*>, 5> shown_looks{{{TipLook::open, "open"},
                                                                             {TipLook::half, "half covered"},
                                                                             {TipLook::part, "part"},
                                                                             {TipLook::leaking, "part, leaking"},
                                                                             {TipLook::blocked, "blocked"}}};

/// The line as its sensor meets it: vacuum and ripple at every place for every way the tip can be. All other nozzles
/// carry their part, each with a gap of its own: vacuums are means over these gaps.
class SensedLine {
 public:
  /// `at`: element where the sensor branches off. `nozzle`: index into the nozzles; none: the one that changes the
  /// vacuum there least. The line has a [sensor] and a [part]. Throws BadInput, NoConvergence.
  SensedLine(const line::Line& line, std::size_t at, std::optional<std::size_t> nozzle);

  /// Vacuum at the tip-side end of `element`, an index into the line [Pa].
  double vacuum(TipLook look, std::size_t element) const {
    return states_.at(index(look)).vacuum.at(element) + neighbours(look).shift.at(element);
  }
  /// One pump's ripple.
  struct Ripple {
    double frequency = 0.0,  ///< its own [Hz]
        rms = 0.0;           ///< at the place [Pa]
  };
  /// Every pump's ripple there; `in_tube`: behind the sensor's own tube instead.
  std::vector<Ripple> ripples(TipLook look, std::size_t element, bool in_tube) const;
  /// All of them together, rms [Pa].
  double ripple(TipLook look, std::size_t element, bool in_tube) const;
  /// Whether the file gives any pump's ripple.
  bool any_ripple() const;
  /// One standard deviation of the held vacuum there over the tolerance of the part's gap [Pa].
  double gap_spread(std::size_t element) const;
  /// One standard deviation of the vacuum itself there: of the gaps of the other nozzles' parts in every state, and of
  /// this one's where the part is on [Pa].
  double scatter(TipLook look, std::size_t element) const;
  /// The part of it that counts as normal [Pa]: that of the others' gaps where these are a tolerance.
  double normal_scatter(TipLook look, std::size_t element) const;
  /// The rest of it, as it is, about vacuum(): of this part's gap, and of the others' where these are a range.
  Stretches bounded_scatter(TipLook look, std::size_t element) const;
  /// One standard deviation of that rest [Pa].
  double bounded_deviation(TipLook look, std::size_t element) const;
  /// What the parts on the other nozzles do to it: with nothing on this one for an open or half covered tip, else with
  /// the part.
  const Neighbours& neighbours(TipLook look) const;
  /// The nozzle whose part is to be told, an index into the line.
  std::size_t nozzle_element() const { return network_.nozzles.at(nozzle_); }

  /// How much of an empty nozzle's flow must be lost [-], 0 to 1, for the sensor to feel `vacuum` [Pa]; none: even a
  /// closed one doesn't make it.
  std::optional<double> clogged_at(double vacuum) const;
  /// Time from the moment when the nozzle meets the part until the sensor, behind its tube, feels `vacuum` [Pa] for
  /// good [s]; none: never. The pump runs and the valves are open before.
  std::optional<double> rises_to(double vacuum) const;

 private:
  struct State {
    std::vector<double> vacuum;  ///< per element [Pa]
    /// The ripple of one pump.
    struct Pump {
      double frequency = 0.0;           ///< [Hz]
      std::vector<double> per_element;  ///< rms [Pa]
      double in_tube = 0.0;             ///< rms [Pa]
    };
    std::vector<Pump> ripples;  ///< of every pump that has one
  };
  static std::size_t index(TipLook look) { return static_cast<std::size_t>(look); }
  State solved(TipLook look) const;
  bool gap_has_ends() const { return line_.part->gap.spread == units::Spread::uniform; }
  solve::Network network_in(const line::Line& line, TipLook look, int segments = 1) const;

  line::Line line_;  // with a gauge in the sensor's place
  line::Topology topology_;
  std::size_t at_;
  std::size_t nozzle_ = 0;
  solve::Network network_;
  std::array<State, 6> states_;  // with all others at the middle of their gaps
  Neighbours beside_open_, beside_part_;
  OwnGap own_gap_;
};

/// The line with a gauge in its sensor's place, the element `at`: behind the sensor's tube and with its volume.
line::Line with_gauge(line::Line line, std::size_t at);

}  // namespace airtally::study
