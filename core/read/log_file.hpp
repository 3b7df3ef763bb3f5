#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "line/log.hpp"

namespace airtally::read {

/// Reads a recorded course: a table of text whose first row names the columns with their units.
///
///   time_s, vacuum_kPa        time [ms]; pressure abs (kPa)        t/s [tab] gauge/mbar
///
/// Cells are parted by tab, semicolon or comma, whichever the first row has, in this order; numbers may have a decimal
/// comma where the comma parts no cells. The first column of a time unit and the first of a pressure unit count. A
/// column whose name says "abs" holds absolute pressure, "vac" vacuum below `ambient` [Pa], anything else pressure
/// relative to ambient, which is negative in a vacuum line. A vacuum that goes further below zero than above it
/// is taken for the latter too, with a note. Empty lines and lines that begin with # are skipped, rows with an empty
/// cell ("", "-", "nan") count as gaps.
///
/// `ambient` [Pa, absolute] > 0 of the site; `least` rows are needed. Throws BadInput, with file:line:column of every
/// trouble that has a place (five at most, and how many more rows have some): no such file, no header, no unit, a cell
/// that is no number, a time that
/// does not rise, fewer rows than that, a relative pressure that is positive, a vacuum of `ambient` or more.
///
/// Ours and not a library's: Debian 12 offers two for C and C++ (libcsv, fast-cpp-csv-parser), and neither knows of
/// units in headers, decimal commas, a separator to be found out, or the column of a bad cell, which is all there is to
/// do here. Tested by tests/read/log_file_test.cpp.
line::Log read_log(const std::filesystem::path& file, double ambient, std::size_t least = 3);
/// The same from a text; `name` stands for the file in complaints.
line::Log read_log_text(std::string_view text, const std::string& name, double ambient, std::size_t least = 3);

}  // namespace airtally::read
