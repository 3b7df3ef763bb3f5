#include "man_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "airtally/version.hpp"
#include "topics.hpp"

namespace airtally::cli {
namespace {

/// Text that roff takes as it stands.
std::string escaped(const std::string& text) {
  std::string out;
  bool begins_row = true;
  for (const char c : text) {
    if (begins_row && (c == '.' || c == '\'')) out += "\\&";
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else {
      out += c;
    }
    begins_row = c == '\n';
  }
  return out;
}

/// A description as a sentence.
std::string sentence(const std::string& text) { return escaped(text) + (text.ends_with('.') ? "\n" : ".\n"); }

std::string upper(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) {
    return c == '-' ? ' ' : static_cast<char>(c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c);
  });
  return text;
}

std::string head(const std::string& page, const std::string& text) {
  std::string shouted = upper(page);
  std::replace(shouted.begin(), shouted.end(), ' ', '-');
  return fmt::format(".TH {} 1 \"\" \"airtally {}\" \"airtally manual\"\n.SH NAME\n{} \\- {}\n", escaped(shouted),
                     version, escaped(page), escaped(text));
}

/// Paragraphs; rows that begin with a space stand as they are.
std::string body(const std::string& text) {
  std::string out;
  bool plain = false, empty = false;
  const auto as_it_stands = [&](bool wanted) {
    if (wanted != plain) out += wanted ? (out.empty() ? ".nf\n" : ".PP\n.nf\n") : ".fi\n";
    plain = wanted;
  };
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    const std::string row = text.substr(from, end - from);
    from = end + 1;
    if (row.empty()) {
      empty = true;
      continue;
    }
    const bool wanted = row.front() == ' ';
    const bool changes = wanted != plain;
    as_it_stands(wanted);
    if (empty && wanted && !changes) out += "\\&\n";
    if (empty && !wanted && !out.empty()) out += ".PP\n";
    out += escaped(row) + '\n';
    empty = false;
  }
  as_it_stands(false);
  return out;
}

std::string options_section(const CommandFacts& command) {
  std::string out = ".SH OPTIONS\n";
  if (!command.words.empty()) out += fmt::format(".TP\n.I {}\n{}", escaped(command.words), sentence(command.of_words));
  for (const OptionFacts& option : command.options) {
    out += fmt::format(".TP\n.B {}", escaped(option.name));
    if (!option.value.empty()) out += fmt::format(" \\fI{}\\fR", escaped(option.value));
    out += fmt::format("\n{}", sentence(option.text));
  }
  return out;
}

}  // namespace

std::string man_page(const std::vector<CommandFacts>& commands) {
  std::string out = head("airtally", "where a vacuum pick-up line loses its vacuum, and what to do about it");
  out += ".SH SYNOPSIS\n.B airtally\n.I COMMAND\n[\\fIOPTIONS\\fR]\n.br\n.B airtally help\n[\\fITOPIC\\fR]\n";
  out +=
      ".SH DESCRIPTION\nA pick\\-up line (a pump, hoses, couplers, a filter, a valve, a rotary joint, a nozzle) is "
      "written down in a text file.\n.B airtally\nworks out the vacuum and the flow at every place in it, how long it "
      "takes to pull down, which element costs the tip the most, and which joint to block next to be sure.\n";
  out += ".SH COMMANDS\nEach has a page of its own, such as\n.BR airtally\\-rank (1).\n";
  for (const CommandFacts& command : commands)
    out += fmt::format(".TP\n.B {}\n{}\n", escaped(command.name), escaped(command.text));
  for (const Topic& topic : topics()) {
    const bool exits = topic.name == "exit-codes";
    out += fmt::format(".SH {}\n{}", exits ? "EXIT STATUS" : escaped(upper(topic.name)), body(topic.body));
  }
  out += ".SH ENVIRONMENT\n.TP\n.B NO_COLOR\nSet to anything, no colours even on a terminal.\n";
  return out;
}

std::string man_page(const CommandFacts& command) {
  std::string out = head("airtally-" + command.name, command.text);
  out += fmt::format(".SH SYNOPSIS\n.B airtally {}\n", escaped(command.name));
  if (!command.words.empty())
    out += command.needs_words ? fmt::format(".I {}\n", escaped(command.words))
                               : fmt::format("[\\fI{}\\fR]\n", escaped(command.words));
  if (!command.options.empty()) out += "[\\fIOPTIONS\\fR]\n";
  out += options_section(command);
  if (!command.notes.empty()) out += ".SH NOTES\n" + escaped(command.notes);
  if (!command.examples.empty()) {
    out += ".SH EXAMPLES\n.nf\n";
    for (const std::string& example : command.examples) out += escaped(example) + '\n';
    out += ".fi\n";
  }
  return out + ".SH SEE ALSO\n.BR airtally (1)\n";
}

}  // namespace airtally::cli
