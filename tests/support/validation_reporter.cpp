// Writes docs/validation.md from the tests as they run: what each compares, with which source, what was expected, what
// came out, and how far apart the two may lie. Run as `airtally_tests "[literature]" -r validation`, which the target
// "validation" does. Numbers and tolerances are those of the assertions themselves, sources the comments above them.
#define CATCH_CONFIG_EXTERNAL_INTERFACES
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>

#include "units/trimmed.hpp"

namespace {

struct Row {
  std::string check;
  std::string expected, got, tolerance;
  double share = -1.0;  // of the tolerance that the worst case takes
  int cases = 0;
};

struct Test {
  std::string name;
  std::size_t line = 0;
  std::map<std::size_t, Row> rows;  // by line
};

std::vector<std::string> lines_of(const std::string& file) {
  std::ifstream in(file);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string trimmed(std::string_view text) { return std::string(airtally::units::trimmed(text)); }

/// All comments of the test that begins at `line` (from 1), as one text; those above it where it has none.
std::string source_of(const std::vector<std::string>& lines, std::size_t line) {
  std::string text;
  for (std::size_t i = line; i < lines.size() && lines[i] != "}"; ++i) {
    const std::string row = trimmed(lines[i]);
    if (row.rfind("// ", 0) == 0) text += (text.empty() ? "" : " ") + row.substr(3);
  }
  if (!text.empty()) return text;
  std::size_t first = line - 1;
  while (first > 0 && lines[first - 1].rfind("//", 0) == 0) --first;
  for (std::size_t i = first; i + 1 < line; ++i) text += (text.empty() ? "" : " ") + trimmed(lines[i].substr(2));
  return text.empty() && !lines.empty() ? trimmed(lines.front().substr(2)) : text;
}

std::string digits(double value, int significant) {
  std::ostringstream out;
  out.precision(significant);
  out << value;
  return out.str();
}

std::string cell(std::string text) {
  for (std::size_t at = text.find('|'); at != std::string::npos; at = text.find('|', at + 2)) text.insert(at, "\\");
  return text;
}

class Validation : public Catch::StreamingReporterBase<Validation> {
 public:
  explicit Validation(const Catch::ReporterConfig& config) : StreamingReporterBase(config) {
    m_reporterPrefs.shouldReportAllAssertions = true;
  }
  ~Validation() override = default;
  static std::string getDescription() { return "writes docs/validation.md"; }

  void testCaseStarting(const Catch::TestCaseInfo& info) override {
    StreamingReporterBase::testCaseStarting(info);
    const std::string path = info.lineInfo.file, file = path.substr(path.rfind("tests/"));
    now_ = &files_[file].emplace(info.lineInfo.line, Test{info.name, info.lineInfo.line, {}}).first->second;
  }
  void assertionStarting(const Catch::AssertionInfo&) override {}
  bool assertionEnded(const Catch::AssertionStats& stats) override {
    const Catch::AssertionResult& result = stats.assertionResult;
    static const std::regex within("^(\\S+) is within (\\S+) of (\\S+)$");
    static const std::regex share("^(\\S+) and (\\S+) are within (\\S+)% of each other$");
    const std::string said = result.getExpandedExpression();
    std::smatch parts;
    double got = 0.0, expected = 0.0, allowed = 0.0;
    std::string tolerance;
    if (std::regex_match(said, parts, within)) {
      got = std::stod(parts[1]), allowed = std::stod(parts[2]), expected = std::stod(parts[3]);
      tolerance = digits(allowed, 2);
    } else if (std::regex_match(said, parts, share)) {
      got = std::stod(parts[1]), expected = std::stod(parts[2]);
      allowed = std::stod(parts[3]) / 100.0 * std::max(std::abs(got), std::abs(expected));
      tolerance = digits(std::stod(parts[3]), 2) + " %";
    } else {
      return true;
    }
    Row& row = now_->rows[result.getSourceInfo().line];
    const std::string expression = result.getExpression();
    row.check = expression.substr(0, expression.rfind(", Within"));
    ++row.cases;
    const double taken = allowed > 0.0 ? std::abs(got - expected) / allowed : 0.0;
    if (taken <= row.share) return true;
    row.share = taken;
    row.expected = digits(expected, 6);
    row.got = digits(got, 6);
    row.tolerance = tolerance;
    return true;
  }
  void testRunEnded(const Catch::TestRunStats& stats) override {
    write();
    StreamingReporterBase::testRunEnded(stats);
  }

 private:
  void write() {
    std::size_t tests = 0, comparisons = 0;
    std::string body;
    for (auto& [file, by_line] : files_) {
      const std::vector<std::string> lines = lines_of(std::string(AIRTALLY_SOURCE_DIR) + "/" + file);
      std::string sections;
      for (auto& [line, test] : by_line) {
        if (test.rows.empty()) continue;
        ++tests;
        sections += "\n### " + test.name + "\n\n" + source_of(lines, line) + "\n\n";
        sections += "| what is compared | expected | got | may differ by | cases |\n|---|---|---|---|---|\n";
        for (const auto& [at, row] : test.rows) {
          comparisons += static_cast<std::size_t>(row.cases);
          sections += "| `" + cell(row.check) + "` | " + row.expected + " | " + row.got + " | " + row.tolerance +
                      " | " + std::to_string(row.cases) + " |\n";
        }
      }
      if (!sections.empty()) body += "\n## " + file + "\n" + sections;
    }
    stream << "# Validation\n\nWhat the laws and the solvers are held against: published numbers, closed forms that a "
              "handbook prints, and the\nsource of each. This page is written by the tests as they run (`cmake --build "
              "build --target validation`), and a test\nfails when it is out of date. Where a check has several cases, "
              "the one that takes most of its tolerance is shown.\n\nWhere a source is said to be *from memory* it was "
              "not open when the test was written: its value was recomputed by a\nsecond route. `[agreement]` tests, "
              "which compare with other solvers, are listed in DEVELOPERS.md.\n\n"
           << tests << " tests, " << comparisons << " comparisons.\n"
           << body;
  }

  std::map<std::string, std::map<std::size_t, Test>> files_;
  Test* now_ = nullptr;
};

CATCH_REGISTER_REPORTER("validation", Validation)

}  // namespace
