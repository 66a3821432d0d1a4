/// @file
/// A trial's summary as text, JSON, and a chart.
#pragma once

#include <string>

#include "cli/report.hpp"
#include "cli/trial/results.hpp"
#include "engine/trial/summary.hpp"

namespace tickover::cli {

struct TrialReport {
  TrialHead head;
  trial::Summary summary;
};

std::string trial_text(const TrialReport& report);
Json trial_json(const TrialReport& report);

/// What was played, in one sentence.
std::string trial_title(const TrialReport& report);
/// Sentences that text and page both carry: faults drawn, and what is not simulated.
std::vector<std::string> trial_notes(const TrialReport& report);

/// One SVG document: a bar for the mean minutes of each policy with its interval, and marks for
/// median and 90th percentile. With title and description for who cannot see it.
std::string trial_svg(const TrialReport& report);
/// One HTML page that holds the chart and the same numbers as tables; needs no network, no script.
std::string trial_html(const TrialReport& report);

}  // namespace tickover::cli
