#include "sundials_linear.hpp"

#include <sunlinsol/sunlinsol_dense.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <map>

namespace airtally::bench {

LinearParts::LinearParts(Problem& problem, Linear linear, N_Vector like, SUNContext context)
    : problem_(problem), linear_(linear) {
  const auto n = static_cast<sunindextype>(problem.size());
  if (linear == Linear::dense) {
    matrix = SUNDenseMatrix(n, n, context);
    solver = SUNLinSol_Dense(like, matrix, context);
  } else if (linear == Linear::klu) {
    lay_out();
    matrix = SUNSparseMatrix(n, n, static_cast<sunindextype>(rows_.size()), CSC_MAT, context);
    fill(matrix, false);
    solver = SUNLinSol_KLU(like, matrix, context);
  } else {
    matrix = tree_matrix(problem, context);
    solver = tree_solver(problem, context);
  }
}

LinearParts::~LinearParts() {
  SUNLinSolFree(solver);
  SUNMatDestroy(matrix);
}

void LinearParts::lay_out() {
  std::vector<std::map<int, sunindextype>> columns(problem_.size());
  problem_.each_slope([&](int row, int column, double) { columns[column][row] = 0; });
  pointers_.push_back(0);
  for (auto& column : columns) {
    for (auto& [row, place] : column) {
      place = static_cast<sunindextype>(rows_.size());
      rows_.push_back(row);
    }
    pointers_.push_back(static_cast<sunindextype>(rows_.size()));
  }
  problem_.each_slope([&](int row, int column, double) { places_.push_back(columns[column][row]); });
}

void LinearParts::fill(SUNMatrix into, bool per_mass) {
  const auto weight = [&](int row) { return per_mass ? 1.0 / problem_.mass[row] : 1.0; };
  if (linear_ == Linear::tree) {
    fill_tree(problem_, into);
  } else if (linear_ == Linear::dense) {
    SUNMatZero(into);
    double** columns = SUNDenseMatrix_Cols(into);
    problem_.each_slope([&](int row, int column, double value) { columns[column][row] += value * weight(row); });
  } else {
    std::copy(pointers_.begin(), pointers_.end(), SUNSparseMatrix_IndexPointers(into));
    std::copy(rows_.begin(), rows_.end(), SUNSparseMatrix_IndexValues(into));
    double* data = SUNSparseMatrix_Data(into);
    std::fill(data, data + rows_.size(), 0.0);
    std::size_t k = 0;
    problem_.each_slope([&](int row, int, double value) { data[places_[k++]] += value * weight(row); });
  }
}

}  // namespace airtally::bench
