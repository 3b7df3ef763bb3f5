#include "bench.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <initializer_list>
#include <iostream>
#include <optional>
#include <string_view>

#include "hunt/judgement.hpp"
#include "hunt/logs/look_up.hpp"
#include "output.hpp"
#include "progress.hpp"
#include "report/hunt_text.hpp"
#include "report/said_in.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "saved_readings.hpp"
#include "units/meant.hpp"
#include "units/parse.hpp"
#include "units/trimmed.hpp"

namespace airtally::cli {
namespace {

constexpr std::string_view caution =
    "Before you reach in: stop the machine and lock out its moving axes, shut off blow-off air and let it out, let a "
    "hot pump cool; use a plug, not a thumb, and never point air at skin.";
constexpr std::string_view how_to =
    "Type the reading with its unit, such as 52.3 kPa; 'skip' for another test, 'none' if there is no such "
    "instrument, 'no plate' if there are no drilled plates, 'undo' to take the last reading back, 'show' for all that "
    "is known, 'help' for these words, 'stop' to "
    "end. Every reading is saved at once.";
constexpr std::string_view help =
    "  52.3 kPa  the reading with its unit; of two instruments in either order\n"
    "  skip      another test instead of this one\n"
    "  none      there is no such instrument: no test asks for it again\n"
    "  no plate  there are no drilled plates: no test asks for one again\n"
    "  undo      takes the last reading back, out of the saved file too\n"
    "  show      all that is known so far\n"
    "  stop      ends; started again, it goes on from the readings that are saved\n"
    "  help, ?   these words\n";

units::Dimension dimension_of(hunt::Instrument instrument) {
  return is_gauge(instrument)                      ? units::Dimension::pressure
         : instrument == hunt::Instrument::current ? units::Dimension::current
                                                   : units::Dimension::flow;
}

class Session {
 public:
  /// `has`: the bench, where the saved readings don't say more; of the plates instead of what they say.
  Session(line::Line line, const std::string& save, hunt::Bench has, hunt::HuntOptions options,
          const report::Look& look)
      : line_(std::move(line)), options_(std::move(options)), look_(look), saved_(line_, save), has_(std::move(has)) {
    if (!saved_.notes().list.empty())
      write_out(fmt::format("Going on with {} from {}.\n", report::counted(saved_.notes().list.size(), "reading"),
                            report::clean(saved_.file().string())));
    options_.next = 1000;
  }

  void run() {
    write_out(report::paragraph(caution) + '\n' + report::paragraph(how_to) + '\n');
    for (;;) {
      hunt::Readings readings = hunt::look_up(line_, {saved_.notes()});
      if (!readings.bench.plug_gauge) readings.bench.plug_gauge = has_.plug_gauge;
      if (has_.plates) readings.bench.plates = has_.plates;
      hunt::Hunt found = [&] {
        const AtWork shown;
        return hunt::hunt(line_, readings, options_);
      }();
      for (const hunt::Impossible& aside : found.set_aside)
        write_out(report::paragraph("Set aside: " + report::said_in(look_, aside.sentence)));
      for (const std::string& remark : found.remarks) write_out(report::paragraph(report::said_in(look_, remark)));
      write_out(report::paragraph(report::hunt_verdict(line_, found, look_)) + '\n');
      const bool sure = hunt::verdict(found) == hunt::Verdict::sure;
      const bool worth = (!sure || hunt::still_among(found) || hunt::in_its_place(found)) && hunt::further_test(found);
      if (!sure && found.with_plug_gauge) {
        write_out(report::paragraph(
            worth ? "What this line has instruments for tells little. A loose gauge in the plug would tell more; say "
                    "'none' if there is none."
                  : "No further test with the instruments of this line would tell much more. A loose gauge in the "
                    "plug would; say 'none' if there is none."));
        found.next = {*found.with_plug_gauge};
      } else if (!worth) {
        const std::string bores = report::bore_sentence(line_, found);
        if (!bores.empty()) write_out(report::paragraph(bores));
        write_out(report::paragraph(sure ? "That is enough. " + report::what_to_mend(line_, found) +
                                               " See whether the tip gains what is promised."
                                         : report::dead_end(line_, found, look_)));
        if (taken_back_at_last()) continue;
        return;
      }
      if (!take(found)) {
        write_out(report::paragraph(saved_.notes().list.empty() ? "Stopped. No reading was taken."
                                                                : "Stopped. The readings are in " +
                                                                      report::clean(saved_.file().string()) + "."));
        return;
      }
    }
  }

 private:
  /// Proposes tests until one is made. False when the person stops or the input ends.
  bool take(const hunt::Hunt& found) {
    for (std::size_t k = 0;; ++k) {
      const hunt::NextTest& test = found.next[k % found.next.size()];
      propose(found, test);
      bool changed = false, skipped = false;
      for (std::vector<hunt::Dial> left = test.dials; !left.empty() && !skipped;) {
        if (test.dials.size() > 1) write_out(report::capital(report::dial_name(line_, left.front())) + ' ');
        write_out("> ");
        std::string typed;
        if (!std::getline(std::cin, typed)) {
          write_out("\n");
          return false;
        }
        typed = std::string(units::trimmed(typed));
        const bool ends = one_of(typed, {"stop", "quit", "q"});
        if (ends || one_of(typed, {"show", "help", "?", "skip", "none", "no plate"})) after_answer();
        if (ends) return false;
        if (typed == "show") {
          write_out(report::hunt_text(line_, found, look_));
        } else if (typed == "help" || typed == "?") {
          write_out(std::string(help));
        } else if (typed == "undo") {
          if (take_back()) return true;
        } else if (typed == "skip") {
          skipped = true;
        } else if (typed == "no plate") {
          has_.plates.emplace();
          write_out(report::paragraph("Then no test asks for a drilled plate."));
          return true;
        } else if (typed == "none") {
          options_.without.emplace_back(left.front().instrument, left.front().at);
          write_out(report::paragraph("Then no test asks for " + report::dial_name(line_, left.front()) + "."));
          left.erase(left.begin());
          changed = true;
        } else if (!typed.empty()) {
          const auto dial = meant(left, typed);
          if (!note(test, *dial, typed)) continue;
          if (dial != left.begin())
            write_out(report::paragraph("Taken as what " + report::dial_name(line_, *dial) + " shows."));
          left.erase(dial);
          changed = true;
        }
      }
      if (changed) return true;
    }
  }

  static bool one_of(const std::string& typed, std::initializer_list<std::string_view> words) {
    return std::find(words.begin(), words.end(), typed) != words.end();
  }

  /// The dial that what was typed has the unit of, or the one that comes nearest: who reads two types them in any
  /// order. Or else the one asked for.
  static std::vector<hunt::Dial>::iterator meant(std::vector<hunt::Dial>& dials, const std::string& typed) {
    std::vector<units::Dimension> dimensions;
    for (const hunt::Dial& dial : dials) dimensions.push_back(dimension_of(dial.instrument));
    return dials.begin() + static_cast<std::ptrdiff_t>(units::meant(typed, dimensions));
  }

  /// What was typed at a terminal ends the line of its prompt; what comes through a pipe does not show. Called once
  /// what was typed is saved: who reads behind the prompt may rely on it.
  static void after_answer() {
    if (isatty(STDIN_FILENO) == 0) write_out("\n");
  }

  void propose(const hunt::Hunt& found, const hunt::NextTest& test) const {
    write_out(report::paragraph(report::test_sentence(line_, test, look_)) +
              report::paragraph(report::outcomes_sentence(line_, found, test, look_), 80, 4));
  }

  /// Takes a reading and saves it. False, with the reason said, when it can't be taken.
  bool note(const hunt::NextTest& test, const hunt::Dial& dial, const std::string& typed) {
    std::optional<std::string> trouble;
    try {
      units::parse(typed, dimension_of(dial.instrument));
      trouble = saved_.add(reading_table(line_, test, dial, typed));
    } catch (const units::UnitError& error) {
      const bool number = typed.find_first_of("0123456789") != std::string::npos;
      trouble = number ? error.what() : "'" + typed + "' is no reading and none of the words; 'help' lists them.";
    }
    after_answer();
    if (trouble) write_out(report::paragraph(report::clean(*trouble)));
    return !trouble;
  }

  /// Takes the last reading back. False, with the reason said, when it can't be.
  bool take_back() {
    if (saved_.notes().list.empty()) {
      after_answer();
      write_out(report::paragraph("There is no reading to take back."));
      return false;
    }
    const std::optional<std::string> taken = saved_.take_back();
    after_answer();
    write_out(report::paragraph(report::clean(taken ? "Taken back: " + *taken + "."
                                                    : "The last reading stands otherwise than [[reading]] in " +
                                                          saved_.file().string() + "; take it out there by hand.")));
    return taken.has_value();
  }

  /// A slip in the reading that ended the session is no reason to leave it in. False where nothing was taken back.
  bool taken_back_at_last() {
    if (saved_.notes().list.empty()) return false;
    write_out(report::paragraph("'undo' takes the last reading back; anything else ends.") + "> ");
    std::string typed;
    const bool answered = static_cast<bool>(std::getline(std::cin, typed));
    if (answered && units::trimmed(typed) == "undo") return take_back();
    if (answered)
      after_answer();
    else
      write_out("\n");
    return false;
  }

  line::Line line_;
  hunt::HuntOptions options_;
  report::Look look_;
  SavedReadings saved_;
  hunt::Bench has_;
};

}  // namespace

Answer run_bench(const line::Line& line, const std::string& save, const hunt::Bench& has,
                 const hunt::HuntOptions& options, const report::Look& look) {
  Session session(line, save, has, options, look);
  session.run();
  return {""};
}

}  // namespace airtally::cli
