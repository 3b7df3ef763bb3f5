#pragma once
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "line/seat.hpp"
#include "solve/network.hpp"

namespace airtally::study {

/// The ways of losing a part.
enum class Loss {
  lift,   ///< it drops
  slide,  ///< it slips or turns on the rim
  tilt    ///< it peels off about the edge of the rim
};
/// All of them, in the order of the enumeration, which is that of TipHold::needed.
inline constexpr std::array<Loss, 3> all_losses{Loss::lift, Loss::slide, Loss::tilt};
/// "lift", "slide", "tilt".
std::string_view word(Loss loss);

/// Vacuum at the mouth of a nozzle with the part on.
struct VacuumHad {
  double gap = 0.0;     ///< between part and rim [m] >= 0
  double vacuum = 0.0;  ///< at the mouth [Pa]
};

/// One nozzle's holding budget. It is judged at the worst gap: the one with the least vacuum.
struct TipHold {
  std::size_t element = 0;               ///< index into the line
  double area = 0.0;                     ///< that the vacuum acts on [m2] > 0
  std::array<double, 3> needed{};        ///< vacuum needed, per Loss [Pa]; 0 where nothing asks for it
  Loss limit = Loss::lift;               ///< the way of losing it that needs most
  double needed_vacuum = 0.0;            ///< that most [Pa]
  VacuumHad nominal,                     ///< at the gap as stated
      least,                             ///< at the worst end of its tolerance, the widest gap
      most;                              ///< at the best end, the narrowest
  double force = 0.0;                    ///< holding force at the worst gap [N]
  double margin = 0.0;                   ///< least vacuum less the needed [Pa]; below 0: it is lost
  line::Seat seat = line::Seat::closed;  ///< any other: the mouth stays open and has no vacuum
  std::string why_not_closed;            ///< what is wrong with that seat (seat.hpp); empty where it is closed
  double heaviest = 0.0;                 ///< heaviest part of this shape that still holds through these moves [kg]
  /// Largest acceleration upwards that still holds [m/s2]; none: not even without any.
  std::optional<double> most_lift;
  std::optional<double> most_travel;  ///< the same sideways [m/s2]
  /// Whether the part closes it and it has what is needed at the worst gap.
  bool holds() const { return seat == line::Seat::closed && margin >= 0.0; }
  /// As asked; a part that does not close its nozzle leaves it open.
  solve::TipState state = solve::TipState::part;
  bool judged = true;  ///< false: asked to be without a part, so there is nothing for it to hold
};

/// A safety factor or friction, and where it comes from.
struct Assumption {
  std::string what;     ///< "safety lifting", "safety sideways" or "friction"
  double value = 0.0;   ///< [-]
  bool stated = false;  ///< in the file; otherwise it is common practice
};

/// The holding budget of a line.
struct Hold {
  std::vector<TipHold> tips;        ///< in line order
  std::size_t weakest = 0;          ///< index into tips: of those that are judged the first of least margin
  double ambient = 0.0;             ///< of the site [Pa, absolute]
  double mass = 0.0;                ///< of the part [kg]
  line::Move move;                  ///< as used
  std::vector<Assumption> factors;  ///< the three of them
  std::vector<std::string> notes;   ///< what was taken for granted, a sentence each
  /// Whether every tip holds that is judged.
  bool holds() const { return tips.at(weakest).holds(); }
};

/// Vacuum that a nozzle needs at the stages of a pick [Pa].
struct NeededVacuum {
  double to_lift = 0.0;    ///< to take the part up, with safety [Pa]
  double to_travel = 0.0;  ///< through all its moves, with safety [Pa]
  double to_rest = 0.0;    ///< to carry its bare weight: below this it drops [Pa]
};

/// What the part asks of the nozzle `nozzle`, an index into the line. Solves nothing. Throws BadInput as hold() does.
NeededVacuum needed_vacuum(const line::Line& line, std::size_t nozzle);

/// Solves the line with the part on every nozzle, at the nominal gap and at both ends of its tolerance, and holds it
/// against what the part and its moves need (laws/holding.hpp). Everything else of the line stands at its nominal
/// value. A nozzle that the part can't close is left open. Throws BadInput (no nozzle; no [part]; seal = "rim" without
/// a rim; no tip to have a part on), NoConvergence. `tips`: one state per nozzle, "part" for what the part does; empty:
/// all of them. One that is to be open or blocked has nothing to hold and is not judged.
Hold hold(const line::Line& line, std::span<const solve::TipState> tips = {});

}  // namespace airtally::study
