#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "line/line.hpp"

namespace airtally::study {

/// The ways of losing a part.
enum class Loss {
  lift,   ///< it drops
  slide,  ///< it slips or turns on the rim
  tilt    ///< it peels off about the edge of the rim
};
inline constexpr std::array<Loss, 3> all_losses{Loss::lift, Loss::slide, Loss::tilt};
/// "lift", "slide", "tilt".
std::string_view word(Loss loss);

/// Vacuum at the mouth of a nozzle with the part on.
struct VacuumHad {
  double gap = 0.0;     ///< between part and rim [m]
  double vacuum = 0.0;  ///< [Pa]
};

/// One nozzle's holding budget. It is judged at the worst gap: the one with the least vacuum.
struct TipHold {
  std::size_t element = 0;
  double area = 0.0;                  ///< that the vacuum acts on [m2]
  std::array<double, 3> needed{};     ///< vacuum needed, per Loss [Pa]; 0 where nothing asks for it
  Loss limit = Loss::lift;            ///< the way of losing it that needs most
  double needed_vacuum = 0.0;         ///< that most [Pa]
  VacuumHad nominal, least, most;     ///< at the gap as stated, and at the worst and best end of its tolerance
  double force = 0.0;                 ///< holding force at the worst gap [N]
  double margin = 0.0;                ///< least vacuum less the needed [Pa]
  double heaviest = 0.0;              ///< heaviest part of this shape that still holds through these moves [kg]
  std::optional<double> most_lift;    ///< largest acceleration upwards that still holds [m/s2]; none: not even at rest
  std::optional<double> most_travel;  ///< the same sideways
  bool holds() const { return margin >= 0.0; }
};

/// A safety factor or friction, and where it comes from.
struct Assumption {
  std::string what;     ///< "safety lifting"
  double value = 0.0;   ///< [-]
  bool stated = false;  ///< in the file; otherwise it is common practice
};

struct Hold {
  std::vector<TipHold> tips;  ///< in line order
  std::size_t weakest = 0;    ///< index into tips: least margin
  double ambient = 0.0;       ///< [Pa]
  double mass = 0.0;          ///< of the part [kg]
  line::Move move;            ///< as used
  std::vector<Assumption> factors;
  std::vector<std::string> notes;  ///< what was taken for granted
  bool holds() const { return tips.at(weakest).holds(); }
};

/// Vacuum that a nozzle needs at the stages of a pick [Pa].
struct NeededVacuum {
  double to_lift = 0.0;    ///< to take the part up, with safety
  double to_travel = 0.0;  ///< through all its moves, with safety
  double to_rest = 0.0;    ///< to carry its bare weight: below this it drops
};

/// What the part asks of nozzle element `nozzle`. Solves nothing. Throws BadInput as hold() does.
NeededVacuum needed_vacuum(const line::Line& line, std::size_t nozzle);

/// Solves the line with the part on every nozzle, at the nominal gap and at both ends of its tolerance, and holds it
/// against what the part and its moves need (laws/holding.hpp). Everything else of the line stands at its nominal
/// value. Throws BadInput (no [part]; seal = "rim" without a rim), NoConvergence.
Hold hold(const line::Line& line);

}  // namespace airtally::study
