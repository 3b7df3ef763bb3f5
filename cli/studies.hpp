#pragma once
#include <cstddef>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "commands.hpp"
#include "common.hpp"
#include "read/line_file.hpp"
#include "study/question.hpp"

/// Bands and sweeps, which several commands have in common.
namespace airtally::cli {

struct StudyOptions {
  bool bands = false, no_bands = false;
  std::string samples, seed, threads;
  std::vector<std::string> sweeps;
  std::string shard;
  bool csv = false;
};

inline constexpr std::size_t most_samples = std::size_t{1} << 20;  ///< lines drawn for bands
inline constexpr std::size_t most_threads = 256;

/// Adds --bands, --no-bands, --samples, --threads, --sweep, --shard and --csv; `--seed` as well where `with_seed`.
void add_studies(CLI::App& command, StudyOptions& options, bool with_seed = true);

/// Adds --bands, --no-bands, --samples and --threads; `--seed` as well where `with_seed`.
void add_bands(CLI::App& command, StudyOptions& options, bool with_seed = true);

/// Whether bands that take so many solves are given unasked.
bool cheap(double solves);
/// Throws BadInput where --bands and --no-bands are both given.
void refuse_both(const StudyOptions& options);

/// What is asked of one line.
struct Asking {
  std::function<Answer(const line::Line&)> answer;
  std::function<study::Question(const line::Line&)> question;
  /// The same for a file that was changed otherwise, where more than the line is read from it; else empty.
  std::function<Asking(const std::vector<read::Change>&)> changed = {};
  /// What a line of the question costs at least, where that is known before it is put together: Question::cost.
  double least_cost = 0.0;
};

/// The answer to the command as it was typed: of the line alone, with its bands, or of every line of a sweep. Bands are
/// given when asked for, and unasked where the file is not sure of something and they cost less than a second:
/// by a count of solves, so that the same file gives the same answer on every machine. Throws BadInput, NoConvergence.
Answer answer_with_studies(const CommonOptions& common, const StudyOptions& options, const Asking& asking);

/// Adds --from, which `catalogues` reads.
void add_from(CLI::App& command, std::vector<std::string>& from, const std::string& help);
/// Folders and files to take elements from: those asked for, else the folder "catalogue" beside the line file; none
/// where there is no such folder, which means the catalogue that is part of the program.
std::vector<std::filesystem::path> catalogues(const CommonOptions& common, const std::vector<std::string>& from);

/// The samples, seed and threads asked for.
study::SampleOptions sample_options(const StudyOptions& options);

}  // namespace airtally::cli
