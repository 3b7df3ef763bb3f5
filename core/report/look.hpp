#pragma once
#include <optional>
#include <string>
#include <vector>

#include "report/style.hpp"
#include "units/unit.hpp"

namespace airtally::report {

/// How one person wants to see an answer.
struct Look {
  Style style;  ///< how text is dressed
  /// Unit of every vacuum; never nullptr.
  const units::Unit* vacuum = units::find_unit("kPa", units::Dimension::pressure);
  /// "NAME=VALUE" each: what was set otherwise than in the line's file, for the commands that an answer proposes.
  std::vector<std::string> changes = {};
};

/// Numbers of one kind in one unit with one number of decimals, so that a column of them lines up.
class Scale {
 public:
  /// `unit`: of units::all_units(), which live as long as the program. `decimals`: 0 to 15.
  Scale(const units::Unit& unit, int decimals) : unit_(&unit), decimals_(decimals) {}

  /// The number [SI] alone. What is above zero but rounds to it is "<0.1", unless it is so small (a thousandth of the
  /// last digit) that it can only be rounding; what is as large as no reading ever is has four digits and then zeros.
  /// Throws DomainError for what is not finite.
  std::string number(double si) const;
  /// A change [SI]: "+" in front of what is above zero; what rounds to zero is plain zero. Throws as number().
  std::string gain(double si) const;
  /// The number with its unit. Throws as number().
  std::string text(double si) const;
  /// The unit's symbol, for the head of a column.
  std::string unit() const { return std::string(unit_->symbol); }

 private:
  std::optional<std::string> rounded(double si) const;

  const units::Unit* unit_;
  int decimals_;
};

// Scales that suit numbers of which `largest` is the largest in size [SI].
/// Vacuum [Pa]: a tenth of a kilopascal in whatever unit was asked for, finer where all of them are small.
Scale vacuum_scale(const Look& look, double largest);
/// Flow of free air [kg/s]: L/min, or mL/min where all are below 0.1 L/min.
Scale flow_scale(double largest);
/// Leaks [kg/s], from a weeping joint to an open end: mL/min to a tenth or finer, L/min to a mL/min where one has ten.
Scale leak_scale(double largest);
/// Time [s]: us, ms or s.
Scale time_scale(double largest);
/// Current [A]: mA, to a tenth where all are below an ampere.
Scale current_scale(double largest = 0.0);

/// "at most 0.03 kPa", or of "<0.1 kPa" "below 0.1 kPa".
std::string at_most(const std::string& number);

/// One vacuum [Pa] for a sentence, in the look's unit. Throws, as the next two, DomainError for what is not finite.
std::string vacuum(const Look& look, double pa);
/// One flow of free air [kg/s] for a sentence: "6.02 L/min"; "<0.001 mL/min" of what is above zero and below that.
std::string flow(double kg_per_s);
/// One time [s] for a sentence: "120 ms".
std::string time(double seconds);

}  // namespace airtally::report
