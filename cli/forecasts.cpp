#include "cli/forecasts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>

#include "cli/alike.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "engine/foundation/text.hpp"
#include "engine/plan/choices.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kForecastsShown = 4;

/// Answers as they are typed; the sides of a reading in words.
std::string answer_name(const std::string& id) {
  if (id == "within") return "within limits";
  if (id == "low") return "below the limit";
  return id == "high" ? "above the limit" : id;
}

/// The causes that a result would leave most probable.
std::string suspects_in_words(const Model& model, const plan::Forecast& forecast) {
  const std::vector<double>& present = forecast.present;
  std::vector<std::size_t> causes;
  for (const plan::Suspect& suspect : forecast.suspects) causes.push_back(suspect.cause);
  const auto said = [&](std::size_t cause) { return odds_in_words(present[cause]); };
  std::vector<std::string> parts;
  each_alike(model, causes, said, [&](const std::vector<std::size_t>& alike) {
    const double p = present[alike.front()];
    if (parts.size() == 2 || (p < 0.05 && !parts.empty())) return;
    parts.push_back(fmt::format("{} ({})", causes_in_words(model, alike), odds_in_words(p)));
  });
  return join_words(parts, ", then ");
}

/// What the course after a forecast would begin with.
std::string then_in_words(const Model& model, const plan::Course& course) {
  if (course.batches.empty()) return "handing on would be cheaper than going on";
  const plan::Batch& batch = course.batches.front();
  if (batch.steps.empty()) return "close up and run it";
  return steps_in_words(model, plan::first_steps(batch));
}

/// "clear at cylinder 2, none at cylinders 1, 3 and 4".
std::string answers_in_words(const Model& model, const plan::Forecast& forecast) {
  std::map<std::string, std::vector<Place>> by_answer;
  std::vector<std::string> order;
  for (const auto& [place, id] : forecast.answers) {
    if (by_answer.count(id) == 0) order.push_back(id);
    by_answer[id].push_back(place);
  }
  std::vector<std::string> parts;
  for (const std::string& id : order) {
    const std::string where = places_in_words(model, by_answer[id]);
    parts.push_back(where.empty() ? answer_name(id) : answer_name(id) + " at " + where);
  }
  return join_words(parts, ", ");
}

/// The one place of three or more that answers otherwise than all the others.
struct OddOneOut {
  Place place;
  std::string answer, others;
};

std::optional<OddOneOut> odd_one_out(const plan::Forecast& forecast) {
  std::map<std::string, std::vector<Place>> by_answer;
  for (const auto& [place, id] : forecast.answers) by_answer[id].push_back(place);
  if (by_answer.size() != 2 || forecast.answers.size() < 3) return std::nullopt;
  const auto& [first, first_at] = *by_answer.begin();
  const auto& [last, last_at] = *by_answer.rbegin();
  if (first_at.size() == 1) return OddOneOut{first_at.front(), first, last};
  if (last_at.size() == 1) return OddOneOut{last_at.front(), last, first};
  return std::nullopt;
}

/// The same, told from the place that answers otherwise than all the others.
std::string then_from(const Model& model, const plan::Forecast& forecast, Place place) {
  const std::string plain = then_in_words(model, forecast.course);
  if (forecast.course.batches.empty() || forecast.course.batches.front().steps.empty()) {
    return plain;
  }
  std::vector<plan::CourseStep> first = plan::first_steps(forecast.course.batches.front());
  const auto at = [&](Place one) {  // a carburettor may be a cylinder's own
    return std::any_of(first.begin(), first.end(), [&](const plan::CourseStep& step) {
      return step.place && model.cylinders_of(*step.place) == model.cylinders_of(one);
    });
  };
  const bool there = at(place);
  for (const auto& [other, id] : forecast.answers) {
    if (other != place && at(other) == there) return plain;
  }
  first.resize(1);
  first.front().place.reset();
  return steps_in_words(model, first) + (there ? ", there" : ", at the others");
}

/// Results told in one line.
struct Line {
  double probability = 0;
  const plan::Forecast* first = nullptr;
  std::optional<OddOneOut> odd;
  std::vector<Place> places = {};  ///< where it may be
};

class Lines {
 public:
  explicit Lines(const Model& model) : model_(model) {}

  void add(const plan::Forecast& forecast) {
    const std::optional<OddOneOut> odd = odd_one_out(forecast);
    const auto same = std::find_if(lines.begin(), lines.end(), [&](const Line& line) {
      return odd && line.odd && alike(*line.first, *line.odd, forecast, *odd);
    });
    Line& line = same != lines.end() ? *same : lines.emplace_back(Line{0, &forecast, odd});
    line.probability += forecast.probability;
    if (odd) line.places.push_back(odd->place);
  }

  std::string then(const Line& line) const {
    return line.places.size() < 2 ? then_in_words(model_, line.first->course)
                                  : then_from(model_, *line.first, line.odd->place);
  }

  /// `then`: how it ends.
  std::string text(const Line& line, const std::string& then) const {
    const plan::Forecast& forecast = *line.first;
    if (line.places.size() < 2) {
      return answers_in_words(model_, forecast) + ": " + suspects_in_words(model_, forecast) + then;
    }
    const plan::Suspect& leads = forecast.suspects.front();
    return fmt::format("{} at one of {}, {} at the others: {} there ({}){}",
                       answer_name(line.odd->answer), of_places(model_, line.places),
                       answer_name(line.odd->others),
                       model_.pack.causes[model_.causes[leads.cause].cause].name,
                       odds_in_words(leads.probability), then);
  }

  std::vector<Line> lines;

 private:
  /// But for the place; and each leaves a cause at that place most probable.
  bool alike(const plan::Forecast& a, const OddOneOut& odd_a, const plan::Forecast& b,
             const OddOneOut& odd_b) const {
    if (a.suspects.empty() || b.suspects.empty()) return false;
    const plan::Suspect &lead_a = a.suspects.front(), &lead_b = b.suspects.front();
    return odd_a.answer == odd_b.answer && odd_a.others == odd_b.others &&
           percent(a.probability) == percent(b.probability) && at(lead_a.cause, odd_a.place) &&
           at(lead_b.cause, odd_b.place) &&
           model_.causes[lead_a.cause].cause == model_.causes[lead_b.cause].cause &&
           odds_in_words(lead_a.probability) == odds_in_words(lead_b.probability) &&
           then_from(model_, a, odd_a.place) == then_from(model_, b, odd_b.place);
  }

  bool at(std::size_t cause, Place place) const {
    const Place its = model_.causes[cause].place;
    return its.scope != pack::Scope::engine &&
           its == model_.place_at(its.scope, model_.cylinders_of(place).front());
  }

  const Model& model_;
};

}  // namespace

std::string forecasts_in_words(const Diagnosis& job, const plan::Proposal& proposal) {
  Lines all(job.model());
  for (const plan::Forecast& forecast : proposal.forecasts) all.add(forecast);
  std::stable_sort(all.lines.begin(), all.lines.end(), [](const Line& a, const Line& b) {
    return static_cast<float>(a.probability) > static_cast<float>(b.probability);
  });
  all.lines.resize(std::min(kForecastsShown, all.lines.size()));
  const std::string then = all.lines.empty() ? "" : all.then(all.lines.front());
  const bool same =
      all.lines.size() > 1 && std::all_of(all.lines.begin(), all.lines.end(),
                                          [&](const Line& line) { return all.then(line) == then; });
  std::string out = "What each result would mean\n";
  double shown = 0;
  for (const Line& line : all.lines) {
    shown += line.probability;
    const std::string end = same ? "." : ". Without more checks then " + all.then(line) + ".";
    out += labelled("  " + percent(line.probability) + "  ", all.text(line, end), 9);
  }
  if (same) {
    out +=
        labelled("  ",
                 "Without more checks the next step would be the same after each of these, " +
                     then + "; what it shows bears on what is worth checking, and on what follows.",
                 2);
  }
  if (1 - shown > 0.005) out += labelled("  " + percent(1 - shown) + "  ", "any other result", 9);
  return out;
}

}  // namespace tickover::cli
