#pragma once
#include <functional>
#include <utility>
#include <vector>

/// The flow laws once more, written from their sources for the tests alone: nothing of core is in them. They are slow
/// and plain - bisections where core has Newton's method and slopes - and so wrong in other ways if they are wrong.
namespace airtally::agreement::own {

/// Mass flow [kg/s] from end 1 to end 2, at absolute pressures [Pa].
using Flow = std::function<double(double p1, double p2)>;
/// Mass flow [kg/s] that a source takes at inlet pressure [Pa].
using Pull = std::function<double(double p)>;

/// Air at `temperature` [K].
struct Air {
  explicit Air(double temperature);
  double t, rt, mu, slip;
};

/// Isothermal duct, Churchill's friction, losses K per direction, choked where the flow is largest.
Flow duct(double bore, double length, double roughness, double k_forward, double k_back, const Air& air);
/// Fanno flow behind an isentropic inlet with entrance loss.
Flow passage(double bore, double length, double roughness, double entrance, const Air& air);
/// ISO 6358: C [m3/(s Pa)], b.
Flow iso(double c, double b, const Air& air);
Flow hole(double diameter, double discharge, const Air& air);
Flow clearance(double gap, double diameter, double length, double eccentricity, const Air& air);
Flow face_gap(double gap, double inner, double outer, const Air& air);
/// Laminar through one measured point.
Flow rated(double m, double p1, double p2);
/// Orifice-like through one measured point, b = 0.528, with air at 20 C.
Flow rated_orifice(double m, double p1, double p2, const Air& air);
/// A conductance one way, beyond a drop of `cracking`.
Flow one_way(double c, double b, double cracking, const Air& air);
/// A pump of two or three points (vacuum [Pa], flow [kg/s]) at a site.
Pull pump(std::vector<std::pair<double, double>> points, double speed, double ambient, double temperature);

}  // namespace airtally::agreement::own
