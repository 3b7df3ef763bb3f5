#pragma once
#include <string>
#include <utility>
#include <vector>

/// A small drawing of curves for docs, as SVG. Only what the pictures of physics.md need.
namespace airtally::pictures {

struct Curve {
  std::string label;  ///< stands beside its last point
  std::vector<std::pair<double, double>> points;
};

struct Axis {
  std::string label;  ///< with the unit
  double low = 0.0, high = 1.0;
  std::vector<double> ticks;
  bool logarithmic = false;
};

struct Picture {
  std::string name;  ///< of the file, without ".svg"
  std::string says;  ///< what it shows, in a sentence, for those who can't see it
  Axis x, y;
  std::vector<Curve> curves;
};

std::string svg(const Picture& picture);

/// One picture for every law, computed by the law.
std::vector<Picture> all_pictures();

}  // namespace airtally::pictures
