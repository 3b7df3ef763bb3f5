#pragma once
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <span>
#include <vector>

/// What the tests need of SUNDIALS' plain C interface: owners of its objects.
namespace airtally::agreement {

/// A context with vectors, a dense matrix and a dense solver of one size.
class Sundials {
 public:
  explicit Sundials(std::size_t n) : n_(static_cast<sunindextype>(n)) {
    REQUIRE(SUNContext_Create(nullptr, &context) == 0);
    matrix = SUNDenseMatrix(n_, n_, context);
    solver = SUNLinSol_Dense(vector(std::vector<double>(n, 0.0)), matrix, context);
  }
  Sundials(const Sundials&) = delete;
  Sundials& operator=(const Sundials&) = delete;
  ~Sundials() {
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    for (N_Vector v : vectors_) N_VDestroy(v);
    SUNContext_Free(&context);
  }

  /// A vector with these values, owned here.
  N_Vector vector(const std::vector<double>& values) {
    N_Vector v = N_VNew_Serial(n_, context);
    std::copy(values.begin(), values.end(), N_VGetArrayPointer(v));
    vectors_.push_back(v);
    return v;
  }

  SUNContext context = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver solver = nullptr;

 private:
  sunindextype n_;
  std::vector<N_Vector> vectors_;
};

inline std::span<double> span_of(N_Vector v) {
  return {N_VGetArrayPointer(v), static_cast<std::size_t>(N_VGetLength(v))};
}

}  // namespace airtally::agreement
