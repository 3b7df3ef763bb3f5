#include "new.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <filesystem>
#include <iostream>
#include <map>
#include <memory>

#include "errors.hpp"
#include "new_parts.hpp"
#include "output.hpp"
#include "read/line_file.hpp"
#include "read/line_text.hpp"
#include "report/width.hpp"
#include "report/words.hpp"
#include "toml_text.hpp"

namespace airtally::cli {
namespace {

struct NewCommandOptions {
  std::string file;
  std::string title;
  std::map<std::string_view, std::string> given;  ///< by option
  bool defaults = false;
  bool force = false;
};

/// What makes a file of a text that has no element yet.
constexpr const char* bare_end = "[[element]]\nname = \"end\"\nkind = \"plug\"\n";

/// The file as it grows. What is added is read at once by the same reader that will read the file.
class Draft {
 public:
  explicit Draft(const std::string& title) {
    text_ = fmt::format(
        "# A pick-up line, from the pump to the part. Every value has its unit and may have a tolerance\n"
        "# (\"4 mm +- 0.1 mm\") or a range (\"20..45 um\"). docs/line-format.md has every key.\n"
        "format = 1\ntitle = {}\n",
        toml_text(title));
  }

  /// Adds what an answer said, or returns what is wrong with it.
  std::string add(const NewPart& part, const std::string& answer,
                  const std::vector<const read::CatalogueEntry*>& list) {
    const Written written = write_part(part, answer, list);
    if (!written.trouble.empty()) return written.trouble;
    if (written.toml.empty()) return "";
    std::string longer = text_ + written.toml;
    if (const std::size_t place = longer.find("at = \"?\""); place != std::string::npos) {
      const bool tee = longer.find("name = \"gauge tee\"") != std::string::npos;
      longer.replace(place, 8, tee ? "at = \"gauge tee\"" : "at = \"pump\"");
    }
    try {
      // A file needs an element before its site is all it has.
      const bool bare = longer.find("[[element]]") == std::string::npos;
      read::read_line_text(bare ? longer + bare_end : longer, "new");
    } catch (const BadInput& error) {
      return error.complaints().front().sentence;
    }
    text_ = std::move(longer);
    return "";
  }

  const std::string& text() const { return text_; }

  /// Whether the title can stand in a file: all else in the text is ours.
  bool readable() const {
    try {
      read::read_line_text(text_ + bare_end, "new");
    } catch (const BadInput&) {
      return false;
    }
    return true;
  }

 private:
  std::string text_;
};

std::string question(const NewPart& part, const std::vector<const read::CatalogueEntry*>& list) {
  std::string out = "\n" + std::string(part.asks) + '\n';
  std::size_t longest = 0;
  for (const read::CatalogueEntry* entry : list) longest = std::max(longest, entry->name.size());
  for (std::size_t k = 0; k < list.size(); ++k) {
    const std::string head = fmt::format(" {:>2}  {:<{}}  ", k + 1, list[k]->name, longest);
    out += head + report::cut(choice_words(*list[k]), 80 - head.size(), "..") + '\n';
  }
  std::string how;
  if (!list.empty())
    how = part.missing.empty()
              ? "A number, or your own "
              : fmt::format("A number and the {} (3, 0.8 m), or your own ", fmt::join(part.missing, ", "));
  how += fmt::format("{}: {}", part.figures, part.example);
  if (part.may_lack && part.usual != "none") how += "; or none";
  return out + report::paragraph(report::capital(how) + '.') + fmt::format("[{}] > ", part.usual);
}

/// Questions go to where the file does not.
void say(const NewCommandOptions& options, const std::string& text) {
  if (options.file != "-") return write_out(text);
  std::fputs(text.c_str(), stderr);
}

/// Asks until the answer is understood. Throws BadInput when the answers end before a part that lines usually have.
void ask(const NewCommandOptions& options, Draft& draft, const NewPart& part,
         const std::vector<const read::CatalogueEntry*>& list) {
  say(options, question(part, list));
  for (;;) {
    std::string typed;
    if (!std::getline(std::cin, typed)) {
      say(options, "\n");
      // What only some lines have may go unasked: who answered all before these questions came is not sent back.
      if (part.usual == "none" && draft.add(part, "none", list).empty()) return;
      throw BadInput(Position{}, fmt::format("the answers ended before the question for --{}; nothing was written. "
                                             "--defaults takes the usual for whatever isn't said.",
                                             part.option));
    }
    if (isatty(STDIN_FILENO) == 0) say(options, typed + '\n');  // as a terminal would show it
    if (typed.find_first_not_of(" \t\r") == std::string::npos) typed = part.usual;
    const std::string trouble = draft.add(part, typed, list);
    if (trouble.empty()) return;
    say(options, report::paragraph(report::capital(trouble)) + "> ");
  }
}

void refuse_to_overwrite(const NewCommandOptions& options) {
  if (options.file != "-" && std::filesystem::exists(options.file) && !options.force)
    throw BadInput(Position{options.file, 0, 0},
                   "is there already; choose another name, or overwrite it with --force.");
}

/// What would come to nothing once all questions are answered.
void refuse_no_place(const NewCommandOptions& options) {
  if (options.file == "-") return;
  if (options.file.empty())
    throw BadInput(Position{}, "'' is no name of a file; name the one to write, or - for none.");
  std::error_code error;
  const std::filesystem::path folder = std::filesystem::absolute(options.file, error).parent_path();
  if (!std::filesystem::is_directory(folder, error))
    throw CannotWrite(options.file + " could not be written: there is no such folder. Choose another place.");
  if (std::filesystem::is_directory(options.file, error))
    throw BadInput(Position{options.file, 0, 0}, "is a folder; name a file in it.");
}

Answer run_new(const NewCommandOptions& options) {
  refuse_no_place(options);
  refuse_to_overwrite(options);
  const auto catalogue = read::built_in_catalogue();
  Draft draft(options.title);
  // What options say is judged before the first question is asked.
  Draft rehearsal(options.title);
  if (!rehearsal.readable())
    throw BadInput(Position{}, "--title: what is given is no text in UTF-8; give it as plain letters.");
  for (const NewPart& part : new_parts()) {
    const auto given = options.given.find(part.option);
    const std::string& said = given->second;
    if (said.empty()) continue;
    const std::string trouble = rehearsal.add(part, said, choices(part, catalogue));
    if (!trouble.empty()) throw BadInput(Position{}, fmt::format("--{}: {}", part.option, trouble));
  }
  bool asked = false;
  for (const NewPart& part : new_parts()) {
    const auto list = choices(part, catalogue);
    const std::string& said = options.given.at(part.option);
    if (!said.empty() || options.defaults) {
      const std::string answer = said.empty() ? std::string(part.usual) : said;
      const std::string trouble = draft.add(part, answer, list);
      if (!trouble.empty())
        throw BadInput(Position{}, fmt::format("--{}, {} '{}': {}", part.option,
                                               said.empty() ? "by default" : "given as", answer, trouble));
      continue;
    }
    if (!asked) say(options, "Enter alone takes what stands in brackets. Any value can be changed later.\n");
    asked = true;
    ask(options, draft, part, list);
  }
  if (options.file == "-") return {draft.text()};
  refuse_to_overwrite(options);  // it may have come while the questions were answered
  write_file(options.file, draft.text(), "Choose another place.");
  // Of the text, not the file: what was written to a pipe or a device can't be read back.
  const line::Line line = read::read_line(read::LineText{draft.text(), options.file});
  const std::string typed = report::typed_file(line);
  return {fmt::format(
      "{}Wrote {}: {}. Put your own figures in where they differ, then:\n    airtally check {}\n    airtally rank {}\n",
      asked ? "\n" : "", report::clean(options.file), report::counted(line.elements.size(), "element"), typed, typed)};
}

}  // namespace

Command add_new(CLI::App& app) {
  CLI::App* command = app.add_subcommand("new", "Describe a line: asks, and writes a line file to edit");
  auto options = std::make_shared<NewCommandOptions>();
  command->add_option("FILE", options->file, "The line file to write; - for standard output")
      ->required()
      ->type_name("");
  options->title = "My pick-up line";
  command->add_option("--title", options->title, "Its name for people")->type_name("TEXT");
  for (const NewPart& part : new_parts()) {
    std::string& given = options->given[part.option];
    command
        ->add_option("--" + std::string(part.option), given,
                     fmt::format("{}: \"{}\"", part.asks, part.usual == "none" ? part.example : part.usual))
        ->type_name("WHAT");
  }
  command->add_flag("--defaults", options->defaults, "Ask nothing; take the usual")->disable_flag_override();
  command->add_flag("--force", options->force, "Overwrite a file of that name")->disable_flag_override();
  command->footer("Example: airtally new my-line.toml --pump \"8 L/min, 71 kPa\" --defaults");
  return {command, [options] { return run_new(*options); }};
}

}  // namespace airtally::cli
