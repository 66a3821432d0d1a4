#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/trial/report.hpp"
#include "engine/trial/policy.hpp"

namespace tickover::cli {
namespace {

using trial::PolicySummary;

// lengths in pixels of the drawing
constexpr double kNames = 130, kChartWidth = 720, kRow = 44, kTop = 16, kAxis = 40;

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else
      out += c;
  }
  return out;
}

/// A step of 1, 2 or 5 times a power of ten that leaves four to ten marks on an axis to `top`.
double step_for(double top) {
  const double decade = std::pow(10, std::floor(std::log10(top / 4)));
  for (const double factor : {5.0, 2.0}) {
    if (top / (factor * decade) >= 4) return factor * decade;
  }
  return decade;
}

class Chart {
 public:
  explicit Chart(const trial::Summary& summary) : summary_(summary) {
    for (const PolicySummary& one : summary.policies) {
      top_ = std::max({top_, one.ninetieth, one.minutes.high});
    }
    height_ = kTop + kRow * static_cast<double>(summary.policies.size()) + kAxis;
  }

  double height() const { return height_; }

  std::string drawing() const {
    std::string out = axis();
    double y = kTop;
    for (const PolicySummary& one : summary_.policies) {
      out += row(one, y);
      y += kRow;
    }
    return out;
  }

 private:
  double x(double minutes) const { return kNames + (kChartWidth - kNames - 30) * minutes / top_; }

  std::string axis() const {
    std::string out;
    const double bottom = height_ - kAxis;
    for (double mark = 0; mark <= top_; mark += step_for(top_)) {
      out += fmt::format(
          "<line class=\"grid\" x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1:.0f}\" y2=\"{2:.0f}\"/>"
          "<text x=\"{0:.1f}\" y=\"{3:.0f}\" text-anchor=\"middle\">{4:.0f}</text>\n",
          x(mark), kTop, bottom, bottom + 16, mark);
    }
    return out + fmt::format(
                     "<text x=\"{:.0f}\" y=\"{:.0f}\" text-anchor=\"end\">minutes: bar mean, "
                     "whisker 95 %, ring median, diamond 90th percentile</text>\n",
                     kChartWidth - 10, bottom + 34);
  }

  std::string row(const PolicySummary& one, double y) const {
    const double middle = y + kRow / 2;
    return fmt::format(
        "<text x=\"{0:.0f}\" y=\"{1:.0f}\" text-anchor=\"end\">{2}</text>"
        "<rect class=\"bar\" x=\"{3:.1f}\" y=\"{4:.0f}\" width=\"{5:.1f}\" height=\"20\"/>"
        "<line class=\"mark\" x1=\"{6:.1f}\" x2=\"{7:.1f}\" y1=\"{8:.0f}\" y2=\"{8:.0f}\"/>"
        "<circle class=\"mark\" cx=\"{9:.1f}\" cy=\"{8:.0f}\" r=\"5\"/>"
        "<path class=\"mark\" d=\"M{10:.1f} {11:.0f}l6 6l-6 6l-6 -6z\"/>\n",
        kNames - 8, middle + 4, escaped(one.name), x(0), middle - 10, x(one.minutes.mean) - x(0),
        x(one.minutes.low), x(one.minutes.high), middle, x(one.median), x(one.ninetieth),
        middle - 6);
  }

  const trial::Summary& summary_;
  double top_ = 1, height_ = 0;
};

std::string description(const TrialReport& report) {
  std::string out = "Mean minutes to a verified cure, with median and 90th percentile.";
  for (const PolicySummary& one : report.summary.policies) {
    out += fmt::format(" {}: {:.0f}, median {:.0f}, 90th percentile {:.0f}.", one.name,
                       one.minutes.mean, one.median, one.ninetieth);
  }
  return out;
}

constexpr const char* kStyle =
    "text{font:13px sans-serif;fill:#1b1b1b}.bar{fill:#7aa6c8}.grid{stroke:#c8c8c8}"
    ".mark{stroke:#1b1b1b;stroke-width:2;fill:none}"
    "@media screen and "
    "(prefers-color-scheme:dark){text{fill:#eee}.bar{fill:#3f6f94}.grid{stroke:#555}"
    ".mark{stroke:#eee}}";

/// What is narrower than the chart or a table scrolls it in its box; on paper tables shrink.
constexpr const char* kPageStyle =
    "body{font:16px/1.5 sans-serif;max-width:56rem;margin:1rem auto;padding:0 1rem;color:#1b1b1b;"
    "background:#fff}.wide{overflow-x:auto}table{border-collapse:collapse;margin:1rem 0}"
    "caption{text-align:left;font-weight:bold}th,td{padding:.25rem .5rem;"
    "border-bottom:1px solid #767676;text-align:right}td,tr>:first-child{white-space:nowrap}"
    "tr>:first-child,.wide:last-of-type td,.wide:last-of-type "
    "th{text-align:left}.wide:last-of-type td{white-space:normal}"
    "svg{width:100%;min-width:34rem;height:auto}"
    "@media screen and (prefers-color-scheme:dark){body{color:#eee;background:#161616}}"
    "@media print{@page{margin:15mm}body{max-width:none;margin:0;padding:0;font-size:10pt}"
    "table{font-size:8.5pt}th,td{padding:.1rem .3rem}tr{break-inside:avoid}.wide{overflow:visible}"
    "svg{min-width:0;max-width:150mm}}";

std::string svg(const TrialReport& report, const std::string& style) {
  const Chart chart(report.summary);
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {:.0f} {:.0f}\" role=\"img\" "
      "aria-labelledby=\"chart-title chart-text\">\n<title id=\"chart-title\">{}</title>\n<desc "
      "id=\"chart-text\">{}</desc>\n{}{}</svg>\n",
      kChartWidth, chart.height(), escaped(trial_title(report)), escaped(description(report)),
      style, chart.drawing());
}

std::string cells(const std::vector<std::string>& values) {
  std::string out;
  for (const std::string& value : values) out += "<td>" + escaped(value) + "</td>";
  return out;
}

std::string table(const std::string& caption, const std::vector<std::string>& heads,
                  const std::vector<std::pair<std::string, std::vector<std::string>>>& rows) {
  // the box scrolls where the page is narrower than the table
  std::string out = "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"" +
                    escaped(caption) + "\">\n<table>\n<caption>" + escaped(caption) +
                    "</caption>\n<tr>";
  for (const std::string& head : heads) out += "<th scope=\"col\">" + escaped(head) + "</th>";
  out += "</tr>\n";
  for (const auto& [name, values] : rows) {
    out += "<tr><th scope=\"row\">" + escaped(name) + "</th>" + cells(values) + "</tr>\n";
  }
  return out + "</table>\n</div>\n";
}

std::string result_tables(const TrialReport& report) {
  std::vector<std::pair<std::string, std::vector<std::string>>> minutes, work, meanings;
  const auto whole = [](double value) { return fmt::format("{:.0f}", value); };
  const auto share = [](double value) { return fmt::format("{:.1f} %", 100 * value); };
  const auto count = [](double value) { return fmt::format("{:.2f}", value); };
  const auto range = [&](const trial::Estimate& of) {
    return whole(of.low) + " to " + whole(of.high);
  };
  for (const PolicySummary& one : report.summary.policies) {
    minutes.push_back(
        {one.name,
         {whole(one.minutes.mean), range(one.minutes), whole(one.median), whole(one.ninetieth),
          whole(one.cured_minutes), whole(one.ahead.mean), range(one.ahead), count(one.ratio)}});
    work.push_back(
        {one.name,
         {share(one.cured_first), share(one.handed_on), count(one.needless), count(one.checks),
          count(one.questions), count(one.repairs), count(one.verifications), share(one.left)}});
    for (const trial::PolicyEntry& entry : trial::policies()) {
      if (entry.name == one.name) meanings.push_back({one.name, {entry.meaning}});
    }
  }
  const std::string first = report.summary.policies.front().name;
  return table("Minutes a job",
               {"policy", "mean", "95 %", "median", "90th percentile", "mean if cured",
                first + " quicker by", "95 %", first + ": share of its mean"},
               minutes) +
         table("Work a job",
               {"policy", "cured at first refit", "handed on", "needless repairs", "checks",
                "questions", "repairs", "verifications", "something else left"},
               work) +
         table("What the policies do", {"policy", "way of working"}, meanings);
}

}  // namespace

std::string trial_svg(const TrialReport& report) {
  return svg(report, fmt::format("<style>{}</style>\n", kStyle));
}

std::string trial_html(const TrialReport& report) {
  std::string out = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta "
      "name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{0}</title>\n"
      "<style>{1}{2}</style>\n</head>\n<body>\n<main>\n<h1>Trial</h1>\n<p>{0}</p>\n"
      "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"Chart\">\n{3}</div>\n{4}",
      escaped(trial_title(report)), kPageStyle, kStyle, svg(report, ""), result_tables(report));
  for (const std::string& note : trial_notes(report)) out += "<p>" + escaped(note) + "</p>\n";
  return out + "</main>\n</body>\n</html>\n";
}

}  // namespace tickover::cli
