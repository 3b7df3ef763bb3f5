#pragma once

namespace airtally::laws {

/// Friction of a round duct in the form that stays finite at rest: `g` = f Re, and its slope with Re.
struct Friction {
  double g;       ///< f Re [-]; 64 / (1 + 8 Kn) in laminar flow
  double dg_dre;  ///< [-]
  double dg_dkn;  ///< slope with the Knudsen number [-]
};

/// Darcy friction factor times Reynolds number by Churchill's formula over all regimes, with the first-order slip factor
/// on its laminar term.
Friction churchill(double reynolds, double relative_roughness, double knudsen = 0.0);

}  // namespace airtally::laws
