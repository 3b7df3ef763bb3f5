#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>

#include <algorithm>
#include <stdexcept>

#include "sundials_linear.hpp"

namespace airtally::bench {

struct Kinsol::Parts {
  explicit Parts(Problem& given) : problem(given) {}

  Problem& problem;
  SUNContext context = nullptr;
  N_Vector p = nullptr, scale = nullptr, ones = nullptr;
  std::unique_ptr<LinearParts> linear;
  void* memory = nullptr;

  static int residual(N_Vector p, N_Vector f, void* data) {
    Parts& parts = *static_cast<Parts*>(data);
    const std::size_t n = parts.problem.size();
    if (!parts.problem.at({N_VGetArrayPointer(p), n})) return 1;
    std::copy(parts.problem.net().begin(), parts.problem.net().end(), N_VGetArrayPointer(f));
    return 0;
  }
  // KINSOL asks for the slopes where it has just asked for the residual.
  static int slopes(N_Vector, N_Vector, SUNMatrix j, void* data, N_Vector, N_Vector) {
    static_cast<Parts*>(data)->linear->fill(j, false);
    return 0;
  }
  ~Parts() {
    KINFree(&memory);
    linear.reset();
    for (N_Vector v : {p, scale, ones}) N_VDestroy(v);
    SUNContext_Free(&context);
  }
};

Kinsol::Kinsol(Problem& problem, Linear linear, std::vector<double> through) : parts_(new Parts(problem)) {
  Parts& k = *parts_;
  SUNContext_Create(nullptr, &k.context);
  const auto n = static_cast<sunindextype>(problem.size());
  k.p = N_VNew_Serial(n, k.context);
  k.scale = N_VNew_Serial(n, k.context);
  k.ones = N_VNew_Serial(n, k.context);
  N_VConst(1.0, k.ones);
  const double least = 1e-6 * problem.network().free_flow();
  for (std::size_t i = 0; i < problem.size(); ++i) N_VGetArrayPointer(k.scale)[i] = 1.0 / std::max(through[i], least);
  problem.at(problem.start());
  k.linear = std::make_unique<LinearParts>(problem, linear, k.p, k.context);
  k.memory = KINCreate(k.context);
  if (KINInit(k.memory, Parts::residual, k.p) != 0) throw std::runtime_error("KINInit");
  KINSetUserData(k.memory, &k);
  KINSetLinearSolver(k.memory, k.linear->solver, k.linear->matrix);
  KINSetJacFn(k.memory, Parts::slopes);
  KINSetFuncNormTol(k.memory, 1e-9);
  KINSetScaledStepTol(k.memory, 1e-15);
  KINSetMaxSetupCalls(k.memory, 1);
  KINSetPrintLevel(k.memory, 0);
  KINSetErrFile(k.memory, nullptr);
}

Kinsol::~Kinsol() = default;

int Kinsol::solve() {
  Parts& k = *parts_;
  const std::vector<double> start = k.problem.start();
  std::copy(start.begin(), start.end(), N_VGetArrayPointer(k.p));
  const int flag = KINSol(k.memory, k.p, KIN_LINESEARCH, k.ones, k.scale);
  long iterations = 0;
  KINGetNumNonlinSolvIters(k.memory, &iterations);
  return flag >= 0 ? static_cast<int>(iterations) : -1;
}

std::span<const double> Kinsol::p() const { return {N_VGetArrayPointer(parts_->p), parts_->problem.size()}; }

}  // namespace airtally::bench
