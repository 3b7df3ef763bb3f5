#pragma once
#include <stdexcept>
#include <string>
#include <vector>

/// The error kinds that reach a caller of the library. docs/errors.md lists their sentences.
namespace airtally {

/// Where in a file a thing was written. Line and column count from 1; line 0 means "made in code".
struct Position {
  std::string file;  ///< as it was named, or what stands for it ("--set nozzle.bore"); empty: unknown
  int line = 0;      ///< from 1; 0: none
  int column = 0;    ///< from 1, in characters; 0: none
};

/// "file:line:column", or `file` alone when `line` is 0 or less.
std::string to_string(const Position& at);

/// One thing wrong with the input: where, and a sentence that says what was given, what is allowed and what to do.
struct Complaint {
  Position at;           ///< where it was written
  std::string sentence;  ///< without the place, which what() puts in front
};

/// The input can't be used. Carries every complaint found, in file order; what() joins them with newlines,
/// each as "file:line:column: sentence". The command line ends with exit code 2.
class BadInput : public std::runtime_error {
 public:
  /// All that is wrong at once, in file order; what() is empty when there is nothing in it.
  explicit BadInput(std::vector<Complaint> complaints);
  /// The one complaint `sentence` about what stands at `at`.
  BadInput(Position at, std::string sentence);
  /// As they were given, in that order.
  const std::vector<Complaint>& complaints() const noexcept { return complaints_; }

 private:
  std::vector<Complaint> complaints_;
};

/// A solver gave up. The sentence names the element and what was tried. Exit code 3; never a number.
class NoConvergence : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A pure function was called outside the range its comment states: the caller's mistake, not the user's.
class DomainError : public std::domain_error {
 public:
  using std::domain_error::domain_error;
};

}  // namespace airtally
