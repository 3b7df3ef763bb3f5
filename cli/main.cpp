#include <CLI/CLI.hpp>

int main(int argc, char** argv) {
  CLI::App app{"airtally: where a vacuum pick-up line loses its vacuum, and what to do about it"};
  CLI11_PARSE(app, argc, argv);
  return 0;
}
