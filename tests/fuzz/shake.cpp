// usage: shake_TARGET SECONDS SEED FILE...
// Drives a fuzz target without libFuzzer: takes one of the files, or what came of it, changes it here and there, and
// hands it over, again and again for that many seconds. Blind, where libFuzzer sees which input reached new code; but
// it runs on any library, such as the one that g++'s sanitizers watch, and needs nothing built anew. The input in hand
// is written to shake-TARGET-input when the target ends the program.
#include <sanitizer/common_interface_defs.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "fuzz/target.hpp"

namespace {

std::string input, input_file;  // what is reached when the program is being ended

void keep() {
  if (std::FILE* file = std::fopen(input_file.c_str(), "wb")) {
    std::fwrite(input.data(), 1, input.size(), file);
    std::fclose(file);
    std::fprintf(stderr, "the input is in %s\n", input_file.c_str());
  }
}

void keep_and_end(int) {
  keep();
  std::_Exit(1);
}

class Shaker {
 public:
  Shaker(std::vector<std::string> seeds, std::uint64_t seed) : seeds_(std::move(seeds)), random_(seed) {}

  std::string next() {
    std::string text = seeds_[below(seeds_.size())];
    for (std::size_t changes = 1 + below(6); changes > 0; --changes) change(text);
    if (text.size() > longest) text.resize(longest);
    // Some go on to be changed further.
    if (below(50) == 0) {
      if (seeds_.size() < 4000)
        seeds_.push_back(text);
      else
        seeds_[below(seeds_.size())] = text;
    }
    return text;
  }

 private:
  static constexpr std::size_t longest = 8000;

  std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random_() % n); }

  /// One change: a bit, a byte, a piece gone, doubled, or from another seed, a word that files have, a number.
  void change(std::string& text) {
    static const std::vector<std::string> words{"\"",
                                                "'",
                                                "\"\"\"",
                                                "\\",
                                                "\n",
                                                "[",
                                                "]",
                                                "{",
                                                "}",
                                                "=",
                                                ".",
                                                ",",
                                                "#",
                                                "-",
                                                "1e308",
                                                "nan",
                                                "inf",
                                                "0",
                                                "mm",
                                                "kPa",
                                                "\xC2\xB5",
                                                " ",
                                                "\xEF\xB3\xBF",
                                                "\xFF",
                                                "+",
                                                "..",
                                                "%",
                                                "L/min",
                                                "\t",
                                                "\r\n"};
    const std::size_t at = below(text.size() + 1), length = std::min(below(16) + 1, text.size() - at);
    switch (below(7)) {
      case 0:
        if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << below(8)));
        break;
      case 1:
        text.insert(at, 1, static_cast<char>(below(256)));
        break;
      case 2:
        text.erase(at, length);
        break;
      case 3:
        text.insert(at, text.substr(at, length));
        break;
      case 4: {
        const std::string& other = seeds_[below(seeds_.size())];
        const std::size_t from = below(other.size() + 1);
        text.insert(at, other.substr(from, below(64) + 1));
        break;
      }
      case 5:
        text.insert(at, words[below(words.size())]);
        break;
      default:
        text.replace(at, length, std::to_string(static_cast<std::int64_t>(random_()) >> below(64)));
    }
  }

  std::vector<std::string> seeds_;
  std::mt19937_64 random_;
};

}  // namespace

int main(int argc, char** argv) {
  if (argc < 4) {
    std::fprintf(stderr, "usage: shake_TARGET SECONDS SEED FILE...\n");
    return 2;
  }
  std::vector<std::string> seeds;
  for (int i = 3; i < argc; ++i) {
    std::ifstream file(argv[i], std::ios::binary);
    seeds.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  const std::string name = argv[0];
  input_file = name + "-input";
  __sanitizer_set_death_callback(keep);
  std::signal(SIGABRT, keep_and_end);  // fuzz::demand() was not met, or an exception got away
  Shaker shaker(seeds, std::strtoull(argv[2], nullptr, 10));
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(std::strtol(argv[1], nullptr, 10));
  std::size_t executions = 0;
  const auto run = [&] {
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
    ++executions;
  };
  for (const std::string& seed : seeds) {
    input = seed;
    run();
  }
  while (std::chrono::steady_clock::now() < end) {
    input = shaker.next();
    run();
  }
  std::printf("%s: %zu executions\n", name.substr(name.rfind('/') + 1).c_str(), executions);
}
