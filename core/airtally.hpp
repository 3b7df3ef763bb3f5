#pragma once

/// Everything that a program of your own needs of airtally: describe or read a line, solve it, ask it questions.
#include "errors.hpp"
#include "line/builder.hpp"
#include "line/line.hpp"
#include "line/topology.hpp"
#include "line/variant.hpp"
#include "read/line_file.hpp"
#include "solve/answer.hpp"
#include "study/check.hpp"
#include "study/cycle.hpp"
#include "study/hold.hpp"
#include "study/rank.hpp"
#include "study/rise.hpp"
#include "study/strip.hpp"
#include "units/parse.hpp"
#include "units/show.hpp"
