// A user of the installed library: includes by the installed spelling, links, and gets the answer the library promises.
#include <airtally/errors.hpp>
#include <airtally/gas/air.hpp>
#include <airtally/version.hpp>
#include <iostream>
#include <string>

int main() {
  const airtally::BadInput trouble({"bench.toml", 14, 12}, "a sentence");
  const std::string expected = "bench.toml:14:12: a sentence";
  if (trouble.what() != expected) {
    std::cerr << "expected '" << expected << "', got '" << trouble.what() << "'\n";
    return 1;
  }
  if (airtally::gas::free_air_density != 1.185) return 1;  // ISO 8778, the definition of free air
  std::cout << "linked with airtally " << airtally::version << '\n';
  return 0;
}
