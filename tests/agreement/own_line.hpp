#pragma once
#include <span>
#include <vector>

#include "agreement/own_laws.hpp"
#include "line/line.hpp"
#include "solve/network.hpp"

namespace airtally::agreement {

/// Whose flow laws a model runs on.
enum class LawsOf {
  core,  ///< the functions of core/laws
  own    ///< those of own_laws.hpp
};

/// A line as places and ways between them, put together here from its description alone: which ends are one place, who
/// hangs where, which losses a bore's ends have. Nothing of core/line's or core/solve's working is used.
struct OwnLine {
  static constexpr int outside = -1;
  struct Way {
    int from = outside, to = outside;
    double pressure = 0.0;  ///< [Pa] of an end that is outside
    own::Flow flow;
  };
  struct Source {
    int place = 0;
    own::Pull pull;
  };
  std::vector<double> volume;  ///< per place [m3]
  std::vector<Way> ways;
  std::vector<Source> sources;
  std::vector<int> place;  ///< per element: that of its tip-side end
  double ambient = 0.0, rt = 0.0;

  OwnLine(const line::Line& line, std::span<const solve::TipState> tips, LawsOf laws);

  /// Inflow less outflow of every place [kg/s].
  void net(std::span<const double> p, std::span<double> net) const;
};

}  // namespace airtally::agreement
