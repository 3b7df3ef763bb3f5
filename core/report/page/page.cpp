#include "report/page/page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "airtally/version.hpp"
#include "report/joint_text.hpp"
#include "report/page/assets.hpp"
#include "report/page/pictures.hpp"
#include "report/page/sections.hpp"
#include "report/pumps_text.hpp"
#include "report/trial.hpp"
#include "report/verdicts.hpp"
#include "report/words.hpp"

namespace airtally::report::page {
namespace {

std::string policy() {
  return "default-src 'none'; script-src '" + policy_source(script_asset) + "'; style-src '" +
         policy_source(style_asset) + "'; base-uri 'none'; form-action 'none'";
}

void write_head(Markup& out, const Findings& found) {
  out.open("head").leaf("meta", {{"charset", "utf-8"}});
  out.leaf("meta", {{"http-equiv", "Content-Security-Policy"}, {"content", policy()}});
  out.leaf("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  out.leaf("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
  out.element("title", title(found.line) + " - airtally");
  out.open("style").raw(style_asset.text).close().close();
}

/// What the page is made from, and in what that is not the file as it stands.
std::string source_words(const Findings& found, const Look& look) {
  std::string words = "A vacuum line, worked out from " + found.line.file +
                      (found.readings_files.empty() ? "" : " and the readings in " + listed(found.readings_files));
  if (look.changes.empty()) return words;
  words += ". Set otherwise than in the file: ";
  for (const std::string& change : look.changes) words += (&change == &look.changes.front() ? "" : "; ") + change;
  return words + '.';
}

void write_units(Markup& out, const Units& units) {
  // Only a script can switch: it takes "hidden" away.
  out.open("p", {{"class", "units"}, {"hidden", "hidden"}});
  out.element("label", "Vacuum in ", {{"for", "unit"}});
  out.open("select", {{"id", "unit"}});
  for (const Look& look : units.looks()) out.element("option", look.vacuum->symbol);
  out.close().close();
}

/// The units with what page.js needs to write numbers of its own.
std::string units_json(const Units& units) {
  std::string json;
  for (const Look& look : units.looks()) {
    const std::string usual = vacuum_scale(look, 60e3).number(60e3);
    const std::size_t point = usual.find('.');
    json +=
        fmt::format("{}{{\"symbol\":\"{}\",\"si\":{},\"decimals\":{}}}", json.empty() ? "" : ",", look.vacuum->symbol,
                    exact(units::to_si(1.0, *look.vacuum)), point == std::string::npos ? 0 : usual.size() - point - 1);
  }
  return '[' + json + ']';
}

void write_figure(Markup& out, const Picture& picture, const Units& units) {
  out.open("figure", {{"id", picture.id}});
  out.open("figcaption").element("h3", picture.title).close();
  out.open("div", {{"class", "still"}}).raw(picture.on_wide).raw(picture.on_narrow).close();
  if (!picture.live.empty()) {
    out.open("div", {{"class", "live"}, {"hidden", "hidden"}}).close();
    out.open("script", {{"type", "application/json"}}).raw(in_script(picture.live)).close();
  }
  if (!picture.legend.empty()) out.element("p", picture.legend, {{"class", "legend"}});
  out.open("details").element("summary", "The numbers");
  write(out, picture.table, units);
  out.close().close();
}

/// Nozzles whose ways are worth a picture: the one that is judged, then those whose tips differ from all before.
std::vector<std::size_t> ways(const Findings& found, const Look& look) {
  constexpr std::size_t most = 3;
  const auto& tips = found.steady.front().tips;
  std::vector<std::size_t> all{found.ranking.nozzle};
  for (std::size_t k = 0; k < tips.size() && all.size() < most; ++k) {
    const auto same = [&](std::size_t other) {
      return report::vacuum(look, tips[k].tip_vacuum()) == report::vacuum(look, tips[other].tip_vacuum());
    };
    if (std::none_of(all.begin(), all.end(), same)) all.push_back(k);
  }
  return all;
}

struct Section {
  std::string id, title;
  std::vector<std::string> pictures;               ///< their ids
  std::function<std::string(const Look&)> says{};  ///< above them
};

std::vector<Section> sections(const Findings& found) {
  std::vector<Section> all{{"line",
                            "The line",
                            {"schematic"},
                            [&](const Look& look) { return steady_verdict(found.line, found.steady.front(), look); }},
                           {"stairs",
                            "Where the vacuum goes",
                            {"staircase"},
                            [&](const Look& look) { return strip_verdict(found.line, found.strip, look); }},
                           {"cost", "What each element costs", {"shares", "costs"}},
                           {"supply", "The pump against the line", {"pump"}},
                           {"time", "How fast", {"rise", "log", "cycle"}, [&](const Look& look) {
                              const std::string rises = rise_verdict(found.line, found.tips, found.rise, look);
                              return found.cycle ? rises + ' ' + cycle_verdict(found.line, *found.cycle, look) : rises;
                            }}};
  if (found.joint)
    all.push_back({"turning", "Rotary joint or twisted tube", {"joint"}, [&](const Look&) {
                     return joint_verdict(found.line, *found.joint);
                   }});
  if (found.choice)
    all.push_back({"choice", "Other parts, nozzles, pumps", {"parts", "pumps"}, [&](const Look& look) {
                     return pumps_verdict(found.line, *found.choice, look);
                   }});
  if (found.hunt) all.push_back({"readings", "What your readings say", {"hunt"}});
  if (found.sense)
    all.push_back({"sensor", "Held or missed: the sensor", {"sensing"}, [&](const Look& look) {
                     const std::string advice = sense_advice(found.line, *found.sense, look);
                     return sense_verdict(found.line, *found.sense, look) + ' ' + advice + (advice.empty() ? "" : " ") +
                            sense_caution(*found.sense, look);
                   }});
  return all;
}

void write_section(Markup& out, const Section& section, const std::vector<Picture>& all, const Findings& found,
                   const Units& units) {
  out.open("section", {{"id", section.id}, {"aria-labelledby", section.id + "-h"}});
  out.element("h2", section.title, {{"id", section.id + "-h"}});
  if (section.says) units.said(out, "p", section.says);
  for (const std::string& id : section.pictures)
    for (const Picture& picture : all)
      if (picture.id == id || picture.id.starts_with(id + "-")) write_figure(out, picture, units);
  const auto drawn = [&](const Picture& picture) { return picture.id == "joint"; };
  if (section.id == "turning" && std::none_of(all.begin(), all.end(), drawn))
    write(out, joint_ways(*found.joint), units);
  if (section.id == "stairs" && !found.strip.branches.empty()) {
    out.element("h3", "Where the line forks, branch by branch");
    write(out, branch_readings(found.line, found.strip), units);
  }
  if (section.id == "readings") write_hunt_words(out, found, units);
  if (section.id == "time" && found.cycle && valve_to_open(found.ranking))
    out.element("p", "The pick opens and closes its valves by its own times, whatever state the file has them in.");
  if (section.id == "time" && found.cycle) out.element("p", cycle_cautions(found.line), {{"class", "caution"}});
  out.close();
}

}  // namespace

std::vector<Picture> pictures(const Findings& found, const Look& look) {
  const Units units(look);
  std::vector<Picture> all{schematic(found, units)};
  for (const std::size_t nozzle : ways(found, look)) all.push_back(staircase(found, nozzle, units));
  all.push_back(shares(found, units));
  all.push_back(costs(found, units));
  all.push_back(rise_curve(found, units));
  if (found.pump) all.push_back(pump_and_line(found, units));
  if (found.log) all.push_back(log_curve(found, units));
  if (found.cycle) all.push_back(cycle_curve(found, units));
  if (found.joint)
    if (auto picture = joint_or_tube(found, units)) all.push_back(std::move(*picture));
  if (found.choice) {
    all.push_back(parts_by_nozzles(found, units));
    all.push_back(pump_choice(found, units));
  }
  if (found.hunt) all.push_back(suspects(found, units));
  if (found.sense) all.push_back(sensing(found, units));
  return all;
}

std::string page(const Findings& found, const Look& look) {
  const Units units(look);
  const std::vector<Picture> all = pictures(found, look);
  const std::vector<Section> parts = sections(found);
  Markup out;
  out.raw("<!DOCTYPE html>\n").open("html", {{"lang", "en"}});
  write_head(out, found);
  out.open("body").element("a", "To the answer", {{"href", "#answer"}, {"class", "skip"}});
  out.open("header").element("h1", title(found.line));
  out.element("p", source_words(found, look), {{"class", "source"}});
  write_units(out, units);
  out.close().open("main");
  write_answer(out, found, units);
  out.open("nav", {{"aria-label", "On this page"}}).open("ul");
  for (const Section& part : parts) out.open("li").element("a", part.title, {{"href", '#' + part.id}}).close();
  out.close().close();
  for (const Section& part : parts) write_section(out, part, all, found, units);
  out.open("section", {{"id", "mind"}}).element("h2", "What to mind");
  write_minded(out, found, units);
  out.close();
  out.open("section", {{"id", "how"}}).element("h2", "How to read the numbers");
  write_how_to_read(out);
  out.close().close();
  out.element("footer", "Made by airtally " + std::string(version) + ". This file needs no network.");
  out.open("script", {{"type", "application/json"}, {"id", "units"}}).raw(in_script(units_json(units))).close();
  out.open("script").raw(script_asset.text).close();
  out.close().close();
  return out.take() + '\n';
}

}  // namespace airtally::report::page
