#include "study/question_joint.hpp"

#include <limits>

#include "solve/answer.hpp"
#include "study/joint_private.hpp"
#include "study/need.hpp"
#include "study/reach.hpp"
#include "study/rise.hpp"

namespace airtally::study {
namespace {

double vacuum_with_part(const line::Line& line) { return weakest_vacuum(solve::steady(line, solve::usual_tips(line))); }

/// Cost of a placement beyond its travel [s]; `never` when the tip never gets its vacuum.
double late_of(const std::optional<double>& reach, const Turns& turns) {
  return reach ? *reach + turns.late + turns.late_back : never;
}

}  // namespace

Question joint_question(const line::Line& line, const line::Twist& twist, const std::vector<line::Seal>& seals) {
  JointOptions options{seals, false};
  const Joint now = joint(as_stated(line), twist, options);
  const auto rival = joint_of(as_stated(line), joint_job(as_stated(line), twist), seals);
  const std::string tube = now.ways[now.tube].name;
  Question question;
  question.measures = {{"tube_late_s", tube, "time beyond travel, " + tube, Quality::time},
                       {"vacuum_pa", tube, "vacuum at the tip, " + tube, Quality::vacuum}};
  if (rival) {
    question.measures.insert(question.measures.begin(),
                             {"tube_wins_probability", "", "the twisted tube costs less", Quality::chance});
    question.measures.push_back({"joint_late_s", rival->name, "time beyond travel, " + rival->name, Quality::time});
    question.measures.push_back({"vacuum_pa", rival->name, "vacuum at the tip, " + rival->name, Quality::vacuum});
    const bool clearance = now.even.clearance;
    question.measures.push_back(
        {clearance ? "even_clearance_m" : "even_leak_kg_s", "",
         clearance ? "clearance at which both cost the same" : "leak at which both cost the same",
         clearance ? Quality::length : Quality::leak});
    question.measures.push_back({"even_placement_s", "", "placement at which both cost the same", Quality::time});
  }
  question.cost = joint_cost;
  const double start = now.even.outcome == BreakEven::Outcome::found ? now.even.value : 0.0;
  question.answer = [seal = rival, start, twist](const line::Line& sample, std::span<double> out) {
    const JointJob job = joint_job(sample, twist);
    const line::Line with_tube = job.own_tube ? sample : with_seal(sample, job, job.tube);
    const auto tube_reach = slowest_reach(with_tube, job.needs, few_pieces);
    const double tube_late = late_of(tube_reach, turns_of(job, true));
    std::size_t next = 0;
    if (!seal) {
      out[next++] = tube_late;
      out[next++] = vacuum_with_part(with_tube);
      return;
    }
    // The line's own joint is drawn with the line; one from the catalogue is as it is stated.
    const line::Element joint = job.own_tube ? *seal : sample.elements[job.at.front()];
    const line::Line with_joint = job.own_tube ? with_seal(sample, job, joint) : sample;
    const auto joint_reach = slowest_reach(with_joint, job.needs, few_pieces);
    const double joint_late = late_of(joint_reach, turns_of(job, false));
    out[next++] = tube_reach && (!joint_reach || tube_late < joint_late) ? 1.0 : 0.0;
    out[next++] = tube_late;
    out[next++] = vacuum_with_part(with_tube);
    out[next++] = joint_late;
    out[next++] = vacuum_with_part(with_joint);
    out[next] = out[next + 1] = nothing;
    if (!tube_reach) return;
    const BreakEven even = break_even(sample, job, joint, tube_late, start, false);
    if (even.outcome == BreakEven::Outcome::found) out[next] = even.value;
    if (!joint_reach) return;
    if (const auto pace = even_pace(job, *joint_reach, *tube_reach)) out[next + 1] = 1.0 / *pace;
  };
  return question;
}

}  // namespace airtally::study
