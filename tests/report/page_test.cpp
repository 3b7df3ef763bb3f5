// The pieces that every page is made of: text made harmless, well-formed markup, labels and layouts that keep apart.
#include <catch2/catch.hpp>
#include <set>
#include <string>
#include <vector>

#include "line/topology.hpp"
#include "read/line_file.hpp"
#include "report/page/assets.hpp"
#include "report/page/bars.hpp"
#include "report/page/flow_layout.hpp"
#include "report/page/markup.hpp"
#include "report/page/needs.hpp"
#include "report/page/picture.hpp"
#include "report/page/place_labels.hpp"
#include "report/page/plot.hpp"
#include "report/page/symbols.hpp"
#include "support/well_formed.hpp"

using namespace airtally;
using namespace airtally::report::page;

TEST_CASE("text from a file can end neither an element nor an attribute", "[report][property]") {
  CHECK(escaped("<script>alert('x')</script>") == "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;");
  CHECK(escaped("a \"b\" & c") == "a &quot;b&quot; &amp; c");
  CHECK(escaped("]]>") == "]]&gt;");
}

// Code points of Unicode 15: U+202E turns the direction round, U+2066 isolates, U+200F marks; U+2028 separates lines.
TEST_CASE("text from a file can neither command a terminal nor turn what stands around it", "[report][property]") {
  const std::string mark = "\xEF\xBF\xBD";
  CHECK(harmless("a\x1b[31mb") == "a" + mark + "[31mb");
  CHECK(harmless("a\nb\tc") == "a" + mark + "b" + mark + "c");
  CHECK(harmless("a\xE2\x80\xAE"
                 "b") == "a" + mark + "b");
  CHECK(harmless("a\xE2\x81\xA6"
                 "b\xE2\x80\x8F") == "a" + mark + "b" + mark);
  CHECK(harmless("a\xE2\x80\xA8"
                 "b") == "a" + mark + "b");
  // Hebrew and Chinese are letters like any others.
  CHECK(harmless("\xD7\xA9\xD7\x9C \xE6\xB0\xB4") == "\xD7\xA9\xD7\x9C \xE6\xB0\xB4");
}

TEST_CASE("bytes that are no UTF-8 become the replacement character, one for each", "[report][property]") {
  const std::string mark = "\xEF\xBF\xBD";
  CHECK(harmless("\xFF"
                 "a") == mark + "a");
  CHECK(harmless("\xC3") == mark);                                   // cut off
  CHECK(harmless("\xC0\xAF") == mark + mark);                        // overlong
  CHECK(harmless("\xED\xA0\x80") == mark + mark + mark);             // half of a pair
  CHECK(harmless("\xF4\x90\x80\x80") == mark + mark + mark + mark);  // beyond U+10FFFF
  CHECK(harmless("\xF0\x9F\x94\xA7") == "\xF0\x9F\x94\xA7");
}

TEST_CASE("JSON in a page holds nothing that could end its script", "[report][property]") {
  const std::string json = in_script("{\"name\":\"</script><!--\xE2\x80\xA8&\"}");
  CHECK(json == "{\"name\":\"\\u003c/script\\u003e\\u003c!--\\u2028\\u0026\"}");
}

TEST_CASE("markup closes what it opens, and says so when it does not", "[report][property]") {
  Markup out;
  out.open("p", {{"title", "<&\">"}}).element("b", "x<y").leaf("br");
  CHECK_THROWS(out.take());
  out.close();
  const std::string text = out.take();
  CHECK(text == "<p title=\"&lt;&amp;&quot;&gt;\"><b>x&lt;y</b><br/></p>");
  CHECK(tests::well_formed(text) == "");
  CHECK(tests::well_formed("<p><b></p></b>") != "");
  CHECK(tests::well_formed("<p a=\"1\" a='2>") != "");
}

// RFC 4648, section 10, has the pairs of text and base64; the digest here is SHA-256 of nothing (FIPS 180-4, from
// memory), its base64 from that section's alphabet.
TEST_CASE("a digest is named as a content security policy names it", "[report][literature]") {
  const Asset nothing{"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"};
  CHECK(policy_source(nothing) == "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
}

TEST_CASE("labels that are placed never overlap, and what has no room is not placed", "[report][property]") {
  PlacedLabels labels;
  std::vector<Box> placed;
  int refused = 0;
  for (int k = 0; k < 60; ++k) {
    Box box{static_cast<double>((k * 37) % 100), static_cast<double>((k * 53) % 60), 30.0, 12.0};
    if (!labels.place(box, 24.0)) {
      ++refused;
      continue;
    }
    for (const Box& other : placed) CHECK_FALSE(overlap(box, other));
    placed.push_back(box);
  }
  CHECK(placed.size() > 10);
  CHECK(refused > 0);
}

TEST_CASE("no two elements of a drawing stand in the same place", "[report][property]") {
  for (const char* file : {"jewel-setter", "seed-tray", "two-spindle-sorter", "ejector-head"}) {
    CAPTURE(file);
    const line::Line line = read::read_line(std::string(AIRTALLY_LINES) + "/" + file + ".toml");
    const line::Topology topology = line::topology(line);
    for (const auto& cells : {across(topology), downwards(topology)}) {
      CHECK(cells.size() == line.elements.size());
      for (std::size_t a = 0; a < cells.size(); ++a)
        for (std::size_t b = a + 1; b < cells.size(); ++b)
          CHECK_FALSE((cells[a].depth == cells[b].depth && cells[a].lane == cells[b].lane));
    }
    for (const FlowCell& cell : across(topology)) {
      const std::size_t before = topology.before[cell.element];
      std::size_t depth = 0;
      for (const FlowCell& other : across(topology))
        if (before != line::none && other.element == before) depth = other.depth + 1;
      CHECK(cell.depth == depth);
    }
  }
}

TEST_CASE("every kind of element has a symbol of its own, and words for it", "[report][property]") {
  std::set<std::string> drawings, words;
  for (const std::string_view kind : line::kind_words()) {
    line::Element element;
    element.kind = line::kind_of(kind).value();
    Markup out;
    out.open("g");
    draw_symbol(out, element);
    drawings.insert(out.close().take());
    words.insert(std::string(symbol_words(element)));
  }
  CHECK(drawings.size() == line::kind_words().size());
  CHECK(words.size() == line::kind_words().size());
}

TEST_CASE("a plot is well-formed and holds its curves, whatever they are called", "[report][property]") {
  Plot plot;
  plot.id = "p";
  plot.title = "<b>";
  plot.x.unit = units::find_unit("ms", units::Dimension::time);
  plot.y.of = Axis::Of::vacuum;
  plot.series.push_back({"a \"quoted\" <name>", {0.0, 0.1, 0.2}, {0.0, 40e3, 50e3}, Stroke::line, 1, {}, {}});
  plot.marks.push_back({0.15, "</svg>"});
  const Units units{report::Look{}};
  fit_axes(plot, units);
  CHECK(plot.y.top >= 50e3);
  CHECK(plot.y.top <= 60e3);
  for (const double width : {wide, narrow}) CHECK(tests::well_formed(drawn(plot, units, width)) == "");
  const Picture picture = picture_of(plot, units);
  CHECK(tests::well_formed(svg_file(picture)) == "");
  CHECK(picture.live.find("\"a \\\"quoted\\\" <name>\"") != std::string::npos);
}

namespace {

/// A plot of one rising curve over time, that begins at `first` [Pa].
Plot rising(double first) {
  Plot plot;
  plot.id = "p";
  plot.x.unit = units::find_unit("ms", units::Dimension::time);
  plot.y.of = Axis::Of::vacuum;
  plot.y.label = "vacuum";
  plot.series.push_back({"tip", {0.0, 0.1, 0.2}, {first, 40e3, 50e3}, Stroke::line, 1, {}, {}});
  return plot;
}

/// How high [px] the text stands whose class ends at `at` of the drawing.
double height(const std::string& svg, std::size_t at) {
  REQUIRE(at != std::string::npos);
  const std::string text = svg.substr(svg.rfind('<', at), at - svg.rfind('<', at));
  return std::stod(text.substr(text.find(" y=\"") + 4));
}

study::HeadCycle head(std::size_t nozzle, double lift, double travel) {
  study::HeadCycle result;
  result.nozzle = nozzle;
  result.needed_to_lift = lift;
  result.needed_to_travel = travel;
  return result;
}

}  // namespace

TEST_CASE("rounding below zero takes no room of an axis, what is there does", "[report][property]") {
  const Units units{report::Look{}};
  Plot rounded = rising(-1.5e-11), blown = rising(-3e3);
  fit_axes(rounded, units);
  fit_axes(blown, units);
  CHECK(rounded.y.bottom == 0.0);
  CHECK(blown.y.bottom <= -3e3);
}

TEST_CASE("the name of an upright axis stands clear of its topmost number", "[report][property]") {
  const Units units{report::Look{}};
  constexpr double high = 11.0;  // [px], of the letters
  for (const bool marked : {false, true}) {
    Plot plot = rising(0.0);
    if (marked) plot.marks.push_back({0.1, "a moment"});
    fit_axes(plot, units);
    const std::string svg = drawn(plot, units, wide);
    // The numbers of the upright axis stand before its name, the topmost last.
    const std::size_t name = svg.find("class=\"axis\"");
    CHECK(height(svg, svg.rfind("class=\"tick\"", name)) - height(svg, name) >= high);
  }
}

TEST_CASE("places whose names begin alike are told apart", "[report][property]") {
  const Units units{report::Look{}};
  Plot plot;
  plot.id = "p";
  plot.x.of = Axis::Of::place;
  plot.y.of = Axis::Of::vacuum;
  for (const char* end : {"left", "right", "middle"})
    plot.x.places.push_back(std::string("vacuum hose from the long manifold in the cabinet below to the head, ") + end);
  plot.series.push_back({"s", {0.5, 1.5, 2.5}, {1e3, 2e3, 3e3}, Stroke::line, 1, {}, {}});
  fit_axes(plot, units);
  for (const double width : {wide, narrow}) {
    const std::string svg = drawn(plot, units, width);
    for (const char* end : {"left<", "right<", "middle<"}) CHECK(svg.find(end) != std::string::npos);
  }
}

TEST_CASE("every head's need has a level of its own with its name", "[report][property]") {
  line::Line line;
  for (const char* name : {"nozzle 1", "nozzle 2"}) {
    line.elements.emplace_back();
    line.elements.back().name = name;
    line.elements.back().kind = line::Kind::nozzle;
  }
  study::CycleAnswer cycle;
  cycle.heads = {head(0, 0.7e3, 3.9e3), head(1, 2.1e3, 11.8e3)};
  const std::vector<Level> levels = needs(line, cycle, 75e3);
  REQUIRE(levels.size() == 3);
  CHECK(levels[0].at == 11.8e3);
  CHECK(levels[0].text == "needed by nozzle 2 to travel");
  // Two lines within a letter's height share their words, above the upper one.
  CHECK(levels[1].at == 3.9e3);
  CHECK(levels[1].text == "needed by nozzle 1 to lift and travel, by nozzle 2 to lift");
  CHECK(levels[2].at == 2.1e3);
  CHECK(levels[2].text.empty());
  // Heads that need the same need no names.
  cycle.heads = {head(0, 5e3, 20e3), head(1, 5e3, 20e3)};
  const std::vector<Level> alike = needs(line, cycle, 60e3);
  REQUIRE(alike.size() == 2);
  CHECK(alike[0].text == "needed to travel");
  CHECK(alike[1].text == "needed to lift");
}

TEST_CASE("a band of the solver's rounding is not drawn over the whole width", "[report][property]") {
  const Units units{report::Look{}};
  study::Band noise;
  noise.low = -1e-53;
  noise.high = 0.0;
  BarBlock block{"won", "", true, {Bar{0.0, 0.0, noise, "", true, 1}}};
  const std::string svg = bars_drawn("b", "t", "x", {"hose"}, {block}, units, wide);
  const std::size_t at = svg.find("class=\"whisker\"");
  REQUIRE(at != std::string::npos);
  const std::string stroke = svg.substr(svg.rfind("d=\"M", at) + 4);
  const double from = std::stod(stroke), to = std::stod(stroke.substr(stroke.find('L') + 1));
  CHECK(to - from < 1.0);
}
