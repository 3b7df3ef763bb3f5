#include <algorithm>
#include <memory>
#include <mutex>

#include "study/coalition.hpp"
#include "study/first_of.hpp"
#include "study/question.hpp"
#include "study/rank_private.hpp"

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

/// How a sample is ranked, and what its fair shares then lack: that of the line as it stands, ranked in full.
class Few {
 public:
  Few(line::Line line, std::vector<solve::TipState> tips, const RankOptions& options)
      : line_(std::move(line)), tips_(std::move(tips)), full_(options) {
    full_.settle_gains = false;
  }

  /// One number per element, in line order. Safe from several threads: the first to ask ranks the line as it stands,
  /// since where no sample is drawn, as that would take long, nothing else needs it.
  Ranking ranked(const line::Line& sample, Shares& shares) {
    std::call_once(once_, [&] { prepare(); });
    Ranking ranking = rank(sample, tips_, few_);
    shares = in_line_order(ranking);
    for (std::size_t i = 0; i < correction_.size(); ++i) shares.fair[i] += correction_[i];
    return ranking;
  }

  /// What share the loss of a line like this.
  std::size_t players() const {
    const std::vector<solve::TipState> tips = full_.objective == Objective::hold ? holding_tips(tips_) : tips_;
    const solve::Network network(line_, line::topology(line_), tips);
    return flaws_of(line_, network, full_.nozzle.value_or(0)).size();
  }

 private:
  void prepare() {
    const Ranking now = rank(line_, tips_, full_);
    few_ = full_;
    few_.orders = few_orders;
    few_.exact = few_players;
    // Every sample is judged at the tip that is the weakest of the line as it stands.
    few_.nozzle = now.nozzle;
    const Shares all = in_line_order(now), few = in_line_order(rank(line_, tips_, few_));
    for (std::size_t i = 0; i < all.fair.size(); ++i) correction_.push_back(all.fair[i] - few.fair[i]);
  }

  line::Line line_;
  std::vector<solve::TipState> tips_;
  RankOptions full_, few_;
  std::once_flag once_;
  std::vector<double> correction_;
};

}  // namespace

Question rank_question(const line::Line& line, std::vector<solve::TipState> tips, const RankOptions& options) {
  const auto few = std::make_shared<Few>(as_stated(line), std::move(tips), options);
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
  const std::size_t players = few->players();
  question.cost = static_cast<double>(players <= few_players ? std::size_t{1} << players : players * few_orders) *
                  static_cast<double>(line.elements.size()) / 10.0 * (timed ? 50.0 : 1.0);
  question.answer = [few, timed](const line::Line& sample, std::span<double> out) {
    Shares shares;
    const Ranking ranking = few->ranked(sample, shares);
    const std::vector<double>& worth = timed ? shares.reach : shares.fair;
    // Where nothing is lost, no element is the worst.
    const double least = timed ? time_tie : pressure_tie;
    const auto most = std::max_element(worth.begin(), worth.end());
    const auto worst = static_cast<std::size_t>(*most > least ? most - worth.begin() : worth.end() - worth.begin());
    out[0] = ranking.tip_vacuum;
    out[1] = ranking.total_loss;
    for (std::size_t i = 0; i < shares.fair.size(); ++i) {
      out[2 + 4 * i] = shares.fair[i];
      out[3 + 4 * i] = i == worst ? 1.0 : 0.0;
      out[4 + 4 * i] = shares.leak[i];
      out[5 + 4 * i] = shares.restriction[i];
    }
  };
  return question;
}

}  // namespace airtally::study
