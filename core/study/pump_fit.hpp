#pragma once
#include <string>
#include <vector>

#include "line/pump_readings.hpp"
#include "study/bands.hpp"

namespace airtally::study {

/// A point of a pump's curve, as read at 101,325 Pa and 20 C.
struct FittedPoint {
  double vacuum = 0.0;  ///< [Pa] >= 0
  Band flow;            ///< [kg/s] >= 0; `median` is the fit itself
};

/// One reading against the curve.
struct FittedReading {
  std::size_t reading = 0;  ///< index into the list of readings
  double vacuum = 0.0;      ///< at 101,325 Pa [Pa] >= 0
  double flow = 0.0;        ///< that it stands for, at 101,325 Pa and 20 C [kg/s] >= 0
  double off = 0.0;         ///< that less the curve's [kg/s]
};

/// A pump's curve from readings.
struct PumpFit {
  std::vector<FittedPoint> curve;       ///< falling to no flow
  Band deepest;                         ///< vacuum at which the flow ends [Pa]; `median` is the fit itself
  std::vector<FittedReading> readings;  ///< one per reading of a hole or a flow, in their order
  /// Vacuum at 101,325 Pa [Pa], rising, and motor current [A], means where several were read within 20 Pa; may be
  /// empty.
  std::vector<std::pair<double, double>> current;
  std::size_t samples = 0;         ///< drawn for the bands
  std::size_t failed = 0;          ///< of those, draws with fewer than two points left: in no band
  std::vector<std::string> notes;  ///< what was made up, and what looks wrong, a sentence each
};

/// The curve that readings at a pump make: each drilled hole's flow by its law (laws/conductance.hpp) from the room to
/// the vacuum read, taken to 101,325 Pa and 20 C as a pump's curve scales (laws/pump_curve.hpp); the flows made never
/// to rise with vacuum (laws/isotonic.hpp), weighted by how sure each is; neighbours that were pooled, or lie within 20
/// Pa, become one point. What is missing of `blocked` and `free_flow` is drawn out straight from the two nearest
/// points, with a note. Bands: the whole of it again for `samples` draws of the gauge (one error for all its readings),
/// holes, discharge and flows. Throws BadInput when fewer than two points that were read are left, one of them with
/// flow; `blocked` counts where it is 100 Pa beyond the last reading.
PumpFit pump_fit(const line::PumpReadings& readings, std::size_t samples = 400, std::uint64_t seed = 1);

}  // namespace airtally::study
