#pragma once
#include <string>
#include <vector>

#include "report/page/findings.hpp"
#include "report/page/markup.hpp"
#include "report/page/picture.hpp"

/// The parts of a page that are words.
namespace airtally::report::page {

/// The answer: which element, what mending it brings, what to do next, the cautions.
void write_answer(Markup& out, const Findings& found, const Units& units);
/// What the readings say beyond their picture: set aside, look-alikes, next tests.
void write_hunt_words(Markup& out, const Findings& found, const Units& units);
/// That the samples of a hunt that has not converged are too few, or don't agree, to be sure of its figures.
std::string rough_samples(const hunt::Hunt& hunt);
/// Warnings, what was taken for granted, notes of the studies.
void write_minded(Markup& out, const Findings& found, const Units& units);
/// How to read the numbers.
void write_how_to_read(Markup& out);

/// A list of sentences, nothing where there are none.
void write_list(Markup& out, const std::vector<std::string>& sentences, std::string_view tag = "ul");

}  // namespace airtally::report::page
