#include <algorithm>

#include "sundials_linear.hpp"

namespace airtally::bench {
namespace {

/// c J + d I, where row i of J is divided by the mass of node i.
struct Content {
  Problem* problem;
  std::vector<double> off, excess;
  double c = 0.0, d = 0.0;
};

Content& content(SUNMatrix m) { return *static_cast<Content*>(m->content); }

SUNMatrix_ID matrix_id(SUNMatrix) { return SUNMATRIX_CUSTOM; }

void destroy(SUNMatrix m) {
  delete static_cast<Content*>(m->content);
  m->content = nullptr;
  SUNMatFreeEmpty(m);
}

int zero(SUNMatrix m) {
  content(m).c = content(m).d = 0.0;
  return 0;
}

int copy(SUNMatrix from, SUNMatrix to) {
  content(to) = content(from);
  return 0;
}

int scale_add_identity(double c, SUNMatrix m) {
  content(m).c *= c;
  content(m).d = content(m).d * c + 1.0;
  return 0;
}

SUNMatrix clone(SUNMatrix m) { return tree_matrix(*content(m).problem, m->sunctx); }

struct Solver {
  Problem* problem;
  double scale = 0.0;  ///< -c of the matrix factored last
};

SUNLinearSolver_Type solver_type(SUNLinearSolver) { return SUNLINEARSOLVER_DIRECT; }
SUNLinearSolver_ID solver_id(SUNLinearSolver) { return SUNLINEARSOLVER_CUSTOM; }

/// With M = diag(mass) and A = -M J the matrix I - gamma J is gamma M^-1 (M/gamma + A): what our own stepper factors.
int setup(SUNLinearSolver s, SUNMatrix m) {
  Solver& solver = *static_cast<Solver*>(s->content);
  const Content& from = content(m);
  solver.scale = -from.c;
  solve::Elimination& elimination = solver.problem->elimination();
  elimination.couplings() = from.off;
  elimination.excess() = from.excess;
  for (std::size_t i = 0; i < from.excess.size(); ++i)
    elimination.excess()[i] += solver.problem->mass[i] * from.d / solver.scale;
  elimination.factor();
  return 0;
}

int solve(SUNLinearSolver s, SUNMatrix, N_Vector x, N_Vector b, double) {
  const Solver& solver = *static_cast<Solver*>(s->content);
  double* out = N_VGetArrayPointer(x);
  const double* in = N_VGetArrayPointer(b);
  const std::size_t n = solver.problem->size();
  for (std::size_t i = 0; i < n; ++i) out[i] = in[i] * solver.problem->mass[i] / solver.scale;
  solver.problem->elimination().solve({out, n});
  return 0;
}

int free_solver(SUNLinearSolver s) {
  delete static_cast<Solver*>(s->content);
  s->content = nullptr;
  SUNLinSolFreeEmpty(s);
  return 0;
}

}  // namespace

SUNMatrix tree_matrix(Problem& problem, SUNContext context) {
  SUNMatrix m = SUNMatNewEmpty(context);
  m->ops->getid = matrix_id;
  m->ops->clone = clone;
  m->ops->destroy = destroy;
  m->ops->zero = zero;
  m->ops->copy = copy;
  m->ops->scaleaddi = scale_add_identity;
  m->content = new Content{&problem, {}, {}, 0.0, 0.0};
  return m;
}

SUNLinearSolver tree_solver(Problem& problem, SUNContext context) {
  SUNLinearSolver s = SUNLinSolNewEmpty(context);
  s->ops->gettype = solver_type;
  s->ops->getid = solver_id;
  s->ops->setup = setup;
  s->ops->solve = solve;
  s->ops->free = free_solver;
  s->content = new Solver{&problem};
  return s;
}

void fill_tree(Problem& problem, SUNMatrix matrix) {
  problem.couple(problem.elimination());
  Content& to = content(matrix);
  to.off = problem.elimination().couplings();
  to.excess = problem.elimination().excess();
  to.c = 1.0;
  to.d = 0.0;
}

}  // namespace airtally::bench
