#pragma once

namespace airtally::laws {

/// A round elastic tube.
struct ElasticTube {
  double bore = 0.0;      ///< inner diameter [m] > 0
  double wall = 0.0;      ///< its thickness [m] > 0
  double length = 0.0;    ///< that twists [m] > 0
  double modulus = 0.0;   ///< Young's modulus [Pa] > 0
  double poisson = 0.45;  ///< Poisson's ratio [-], 0 to 0.5; 0.45: soft tube, common practice, no source
};

/// J of a ring [m4]: pi/32 (D^4 - d^4), D = d + 2 wall. Throws DomainError for a tube that is none: a dimension or
/// modulus that is not positive, Poisson's ratio outside 0 to 0.5.
double polar_moment(const ElasticTube& tube);

/// A tube twisted along its axis.
struct Torsion {
  double torque = 0.0;     ///< that holds it so [N m], of the sign of the angle
  double stiffness = 0.0;  ///< d torque/d angle [N m/rad]
  double strain = 0.0;     ///< shear strain at its outer surface [-] >= 0
};

/// Saint-Venant's torsion of a thick round tube, one end held, the other turned by `angle` [rad]:
///
///   T = G J angle/L,   gamma = R |angle|/L,   G = E/(2 (1 + nu)),   R the outer radius
///
/// Exact for a straight elastic tube at small strain; rubber is a little softer beyond a strain of 0.3 or so. Not
/// modelled: creep and warming of a tube that is twisted to and fro, the pull that a twisted soft tube exerts along its
/// axis, a tube that is not straight. A tube that is free to leave its axis forms a loop instead of twisting on.
/// Throws DomainError for a tube that is none. Source: any text on the strength of materials (J and T read in a worked
/// example, tests/literature/torsion_test.cpp). Tested by tests/laws/torsion_test.cpp.
Torsion torsion(const ElasticTube& tube, double angle);

/// Shortest length that keeps the surface strain at `strain` [-] > 0 when twisted by `angle` [rad]: R |angle|/strain
/// [m]. Throws DomainError for a tube that is none or a strain that is not positive.
double shortest_twisted(const ElasticTube& tube, double angle, double strain);

/// Vacuum inside at which a long round tube flattens by itself [Pa]: E/(4 (1 - nu^2)) (t/r)^3, r the middle of the
/// wall. Throws DomainError for a tube that is none. Source: ring under uniform pressure in plane strain, Timoshenko
/// and Gere, Theory of Elastic Stability (from memory).
double flattening_vacuum(const ElasticTube& tube);

/// Radius of the tube's axis [m] at which it kinks flat when bent, with `vacuum` [Pa] >= 0 inside:
///
///   rho = 3 r^2 sqrt(1 - nu^2)/(sqrt(2) t sqrt(1 - vacuum/p_cr)),   p_cr of flattening_vacuum()
///
/// where the bending moment that flattening leaves is largest; infinite at p_cr and beyond. For thin walls; a tube with
/// t/r above 0.2 or so stands tighter bends than this says. Source: Brazier, Proc. R. Soc. Lond. A 116 (1927) 104
/// (formula from memory, derived anew in docs/joint.md, there with the vacuum's work added). Throws DomainError for a
/// tube that is none or a negative vacuum.
double flattening_bend(const ElasticTube& tube, double vacuum);

}  // namespace airtally::laws
