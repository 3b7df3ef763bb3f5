#include "units/show.hpp"

#include <catch2/catch.hpp>
#include <clocale>
#include <cmath>
#include <limits>
#include <random>

#include "errors.hpp"
#include "units/parse.hpp"

using namespace airtally::units;

TEST_CASE("a value is shown in the unit asked for with fixed decimals", "[units]") {
  CHECK(show(52340.0, "kPa", 1) == "52.3 kPa");
  CHECK(show(52340.0, "inHg", 2) == "15.46 inHg");
  CHECK(show(1.185 / 60e3 * 3.1, "L/min", 2) == "3.10 L/min");
  CHECK(show(294.15, "C", 0) == "21 C");
  CHECK(show(0.184, "%", 1) == "18.4 %");
  CHECK(show(0.184, "", 2) == "0.18");
  CHECK(show(19.6133, *find_unit("g", Dimension::acceleration), 1) == "2.0 g");
}

TEST_CASE("minus zero is never shown", "[units]") {
  CHECK(show(-0.0, "kPa", 1) == "0.0 kPa");
  CHECK(show(-4.0, "kPa", 2) == "0.00 kPa");
  CHECK(show(-6.0, "kPa", 2) == "-0.01 kPa");
  CHECK(show_significant(-0.0, "mm", 3) == "0 mm");
  CHECK(show_fitting(-0.0, Dimension::length, 3) == "0 mm");
}

TEST_CASE("significant digits round up into the next power of ten", "[units]") {
  CHECK(show_significant(0.0042, "mm", 3) == "4.20 mm");
  CHECK(show_significant(0.009996, "mm", 3) == "10.0 mm");
  CHECK(show_significant(12.345, "mm", 3) == "12300 mm");
  CHECK(show_significant(-12.345, "mm", 2) == "-12000 mm");
  CHECK(show_significant(1.2e-12, "mm", 2) == "1.2e-09 mm");
  CHECK(show_significant(1.2e13, "mm", 2) == "1.2e+16 mm");
}

TEST_CASE("the fitting unit keeps the number easy to read", "[units]") {
  CHECK(show_fitting(35e-6, Dimension::length, 3) == "35.0 um");
  CHECK(show_fitting(80e-9, Dimension::length, 2) == "80 nm");
  CHECK(show_fitting(4e-3, Dimension::length, 2) == "4.0 mm");
  CHECK(show_fitting(0.8, Dimension::length, 3) == "800 mm");
  CHECK(show_fitting(1.25, Dimension::length, 3) == "1.25 m");
  CHECK(show_fitting(6e-6, Dimension::volume, 2) == "6.0 mL");
  CHECK(show_fitting(2e-8, Dimension::volume, 2) == "20 mm3");
  CHECK(show_fitting(1.185 / 60e3 * 0.1, Dimension::flow, 3) == "0.100 L/min");
  CHECK(show_fitting(1.185 / 60e3 * 0.099, Dimension::flow, 2) == "99 mL/min");
  CHECK(show_fitting(0.0123, Dimension::time, 3) == "12.3 ms");
  CHECK(show_fitting(0.9996e-3, Dimension::time, 3) == "1.00 ms");
  CHECK(show_fitting(150.0, Dimension::time, 2) == "2.5 min");
  CHECK(show_fitting(52340.0, Dimension::pressure, 3) == "52.3 kPa");
  CHECK(show_fitting(-52340.0, Dimension::pressure, 3) == "-52.3 kPa");
  CHECK(show_fitting(12e-6, Dimension::mass, 2) == "12 mg");
  CHECK(show_fitting(0.3e-8, Dimension::conductance, 2) == "0.30 dm3/(s bar)");
}

TEST_CASE("what is shown reads back to within its rounding", "[units][property]") {
  std::mt19937_64 random(99);
  std::uniform_real_distribution<double> power(-9.0, 3.0);
  for (int d = 0; d <= static_cast<int>(Dimension::warming); ++d) {
    const auto dimension = static_cast<Dimension>(d);
    if (dimension == Dimension::temperature) continue;  // counts digits of Celsius, not of the kelvins compared here
    for (int i = 0; i < 100; ++i) {
      const double si = std::pow(10.0, power(random));
      const std::string text = show_fitting(si, dimension, 6);
      CAPTURE(text, si);
      CHECK(std::abs(parse(text, dimension).value - si) <= 5.01e-6 * si);
    }
  }
}

TEST_CASE("showing doesn't depend on the locale", "[units]") {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) != nullptr) break;
  }
  const std::string fixed = show(52340.0, "kPa", 1);
  const std::string fitting = show_fitting(4.5e-3, Dimension::length, 2);
  std::setlocale(LC_ALL, before.c_str());
  CHECK(fixed == "52.3 kPa");
  CHECK(fitting == "4.5 mm");
}

TEST_CASE("what isn't finite, or no unit, can't be shown", "[units][errors]") {
  using airtally::DomainError;
  CHECK_THROWS_AS(show(std::numeric_limits<double>::quiet_NaN(), "kPa", 1), DomainError);
  CHECK_THROWS_AS(show(std::numeric_limits<double>::infinity(), "kPa", 1), DomainError);
  CHECK_THROWS_AS(show(1e308, "um", 1), DomainError);
  CHECK_THROWS_AS(show_fitting(std::numeric_limits<double>::quiet_NaN(), Dimension::time, 3), DomainError);
  CHECK_THROWS_WITH(show(1.0, "furlong", 1), "show: 'furlong' is not a unit.");
}
