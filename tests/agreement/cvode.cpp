#include "agreement/cvode.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_band.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <cmath>
#include <stdexcept>
#include <string>

namespace airtally::agreement {
namespace {

void must(int flag, const char* what) {
  if (flag < 0) throw std::runtime_error(std::string(what) + " returned " + std::to_string(flag));
}

int call_rate(double t, N_Vector y, N_Vector f, void* rate) {
  const std::size_t n = static_cast<std::size_t>(N_VGetLength(y));
  const std::span<double> out{N_VGetArrayPointer(f), n};
  (*static_cast<Cvode::Rate*>(rate))(t, {N_VGetArrayPointer(y), n}, out);
  for (double value : out)
    if (!std::isfinite(value)) return 1;  // a smaller step, please
  return 0;
}

}  // namespace

struct Cvode::Parts {
  SUNContext context = nullptr;
  void* memory = nullptr;
  N_Vector y = nullptr, absolute = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver solver = nullptr;
  std::vector<double> tolerances;
  ~Parts() {
    CVodeFree(&memory);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    N_VDestroy(absolute);
    N_VDestroy(y);
    SUNContext_Free(&context);
  }
};

Cvode::Cvode(Rate rate, std::vector<double> start, double begin, double relative, std::vector<double> absolute,
             int band, long most)
    : rate_(std::move(rate)), y_(std::move(start)), parts_(std::make_unique<Parts>()) {
  Parts& p = *parts_;
  must(SUNContext_Create(nullptr, &p.context), "SUNContext_Create");
  const sunindextype n = static_cast<sunindextype>(y_.size());
  p.tolerances = std::move(absolute);
  p.y = N_VMake_Serial(n, y_.data(), p.context);
  p.absolute = N_VMake_Serial(n, p.tolerances.data(), p.context);
  p.memory = CVodeCreate(CV_BDF, p.context);
  must(CVodeInit(p.memory, call_rate, begin, p.y), "CVodeInit");
  must(CVodeSVtolerances(p.memory, relative, p.absolute), "CVodeSVtolerances");
  must(CVodeSetUserData(p.memory, &rate_), "CVodeSetUserData");
  must(CVodeSetMaxNumSteps(p.memory, most), "CVodeSetMaxNumSteps");
  p.matrix = band < 0 ? SUNDenseMatrix(n, n, p.context) : SUNBandMatrix(n, band, band, p.context);
  p.solver = band < 0 ? SUNLinSol_Dense(p.y, p.matrix, p.context) : SUNLinSol_Band(p.y, p.matrix, p.context);
  must(CVodeSetLinearSolver(p.memory, p.solver, p.matrix), "CVodeSetLinearSolver");
}

Cvode::~Cvode() = default;

void Cvode::advance(double time) {
  must(CVodeSetStopTime(parts_->memory, time), "CVodeSetStopTime");
  double reached = 0.0;
  must(CVode(parts_->memory, time, parts_->y, &reached, CV_NORMAL), "CVode");
}

void Cvode::restart(double time) { must(CVodeReInit(parts_->memory, time, parts_->y), "CVodeReInit"); }

long Cvode::steps() const {
  long steps = 0;
  must(CVodeGetNumSteps(parts_->memory, &steps), "CVodeGetNumSteps");
  return steps;
}

}  // namespace airtally::agreement
