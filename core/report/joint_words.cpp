#include <fmt/format.h>

#include "report/joint_text.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "units/show.hpp"

namespace airtally::report {
namespace {

using study::BreakEven;
using study::Joint;
using study::JointWay;
using units::Dimension;

std::string limit_words(const Joint& joint) {
  const BreakEven& even = joint.even;
  const Dimension dimension = even.clearance ? Dimension::length : Dimension::flow;
  const std::string what = even.clearance ? "clearance" : "leak, as it is rated,";
  if (even.outcome == BreakEven::Outcome::found)
    return fmt::format(" A joint with a {} below {} would cost a placement less than the tube; it has {}.", what,
                       fitting(even.value, dimension), fitting(even.now, dimension));
  if (even.outcome == BreakEven::Outcome::tube_always)
    return " No joint, however tight, would cost less than the tube.";
  if (even.outcome == BreakEven::Outcome::joint_always)
    return " No leak that a joint may have makes it cost more than the tube.";
  return "";
}

/// How the seals of the catalogue stand beside way `first`, the better one of the tube and the line's own joint.
std::string seal_words(const line::Line& line, const Joint& joint, std::size_t first) {
  std::size_t alike = 0;
  bool best_is_own = false;
  for (std::size_t k = 0; k < joint.ways.size(); ++k) {
    const bool seal = k != joint.tube && k != joint.joint && !joint.ways[k].own;
    if (seal && joint.ways[k].does() && joint.alike(k, first)) ++alike;
    if (!seal && joint.best == k) best_is_own = true;
  }
  const JointWay& best = joint.ways[*joint.best];
  if (!best_is_own && !joint.alike(*joint.best, first))
    return fmt::format(" Better than both is {}: {}.", joint_way(line, best), time(*best.late));
  if (alike == 0) return "";
  std::string text = fmt::format(" {} of the catalogue {} as well, to one part in a hundred of a placement",
                                 capital(counted(alike, "seal")), alike == 1 ? "does" : "do");
  if (best_is_own) return text + '.';
  return text + fmt::format("; by a hair the best of all is {}.", joint_way(line, best));
}

std::string pace_words(const Joint& joint) {
  const bool tube = joint.tube_wins();
  if (joint.even_pace)
    return fmt::format(
        " {} up to {:.3g} placements a second; at a faster pace the travel no longer hides the "
        "unwinding.",
        tube ? "The tube wins" : "The tube would win", *joint.even_pace);
  return tube ? " That is so at any pace." : "";
}

}  // namespace

std::string joint_way(const line::Line& line, const study::JointWay& way) {
  if (!way.own) return way.twists ? "the twisted tube" : "the '" + clean(way.name) + "'";
  const auto found = line::find(line, way.name);
  return found ? the(line.elements[*found]) : "the " + clean(way.name);
}

std::string joint_verdict(const line::Line& line, const study::Joint& joint) {
  if (!joint.best) return "None of these ways does the job; the table says what each one lacks.";
  const JointWay& tube = joint.ways[joint.tube];
  if (!joint.joint) return capital(joint_way(line, tube)) + " does the job; there is no joint to hold it against.";
  const JointWay& seal = joint.ways[*joint.joint];
  if (!tube.does() || !seal.does()) {
    const JointWay& wins = tube.does() ? tube : seal;
    const JointWay& fails = tube.does() ? seal : tube;
    if (!wins.does())
      return "Neither " + joint_way(line, tube) + " nor " + joint_way(line, seal) + " does the job; the " +
             "table has ways that do.";
    return capital(joint_way(line, wins)) + " it is: with " + joint_way(line, fails) + ", " + fails.troubles.front() +
           "." + (tube.does() ? limit_words(joint) : "");
  }
  const std::size_t first = joint.tube_wins() ? joint.tube : *joint.joint;
  const JointWay& wins = joint.ways[first];
  const JointWay& loses = joint.tube_wins() ? seal : tube;
  if (joint.alike(joint.tube, *joint.joint))
    return fmt::format(
               "{} and {} cost a placement the same, to one part in a hundred: beyond its travel it takes {} with the "
               "one, {} with the other.",
               capital(joint_way(line, wins)), joint_way(line, loses), time(*wins.late), time(*loses.late)) +
           seal_words(line, joint, first) + limit_words(joint);
  return fmt::format("{} wins: beyond its travel a placement takes {} with it, {} with {}.",
                     capital(joint_way(line, wins)), time(*wins.late), time(*loses.late), joint_way(line, loses)) +
         seal_words(line, joint, first) + limit_words(joint) + pace_words(joint);
}

}  // namespace airtally::report
