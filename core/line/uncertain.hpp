#pragma once
#include <span>
#include <string>
#include <vector>

#include "line/line.hpp"
#include "units/dimension.hpp"

/// Lines as they may really be: every value somewhere within what the file says of it.
namespace airtally::line {

/// A value of the line that is not stated exactly.
struct Uncertain {
  std::string path;                                       ///< QuantityName::path()
  units::Quantity quantity;                               ///< as the file states it
  units::Dimension dimension = units::Dimension::number;  ///< what it measures
  bool of_table = false;                                  ///< a table of the file has it, not an element
  /// Whether both are the same value, of one line or of two.
  bool same_place(const Uncertain& other) const { return of_table == other.of_table && path == other.path; }
};

/// All of them, in the order of `each_quantity`.
std::vector<Uncertain> uncertain(const Line& line);

/// The value that lies at the fraction `u`, 0 < u < 1, of what the quantity may be: of a range evenly between its ends;
/// of a tolerance, two standard deviations, by the normal distribution cut off at the quantity's own limits; of an
/// exact one its value. In SI.
double drawn(const units::Quantity& quantity, double u);

/// The line with each uncertain value drawn at its `u`, 0 < u < 1, one per `uncertain(line)` in its order (no fewer:
/// that is not checked), and all of them exact.
/// Values that could not stand together are brought together: a pump's curve falls, with rising vacuum; a clearance is
/// at most half its diameter; a nozzle's rim is no smaller than its bore.
Line sampled(const Line& line, std::span<const double> u);

/// sampled() for one draw after another: the line is copied once, and each draw puts its numbers into that copy. Not
/// for two threads at a time.
class Sampler {
 public:
  /// Draws from that line, which it copies.
  explicit Sampler(const Line& line);
  Sampler(const Sampler&) = delete;
  Sampler& operator=(const Sampler&) = delete;

  /// sampled() at `u`; good until the next call.
  const Line& at(std::span<const double> u);

 private:
  struct Place {
    units::Quantity* here;  ///< in the sample
    units::Quantity stated;
  };
  Line sample_;
  std::vector<Place> places_;  ///< of all its numbers
  bool any_ = false;           ///< is not exact
};

}  // namespace airtally::line
