#include "units/dimension.hpp"

#include <array>
#include <cstddef>

namespace airtally::units {
namespace {

struct Words {
  std::string_view name;
  std::string_view with_article;
  std::string_view example;
};

// In the order of the enumeration.
constexpr std::array<Words, 23> dimension_words{{
    {"a ratio", "a plain number", "0.35"},
    {"length", "a length", "4 mm"},
    {"pressure", "a pressure", "60 kPa"},
    {"flow", "a flow", "6 L/min"},
    {"volume", "a volume", "6 mL"},
    {"mass", "a mass", "12 mg"},
    {"time", "a time", "8 ms"},
    {"angle", "an angle", "90 deg"},
    {"current", "a current", "210 mA"},
    {"voltage", "a voltage", "12 V"},
    {"sonic conductance", "a sonic conductance", "0.30 dm3/(s bar)"},
    {"acceleration", "an acceleration", "5 m/s2"},
    {"temperature", "a temperature", "21 C"},
    {"force", "a force", "20 mN"},
    {"torque", "a torque", "3 mN m"},
    {"speed", "a speed", "200 mm/s"},
    {"angular speed", "an angular speed", "60 rpm"},
    {"angular acceleration", "an angular acceleration", "50 rad/s2"},
    {"frequency", "a frequency", "50 Hz"},
    {"moment of inertia", "a moment of inertia", "20 g cm2"},
    {"resistance", "a resistance", "10 kohm"},
    {"density", "a density", "1200 kg/m3"},
    {"change of temperature", "a change of temperature", "0.5 K"},
}};

const Words& words_of(Dimension dimension) { return dimension_words[static_cast<std::size_t>(dimension)]; }

}  // namespace

std::string_view name_of(Dimension dimension) { return words_of(dimension).name; }
std::string_view name_with_article(Dimension dimension) { return words_of(dimension).with_article; }
std::string_view example_of(Dimension dimension) { return words_of(dimension).example; }

}  // namespace airtally::units
