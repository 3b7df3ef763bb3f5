#pragma once
#include <functional>
#include <memory>
#include <span>
#include <vector>

namespace airtally::agreement {

/// y' = f(t, y) integrated by SUNDIALS' CVODE (backward differentiation, orders 1 to 5, Newton with a Jacobian by
/// differences): somebody else's method, order and step control against our own.
class Cvode {
 public:
  using Rate = std::function<void(double t, std::span<const double> y, std::span<double> f)>;

  /// `band`: half width of the Jacobian; negative: dense. `absolute`: error allowed, one per unknown. `most`: steps of
  /// one advance, after which it throws.
  Cvode(Rate rate, std::vector<double> start, double begin, double relative, std::vector<double> absolute,
        int band = -1, long most = 1000000);
  ~Cvode();
  Cvode(const Cvode&) = delete;
  Cvode& operator=(const Cvode&) = delete;

  /// Goes on to `time` and stops there; no step looks beyond it.
  void advance(double time);
  /// Begins anew at `time` with the unknowns as they are, or as `y` says: after a jump in f.
  void restart(double time);
  std::span<double> y() { return y_; }
  long steps() const;

 private:
  struct Parts;
  Rate rate_;
  std::vector<double> y_;
  std::unique_ptr<Parts> parts_;
};

}  // namespace airtally::agreement
