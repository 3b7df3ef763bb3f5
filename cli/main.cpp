#include <CLI/CLI.hpp>
#include <string>

#include "airtally/version.hpp"

int main(int argc, char** argv) {
  CLI::App app{"airtally: where a vacuum pick-up line loses its vacuum, and what to do about it"};
  app.set_version_flag("--version", "airtally " + std::string(airtally::version));
  CLI11_PARSE(app, argc, argv);
  return 0;
}
