#pragma once
#include "study/parallel.hpp"

namespace airtally::cli {

/// A bar on standard error that shows how far a long study is, from half a second on, and is gone when it is done.
/// Nothing where standard error is no terminal.
study::Progress progress_bar();

}  // namespace airtally::cli
