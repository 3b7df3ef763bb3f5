#pragma once
#include <string>

#include "hunt/hunt.hpp"
#include "line/line.hpp"
#include "report/look.hpp"

namespace airtally::report {

/// The finding in a sentence or two: the culprit, or what stands between.
std::string hunt_verdict(const line::Line& line, const hunt::Hunt& hunt, const Look& look);
/// What is worse than the line file has it and by how much, and whether the verdict's element is; "" where nothing is
/// known. Begins with a space.
std::string not_as_filed(const line::Line& line, const hunt::Hunt& hunt, const Look& look);
/// What to do after a verdict: what to mend, and what only another design would gain. Begins with a capital.
std::string what_to_mend(const line::Line& line, const hunt::Hunt& hunt);
/// What is left of each source's curve, with nine-in-ten ranges; "" on a line without one.
std::string wear_sentence(const line::Line& line, const hunt::Hunt& hunt);
/// Which hoses, and other long bores, pass what a clearly narrower one would, and what bore that is: it may be another
/// than the file's, which is seen by looking. "" where none does, or the figures are not to be relied on.
std::string bore_sentence(const line::Line& line, const hunt::Hunt& hunt);
/// What no line can be, and so speaks against the readings or the file: a pump far above its curve, a gauge far beyond
/// its accuracy; "" where there is none.
std::string doubts_sentence(const line::Line& line, const hunt::Hunt& hunt);
/// "the gauge at the tee"
std::string dial_name(const line::Line& line, const hunt::Dial& dial);
/// "Cap the line behind the valve (1 joint) and read the gauge at the tee (expect about 54.3 kPa)."
std::string test_sentence(const line::Line& line, const hunt::NextTest& test, const Look& look);
/// What the reading of its first dial would mean, a sentence per stretch; "" where there is none.
std::string outcomes_sentence(const line::Line& line, const hunt::Hunt& hunt, const hunt::NextTest& test,
                              const Look& look);

/// A group that the readings can't tell apart, and the test that would; or what to do instead.
std::string look_alikes_sentence(const line::Line& line, const hunt::Hunt& hunt, const hunt::LookAlikes& group,
                                 const Look& look);
/// What to do where no further test would tell much more: fit a loose gauge, or take the likeliest off by itself.
std::string dead_end(const line::Line& line, const hunt::Hunt& hunt, const Look& look);
/// The test that a loose gauge would make worth more than the next one; "" where there is a gauge already, or the next
/// test tells enough, or none is left: then dead_end() has it.
std::string loose_gauge_sentence(const line::Line& line, const hunt::Hunt& hunt, const Look& look);

/// "Set aside: bench.toml:7:1: ...", where it stands and why no state of the line could give it.
std::string set_aside_sentence(const hunt::Impossible& aside);

/// The hunt as text for people, at most 80 columns wide: verdict, table, doubts, next test.
std::string hunt_text(const line::Line& line, const hunt::Hunt& hunt, const Look& look);
/// The same as JSON, format 1; docs/json.md lists the keys.
std::string hunt_json(const line::Line& line, const hunt::Hunt& hunt);

}  // namespace airtally::report
