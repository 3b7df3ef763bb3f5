#pragma once
#include "line/element.hpp"
#include "read/table_reader_private.hpp"

/// What the files of core/read that read elements share, a function per subject.
namespace airtally::read {

/// The element that `table` describes; `assumed` is left to the owner of the table. `site_pressure` [Pa] bounds the
/// vacuum of a rated leak.
line::Element read_element(TableReader& table, const std::string& name, line::Kind kind, double site_pressure);

/// `leak`, one or several.
std::vector<line::Leak> read_leaks(TableReader& table, double site_pressure);
/// The keys of a rated leak inside `table`: rated, at, law.
line::RatedLeak read_rated_leak(TableReader& table, double site_pressure);

/// What air runs through, for kinds that have such a thing.
line::Restriction read_restriction(TableReader& table, line::Kind kind);
/// conductance and critical-ratio.
line::Iso read_iso(TableReader& table);

/// The curve and the other keys of a pump or an ejector.
line::Pump read_source(TableReader& table, line::Kind kind);

/// What only a valve has: times, vent, state.
line::Valve read_valve(TableReader& table);

}  // namespace airtally::read
