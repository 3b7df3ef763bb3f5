#pragma once
#include <span>
#include <vector>

#include "hunt/beliefs/priors.hpp"
#include "hunt/readings/reading.hpp"

namespace airtally::hunt {

/// What a hunt does not know.
enum class What {
  leak,         ///< factor on all leaks of an element
  blockage,     ///< factor on the flow through an element that something blocks, as a kink or a chip does
  bore,         ///< factor on a long bore, over its whole length: another hose than the file's, or one lined with dirt
  seal,         ///< factor on the flow between a nozzle's rim and its part
  hole_share,   ///< how much of what has grown of the leaks, of all alike, is as a hole and not as a fine gap: torn()
  plate,        ///< factor on the flow through a drilled plate's hole: plate_prior()
  pump_flow,    ///< factor on a source's flow
  pump_vacuum,  ///< factor on a source's vacuum
  offset        ///< systematic error of an instrument: [Pa], [A], or a share of a flow meter's reading
};

/// One thing that is not known of a line. Its value is prior.at(z) with z standard normal before anything is read.
struct Unknown {
  What what = What::leak;  ///< what it is
  /// Whose, an index into the line; of an offset: where the instrument is; of the hole share, which is the line's, and
  /// of a plate: 0.
  std::size_t element = 0;
  Instrument instrument = Instrument::vacuum;  ///< of an offset: what it reads
  Prior prior;                                 ///< what is believed of it before anything is read
  double hole = 0.0;                           ///< of a plate: the diameter of its hole [m]

  /// Whether more of it is worse: a leak, or what a part lets in under itself.
  bool lets_in() const { return what == What::leak || what == What::seal; }
  /// The value as the file has it, of a leak, a seal, a blockage, a bore or wear [-]: of a stated range the worse of
  /// its ends, and of a seal without one what it is with five parts in six.
  double filed() const;
  /// Whether a value is worse than that.
  bool worse_than_filed(double value) const { return lets_in() ? value > filed() : value < filed(); }

  /// Whether both are the same of elements that may differ.
  bool same_of_another(const Unknown& other) const {
    return what == other.what && instrument == other.instrument && hole == other.hole;
  }

  /// Whether it is the systematic error of that instrument; the loose gauge has one wherever it is.
  bool error_of(Instrument read, std::size_t at) const {
    return what == What::offset && instrument == read && (element == at || read == Instrument::plugged);
  }
};

/// The line that a hunt fits, and all that is not known of it.
struct Suspects {
  /// Every element leaks: by what the file states, else by a laminar leak of a healthy one's size.
  line::Line line;
  /// Per element: whether the last of its leaks is the hole that its others may have grown to, of their flow.
  std::vector<bool> tears;
  /// Leaks, blockages, bores, seals, the hole share, plates, then per source its wear and meters, then gauges, the
  /// loose one last.
  std::vector<Unknown> unknowns;
  std::vector<double>
      leak_at_one;  ///< per element: its leaks, but for that hole, with factor 1 from ambient to leak_vacuum() [kg/s]

  /// The values of all unknowns at `z`, one per unknown.
  std::vector<double> values(std::span<const double> z) const;
};

/// Elements at which vacuum can be read: those with a gauge; on a line without one, the sources, where a gauge is
/// easily put.
std::vector<std::size_t> gauges(const line::Line& line);

/// The line with all that is not known of it, and of the drilled plates with holes of those diameters [m]: plates_of()
/// what was read. Throws BadInput when the line is no sound graph.
Suspects suspects(const line::Line& line, const Bench& bench, std::span<const double> plates = {});

}  // namespace airtally::hunt
