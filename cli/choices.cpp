#include "cli/choices.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/print.hpp"
#include "cli/report.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

/// A price on the left, as money where there is a rate, then what it buys.
std::string priced(const plan::Shop& shop, double minutes, const std::string& what) {
  return labelled(fmt::format("  {:>11}  ", price_in_words(shop, minutes)), what, 15);
}

std::string course_in_short(const plan::Course& course) {
  if (course.batches.empty()) return "";
  return fmt::format("no more checks: look and repair as below, cured in {}",
                     percent(course.cured));
}

std::string what_is_left(const Diagnosis& job, const plan::Advice& advice) {
  std::vector<std::string> left;
  for (const plan::Suspect& suspect : advice.left_over) {
    if (left.size() == 2) break;
    left.push_back(fmt::format("{} ({})", job.model().describe_cause(suspect.cause),
                               odds_in_words(suspect.probability)));
  }
  left.push_back(
      fmt::format("something not on the list ({})", odds_in_words(advice.unlisted_left_over)));
  return wrapped("If it is still there then, one thing alone is most probably left: " +
                     join_words(left, " or ") + "; otherwise several.",
                 2);
}

std::string worth_in_words(const plan::Shop& shop, const plan::Worthwhile& one) {
  if (one.spares < plan::kLeastSpared) return "the plan looks by it";
  return fmt::format("spares {} on average, its own time taken off",
                     price_in_words(shop, one.spares));
}

std::string listed(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                   const std::vector<plan::Worthwhile>& checks, bool with_later) {
  std::string out;
  for (const plan::Worthwhile& one : checks) {
    const plan::Proposal& proposal = advice.proposals[one.proposal];
    const std::string later = with_later ? fmt::format("; later {} more to open and close",
                                                       minutes_in_words(one.later_minutes))
                                         : "";
    out += labelled(
        "  - ",
        fmt::format("{}: {}, {}{}", headline(job.model(), proposal),
                    minutes_in_words(proposal.minutes()), worth_in_words(shop, one), later),
        4);
  }
  return out;
}

Json worthwhile_json(const Diagnosis& job, const plan::Advice& advice,
                     const std::vector<plan::Worthwhile>& checks) {
  Json list = Json::array();
  for (const plan::Worthwhile& one : checks) {
    const plan::Proposal& proposal = advice.proposals[one.proposal];
    list.push_back({{"check", job.model().pack.checks[proposal.index].id},
                    {"minutes", steady(proposal.minutes())},
                    {"spares-minutes", steady(std::max(one.spares, 0.0))},
                    {"planned", one.planned},
                    {"later-minutes", steady(one.later_minutes)}});
  }
  return list;
}

}  // namespace

std::string price_in_words(const plan::Shop& shop, double minutes) {
  if (!shop.prices) return minutes_in_words(minutes);
  return fmt::format("{:.0f} {}", minutes * shop.prices->minute, shop.prices->currency);
}

namespace {

/// Parts that count as less, in minutes, are not told.
constexpr double kLeastParts = 0.5;

}  // namespace

std::string parts_in_words(const plan::Shop& shop, double parts) {
  if (shop.prices) return " and parts for " + price_in_words(shop, parts);
  return parts < kLeastParts ? "" : " and parts that count as " + minutes_in_words(parts);
}

std::string bill_in_words(const plan::Shop& shop, const plan::Course& course) {
  const double work = course.expected_minutes - course.expected_parts - course.expected_hand_on -
                      course.expected_comebacks;
  const std::string comebacks =
      course.expected_comebacks > 0
          ? ", comebacks " + price_in_words(shop, course.expected_comebacks)
          : "";
  std::string what = "work " + minutes_in_words(work);
  if (shop.prices) {
    what = fmt::format("work {} ({}), parts {}", price_in_words(shop, work), minutes_in_words(work),
                       price_in_words(shop, course.expected_parts));
  } else if (course.expected_parts >= kLeastParts) {
    what += ", parts count as " + minutes_in_words(course.expected_parts);
  }
  return fmt::format("{} until it is gone or handed on: {}{}, price of handing on {}",
                     price_in_words(shop, course.expected_minutes), what, comebacks,
                     price_in_words(shop, course.expected_hand_on));
}

namespace {

/// That a course may need, each once, in its order.
std::vector<std::string> parts_of(const pack::Pack& pack, const plan::Course& course) {
  std::vector<std::string> parts;
  for (const plan::Batch& batch : course.batches) {
    for (const plan::CourseStep& step : batch.steps) {
      for (const std::string& part : pack.repairs[step.repair].parts) {
        if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
      }
    }
  }
  return parts;
}

}  // namespace

std::string part_prices_in_words(const Diagnosis& job, const plan::Shop& shop,
                                 const plan::Course& course) {
  if (!shop.prices) return {};
  std::vector<std::string> priced, unpriced;
  for (const std::string& part : parts_of(job.model().pack, course)) {
    const std::optional<double> price = shop.price_of(part);
    if (!price) unpriced.push_back(part);
    if (price) priced.push_back(fmt::format("{} {} {}", part, *price, shop.prices->currency));
  }
  std::string out;
  if (!priced.empty()) out += wrapped("  Parts apiece: " + join_words(priced, "; ", "; ") + ".", 2);
  if (unpriced.empty()) return out;
  return out + wrapped("  No price is known for these: " + join_words(unpriced, "; ", "; ") +
                           ". A repair that takes one of them counts no less than 'tickover "
                           "explain' says of its parts.",
                       2);
}

std::string stop_rule_in_words(const Diagnosis& job, const plan::Shop& shop,
                               const plan::Advice& advice) {
  const double handed_on =
      shop.hand_on_minutes(job.model().pack.frame.hand_on_minutes);  // without closing up
  std::string out = wrapped(
      fmt::format("Check more, or not: on average until it is gone or handed on (counts as {})",
                  price_in_words(shop, handed_on)),
      2);
  const plan::Proposal& first = advice.proposals.front();
  if (first.kind == plan::ActionKind::check || first.kind == plan::ActionKind::ask) {
    out += priced(shop, first.expected_minutes, "the above, then what it says");
  }
  const std::string course = course_in_short(advice.course_now);
  if (!course.empty()) out += priced(shop, advice.course_now.expected_minutes, course);
  out += priced(shop, advice.hand_on_minutes, "hand it on now");
  return course.empty() ? out : out + what_is_left(job, advice);
}

std::string worthwhile_in_words(const Diagnosis& job, const plan::Shop& shop,
                                const plan::Advice& advice) {
  const auto refit = plan::before_refit(job.workshop(), job.evidence(), advice);
  const auto strip = plan::before_strip(job.workshop(), job.evidence(), advice);
  std::string out;
  if (!refit.empty()) {
    out += "\nBefore you refit: worth doing while it is open, each by itself\n" +
           listed(job, shop, advice, refit, true);
  }
  if (!strip.empty()) {
    out += "\nBefore you strip: checks that are then out of reach\n" +
           listed(job, shop, advice, strip, false);
  }
  return out;
}

std::string nothing_fits_in_words(const Diagnosis& job, const plan::Advice& advice,
                                  double minutes) {
  const auto takes = [&](const plan::Proposal& one) {
    return plan::minutes_to_begin(job.workshop(), job.evidence().open_layers, one);
  };
  const auto shortest =
      std::min_element(advice.too_long.begin(), advice.too_long.end(),
                       [&](const auto& a, const auto& b) { return takes(a) < takes(b); });
  if (shortest == advice.too_long.end()) return "Nothing is left to be done.\n";
  return wrapped(fmt::format("Nothing that is worth doing fits into {}. The shortest: {}, {}.",
                             minutes_in_words(minutes), headline(job.model(), *shortest),
                             minutes_in_words(takes(*shortest))),
                 0);
}

void add_choices_json(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                      Json& out) {
  Json left = Json::array();
  for (const plan::Suspect& one : advice.left_over) {
    left.push_back(
        {{"cause", job.model().causes[one.cause].id}, {"probability", steady(one.probability)}});
  }
  out["choice"] = {{"course-minutes", steady(advice.course_now.expected_minutes)},
                   {"hand-on-minutes", steady(advice.hand_on_minutes)},
                   {"left-over", left},
                   {"unlisted-left-over", steady(advice.unlisted_left_over)}};
  if (shop.prices) {
    const auto money = [&](double minutes) { return steady(minutes * shop.prices->minute); };
    const plan::Course& course = advice.course_now;
    out["money"] = {{"currency", shop.prices->currency},
                    {"hour", steady(shop.prices->minute * 60)},
                    {"course", money(course.expected_minutes)},
                    {"course-parts", money(course.expected_parts)},
                    {"course-comebacks", money(course.expected_comebacks)},
                    {"course-hand-on", money(course.expected_hand_on)},
                    {"parts", Json::array()}};
    for (const std::string& part : parts_of(job.model().pack, course)) {
      const std::optional<double> price = shop.price_of(part);
      out["money"]["parts"].push_back(
          {{"part", part}, {"price", price ? Json(steady(*price)) : Json()}});
    }
  }
  out["before-refit"] =
      worthwhile_json(job, advice, plan::before_refit(job.workshop(), job.evidence(), advice));
  out["before-strip"] =
      worthwhile_json(job, advice, plan::before_strip(job.workshop(), job.evidence(), advice));
}

}  // namespace tickover::cli
