// Reading the state as a laboratory would.
#include "readout/serum.hpp"

#include <array>

namespace drawdown::readout {

namespace {

// In the order of body::report_names.
constexpr std::array<double Serum::*, body::report_names.size()> members{
    &Serum::c3,       &Serum::c4,           &Serum::c1q,          &Serum::c2,    &Serum::factor_b, &Serum::factor_h,
    &Serum::factor_i, &Serum::c1_inhibitor, &Serum::c5,           &Serum::c9,    &Serum::c4d,      &Serum::c3d,
    &Serum::c3a,      &Serum::bb,           &Serum::c5a,          &Serum::sc5b9, &Serum::ch50,     &Serum::ah50,
    &Serum::antibody, &Serum::crp,          &Serum::urine_protein};

}  // namespace

Serum in_blood(const body::Body& body, const std::vector<double>& state, const std::vector<double>& levers) {
  const auto& report = body.model->known().report;
  Serum s;
  for (std::size_t i = 0; i < members.size(); ++i) {
    s.*members[i] = body.model->in_blood(report[i], state.data(), levers.data());
  }
  return s;
}

Serum as_measured(const body::Body& body, const Serum& in_blood, const std::vector<double>& levers) {
  const auto& report = body.model->known().report;
  Serum s;
  for (std::size_t i = 0; i < members.size(); ++i) {
    s.*members[i] = body.model->in_sample(report[i], in_blood.*members[i], levers.data());
  }
  return s;
}

std::vector<Tissue> tissue_state(const body::Body& body, const std::vector<double>& state) {
  std::vector<Tissue> all;
  for (const body::Model::TissueIds& at : body.model->tissue_ids()) {
    all.push_back({state[at.deposit], state[at.inflammation], state[at.injury]});
  }
  return all;
}

}  // namespace drawdown::readout
