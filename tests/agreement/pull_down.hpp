#pragma once
#include <memory>

#include "solve/network.hpp"
#include "study/rise.hpp"
#include "support/lines.hpp"

/// What the pull-down tests share: our rise and the network that it ran on.
namespace airtally::agreement {

struct Ours {
  line::Line line;
  study::Rise rise;
  std::unique_ptr<solve::Network> network;
  std::vector<int> watched;  ///< node of each tip

  Ours(const line::Line& l, solve::TipState state);
};

/// The worst difference between our samples and settle times and those of a course followed elsewhere.
struct Difference {
  double vacuum = 0.0;  ///< of a sample, relative to the tip's final vacuum
  double settle = 0.0;  ///< relative
};

}  // namespace airtally::agreement
