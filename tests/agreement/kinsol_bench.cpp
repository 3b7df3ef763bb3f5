#include "agreement/kinsol_bench.hpp"

#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>
#include <stdexcept>

#include "laws/current_curve.hpp"
#include "line/variant.hpp"
#include "solve/answer.hpp"
#include "support/residual.hpp"

namespace airtally::agreement {
namespace {

using hunt::Instrument;
using hunt::Setting;
using hunt::What;
using solve::TipState;

std::span<double> span_of(N_Vector v) { return {N_VGetArrayPointer(v), static_cast<std::size_t>(N_VGetLength(v))}; }

/// SUNDIALS' objects for one dense system. agreement/sundials.hpp has the like, but its checks need a running test.
struct Dense {
  explicit Dense(std::size_t n) {
    const auto size = static_cast<sunindextype>(n);
    if (SUNContext_Create(nullptr, &context) != 0) throw std::runtime_error("SUNDIALS gives no context");
    u = N_VNew_Serial(size, context);
    ones = N_VNew_Serial(size, context);
    matrix = SUNDenseMatrix(size, size, context);
    solver = SUNLinSol_Dense(u, matrix, context);
  }
  Dense(const Dense&) = delete;
  Dense& operator=(const Dense&) = delete;
  ~Dense() {
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    N_VDestroy(u);
    N_VDestroy(ones);
    SUNContext_Free(&context);
  }

  SUNContext context = nullptr;
  N_Vector u = nullptr, ones = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver solver = nullptr;
};

struct Balance {
  const solve::Network& network;
  std::vector<int> node;  ///< per unknown
  std::vector<double> p, net;

  static int residual(N_Vector u, N_Vector f, void* data) {
    Balance& b = *static_cast<Balance*>(data);
    const auto x = span_of(u), r = span_of(f);
    for (std::size_t i = 0; i < x.size(); ++i) {
      if (!(x[i] > 1e-4)) return 1;  // KINSOL takes a shorter step
      b.p[b.node[i]] = x[i] * b.network.ambient;
    }
    support::net_inflow(b.network, b.p, b.net);
    for (std::size_t i = 0; i < r.size(); ++i) r[i] = b.net[b.node[i]] / b.network.free_flow();
    return 0;
  }
};

/// Pressures from `start`, over ambient; empty when KINSOL gives up.
std::vector<double> kinsol(Balance& balance, const std::vector<double>& start) {
  Dense dense(balance.node.size());
  void* memory = KINCreate(dense.context);
  N_Vector u = dense.u, ones = dense.ones;
  std::copy(start.begin(), start.end(), span_of(u).begin());
  N_VConst(1.0, ones);
  KINInit(memory, Balance::residual, u);
  KINSetUserData(memory, &balance);
  KINSetLinearSolver(memory, dense.solver, dense.matrix);
  KINSetFuncNormTol(memory, 1e-11);
  KINSetScaledStepTol(memory, 1e-14);
  KINSetNumMaxIters(memory, 500);
  KINSetMaxSetupCalls(memory, 1);  // a new Jacobian each iteration
  KINSetPrintLevel(memory, 0);
  KINSetErrFile(memory, nullptr);
  const int flag = KINSol(memory, u, KIN_LINESEARCH, ones, ones);
  double norm = 1.0;
  KINGetFuncNorm(memory, &norm);
  std::vector<double> found;
  const auto x = span_of(u);
  if (flag >= 0 && norm < 1e-8) found.assign(x.begin(), x.end());
  KINFree(&memory);
  return found;
}

}  // namespace

struct KinsolBench::Solved {
  Setting setting;
  line::Line line;
  std::vector<std::size_t> index;
  line::Topology topology;
  std::unique_ptr<solve::Network> network;
  std::vector<double> p;  ///< per node [Pa]
};

KinsolBench::KinsolBench(const hunt::Suspects& suspects, const hunt::Bench& bench, std::vector<double> values)
    : suspects_(suspects), bench_(bench), values_(std::move(values)) {}
KinsolBench::~KinsolBench() = default;

KinsolBench::Solved& KinsolBench::at(const Setting& setting) {
  if (solved_ && solved_->setting == setting) return *solved_;
  auto s = std::make_unique<Solved>();
  s->setting = setting;
  line::Capped left = line::without(suspects_.line, line::topology(suspects_.line), setting.off);
  if (setting.cap) left = line::cap(left, *setting.cap);
  s->line = std::move(left.line);
  s->index = std::move(left.index);
  // The plate's hole stands in front of the element's own leaks, so that it is the first leak path made for it.
  const bool drilled = setting.cap && setting.hole > 0.0;
  if (drilled) {
    auto& leaks = s->line.elements[s->index[*setting.cap]].leaks;
    leaks.insert(leaks.begin(), line::Hole{setting.hole});
  }
  std::vector<TipState> tips;
  const auto nozzles = line::all_of(suspects_.line, line::Kind::nozzle);
  for (std::size_t k = 0; k < nozzles.size(); ++k) {
    if (s->index[nozzles[k]] == line::none) continue;
    const bool shut = setting.cap && *setting.cap == nozzles[k];
    tips.push_back(shut ? TipState::blocked : k < setting.tips.size() ? setting.tips[k] : TipState::open);
  }
  s->topology = line::topology(s->line, false);
  s->network = std::make_unique<solve::Network>(s->line, s->topology, tips);
  solve::Network& network = *s->network;
  double hole_share = 0.0;
  for (std::size_t k = 0; k < suspects_.unknowns.size(); ++k)
    if (suspects_.unknowns[k].what == What::hole_share) hole_share = values_[k];
  for (std::size_t k = 0; k < suspects_.unknowns.size(); ++k) {
    const hunt::Unknown& unknown = suspects_.unknowns[k];
    if (unknown.what == What::plate) {
      if (!drilled || unknown.hole != setting.hole) continue;
      for (solve::Path& path : network.paths) {
        if (path.element != s->index[*setting.cap] || path.role != solve::Role::leak) continue;
        path.scale = values_[k];
        break;
      }
      continue;
    }
    const std::size_t i = s->index[unknown.element];
    if (i == line::none) continue;
    bool skip = drilled && *setting.cap == unknown.element;
    // The last of an element's leaks is the hole that the others may have torn to.
    const solve::Path* hole = nullptr;
    for (const solve::Path& path : network.paths)
      if (path.element == i && path.role == solve::Role::leak && suspects_.tears[unknown.element]) hole = &path;
    const double beyond = values_[k] > 1.0 ? values_[k] - 1.0 : 0.0;
    const double grown = hole_share * beyond * beyond / (beyond * beyond + 100.0);
    for (solve::Path& path : network.paths) {
      if (path.element != i) continue;
      if (unknown.what == What::leak && path.role == solve::Role::leak) {
        if (!skip) path.scale = values_[k] * (!hole ? 1.0 : &path == hole ? grown : 1.0 - grown);
        skip = false;
      }
      if ((unknown.what == What::blockage && path.role == solve::Role::restriction) ||
          (unknown.what == What::seal && path.role == solve::Role::seal))
        path.scale = values_[k];
      if (unknown.what == What::bore && path.role == solve::Role::restriction) {
        auto& duct = std::get<laws::Duct>(path.law);
        duct.bore *= values_[k];
        duct.roughness = std::min(duct.roughness, 0.1 * duct.bore);
      }
    }
    for (solve::Source& source : network.sources) {
      if (source.element != i) continue;
      if (unknown.what == What::pump_flow) source.flow_factor = values_[k];
      if (unknown.what == What::pump_vacuum) source.vacuum_factor = values_[k];
    }
  }
  Balance balance{network,
                  {},
                  std::vector<double>(network.nodes.size(), network.ambient),
                  std::vector<double>(network.nodes.size())};
  const std::vector<bool> fed = network.fed();
  for (std::size_t i = 0; i < fed.size(); ++i)
    if (fed[i]) balance.node.push_back(static_cast<int>(i));
  std::vector<double> found;
  for (const double level : {0.6, 0.9, 0.4, 0.97, 0.35}) {
    std::vector<double> start;
    for (std::size_t i = 0; i < balance.node.size(); ++i) start.push_back(level + 1e-3 * static_cast<double>(i));
    found = kinsol(balance, start);
    if (!found.empty()) break;
  }
  if (found.empty()) {
    // As tests/agreement/kinsol_test.cpp: from a guess that is 5 % off, up and down in turn.
    solve::Steady solver(network);
    solve::Pressures rest;
    solver.solve(network, rest);
    std::vector<double> start;
    for (std::size_t i = 0; i < balance.node.size(); ++i)
      start.push_back(1.0 - (1.0 - rest.p[balance.node[i]] / network.ambient) * (i % 2 == 0 ? 0.95 : 1.02));
    found = kinsol(balance, start);
  }
  if (found.empty()) throw std::runtime_error("KINSOL found no pressures");
  s->p.assign(network.nodes.size(), network.ambient);
  for (std::size_t i = 0; i < found.size(); ++i) s->p[balance.node[i]] = found[i] * network.ambient;
  solved_ = std::move(s);
  return *solved_;
}

double KinsolBench::exact(const Setting& setting, Instrument instrument, std::size_t at_element) {
  Solved& s = at(setting);
  const std::size_t i = s.index[at_element];
  double offset = 0.0;
  for (std::size_t k = 0; k < suspects_.unknowns.size(); ++k) {
    const hunt::Unknown& unknown = suspects_.unknowns[k];
    if (unknown.error_of(instrument, at_element)) offset = values_[k];
  }
  const double p = s.p[s.network->node_of[i]];
  if (hunt::is_gauge(instrument)) return s.network->ambient - p + offset;
  if (instrument == Instrument::current) {
    std::vector<laws::CurvePoint> points;
    for (const line::CurvePoint& c : s.line.elements[i].pump->current)
      points.push_back({c.vacuum.value, c.value.value});
    return laws::CurrentCurve(points, s.line.site).at(p).amperes + offset;
  }
  for (const solve::Source& source : s.network->sources)
    if (source.element == i) return source.at(p).m * (1.0 + offset);
  return 0.0;
}

hunt::Reading KinsolBench::read(const Setting& setting, Instrument instrument, std::size_t at_element,
                                study::Random& random) {
  const hunt::Meter meter = hunt::meter_at(suspects_.line, bench_, instrument, at_element);
  const double shown = exact(setting, instrument, at_element) + 0.5 * meter.repeatability * normal(random);
  return {setting, instrument, at_element, meter.resolution * std::round(shown / meter.resolution), 0.0, {}};
}

std::vector<double> KinsolBench::tips(const Setting& setting) {
  Solved& s = at(setting);
  std::vector<double> vacuum;
  for (std::size_t k = 0; k < s.network->nozzles.size(); ++k) {
    const std::size_t i = s.network->nozzles[k];
    const int node = s.network->node_of[s.network->tips[k] == TipState::open ? s.topology.before[i] : i];
    vacuum.push_back(s.network->ambient - s.p[node]);
  }
  return vacuum;
}

double normal(study::Random& random) {
  const double radius = std::sqrt(-2.0 * std::log1p(-random.uniform()));
  return radius * std::cos(2.0 * std::numbers::pi * random.uniform());
}

std::vector<Setting> all_settings(const line::Line& line, double hole) {
  const std::vector<TipState> usual = solve::usual_tips(line);
  std::vector<Setting> all;
  for (const TipState state : {TipState::open, TipState::part, TipState::blocked})
    if (state != TipState::part || line.part) all.push_back({{}, 0.0, std::vector<TipState>(usual.size(), state)});
  for (std::size_t i = 0; i < line.elements.size(); ++i) {
    const bool nozzle = line.elements[i].kind == line::Kind::nozzle;
    if (line.elements[i].kind == line::Kind::plug || (nozzle && usual.size() == 1)) continue;
    all.push_back({i, 0.0, usual});
    if (!nozzle) all.push_back({i, hole, usual});
  }
  return all;
}

std::vector<std::pair<Instrument, std::size_t>> instruments(const line::Line& line, const Setting& setting) {
  std::vector<std::pair<Instrument, std::size_t>> all;
  std::vector<std::size_t> index(line.elements.size(), 0);
  if (setting.cap) index = line::cap(line, line::topology(line), *setting.cap).index;
  for (const std::size_t i : hunt::gauges(line))
    if (index[i] != line::none) all.emplace_back(Instrument::vacuum, i);
  for (std::size_t i = 0; i < line.elements.size(); ++i)
    if (line.elements[i].pump && !line.elements[i].pump->current.empty() && index[i] != line::none)
      all.emplace_back(Instrument::current, i);
  return all;
}

}  // namespace airtally::agreement
