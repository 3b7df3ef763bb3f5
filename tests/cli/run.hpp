#pragma once
#include <map>
#include <string>
#include <vector>

/// Runs the real command as a person or a script would.
namespace airtally::test {

struct Ran {
  int code = -1;  ///< exit code; 128 + signal if it was killed
  std::string out, err;
};

enum class Output {
  pipe,      ///< read to the end
  closed,    ///< nobody reads
  full,      ///< a full disk
  terminal,  ///< a terminal
  watched,   ///< read to the end; standard error is a terminal
};

/// `arguments` without the command's name. `environment` is all there is besides PATH. The command runs in the root of
/// the sources, so that "lines/..." is found.
Ran run(const std::vector<std::string>& arguments, Output output = Output::pipe,
        const std::map<std::string, std::string>& environment = {});

/// Splits a text into its lines.
std::vector<std::string> lines_of(const std::string& text);

/// The line files in lines/, as "lines/NAME.toml", in order.
std::vector<std::string> line_files();

}  // namespace airtally::test
