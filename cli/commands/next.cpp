#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/against.hpp"
#include "cli/choices.hpp"
#include "cli/earlier_words.hpp"
#include "cli/exit_status.hpp"
#include "cli/finishing.hpp"
#include "cli/ordering.hpp"
#include "cli/print.hpp"
#include "cli/session.hpp"
#include "cli/shop.hpp"
#include "cli/standing.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"

namespace tickover::cli {
namespace {

std::string unseen_in_words(const Diagnosis& job, const plan::Advice& advice) {
  const Model& model = job.model();
  std::map<std::pair<std::string, std::string>, std::vector<Place>> alike;  // what, odds: where
  for (const plan::Unseen& one : plan::renewed_unseen(model, advice)) {
    std::vector<Place>& places =
        alike[{model.pack.repairs[one.repair].name, odds_in_words(one.needed)}];
    if (one.place) places.push_back(*one.place);
  }
  std::vector<std::string> told;
  for (auto& [what, places] : alike) {
    std::sort(places.begin(), places.end(), [](Place a, Place b) { return a.number < b.number; });
    const std::string where = places_in_words(model, places);
    told.push_back(fmt::format("{} ({}needed {})", what.first, where.empty() ? "" : where + ", ",
                               what.second));
  }
  if (told.empty()) return {};
  return wrapped(
      "Done without a look, which would cost more than it spares or cannot be had here: " +
          join_words(told, "; ", "; ") + ".",
      2);
}

std::string course_now(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice) {
  const plan::Course& course = advice.course_now;
  if (course.batches.empty()) {
    return wrapped("Without a further check nothing is worth its time against handing on.", 0);
  }
  const bool is_first = advice.proposals.front().kind == plan::ActionKind::course;
  std::string out = is_first ? "The plan" : "Going on without that";
  out += ": look, repair what is found, close up and try, in this order\n";
  std::string more;
  for (const plan::Batch& batch : course.batches) {
    const bool closed = more.empty() && job.evidence().open_layers.empty();
    const std::string what = !batch.steps.empty() ? steps_in_words(job.model(), batch.steps)
                             : closed             ? "run it"
                                                  : "close up and run it";
    out += labelled("  " + percent(batch.cured_after) + "  ",
                    "gone after " + minutes_in_words(batch.minutes) + more +
                        parts_in_words(shop, batch.parts) + ": " + what,
                    9);
    more = " more";
  }
  out += wrapped("  On average " + bill_in_words(shop, course) + ".", 2) +
         part_prices_in_words(job, shop, course) + unseen_in_words(job, advice);
  return out;
}

using OtherWay = std::pair<const plan::Proposal*, plan::More>;

/// The first of Advice::proposals, what is told to cost least first.
std::string other_ways(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                       std::size_t top) {
  std::string out;
  std::vector<OtherWay> ways;
  for (std::size_t i = 1; i < std::min(top, advice.proposals.size()); ++i) {
    const plan::Proposal& other = advice.proposals[i];
    const double more = other.expected_minutes - advice.proposals.front().expected_minutes;
    ways.emplace_back(
        &other, plan::more_than_first(job.workshop(), job.evidence().open_layers, other, more));
  }
  std::stable_sort(ways.begin(), ways.end(), [](const OtherWay& a, const OtherWay& b) {
    return a.second.minutes < b.second.minutes;
  });
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const auto& [way, more] = ways[i];
    out += labelled(
        fmt::format("  {}. ", i + 2),
        fmt::format("{}: {}; {} {} on average{}", headline(job.model(), *way),
                    minutes_in_words(way->minutes()), price_in_words(shop, std::abs(more.minutes)),
                    more.minutes < 0 ? "less" : "more",
                    more.besides ? ", what comes first done after it" : ""),
        5);
  }
  return out.empty() ? out : "\nOther ways, best first\n" + out;
}

Json advice_json(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                 std::size_t top) {
  Json out = {{"report", "next"}, {"format", 1}};
  out["proposals"] = Json::array();
  for (std::size_t i = 0; i < std::min(top, advice.proposals.size()); ++i) {
    out["proposals"].push_back(proposal_json(job, advice.proposals[i]));
  }
  out["course-now"] = course_json(job.model(), advice.course_now);
  out["unseen"] = Json::array();
  for (const plan::Unseen& one : plan::renewed_unseen(job.model(), advice)) {
    Json unseen = {{"repair", job.model().pack.repairs[one.repair].id},
                   {"needed", steady(one.needed)}};
    if (one.place) unseen["place"] = one.place->number;
    out["unseen"].push_back(unseen);
  }
  add_choices_json(job, shop, advice, out);
  out["to-order"] = orders_json(job, shop, advice);
  out["unlisted"] = steady(1 - advice.cured_if_all);
  out["exact"] = advice.belief.exact && job.judged().doubt == 0;
  out["bound"] = {{"least-minutes", steady(advice.least_minutes)},
                  {"known-minutes", steady(advice.known_minutes)},
                  {"nodes", advice.points}};
  return out;
}

int nothing_to_advise(World& world, const std::string& text) {
  world.out << text;
  return kDone;
}

/// Looking ahead by the clock ends when it says so; by moments, always at the same.
plan::Effort effort_from(const Words& words) {
  plan::Effort effort;
  const int nodes = words.whole("nodes");
  if (nodes < 0) throw InputError(InputFault::usage, "", "--nodes wants a number from 0");
  effort.points = static_cast<std::size_t>(nodes);
  if (words.has("think")) {
    const double seconds = parse_quantity_of(Dimension::time, words.text("think"), "s").si;
    if (seconds < 0) {
      throw InputError(InputFault::usage, "--think", "it should be a time from 0",
                       "half a second is 0.5");
    }
    using Clock = std::chrono::steady_clock;
    effort.points = static_cast<std::size_t>(-1);
    effort.go_on = [end = Clock::now() + std::chrono::duration<double>(std::min(seconds, 1e6))] {
      return Clock::now() < end;
    };
  }
  return effort;
}

/// What ranges there are, `causes` tells.
std::string inexact_in_words(const Diagnosis& job, const plan::Advice& advice) {
  if (advice.belief.exact || job.judged().doubt > 0) return narrowed_in_words(job);
  return wrapped(
      "Too many findings tie too many causes together for exact figures: these leave some of the "
      "findings out. 'tickover causes' tells within which bounds the causes lie.",
      0);
}

/// A cause that is more likely than not, and that no repair of the pack removes.
std::string no_repair_in_words(const Diagnosis& job, const plan::Advice& advice) {
  std::string out;
  const std::vector<double>& present = advice.belief.present_now;
  for (const std::size_t cause : belief::largest_first(present)) {
    if (present[cause] < 0.5) break;
    if (job.workshop().best_repair(job.model().causes[cause].cause)) continue;
    out += wrapped(fmt::format("No repair in this pack removes {} ({}): what you do about it, "
                               "record as a note; to tickover the machine can only be handed on.",
                               job.model().describe_cause(cause), odds_in_words(present[cause])),
                   0);
  }
  return out.empty() ? out : "\n" + out;
}

std::string not_running_in_words(const plan::Shop& shop) {
  if (shop.constraints.running) return {};
  return wrapped("Whether the complaint is gone can only be told once the engine can be run.", 0);
}

std::string gap_in_words(const plan::Shop& shop, const plan::Advice& advice) {
  if (!advice.belief.exact) {
    return wrapped("How far from the best plan this is cannot be proven without exact figures.", 0);
  }
  return wrapped(
      fmt::format("No plan at all can take less than {} on average: so much if what is wrong were "
                  "told for free. What is worked out here takes no more than {}, and so at most {} "
                  "above the best possible.",
                  price_in_words(shop, advice.least_minutes),
                  price_in_words(shop, advice.known_minutes),
                  price_in_words(shop, advice.known_minutes - advice.least_minutes)),
      0);
}

int run_next(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Diagnosis& job = *session.diagnosis;
  const plan::Shop shop = shop_from(world, words, job.model().pack);
  const bool json = words.has("json");
  if (!json && job.evidence().complaint.empty()) {
    return nothing_to_advise(world, wrapped("No symptom is recorded yet. Record what the rider "
                                            "complains of: 'tickover list symptoms WORD' finds it.",
                                            0));
  }
  if (!json && job.evidence().finished) {
    return nothing_to_advise(world,
                             "The job is finished.\n" + wrapped(how_to_go_on(session.path), 0));
  }
  const int wanted = words.whole("top");
  if (wanted < 1) throw InputError(InputFault::usage, "", "--top wants a number from 1");
  const auto top = static_cast<std::size_t>(wanted);
  std::optional<Rival> rival;
  if (words.has("against")) rival = rival_named(job.model(), words.text("against"));
  plan::Effort effort = effort_from(words);
  if (rival) effort.asked_about = [&](const plan::Proposal& one) { return rival->is(one); };
  const bool over = job.evidence().complaint.empty() || job.evidence().finished ||
                    job.evidence().verdict == "gone";  // then there is nothing to advise
  const plan::Advice advice = over ? plan::Advice{} : job.advise(shop, top, effort);
  if (json) {
    print_json(world.out, advice_json(job, shop, advice, top));
    return kDone;
  }
  if (job.evidence().verdict == "gone") {
    return nothing_to_advise(world, gone_in_words(job, session.path));
  }
  if (advice.belief.contradiction) {
    return nothing_to_advise(world, contradiction_in_words(job, session.journal));
  }
  if (advice.proposals.empty()) {
    return nothing_to_advise(world, nothing_fits_in_words(job, advice, *shop.constraints.minutes));
  }
  if (rival) {
    world.out << against_in_words(job, shop, advice, *rival);
    return kDone;
  }
  world.out << proposal_in_words(job, shop, advice, advice.proposals.front(), words.text("job"))
            << orders_in_words(job, shop, advice) << other_ways(job, shop, advice, top)
            << worthwhile_in_words(job, shop, advice) << left_beyond_in_words(job)
            << no_repair_in_words(job, advice) << "\n"
            << stop_rule_in_words(job, shop, advice) << "\n"
            << course_now(job, shop, advice) << inexact_in_words(job, advice)
            << wrapped("Something not on the list is behind it: " +
                           odds_in_words(1 - advice.cured_if_all) + ". Now " +
                           access_in_words(job) + ".",
                       0)
            << not_running_in_words(shop) << (words.has("gap") ? gap_in_words(shop, advice) : "");
  return kDone;
}

std::vector<Option> next_options() {
  std::vector<Option> all = {{.name = "top",
                              .help = "how many ways to show",
                              .kind = Kind::whole,
                              .placeholder = "N",
                              .usual = "1"},
                             {.name = "against",
                              .help = "only: why this check, question or repair does not come "
                                      "first, and what would have to be so that it did",
                              .placeholder = "ID",
                              .names = Names::step},
                             {.name = "nodes",
                              .help = "at how many moments to come to look one step further; 0: "
                                      "none",
                              .kind = Kind::whole,
                              .placeholder = "N",
                              .usual = "24"},
                             {.name = "think",
                              .help = "look ahead for S seconds at most instead; the answer then "
                                      "depends on the machine",
                              .kind = Kind::text,
                              .placeholder = "S"},
                             {.name = "gap",
                              .help = "tell too how far above the best possible plan this is at "
                                      "most",
                              .kind = Kind::flag}};
  for (Option& option : shop_options()) all.push_back(std::move(option));
  return all;
}

}  // namespace

Command next_command() {
  return {"next",           "What to do now: why, how long, what each result would mean.",
          {job_argument()}, "tickover next grey-four.job --top 5 --without unlit-gas",
          next_options(),   run_next};
}

}  // namespace tickover::cli
