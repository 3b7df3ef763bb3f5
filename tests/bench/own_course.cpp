#include "peers.hpp"
#include "solve/integrate.hpp"
#include "solve/isothermal.hpp"

namespace airtally::bench {

Course own(solve::Network network, const Task& task) {
  const double ambient = network.ambient;
  const std::size_t n = network.nodes.size();
  solve::Isothermal system(std::move(network));
  solve::Pressures start(n, ambient);
  if (!task.start.empty()) start.p = task.start;
  std::vector<double> x = system.state(start);
  std::vector<double> between(x.size());
  Course course;
  const auto watch = [&](const solve::StepView& step) {
    while (course.tip.size() < task.times.size() && task.times[course.tip.size()] <= step.end) {
      step.at(task.times[course.tip.size()], between);
      course.tip.push_back(between[static_cast<std::size_t>(task.tip)]);
    }
    return true;
  };
  std::vector<double> ends = task.events;
  ends.push_back(task.times.back());
  double begin = 0.0;
  for (const double end : ends) {
    system.ramps.clear();
    for (const solve::Ramp& ramp : task.ramps)
      if (ramp.begin <= begin) system.ramps.push_back(ramp);
    course.steps += solve::integrate(system, x, begin, end, {1e4 * task.relative, task.relative}, watch).steps;
    begin = end;
  }
  course.evaluations = system.evaluations();
  return course;
}

}  // namespace airtally::bench
