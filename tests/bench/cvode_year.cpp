#include "bench/cvode_year.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <stdexcept>
#include <string>

namespace drawdown::bench {

struct CvodeYear::Impl {
  network::Bound<double>* bound = nullptr;
  SUNContext context = nullptr;
  N_Vector y = nullptr;
  N_Vector tolerances = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver solver = nullptr;
  void* memory = nullptr;
  std::vector<double> values;
  std::vector<double> dfdt;
  std::vector<sunindextype> columns;  // compressed sparse column: where each column starts
  std::vector<sunindextype> rows;     // row of each entry
  std::vector<std::size_t> slots;     // pattern entry -> place among the compressed entries

  static int derivative(realtype t, N_Vector y, N_Vector ydot, void* data) {
    const auto* self = static_cast<Impl*>(data);
    self->bound->derivative(t, N_VGetArrayPointer(y), N_VGetArrayPointer(ydot));
    return 0;
  }
  static int dense_jacobian(realtype t, N_Vector y, N_Vector, SUNMatrix j, void* data, N_Vector, N_Vector, N_Vector) {
    auto* self = static_cast<Impl*>(data);
    self->bound->jacobian(t, N_VGetArrayPointer(y), self->values.data(), self->dfdt.data());
    const auto& entries = self->bound->pattern().entries;
    for (std::size_t e = 0; e < entries.size(); ++e) {
      SM_COLUMN_D(j, entries[e].second)[entries[e].first] = self->values[e];
    }
    return 0;
  }
  static int sparse_jacobian(realtype t, N_Vector y, N_Vector, SUNMatrix j, void* data, N_Vector, N_Vector, N_Vector) {
    auto* self = static_cast<Impl*>(data);
    self->bound->jacobian(t, N_VGetArrayPointer(y), self->values.data(), self->dfdt.data());
    std::copy(self->columns.begin(), self->columns.end(), SM_INDEXPTRS_S(j));
    std::copy(self->rows.begin(), self->rows.end(), SM_INDEXVALS_S(j));
    double* data_out = SM_DATA_S(j);
    for (std::size_t e = 0; e < self->slots.size(); ++e) data_out[self->slots[e]] = self->values[e];
    return 0;
  }
};

namespace {

void check(int flag, const char* what) {
  if (flag < 0) throw std::runtime_error(std::string("CVODE: ") + what + " failed with " + std::to_string(flag));
}

}  // namespace

CvodeYear::CvodeYear(network::Bound<double>& bound, Linear linear) : impl_(std::make_unique<Impl>()) {
  Impl& s = *impl_;
  s.bound = &bound;
  const auto n = static_cast<sunindextype>(bound.plan().species);
  const auto& entries = bound.pattern().entries;
  s.values.resize(entries.size());
  s.dfdt.resize(bound.plan().species);
  check(SUNContext_Create(nullptr, &s.context), "context");
  s.y = N_VNew_Serial(n, s.context);
  s.tolerances = N_VNew_Serial(n, s.context);
  if (linear == Linear::dense) {
    s.matrix = SUNDenseMatrix(n, n, s.context);
    s.solver = SUNLinSol_Dense(s.y, s.matrix, s.context);
  } else {
    std::vector<std::size_t> order(entries.size());
    for (std::size_t e = 0; e < order.size(); ++e) order[e] = e;
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return std::make_pair(entries[a].second, entries[a].first) < std::make_pair(entries[b].second, entries[b].first);
    });
    s.slots.resize(entries.size());
    s.columns.assign(bound.plan().species + 1, 0);
    for (std::size_t k = 0; k < order.size(); ++k) {
      s.slots[order[k]] = k;
      s.rows.push_back(entries[order[k]].first);
      s.columns[static_cast<std::size_t>(entries[order[k]].second) + 1] += 1;
    }
    for (std::size_t c = 1; c < s.columns.size(); ++c) s.columns[c] += s.columns[c - 1];
    s.matrix = SUNSparseMatrix(n, n, static_cast<sunindextype>(entries.size()), CSC_MAT, s.context);
    s.solver = SUNLinSol_KLU(s.y, s.matrix, s.context);
  }
  s.memory = CVodeCreate(CV_BDF, s.context);
  check(CVodeInit(s.memory, Impl::derivative, 0.0, s.y), "init");
  check(CVodeSetUserData(s.memory, &s), "user data");
  check(CVodeSetLinearSolver(s.memory, s.solver, s.matrix), "linear solver");
  check(CVodeSetJacFn(s.memory, linear == Linear::dense ? Impl::dense_jacobian : Impl::sparse_jacobian), "Jacobian");
  check(CVodeSetMaxNumSteps(s.memory, 200000), "step limit");
}

CvodeYear::~CvodeYear() {
  CVodeFree(&impl_->memory);
  SUNLinSolFree(impl_->solver);
  SUNMatDestroy(impl_->matrix);
  N_VDestroy(impl_->tolerances);
  N_VDestroy(impl_->y);
  SUNContext_Free(&impl_->context);
}

std::vector<std::vector<double>> CvodeYear::run(const std::vector<double>& start, double start_hour,
                                                const std::vector<double>& hours, double rtol,
                                                const std::vector<double>& atol) {
  Impl& s = *impl_;
  std::copy(start.begin(), start.end(), N_VGetArrayPointer(s.y));
  std::copy(atol.begin(), atol.end(), N_VGetArrayPointer(s.tolerances));
  check(CVodeReInit(s.memory, start_hour, s.y), "reinit");
  check(CVodeSVtolerances(s.memory, rtol, s.tolerances), "tolerances");
  // Never past the end: beyond it other inputs may hold.
  check(CVodeSetStopTime(s.memory, hours.back()), "stop time");
  std::vector<std::vector<double>> states;
  states.reserve(hours.size());
  for (const double hour : hours) {
    realtype reached = 0;
    check(CVode(s.memory, hour, s.y, &reached, CV_NORMAL), "step");
    const double* y = N_VGetArrayPointer(s.y);
    states.emplace_back(y, y + start.size());
  }
  check(CVodeGetNumSteps(s.memory, &steps_), "count");
  return states;
}

}  // namespace drawdown::bench
