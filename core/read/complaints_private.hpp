#pragma once
#include <string>
#include <vector>

#include "errors.hpp"

namespace airtally::read {

/// Gathers everything that is wrong with a file, so that a person mends it in one go.
class Complaints {
 public:
  /// `file` is the one that was asked for; complaints about it come before those about files it draws on.
  explicit Complaints(std::string file) : file_(std::move(file)) {}

  void add(Position at, std::string sentence) { all_.push_back({std::move(at), std::move(sentence)}); }
  bool empty() const { return all_.empty(); }
  /// Throws BadInput with all complaints in the order of their places, if there are any.
  void throw_if_any() const;

 private:
  std::string file_;
  std::vector<Complaint> all_;
};

}  // namespace airtally::read
