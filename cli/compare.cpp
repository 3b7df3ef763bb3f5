#include "study/compare.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "progress.hpp"
#include "report/compare_text.hpp"
#include "studies.hpp"

namespace airtally::cli {
namespace {

constexpr std::size_t most_variants = 26;

struct CompareCommandOptions {
  CommonOptions common;
  std::vector<std::string> files;
  std::vector<std::string> variants;
  std::string thermal = "wall";
  StudyOptions studies;
};

/// The parts of a text between semicolons that stand in no brackets and no quotes.
std::vector<std::string> parts_of(const std::string& text) {
  std::vector<std::string> parts(1);
  int depth = 0;
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (!quoted && (c == '[' || c == '{')) ++depth;
    if (!quoted && (c == ']' || c == '}')) --depth;
    if (c == ';' && !quoted && depth <= 0)
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

/// "tight joint: rotary joint.leak.clearance=20 um; nozzle.bore=0.8 mm". Throws BadInput.
std::pair<std::string, std::vector<read::Change>> variant_of(const std::string& text) {
  const std::string place = "--variant '" + text + "'";
  const std::size_t colon = text.find(':'), equals = text.find('=');
  if (colon == std::string::npos || colon > equals || trimmed_text(text.substr(0, colon)).empty())
    throw BadInput(Position{place, 0, 0},
                   "write a name, a colon and what is set, with ';' between: "
                   "'tight joint: rotary joint.leak.clearance=20 um; nozzle.bore=0.8 mm'.");
  std::vector<read::Change> changes;
  for (const std::string& part : parts_of(text.substr(colon + 1))) {
    if (trimmed_text(part).empty()) continue;
    changes.push_back(read::change_of(trimmed_text(part)));
    changes.back().place = place;
  }
  if (changes.empty()) throw BadInput(Position{place, 0, 0}, "sets nothing behind its name.");
  return {trimmed_text(text.substr(0, colon)), changes};
}

/// The files in turn, then the variants of the first of them.
std::vector<study::Variant> variants_of(const CompareCommandOptions& options) {
  std::vector<read::Change> all;
  for (const std::string& text : options.common.sets) all.push_back(read::change_of(text));
  std::vector<study::Variant> variants;
  for (const std::string& file : options.files) {
    line::Line line = read(options.common, file, all);
    std::string name = line.title.empty() ? line.file : line.title;
    for (study::Variant& other : variants)
      if (other.name == name) {
        // Two files of one title are told apart by their names.
        name = line.file;
        if (other.name == other.line.title) other.name = other.line.file;
      }
    variants.push_back({std::move(name), std::move(line)});
  }
  for (const std::string& text : options.variants) {
    auto [name, changes] = variant_of(text);
    changes.insert(changes.begin(), all.begin(), all.end());
    variants.push_back({std::move(name), read(options.common, options.files.front(), changes)});
  }
  if (variants.size() < 2)
    throw BadInput(Position{},
                   "compare needs two or more: several line files, or one with --variant 'NAME: rotary "
                   "joint.leak.clearance=20 um'.");
  if (variants.size() > most_variants)
    throw BadInput(Position{}, "compare takes up to 26 variants; for more use --sweep of another command.");
  return variants;
}

Answer run_compare(const CompareCommandOptions& options) {
  const CommonOptions& common = options.common;
  const report::Look how = look(common);
  refuse_both(options.studies);
  study::CompareOptions asked;
  asked.thermal = thermal_of(options.thermal);
  study::SampleOptions samples = sample_options(options.studies);
  asked.threads = samples.threads;
  const std::vector<study::Variant> variants = variants_of(options);
  const study::Comparison comparison = study::compare(variants, asked);

  const bool all = options.studies.bands;
  const std::size_t inputs = options.studies.no_bands ? 0 : study::compare_inputs(variants, all).size();
  if (all && inputs == 0)
    throw BadInput(Position{},
                   "the files are sure of everything, so there are no bands; give a value a tolerance or a range, such "
                   "as --set 'part.gap=2..6 um'.");
  study::CompareBands bands;
  const double calls = static_cast<double>(samples.samples) * (1.0 + 0.25 * static_cast<double>(inputs + 2));
  if (inputs > 0 && (all || cheap(calls * study::compare_cost(variants, false))))
    bands = study::compare_bands(variants, comparison, all, samples, asked);
  reporting(common);
  return {common.json ? report::compare_json(variants, comparison, bands)
                      : report::compare_text(variants, comparison, bands, how)};
}

}  // namespace

Command add_compare(CLI::App& app) {
  CLI::App* command = app.add_subcommand("compare", "Which is better, and for what? Variants side by side");
  auto options = std::make_shared<CompareCommandOptions>();
  command->add_option("LINES", options->files, "Line files")->required()->type_name("");
  command->add_option("--variant", options->variants, "Another of the first file: \"NAME: nozzle.bore=1 mm\"")
      ->type_name("TEXT")
      ->take_all()
      ->allow_extra_args(false);
  add_dress(*command, options->common);
  add_thermal(*command, options->thermal);
  add_bands(*command, options->studies);
  command->footer(
      "--set holds for all of them; what a --variant sets, ';' between, for it alone.\n"
      "Unasked, bands are of what is quickly worked out; with --bands of all.\n"
      "Example: airtally compare lines/jewel-setter.toml lines/jewel-setter-twist.toml");
  return {command, [options] { return counted(options->common, [&] { return run_compare(*options); }); }};
}

}  // namespace airtally::cli
