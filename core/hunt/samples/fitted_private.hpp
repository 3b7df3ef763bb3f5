#pragma once
#include <optional>

#include "hunt/fit/evidence.hpp"
#include "hunt/samples/mixture_private.hpp"

namespace airtally::hunt {

/// Draws that are each a fit: randomize, then optimize (Bardsley, Solonen, Haario and Laine, SIAM J. Sci. Comput. 36
/// (2014) A1895; in the directions that the readings know alone: Bardsley, Cui, Marzouk and Wang, arXiv:1903.00870).
///
/// At a peak let the readings' slopes be G = U S V^T, and D^2 = I + S^2. A draw z = e + V a takes what the readings say
/// nothing of, e, from the prior, and a from D^-1 (a + S U^T r(z)) = x, x standard normal, r the readings' residuals.
/// Were the line linear that would be the posterior itself; as it is not, z has the density
/// |det D^-1 (I + S U^T G(z) V)| times that of the normal distribution at (e, x), and weighs by the posterior over it.
/// So many readings, so many equations, whatever the number of unknowns; a thin, bent posterior is followed, where
/// steps would have to be short. With several peaks the density is that of the mixture. Equations without a solution,
/// or with another that is not found, are draws lost: trust the weights only where these are few.
class Fitted {
 public:
  /// A draw, and log of its weight, up to a constant that all share.
  struct Draw {
    Eigen::VectorXd z;
    double log_weight = 0.0;
  };

  /// `evidence` must outlive it; `modes`: at least one.
  Fitted(Evidence& evidence, const std::vector<Mode>& modes);

  /// `at` in [0, 1) says from which peak, each with its share. None when the draw is lost.
  std::optional<Draw> draw(double at, Normals& normals);

 private:
  using Slopes = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  /// What a peak makes of normal numbers.
  struct Peak {
    Eigen::VectorXd centre, known;  ///< the peak itself, z and V^T z
    Eigen::MatrixXd left, right;
    Eigen::VectorXd singular, scale;
    double share = 0.0;  ///< cumulative
    double log_share = 0.0;

    Eigen::VectorXd equations(const Eigen::VectorXd& a, const Eigen::VectorXd& residuals) const;
    Eigen::MatrixXd jacobian(const Slopes& slopes) const;
  };
  /// The line at a state.
  struct State {
    Eigen::VectorXd a, z, residuals, wrong;
    Slopes slopes;
  };

  bool evaluate(State& state);
  std::optional<State> solved(const Peak& peak, const Eigen::VectorXd& rest, const Eigen::VectorXd& x);
  std::optional<State> solved_from(const Peak& peak, const Eigen::VectorXd& rest, const Eigen::VectorXd& x,
                                   Eigen::VectorXd a);
  double log_density(const State& state) const;

  Evidence* evidence_;
  std::vector<Peak> peaks_;
};

}  // namespace airtally::hunt
