#pragma once

/// toml++ as core/read uses it; include this, never the library itself, so that all our files see the same of it.

// Version 3.3 asserts that a key begins with a letter or a quote before it complains of one that doesn't ("[ = ]"), so
// in a debug build a bad file would end the program. Without its assertions it gives the complaint, as in a release
// build.
#define TOML_ASSERT(expr) static_cast<void>(0)
#include <toml++/toml.h>
