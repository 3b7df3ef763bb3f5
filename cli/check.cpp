#include "study/check.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <optional>
#include <tuple>

#include "commands.hpp"
#include "common.hpp"
#include "gas/site.hpp"
#include "read/others_file.hpp"
#include "read/twist_file.hpp"
#include "report/json.hpp"
#include "report/text.hpp"
#include "studies.hpp"

namespace airtally::cli {
namespace {

/// All that is wrong with a file that several readers look at, each for the tables that it asks for.
class Together {
 public:
  explicit Together(std::string file) : file_(std::move(file)) {}

  /// What `reader` returns; nothing where it throws BadInput.
  template <typename Reader>
  auto ask(Reader reader) -> std::optional<decltype(reader())> {
    try {
      return reader();
    } catch (const BadInput& error) {
      const std::vector<Complaint> before = all_;  // two of one reader may well be about one place
      for (const Complaint& one : error.complaints())
        if (std::none_of(before.begin(), before.end(), [&](const Complaint& told) { return same(told, one); }))
          all_.push_back(one);
      return std::nullopt;
    }
  }

  /// Throws BadInput, in the order of the file, where there is any.
  void throw_if_any() {
    if (all_.empty()) return;
    std::stable_sort(all_.begin(), all_.end(), [this](const Complaint& a, const Complaint& b) {
      const auto place = [this](const Position& at) {
        return std::tuple(at.file != file_, at.file, at.line, at.column);
      };
      return place(a.at) < place(b.at);
    });
    throw BadInput(std::move(all_));
  }

 private:
  /// What the readers have in common, such as a mistake of TOML or of --set, is told once.
  static bool same(const Complaint& a, const Complaint& b) {
    const auto place = [](const Position& at) { return std::tie(at.file, at.line, at.column); };
    return place(a.at) == place(b.at) && (a.at.line > 0 || a.sentence == b.sentence);
  }

  std::string file_;
  std::vector<Complaint> all_;
};

Answer run_check(const CommonOptions& options) {
  const report::Look how = look(options);
  const std::vector<read::Change> changes = changes_of(options);
  const read::LineText& file = options.texts->of(options.line);
  Together together(file.name);
  const auto found_line = together.ask([&] { return read(options); });
  // What only joint and pumps ask for has to be sound as well.
  together.ask([&] { return read::read_twist(file, {}, changes); });
  const double ambient = found_line ? found_line->site.pressure : gas::Site().pressure;
  const auto found_others = together.ask([&] { return read::read_others(file, ambient, {}, changes); });
  together.throw_if_any();
  const line::Line& line = *found_line;
  const read::Others& others = *found_others;
  auto warnings = study::warnings(line);
  for (study::Warning& warning : study::misfits(line, others.parts, others.nozzles))
    warnings.push_back(std::move(warning));
  reporting(options);
  return {options.json ? report::check_json(line, warnings) : report::check_text(line, warnings, how)};
}

}  // namespace

Command add_check(CLI::App& app) {
  CLI::App* command = app.add_subcommand("check", "Is this a sound line, and what was understood?");
  auto options = std::make_shared<CommonOptions>();
  add_common(*command, *options, false);
  command->footer("Example: airtally check lines/jewel-setter.toml");
  return {command, [options] { return counted(*options, [&] { return run_check(*options); }); }};
}

}  // namespace airtally::cli
