#pragma once
#include <optional>
#include <string>
#include <vector>

#include "errors.hpp"
#include "hunt/readings/reading.hpp"
#include "line/notes.hpp"
#include "line/topology.hpp"

namespace airtally::hunt {

/// Finds in a line what was written down at the bench. What is not there becomes a complaint. The line must outlive it.
class Noted {
 public:
  /// Complaints go to `complaints`, which must outlive it too.
  Noted(const line::Line& line, std::vector<Complaint>& complaints);

  /// The element of that name, written at `at`: an index into the line; none, and a complaint, where there is none.
  std::optional<std::size_t> element(const std::string& name, const Position& at);
  /// What was done to the line: names found, tips that are not told of in their usual state.
  Setting setting(const line::Note& note);
  /// Whether that element, an index into the line, is on the line in that setting.
  bool on(const Setting& setting, std::size_t element) const;
  /// What was taken off in it, for a sentence: "capped behind 'filter'", "without 'hose 1'".
  std::string done(const Setting& setting) const;

 private:
  std::vector<solve::TipState> tips(const line::Note& note);
  void take_off(const line::Note& note, Setting& setting);
  void complain(const Position& at, std::string sentence) { complaints_->push_back({at, std::move(sentence)}); }

  const line::Line* line_;
  std::vector<Complaint>* complaints_;
  line::Topology topology_;
  std::vector<std::size_t> nozzles_;
};

}  // namespace airtally::hunt
