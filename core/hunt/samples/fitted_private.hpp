#pragma once
#include <Eigen/Dense>
#include <optional>
#include <vector>

#include "hunt/fit/evidence.hpp"
#include "hunt/fit/modes.hpp"
#include "hunt/samples/normals_private.hpp"

namespace airtally::hunt {

/// Draws that are each a fit: randomize, then optimize (Bardsley, Solonen, Haario and Laine, SIAM J. Sci. Comput. 36
/// (2014) A1895; in the directions that the readings know alone: Bardsley, Cui, Marzouk and Wang, arXiv:1903.00870).
///
/// At a peak let the readings' slopes be G = U S V^T, and D^2 = I + S^2. A draw z = e + V a takes what the readings say
/// nothing of, e, from the prior, and a from D^-1 (a + S U^T r(z)) = x, x standard normal, r the readings' residuals.
/// Were the line linear that would be the posterior itself; as it is not, z has the density
/// |det D^-1 (I + S U^T G(z) V)| times that of the normal distribution at (e, x), and weighs by the posterior over it.
/// So many readings, so many equations, whatever the number of unknowns; a thin, bent posterior is followed, where
/// steps would have to be short. With several peaks the density is that of the mixture.
///
/// Equations without a solution are draws of weight 0, and no harm: the density above then adds up to less than 1, as
/// all weights' common factor. Those with a solution that is not found are lost, and with them some z less likely than
/// they should be: trust the weights only where these are few. Which it is can't be seen of one draw, but of many: when
/// the last of the scattered starts still find solutions, there are more to be found.
class Fitted {
 public:
  /// A draw, and log of its weight, up to a constant that all share.
  struct Draw {
    Eigen::VectorXd z;
    double log_weight = 0.0;
  };

  /// `evidence` must outlive it; `modes`: at least one.
  Fitted(Evidence& evidence, const std::vector<Mode>& modes);

  /// More places to draw from: each takes the line to be linear around it, as a peak does.
  void add(const std::vector<Eigen::VectorXd>& centres);

  /// `at` in [0, 1) says from which peak, each with its share. None where no solution was found.
  std::optional<Draw> draw(double at, Normals& normals);

  /// Draws whose solution only the later half of the scattered starts found; about as many, at most, are lost, if one
  /// start in five leads to one: then the earlier half finds about half of them.
  std::size_t late() const { return late_; }

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
    bool late = false;  ///< only the later half of the scattered starts came to it
  };
  /// The normal numbers of which a peak makes a state, and its density there.
  struct Origin {
    Eigen::VectorXd rest, x;
    double log_density = 0.0;
  };

  void put(const Eigen::VectorXd& centre, double share);
  bool evaluate(State& state);
  std::optional<State> solved(const Peak& peak, const Eigen::VectorXd& rest, const Eigen::VectorXd& x);
  std::optional<State> state_at(const Peak& peak, const Eigen::VectorXd& rest, const Eigen::VectorXd& x,
                                Eigen::VectorXd a);
  std::optional<State> solved_from(const Peak& peak, const Eigen::VectorXd& rest, const Eigen::VectorXd& x,
                                   std::optional<State> now);
  Origin origin(const Peak& peak, const State& state) const;
  double log_density(const Peak& drawn_from, const State& state);

  Evidence* evidence_;
  std::vector<Peak> peaks_;
  std::vector<Eigen::VectorXd> scattered_;  ///< starts, from x
  std::size_t late_ = 0;
  std::size_t in_vain_ = 0;       ///< times that no scattered start came to a solution
  bool scattered_found_ = false;  ///< whether one ever did
};

}  // namespace airtally::hunt
