#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "lines/lines.hpp"
#include "report/bands_text.hpp"

using namespace airtally;
using Catch::Contains;

// A part that is wider open than 5 um in a quarter of the draws is never safe to lift.
TEST_CASE("a lift that is never safe in some draws is told, and no number in JSON", "[report][property]") {
  line::Line line = study::as_stated(test::scenario("jewel-setter"));
  line.part->gap = units::Quantity::uniform(2e-6, 6e-6);
  study::Question question;
  question.measures = {{"safe_lift_s", "", "safe lift", study::Quality::time}};
  question.answer = [](const line::Line& sample, std::span<double> out) {
    out[0] = sample.part->gap.value > 5e-6 ? study::never : 0.02e6 * sample.part->gap.value;
  };
  study::SampleOptions options;
  options.samples = 64;
  const study::Bands bands = study::bands(study::drawn_from(question, line), 1, question.answer, options);
  const std::string text = report::bands_text(question, bands, {});
  CHECK_THAT(text, Contains(" .. never), never in 25 %"));
  const auto json = nlohmann::json::parse(report::with_bands("{}", question, bands, {study::never}));
  const auto& one = json["bands"]["outputs"][0];
  CHECK(one["nominal"].is_null());
  CHECK(one["median"].is_number());
  CHECK(one["high"].is_null());
  CHECK(one["missing"] == 16);
}
