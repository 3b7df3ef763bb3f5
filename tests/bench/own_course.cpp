#include "peers.hpp"
#include "solve/integrate.hpp"
#include "solve/isothermal.hpp"

namespace airtally::bench {

Course own(solve::Network network, const Task& task) {
  const double ambient = network.ambient;
  const std::size_t n = network.nodes.size();
  solve::Isothermal system(std::move(network));
  std::vector<double> x = system.state(solve::Pressures(n, ambient));
  std::vector<double> between(x.size());
  Course course;
  const solve::IntegrationReport report = solve::integrate(
      system, x, 0.0, task.times.back(), {1e4 * task.relative, task.relative}, [&](const solve::StepView& step) {
        while (course.tip.size() < task.times.size() && task.times[course.tip.size()] <= step.end) {
          step.at(task.times[course.tip.size()], between);
          course.tip.push_back(between[static_cast<std::size_t>(task.tip)]);
        }
        return true;
      });
  course.steps = report.steps;
  course.evaluations = system.evaluations();
  return course;
}

}  // namespace airtally::bench
