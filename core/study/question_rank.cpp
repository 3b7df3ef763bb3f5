#include <algorithm>
#include <memory>

#include "study/question.hpp"

namespace airtally::study {
namespace {

constexpr std::size_t few_orders = 32;
constexpr std::size_t few_players = 6;

/// Worth of every element by which the worst is found, in line order.
struct Shares {
  std::vector<double> fair, leak, restriction, reach;
};

Shares in_line_order(const Ranking& ranking) {
  const std::size_t n = ranking.elements.size();
  Shares shares{std::vector<double>(n), std::vector<double>(n), std::vector<double>(n), std::vector<double>(n)};
  for (const ElementCost& cost : ranking.elements) {
    shares.fair[cost.element] = cost.fair_share;
    shares.leak[cost.element] = cost.leak_gain;
    shares.restriction[cost.element] = cost.restriction_gain;
    shares.reach[cost.element] = cost.reach_gain;
  }
  return shares;
}

}  // namespace

Question rank_question(const line::Line& line, std::vector<solve::TipState> tips, const RankOptions& options) {
  const line::Line stated = as_stated(line);
  RankOptions full = options, few = options;
  full.settle_gains = few.settle_gains = false;
  few.orders = few_orders;
  few.exact = few_players;
  const Ranking now = rank(stated, tips, full);
  // Every sample is judged at the tip that is the weakest of the line as it stands.
  few.nozzle = now.nozzle;
  const Shares true_shares = in_line_order(now), few_shares = in_line_order(rank(stated, tips, few));
  std::vector<double> correction(line.elements.size());
  for (std::size_t i = 0; i < correction.size(); ++i) correction[i] = true_shares.fair[i] - few_shares.fair[i];
  const bool timed = options.objective == Objective::settle;

  Question question;
  question.measures = {{"tip_vacuum_pa", "", "vacuum at the tip", Quality::vacuum},
                       {"total_loss_pa", "", "what it lacks", Quality::vacuum}};
  for (const line::Element& element : line.elements) {
    const std::string& name = element.name;
    question.measures.push_back({"fair_share_pa", name, "fair share of " + name, Quality::vacuum});
    question.measures.push_back({"worst_probability", name, name + " is the worst", Quality::chance});
    question.measures.push_back({"leak_gain_pa", name, "without the leak of " + name, Quality::vacuum, false});
    question.measures.push_back({"restriction_gain_pa", name, "without the drop of " + name, Quality::vacuum, false});
  }
  question.fixed = {"cycle.", "sensor."};
  const std::size_t players = now.players;
  question.cost = static_cast<double>(players <= few_players ? std::size_t{1} << players : players * few_orders) *
                  static_cast<double>(line.elements.size()) / 10.0 * (timed ? 50.0 : 1.0);
  question.answer = [tips = std::move(tips), few, correction, timed](const line::Line& sample, std::span<double> out) {
    const Ranking ranking = rank(sample, tips, few);
    Shares shares = in_line_order(ranking);
    for (std::size_t i = 0; i < correction.size(); ++i) shares.fair[i] += correction[i];
    const std::vector<double>& worth = timed ? shares.reach : shares.fair;
    const auto worst = static_cast<std::size_t>(std::max_element(worth.begin(), worth.end()) - worth.begin());
    out[0] = ranking.tip_vacuum;
    out[1] = ranking.total_loss;
    for (std::size_t i = 0; i < correction.size(); ++i) {
      out[2 + 4 * i] = shares.fair[i];
      out[3 + 4 * i] = i == worst ? 1.0 : 0.0;
      out[4 + 4 * i] = shares.leak[i];
      out[5 + 4 * i] = shares.restriction[i];
    }
  };
  return question;
}

}  // namespace airtally::study
