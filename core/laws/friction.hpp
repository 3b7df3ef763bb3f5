#pragma once

namespace airtally::laws {

/// Friction of a round duct in the form that stays finite at rest: `g` = f Re, and its slopes.
struct Friction {
  double g;        ///< f Re [-]; 64/(1 + 8 Kn) in laminar flow
  double dg_dre;   ///< slope with the Reynolds number [-]
  double dg_dkn;   ///< slope with the Knudsen number [-]
  double dg_dlne;  ///< slope with the logarithm of the relative roughness [-]; 0 at a smooth wall
};

/// Below this value of Re (1 + 8 Kn) the turbulent part of Churchill's formula is less than 1e-16 of the laminar one:
/// below rounding (it goes as Re^36 and is 2e-14 of it at Re = 1000) [-].
inline constexpr double surely_laminar = 850.0;

/// Darcy friction factor f times Reynolds number by Churchill's formula over all regimes:
///
///   f = 8 [ (8/(Re s))^12 + (A + B)^-1.5 ]^(1/12),   s = 1 + 8 Kn
///   A = (2.457 ln(1/((7/Re)^0.9 + 0.27 e)))^16,      B = (37530/Re)^16
///
/// `reynolds` Re >= 0, `relative_roughness` e = eps/D in 0 to 0.1, `knudsen` Kn >= 0 on the bore (first-order slip, on
/// the laminar term only: a turbulent layer that slip could touch would be thinner than the mean free path).
/// Valid: within 3.5 % of Colebrook's formula for Re 4000 to 1e6 and e to 0.01; between Re 2000 and 4000 nothing is
/// better than a guess, this one is at least smooth.
/// Throws: DomainError outside those ranges or for Re above 1e12.
/// Source: Churchill, Chem. Eng., 7 Nov 1977, p. 91; slip: text-book first order, from memory.
/// Tested by tests/laws/friction_test.cpp and tests/literature/friction_test.cpp.
Friction churchill(double reynolds, double relative_roughness, double knudsen = 0.0);

}  // namespace airtally::laws
