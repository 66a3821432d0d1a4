#include "engine/trail/trail.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "engine/belief/weigh.hpp"
#include "engine/evidence/confirmed.hpp"
#include "engine/evidence/reading.hpp"

namespace tickover {
namespace {

constexpr std::size_t kLeadingKept = 3;
constexpr double kFallOfRuledOut = 10;

/// The first `count` of those that are not alike, each with those that are.
std::vector<Standing> leading(const Model& model, const std::vector<double>& probabilities,
                              std::size_t count, double least) {
  std::vector<std::vector<Standing>> groups;
  for (const std::size_t cause : belief::largest_first(probabilities)) {
    const Standing one{cause, probabilities[cause]};
    if (one.probability < least) break;
    const auto its = std::find_if(groups.begin(), groups.end(), [&](const auto& group) {
      return alike(model, group.front(), one);
    });
    if (its != groups.end()) {
      its->push_back(one);
    } else if (groups.size() < count) {
      groups.push_back({one});
    }
  }
  std::vector<Standing> standings;
  for (const auto& group : groups) standings.insert(standings.end(), group.begin(), group.end());
  return standings;
}

class TrailMaker {
 public:
  TrailMaker(const Diagnosis& job, const Journal& journal) : job_(job), journal_(journal) {}

  Trail make() {
    const belief::Case given = job_.judged();
    const belief::Belief now = belief::infer(given);
    trail_.contradiction = now.contradiction;
    highest_ = belief::infer(belief::up_to(given, 0)).present_at_start;
    for (const Entry& entry : journal_.entries) add_step(entry);
    trail_.remaining = leading(job_.model(), now.present_now, now.present_now.size(), kInQuestion);
    trail_.confirmed =
        leading(job_.model(), now.present_at_start, now.present_at_start.size(), kConfirmed);
    trail_.named = job_.evidence().confirmed;
    for (const std::size_t cause : trail_.named) {
      if (!repaired(job_.evidence(), cause)) trail_.named_left.push_back(cause);
    }
    trail_.probable_left = probable_left(job_);
    trail_.unlisted = belief::unlisted(given, job_.complaint());
    if (!now.contradiction) add_ruled_out(given, now);
    add_bench();
    trail_.left_beyond = left_beyond(job_);
    trail_.left_bad = left_bad(job_);
    add_siblings_left();
    return std::move(trail_);
  }

 private:
  void add_step(const Entry& entry) {
    TrailStep step{entry.number, journal_.struck[entry.number - 1], {}, {}};
    add_replaced(step);
    if (!step.struck) {
      const Evidence evidence = evidence_after(job_, journal_, entry.number);
      const belief::Case then = belief::narrowed(job_.ground().given(evidence));
      const belief::Belief belief = belief::infer(then);
      step.leading = leading(job_.model(), belief.present_now, kLeadingKept, kInQuestion);
      step.present = belief.present_now;
      if (entry.event == Event::repair) {
        step.cured_if_all_repaired = belief::cured(then, job_.complaint(), {});
      }
      for (std::size_t c = 0; c < highest_.size(); ++c) {
        highest_[c] = std::max(highest_[c], belief.present_at_start[c]);
      }
    }
    trail_.steps.push_back(std::move(step));
  }

  void add_siblings_left() {
    const Model& model = job_.model();
    for (std::size_t r = 0; r < model.pack.repairs.size(); ++r) {
      const pack::Repair& repair = model.pack.repairs[r];
      if (repair.siblings.empty() || !was_done(repair.id)) continue;
      bool some = false, all = true;
      for (std::size_t c = 0; c < model.causes.size(); ++c) {
        if (model.causes[c].cause != repair.removes.front().cause) continue;
        const bool done = repaired(job_.evidence(), c);
        some = some || done;
        all = all && (done || looked_at(c));
      }
      if (some && !all) trail_.siblings_left.push_back(r);
    }
  }

  bool looked_at(std::size_t cause) const {
    const std::vector<Observation>& seen = job_.evidence().observations;
    return std::any_of(seen.begin(), seen.end(), [&](const Observation& one) {
      return job_.model().findings[one.finding].cause == cause;
    });
  }

  bool was_done(const std::string& repair) const {
    const std::vector<const Entry*> entries = journal_.valid();
    return std::any_of(entries.begin(), entries.end(), [&](const Entry* entry) {
      return entry->event == Event::repair && entry->what == repair;
    });
  }

  void add_replaced(TrailStep& step) const {
    std::set<std::size_t> by;
    for (const Replaced& one : job_.evidence().replaced) {
      if (one.entry == step.entry) by.insert(one.by);
    }
    step.replaced_by.assign(by.begin(), by.end());
    const std::vector<Observation>& counted = job_.evidence().observations;
    step.replaced_in_part =
        !by.empty() && std::any_of(counted.begin(), counted.end(), [&](const Observation& seen) {
          return seen.entry == step.entry;
        });
  }

  void add_ruled_out(const belief::Case& given, const belief::Belief& now) {
    for (std::size_t c = 0; c < highest_.size(); ++c) {
      const double p = now.present_at_start[c];
      if (highest_[c] < kInQuestion || p * kFallOfRuledOut > highest_[c]) continue;
      RuledOut ruled{c, highest_[c], p, 0, 0};
      for (const belief::Weight& weight : belief::weights_of_evidence(given, c)) {
        if (weight.decibans >= ruled.decibans) continue;
        ruled.by = weight.source;
        ruled.decibans = weight.decibans;
      }
      trail_.ruled_out.push_back(ruled);
    }
    std::stable_sort(trail_.ruled_out.begin(), trail_.ruled_out.end(),
                     [](const RuledOut& a, const RuledOut& b) { return a.decibans < b.decibans; });
  }

  void add_bench() {
    for (const Observation& seen : job_.evidence().observations) {
      if (!seen.reading) continue;
      trail_.bench.push_back({seen, as_left(job_, seen), repaired_since(job_, seen)});
    }
    std::stable_sort(
        trail_.bench.begin(), trail_.bench.end(),
        [](const BenchValue& a, const BenchValue& b) { return a.seen.finding < b.seen.finding; });
  }

  const Diagnosis& job_;
  const Journal& journal_;
  std::vector<double> highest_;
  Trail trail_;
};

/// Whether one that `counts` removed something that moves the reading.
template <class Counts>
bool any_repair_of(const Diagnosis& job, const Observation& seen, const Counts& counts) {
  const std::vector<LinkInstance>& links = job.model().findings[seen.finding].links;
  const std::vector<RepairDone>& repairs = job.evidence().repairs;
  return std::any_of(repairs.begin(), repairs.end(), [&](const RepairDone& done) {
    return counts(done) && std::any_of(links.begin(), links.end(), [&](const LinkInstance& link) {
             return link.cause == done.cause;
           });
  });
}

}  // namespace

bool alike(const Model& model, const Standing& a, const Standing& b) {
  return model.causes[a.cause].cause == model.causes[b.cause].cause &&
         std::lround(100 * a.probability) == std::lround(100 * b.probability);
}

Evidence evidence_after(const Diagnosis& job, const Journal& journal, std::size_t entry) {
  Journal part = journal;
  part.entries.resize(entry);
  part.struck.resize(entry);
  return collect_evidence(job.model(), part, "");
}

bool as_left(const Diagnosis& job, const Observation& seen) {
  // a setting tells of when it was last set
  return any_repair_of(job, seen, [&](const auto& done) { return done.epoch <= seen.epoch; });
}

bool repaired_since(const Diagnosis& job, const Observation& seen) {
  return any_repair_of(job, seen, [&](const auto& done) { return done.epoch > seen.epoch; });
}

namespace {

/// Something listed can put the reading out on that side.
bool moved_that_way(const Model& model, const Observation& seen) {
  const pack::Finding& finding = model.pack.findings[model.findings[seen.finding].finding];
  if (finding.nominal.empty()) return true;
  const bool low = *seen.reading < model.machine.wanted.at(finding.nominal).value.si;
  const pack::Direction way = low ? pack::Direction::low : pack::Direction::high;
  return std::any_of(finding.links.begin(), finding.links.end(),
                     [&](const pack::Link& link) { return link.direction == way; });
}

}  // namespace

std::vector<BenchValue> last_beyond(const Diagnosis& job) {
  std::vector<BenchValue> values;
  const std::vector<Observation>& seen = job.evidence().observations;
  for (auto one = seen.begin(); one != seen.end(); ++one) {
    if (!one->reading || !verdict(job.model(), *one).beyond) continue;
    if (!moved_that_way(job.model(), *one)) continue;
    const bool last = std::none_of(one + 1, seen.end(), [&](const Observation& later) {
      return later.finding == one->finding && later.reading;
    });
    if (last) values.push_back({*one, as_left(job, *one), repaired_since(job, *one)});
  }
  return values;
}

std::vector<BenchValue> left_beyond(const Diagnosis& job) {
  std::vector<BenchValue> values = last_beyond(job);
  std::erase_if(values, [](const BenchValue& value) { return value.repaired_since; });
  return values;
}

std::vector<Observation> left_bad(const Diagnosis& job) {
  const Model& model = job.model();
  std::vector<Observation> left = job.evidence().observations;
  std::erase_if(left, [&](const Observation& seen) {
    const FindingInstance& instance = model.findings[seen.finding];
    const pack::Finding& finding = model.pack.findings[instance.finding];
    if (finding.kind != pack::Kind::inspection) return true;
    const pack::Outcome& outcome = finding.outcomes[seen.level];
    const std::vector<RepairDone>& repairs = job.evidence().repairs;
    return outcome.present.value < kLooksBad * outcome.absent.value ||
           std::any_of(repairs.begin(), repairs.end(), [&](const RepairDone& done) {
             return done.cause == *instance.cause && done.entry > seen.entry;
           });
  });
  return left;
}

std::vector<std::size_t> probable_left(const Diagnosis& job) {
  const Evidence& evidence = job.evidence();
  if (evidence.verdict != "gone") return {};
  std::vector<std::size_t> told = evidence.confirmed;
  for (const Observation& seen : left_bad(job)) {
    told.push_back(*job.model().findings[seen.finding].cause);
  }
  const std::vector<double> present = job.infer().present_at_start;
  std::vector<std::size_t> causes = belief::largest_first(present);
  std::erase_if(causes, [&](std::size_t cause) {
    return present[cause] < kConfirmed || repaired(evidence, cause) ||
           std::count(told.begin(), told.end(), cause) > 0;
  });
  return causes;
}

std::vector<Disagreement> disagreements(const Diagnosis& job) {
  constexpr double kDeviationsApart = 4;  // of the difference of two readings
  const Model& model = job.model();
  std::vector<Disagreement> found;
  const std::vector<Observation>& seen = job.evidence().observations;
  for (auto then = seen.begin(); then != seen.end(); ++then) {
    for (auto first = seen.begin(); first != then; ++first) {
      if (first->finding != then->finding || !first->reading || !then->reading) continue;
      const double error =
          std::sqrt(2.0) * reading_model(model, model.findings[then->finding]).instrument;
      const bool apart = std::abs(*first->reading - *then->reading) > kDeviationsApart * error;
      const bool turned = verdict(model, *first).beyond != verdict(model, *then).beyond;
      const bool repaired = any_repair_of(job, *first, [&](const RepairDone& done) {
        return done.entry > first->entry && done.entry < then->entry;
      });
      if (apart && turned && !repaired) found.push_back({*first, *then});
    }
  }
  return found;
}

Trail make_trail(const Diagnosis& job, const Journal& journal) {
  return TrailMaker(job, journal).make();
}

}  // namespace tickover
