#pragma once
#include <sundials/sundials_linearsolver.h>
#include <sundials/sundials_matrix.h>
#include <sundials/sundials_nvector.h>

#include "peers.hpp"

namespace airtally::bench {

/// A SUNDIALS matrix and linear solver for one Problem, and how to fill such a matrix with the Problem's Jacobian.
class LinearParts {
 public:
  LinearParts(Problem& problem, Linear linear, N_Vector like, SUNContext context);
  ~LinearParts();
  LinearParts(const LinearParts&) = delete;
  LinearParts& operator=(const LinearParts&) = delete;

  /// J = d net/d p at the Problem's last point; row i divided by its mass if `per_mass`.
  void fill(SUNMatrix into, bool per_mass);

  SUNMatrix matrix = nullptr;
  SUNLinearSolver solver = nullptr;

 private:
  void lay_out();

  Problem& problem_;
  Linear linear_;
  // Compressed columns: the pattern never changes, so each slope's place is found once.
  std::vector<sunindextype> pointers_, rows_, places_;
};

/// A matrix c J + d I, J with rows divided by the masses, kept as couplings and excesses, and the linear solver that
/// eliminates it from the leaves: CVODE's Newton matrix is I - gamma J.
SUNMatrix tree_matrix(Problem& problem, SUNContext context);
SUNLinearSolver tree_solver(Problem& problem, SUNContext context);
void fill_tree(Problem& problem, SUNMatrix matrix);

}  // namespace airtally::bench
