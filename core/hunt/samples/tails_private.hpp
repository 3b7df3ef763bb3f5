#pragma once
#include "hunt/samples/mixture_private.hpp"
#include "hunt/samples/probe_private.hpp"

namespace airtally::hunt {

/// Places in the tails where the stand-in thinks far too little of the line, solved with slopes.
///
/// Each unknown that the readings tell of is held well up or well down from the peak, and the others follow: first as
/// the linearisation there has them give way, then by Gauss and Newton on the line itself. What comes out with mass
/// that matters, and more of it than the stand-in has there, is given back, its guess with it. Without these places a
/// tail that the stand-in cuts off is never drawn, so that no weight tells of it. Part `part` of `parts` of the
/// unknowns, for callers that share the work.
std::vector<Probe> tails(const StandIn& stand_in, const Mixture& mixture, const Eigen::VectorXd& peak,
                         Evidence& evidence, std::size_t part, std::size_t parts);

}  // namespace airtally::hunt
