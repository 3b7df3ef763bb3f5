#pragma once
#include <optional>
#include <vector>

#include "study/joint.hpp"

/// What the files of the joint study share.
namespace airtally::study {

/// The line's question, looked up once: where the joint is, what the tube is, what a placement takes.
struct JointJob {
  std::vector<std::size_t> at;                  ///< elements
  bool own_tube = false;                        ///< the line has a tube there, not a joint
  line::Element tube;                           ///< the twisted tube as an element
  TurningJob turning;                           ///< with the limit of the tube
  double carry = 0.0, back = 0.0, other = 0.0;  ///< [s]
  std::vector<double> needs;                    ///< that the machine waits for, per nozzle [Pa]
  std::vector<std::string> notes;
};
JointJob joint_job(const line::Line& line, const line::Twist& twist);

/// The line with `seal` at every place; names and places stay.
line::Line with_seal(const line::Line& line, const JointJob& job, const line::Element& seal);

/// The joint that is held against the tube: the line's own, else the first of `seals` with a clearance, else the first.
std::optional<line::Element> joint_of(const line::Line& line, const JointJob& job,
                                      const std::vector<line::Seal>& seals);

/// Turns of the job with travel times scaled by `pace`; `tube`: within the tube's limit.
Turns turns_of(const JointJob& job, bool tube, double pace = 1.0);

/// Break-even over the leak of `seal`. `tube_late` [s]; `start`: where to look first, 0: at its own value.
BreakEven break_even(const line::Line& line, const JointJob& job, const line::Element& seal, double tube_late,
                     double start, bool curve);

/// Placements a second at which both cost the same; `joint_reach` and `tube_reach` [s].
std::optional<double> even_pace(const JointJob& job, double joint_reach, double tube_reach);

}  // namespace airtally::study
