#pragma once
#include "study/parallel.hpp"

namespace airtally::cli {

/// A bar on standard error that shows how far a long study is, from half a second on, and is gone when it is done.
/// Nothing where standard error is no terminal.
study::Progress progress_bar();

/// Says on standard error, as long as it lives, that an answer is being worked out, for a dialogue in which a person
/// waits. Nothing where standard error is no terminal.
class AtWork {
 public:
  AtWork();
  AtWork(const AtWork&) = delete;
  AtWork& operator=(const AtWork&) = delete;
  ~AtWork();
};

}  // namespace airtally::cli
