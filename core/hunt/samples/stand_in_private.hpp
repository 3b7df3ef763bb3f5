#pragma once
#include <Eigen/Dense>
#include <span>
#include <vector>

#include "hunt/fit/evidence.hpp"

namespace airtally::hunt {

/// Stands in for the solved line where a sampler asks a million times: what the readings would be, from linearisations
/// of the line at a few anchors. Nothing is believed because of it: samples drawn with it are weighed by the line
/// itself afterwards, so that a poor stand-in costs samples and not truth.
///
/// Linear in coordinates w in which the line is nearly so: leaks as flows over the pump's flow factor, logarithms of
/// vacuums and flows, of the pump's factors, what a restriction in series lets through. Each point is judged from the
/// anchor nearest to it, by how much the readings were moved by all unknowns, each by itself. What the linearisation
/// may be off, a small share of that, counts as noise: the stand-in is too doubtful rather than too sure.
class StandIn {
 public:
  struct Anchor {
    Eigen::VectorXd w;
    Eigen::VectorXd base;     ///< per reading, without its offset: logarithm, or as it is
    Eigen::MatrixXd slopes;   ///< of that with w, a column per unknown
    Eigen::VectorXd pull;     ///< per unknown: sum of squares of the residuals' slopes with w
    Eigen::MatrixXd gram;     ///< of the residuals' slopes with w, offsets included: J^T J
    Eigen::VectorXd loose;    ///< per unknown: (dz/dw)^2, the precision that its prior adds
    Eigen::MatrixXd yield;    ///< a column per unknown: how all move when it moves by 1 and the rest gives way freely
    Eigen::MatrixXd kinship;  ///< per unknown a column: how alike the others move the readings, summed up to 1
  };

  StandIn(const Suspects& suspects, const std::vector<Reading>& readings, const std::vector<double>& noise);

  /// Adds the linearisation at z; `residuals` and `slopes` as Evidence::evaluate() gives them.
  void add(std::span<const double> z, std::span<const double> residuals, std::span<const double> slopes);
  const std::vector<Anchor>& anchors() const { return anchors_; }
  const Suspects& suspects() const { return *suspects_; }
  std::size_t readings() const { return readings_.size(); }

  /// The unknown that is the only source's flow factor; -1 when there are several sources.
  Eigen::Index pump() const { return pump_; }
  /// Whether w of an unknown is its value over the pump's factor.
  bool per_pump(Eigen::Index k) const;
  /// w of unknown k with value v, the pump's factor being `pump`; the value of a w; dw/dz where z, v and w belong
  /// together.
  double coordinate(Eigen::Index k, double v, double pump) const;
  double value(Eigen::Index k, double w, double pump) const;
  double stretch(Eigen::Index k, double z, double v, double w, double pump) const;

  /// Sum of squares of the residuals with the anchor's values `eta`, unknowns at `values`, readings moved by `moved`.
  /// `shown` is room to work in.
  double misfit(const Anchor& anchor, const Eigen::VectorXd& eta, const Eigen::VectorXd& values, double moved,
                Eigen::ArrayXd& shown) const;
  /// The residuals themselves, and their slopes with z at `w`, `dw`, without how the doubt changes.
  void linearise(const Anchor& anchor, const Eigen::VectorXd& eta, const Eigen::VectorXd& values,
                 const Eigen::VectorXd& w, const Eigen::VectorXd& dw, double moved, Eigen::VectorXd& r,
                 Eigen::MatrixXd& slopes) const;

 private:
  void bare(const Anchor& anchor, const Eigen::VectorXd& eta, Eigen::ArrayXd& out) const;

  const Suspects* suspects_;
  std::vector<Reading> readings_;
  std::vector<double> noise_;
  Eigen::ArrayXd value_, per_noise_;       ///< per reading: what was read; one over its standard deviation
  std::vector<Eigen::Index> as_they_are_;  ///< readings that are not taken as logarithms: of ammeters and of logs
  std::vector<Eigen::Index> flows_;        ///< readings of flow meters
  std::vector<Eigen::Index> offset_;       ///< per reading: the unknown that is its instrument's error, or -1
  std::vector<double> power_;              ///< per unknown: of the open fraction
  Eigen::Index pump_ = -1;
  std::vector<Anchor> anchors_;
};

}  // namespace airtally::hunt
