#include "bench.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>

#include "hunt/logs/look_up.hpp"
#include "output.hpp"
#include "read/line_file.hpp"
#include "read/named_file.hpp"
#include "read/readings_file.hpp"
#include "report/hunt_text.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "toml_text.hpp"
#include "units/parse.hpp"
#include "units/show.hpp"

namespace airtally::cli {
namespace {

constexpr std::string_view caution =
    "Before you reach in: stop the machine and lock out its moving axes, shut off blow-off air and let it out, let a "
    "hot pump cool; use a plug, not a thumb, and never point air at skin.";
constexpr std::string_view how_to =
    "Type the reading with its unit, such as 52.3 kPa; 'skip' for another test, 'none' if there is no such "
    "instrument, 'show' for all that is known, 'stop' to end. Every reading is saved at once.";

std::string reading_text(const line::Line& line, const hunt::NextTest& test, const hunt::Dial& dial,
                         const std::string& typed) {
  std::string out = "\n[[reading]]\n";
  if (test.setting.cap) out += "cap = " + toml_text(line.elements[*test.setting.cap].name) + '\n';
  if (!test.setting.cap)
    out += fmt::format("tip = \"{}\"\n", report::word(std::span<const solve::TipState>(test.setting.tips)));
  if (test.setting.hole > 0.0) out += fmt::format("hole = \"{}\"\n", units::show(test.setting.hole, "mm", 2));
  if (dial.instrument != hunt::Instrument::plugged) out += "at = " + toml_text(line.elements[dial.at].name) + '\n';
  const char* key = dial.instrument == hunt::Instrument::vacuum    ? "vacuum"
                    : dial.instrument == hunt::Instrument::plugged ? "plug-vacuum"
                    : dial.instrument == hunt::Instrument::current ? "current"
                                                                   : "flow";
  return out + fmt::format("{} = {}\n", key, toml_text(typed));
}

units::Dimension dimension_of(hunt::Instrument instrument) {
  return is_gauge(instrument)                      ? units::Dimension::pressure
         : instrument == hunt::Instrument::current ? units::Dimension::current
                                                   : units::Dimension::flow;
}

class Session {
 public:
  Session(line::Line line, const std::string& save, hunt::HuntOptions options, const report::Look& look)
      : line_(std::move(line)), options_(std::move(options)), look_(look) {
    const std::filesystem::path at(line_.file);
    file_ = save.empty() ? at.parent_path() / (at.stem().string() + ".readings.toml") : std::filesystem::path(save);
    if (std::filesystem::exists(file_)) {
      notes_ = read::read_readings(file_);
      read::read_logs(notes_, line_.site);
      std::ifstream in(file_, std::ios::binary);
      text_.assign(std::istreambuf_iterator<char>(in), {});
      write_out(
          fmt::format("Going on with {} from {}.\n", report::counted(notes_.list.size(), "reading"), file_.string()));
    } else {
      text_ = "format = 1\nline = " + toml_text(read::name_for(file_, at)) + '\n';
    }
    options_.next = 1000;
  }

  /// A loose gauge is at hand, good to what is common unless the saved readings say more.
  void add_plug_gauge() { plug_gauge_ = true; }

  void run() {
    write_out(report::paragraph(caution) + '\n' + report::paragraph(how_to) + '\n');
    for (;;) {
      hunt::Readings readings = hunt::look_up(line_, {notes_});
      if (plug_gauge_ && !readings.bench.plug_gauge) readings.bench.plug_gauge = hunt::Meter{};
      hunt::Hunt found = hunt::hunt(line_, readings, options_);
      for (const hunt::Impossible& aside : found.set_aside)
        write_out(report::paragraph("Set aside: " + aside.sentence));
      write_out(report::paragraph(report::hunt_verdict(line_, found, look_)) + '\n');
      // What is only likely by the file is no verdict: the suspect itself is put on the line first.
      const bool tested = !found.prior_only && !found.elements.front().only_prior;
      const bool sure = hunt::verdict(found) == hunt::Verdict::sure;
      const bool worth = hunt::further_test(found);
      if (!sure && !tested && !worth) put_first(found, found.elements.front().element);
      if (!sure && tested && !worth && found.with_plug_gauge) {
        write_out(
            report::paragraph("No further test with the instruments of this line would tell much more. A loose "
                              "gauge in the plug would; say 'none' if there is none."));
        found.next = {*found.with_plug_gauge};
      } else if (sure || found.next.empty() || (tested && !worth)) {
        write_out(report::paragraph(sure ? "That is enough: mend it, and see whether the tip gains what is promised."
                                         : report::dead_end(line_, found, look_)));
        return;
      }
      if (!take(found)) {
        write_out(report::paragraph("Stopped. The readings are in " + file_.string() + "."));
        return;
      }
    }
  }

 private:
  static void put_first(hunt::Hunt& found, std::size_t element) {
    const auto test = std::find_if(found.next.begin(), found.next.end(), [&](const hunt::NextTest& t) {
      return t.setting.cap == element && t.setting.hole == 0.0;
    });
    if (test != found.next.end()) std::rotate(found.next.begin(), test, test + 1);
  }

  /// Proposes tests until one is made. False when the person stops or the input ends.
  bool take(const hunt::Hunt& found) {
    for (std::size_t k = 0;; ++k) {
      const hunt::NextTest& test = found.next[k % found.next.size()];
      propose(test);
      bool changed = false, skipped = false;
      for (std::vector<hunt::Dial> left = test.dials; !left.empty() && !skipped;) {
        if (test.dials.size() > 1) write_out(report::capital(report::dial_name(line_, left.front())) + ' ');
        write_out("> ");
        std::string typed;
        if (!std::getline(std::cin, typed)) {
          write_out("\n");
          return false;
        }
        while (!typed.empty() && (typed.back() == ' ' || typed.back() == '\r')) typed.pop_back();
        if (typed == "stop" || typed == "quit" || typed == "q") return false;
        if (typed == "show") {
          write_out(report::hunt_text(line_, found, look_));
        } else if (typed == "skip") {
          skipped = true;
        } else if (typed == "none") {
          options_.without.emplace_back(left.front().instrument, left.front().at);
          write_out(report::paragraph("Then no test asks for " + report::dial_name(line_, left.front()) + "."));
          left.erase(left.begin());
          changed = true;
        } else if (!typed.empty()) {
          const auto dial = meant(left, typed);
          if (!note(test, *dial, typed)) continue;
          left.erase(dial);
          changed = true;
        }
      }
      if (changed) return true;
    }
  }

  /// The dial that what was typed has the unit of: who reads two types them in any order. Or else the one asked for.
  static std::vector<hunt::Dial>::iterator meant(std::vector<hunt::Dial>& dials, const std::string& typed) {
    const auto fits = [&](const hunt::Dial& dial) {
      try {
        units::parse(typed, dimension_of(dial.instrument));
        return true;
      } catch (const units::UnitError&) {
        return false;
      }
    };
    const auto dial = std::find_if(dials.begin(), dials.end(), fits);
    return dial == dials.end() ? dials.begin() : dial;
  }

  void propose(const hunt::NextTest& test) const {
    write_out(report::paragraph(report::test_sentence(line_, test, look_)) +
              report::paragraph(report::outcomes_sentence(line_, test, look_), 80, 4));
  }

  /// Takes a reading and saves it. False, with the reason said, when it can't be taken.
  bool note(const hunt::NextTest& test, const hunt::Dial& dial, const std::string& typed) {
    try {
      units::parse(typed, dimension_of(dial.instrument));
    } catch (const units::UnitError& error) {
      write_out(report::paragraph(error.what()));
      return false;
    }
    const std::string longer = text_ + reading_text(line_, test, dial, typed);
    try {
      line::Notes notes = read::read_readings_text(longer, file_.string());
      read::read_logs(notes, line_.site);
      notes_ = std::move(notes);
    } catch (const BadInput& error) {
      write_out(report::paragraph(report::clean(error.complaints().front().sentence)));
      return false;
    }
    text_ = longer;
    keep();
    return true;
  }

  /// Every reading reaches the disk before the next is asked for. What does not is shown, so that it can be noted.
  void keep() {
    try {
      write_file(file_, text_, "Choose another place with --save.");
    } catch (const CannotWrite&) {
      write_out("The readings could not be saved. Note them down; this is the file as it should be:\n\n" + text_);
      throw;
    }
  }

  line::Line line_;
  hunt::HuntOptions options_;
  report::Look look_;
  std::filesystem::path file_;
  std::string text_;
  line::Notes notes_;
  bool plug_gauge_ = false;
};

}  // namespace

Answer run_bench(const line::Line& line, const std::string& save, bool plug_gauge, const hunt::HuntOptions& options,
                 const report::Look& look) {
  Session session(line, save, options, look);
  if (plug_gauge) session.add_plug_gauge();
  session.run();
  return {""};
}

}  // namespace airtally::cli
