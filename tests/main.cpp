// Catch2's own main takes ten seconds to compile, so it has a file to itself.
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
