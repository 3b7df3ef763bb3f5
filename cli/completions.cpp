#include "completions.hpp"

#include <fmt/format.h>

#include "errors.hpp"

namespace airtally::cli {
namespace {

std::string replaced(const std::string& text, char from, std::string_view to) {
  std::string out;
  for (const char c : text) out += c == from ? std::string(to) : std::string(1, c);
  return out;
}

/// For a shell's single quotes.
std::string in_quotes(const std::string& text) { return fmt::format("'{}'", replaced(text, '\'', "'\\''")); }

template <typename List, typename Word>
std::string joined(const List& list, const Word& word) {
  std::string out;
  for (const auto& item : list) {
    if (!out.empty()) out += ' ';
    out += word(item);
  }
  return out;
}

std::string names(const std::vector<OptionFacts>& options) {
  return joined(options, [](const OptionFacts& option) { return option.name; });
}
std::string names(const std::vector<CommandFacts>& commands) {
  return joined(commands, [](const CommandFacts& command) { return command.name; });
}
std::string words(const std::vector<std::string>& list) {
  return joined(list, [](const std::string& word) { return word; });
}

std::string for_bash(const std::vector<CommandFacts>& commands) {
  std::string out = R"(# bash completion for airtally
_airtally() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]}
  local options='' values='' files=yes
  if [ "$COMP_CWORD" -eq 1 ]; then
)";
  out += fmt::format("    COMPREPLY=($(compgen -W '{} --help --version' -- \"$word\"))\n    return\n  fi\n",
                     names(commands));
  out += "  case $command:$before in\n";
  for (const CommandFacts& command : commands)
    for (const OptionFacts& option : command.options) {
      if (!option.choices.empty())
        out += fmt::format("    {}:{}) values='{}' ;;\n", command.name, option.name, words(option.choices));
      else if (!option.value.empty() && !option.file)
        out += fmt::format("    {}:{}) return ;;\n", command.name, option.name);
    }
  out += "  esac\n  case $command in\n";
  for (const CommandFacts& command : commands) {
    const bool plain = !command.word_choices.empty();
    out += fmt::format("    {}) options='{}'{} ;;\n", command.name, names(command.options),
                       plain ? fmt::format(" files='{}'", words(command.word_choices)) : std::string());
  }
  return out + R"(    *) return ;;
  esac
  if [ -n "$values" ]; then
    COMPREPLY=($(compgen -W "$values" -- "$word"))
  elif [ "${word#-}" != "$word" ]; then
    COMPREPLY=($(compgen -W "$options" -- "$word"))
  elif [ "$files" != yes ]; then
    COMPREPLY=($(compgen -W "$files" -- "$word"))
  else
    compopt -o filenames 2>/dev/null
    COMPREPLY=($(compgen -f -- "$word"))
  fi
}
complete -F _airtally airtally
)";
}

/// For the brackets and colons of _arguments.
std::string for_arguments(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string for_zsh(const std::vector<CommandFacts>& commands) {
  std::string out =
      "#compdef airtally\n# zsh completion for airtally\n_airtally() {\n  local -a commands\n  commands=(\n";
  for (const CommandFacts& command : commands)
    out += fmt::format("    {}\n", in_quotes(fmt::format("{}:{}", command.name, replaced(command.text, ':', "\\:"))));
  out +=
      "  )\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    return\n  fi\n  local "
      "command=$words[2]\n"
      "  shift words\n  (( CURRENT-- ))\n  case $command in\n";
  for (const CommandFacts& command : commands) {
    out += fmt::format("    {})\n      _arguments", command.name);
    for (const OptionFacts& option : command.options) {
      std::string spec = fmt::format("*{}[{}]", option.name, for_arguments(option.text));
      if (!option.value.empty()) {
        spec += fmt::format(":{}:", for_arguments(option.value));
        if (!option.choices.empty()) spec += fmt::format("({})", words(option.choices));
        if (option.file) spec += "_files";
      }
      out += fmt::format(" \\\n        {}", in_quotes(spec));
    }
    if (!command.words.empty()) {
      const std::string what =
          command.word_choices.empty() ? "_files" : fmt::format("({})", words(command.word_choices));
      out += fmt::format(" \\\n        {}", in_quotes(fmt::format("*:{}:{}", command.words, what)));
    }
    out += "\n      ;;\n";
  }
  return out +
         "  esac\n}\nif [ \"$funcstack[1]\" = _airtally ]; then _airtally \"$@\"; else compdef _airtally airtally; "
         "fi\n";
}

std::string for_fish(const std::vector<CommandFacts>& commands) {
  const auto text = [](const std::string& plain) {
    return fmt::format("'{}'", replaced(replaced(plain, '\\', "\\\\"), '\'', "\\'"));
  };
  std::string out = "# fish completion for airtally\ncomplete -c airtally -f -n __fish_use_subcommand\n";
  for (const CommandFacts& command : commands)
    out += fmt::format("complete -c airtally -n __fish_use_subcommand -a {} -d {}\n", command.name, text(command.text));
  for (const CommandFacts& command : commands) {
    const std::string when = fmt::format("complete -c airtally -n '__fish_seen_subcommand_from {}'", command.name);
    if (!command.word_choices.empty()) out += fmt::format("{} -f -a '{}'\n", when, words(command.word_choices));
    for (const OptionFacts& option : command.options) {
      const std::string_view bare = std::string_view(option.name).substr(option.name.starts_with("--") ? 2 : 1);
      out += fmt::format("{} -{} {} -d {}", when, option.name.starts_with("--") ? 'l' : 's', bare, text(option.text));
      if (!option.choices.empty())
        out += fmt::format(" -x -a '{}'", words(option.choices));
      else if (!option.value.empty())
        out += option.file ? " -r" : " -x";
      out += '\n';
    }
  }
  return out;
}

}  // namespace

std::string completion_script(const std::string& shell, const std::vector<CommandFacts>& commands) {
  if (shell == "bash") return for_bash(commands);
  if (shell == "zsh") return for_zsh(commands);
  if (shell == "fish") return for_fish(commands);
  throw BadInput(Position{},
                 fmt::format("--completion: '{}' is no shell that is known; say bash, zsh or fish.", shell));
}

}  // namespace airtally::cli
