#include "report/chart.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <sstream>

#include "report/width.hpp"

using namespace airtally::report;

namespace {

Chart exponential(std::size_t curves) {
  Chart chart;
  chart.x_unit = "ms";
  chart.y_unit = "kPa";
  chart.mark = 42.0;
  chart.mark_text = "settled, 42 ms";
  for (std::size_t c = 0; c < curves; ++c) {
    Curve curve{"place " + std::to_string(c), {}, {}};
    for (int k = 0; k <= 100; ++k) {
      curve.x.push_back(k);
      curve.y.push_back(60.0 * (1.0 - std::exp(-k / (14.0 + static_cast<double>(c)))));
    }
    chart.curves.push_back(curve);
  }
  return chart;
}

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> all;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) all.push_back(line);
  return all;
}

}  // namespace

TEST_CASE("a chart fits 80 columns and 16 rows, whatever it shows", "[report][property]") {
  for (const bool ascii : {false, true})
    for (const double mark : {0.0, 42.0, 99.9}) {
      Chart chart = exponential(1);
      chart.mark = mark;
      const auto all = lines(draw(chart, {.ascii = ascii}));
      CHECK(all.size() == 16);
      for (const std::string& line : all) {
        CAPTURE(line, mark);
        CHECK(width(line) <= 80);
        if (ascii) CHECK(std::all_of(line.begin(), line.end(), [](char c) { return c >= ' ' && c <= '~'; }));
      }
    }
}

TEST_CASE("the settle moment stands under its time", "[report][closed-form]") {
  const auto all = lines(draw(exponential(1), {.ascii = true}));
  const std::size_t axis = all[13].find('+');  // where both axes begin
  // 42 of 100 ms on the columns to the right of the axis.
  const double wide = static_cast<double>(80 - axis - 1);
  CHECK(all.back().find('^') == axis + 1 + static_cast<std::size_t>(std::lround(0.42 * (wide - 1.0))));
  CHECK(all.back().find("settled, 42 ms") != std::string::npos);
  CHECK(all[1].find(':') == all.back().find('^'));
}

TEST_CASE("the curve rises from the corner and never falls", "[report][closed-form]") {
  Chart chart = exponential(1);
  chart.mark.reset();
  const auto all = lines(draw(chart, {.ascii = true}));
  std::size_t before = 0;
  for (std::size_t row = 12; row >= 1; --row) {
    const std::size_t last = all[row].find_last_of('o');
    if (last == std::string::npos) continue;
    CHECK(last > before);
    before = last;
  }
  CHECK(all[12].find('o') == all[12].find('|') + 1);
}

TEST_CASE("several curves get signs and names of their own", "[report][property]") {
  const std::string text = draw(exponential(3), {});
  for (const char* sign : {"o place 0", "x place 1", "+ place 2"}) CHECK(text.find(sign) != std::string::npos);
}

TEST_CASE("a chart of nothing, of zeros and of what is no number still draws", "[report][property]") {
  Chart chart;
  CHECK(!draw(chart, {}).empty());
  chart.curves = {{"flat", {0.0, 1.0}, {0.0, 0.0}}};
  CHECK(!draw(chart, {}).empty());
  chart.curves = {{"broken", {0.0, 1.0, 2.0}, {0.0, std::numeric_limits<double>::quiet_NaN(), 1.0}}};
  CHECK(!draw(chart, {}).empty());
}

TEST_CASE("round steps are 1, 2 or 5 times a power of ten", "[report][closed-form]") {
  CHECK(round_step(50.0, 5) == 10.0);
  CHECK(round_step(68.0, 5) == 20.0);
  CHECK(round_step(0.7, 8) == Approx(0.1).epsilon(1e-12));
  CHECK(round_step(3.9, 8) == 0.5);
}
