#include "engine/trail/review.hpp"

#include <algorithm>
#include <set>

#include "engine/evidence/answers.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/plan/choices.hpp"

namespace tickover {
namespace {

constexpr std::size_t kSkippedShown = 3;

class Reviewer {
 public:
  Reviewer(const Diagnosis& job, const Journal& journal)
      : job_(job), model_(job.model()), journal_(journal) {
    for (const Entry* entry : journal.valid()) {
      if (entry->event == Event::repair && first_repair_ == 0) first_repair_ = entry->number;
      if (entry->event == Event::repair) {
        last_repair_ = entry->number;
        verified_by_ = 0;
      }
      if (entry->event == Event::verify && verified_by_ == 0) verified_by_ = entry->number;
    }
  }

  Review make() {
    const Evidence before =
        evidence_after(job_, journal_, first_repair_ > 0 ? first_repair_ - 1 : all());
    review_.finished = job_.evidence().finished;
    review_.verified = verified_by_ > last_repair_;
    account(belief::narrowed(job_.ground().given(before)), before.complaint);
    if (last_repair_ > 0) review_.cured = cured_before_running();
    add_readings();
    add_skipped(before);
    return std::move(review_);
  }

 private:
  std::size_t all() const { return journal_.entries.size(); }

  /// `complaint` as it was then: what came after a repair is not of what was found before it.
  void account(const belief::Case& given, const std::vector<std::size_t>& complaint) {
    const belief::Belief belief = belief::infer(given);
    std::set<std::size_t> found(job_.evidence().confirmed.begin(), job_.evidence().confirmed.end());
    const belief::Belief now = job_.infer();
    for (const RepairDone& done : job_.evidence().repairs) {
      // a repair of everything that might be it has found nothing where nothing was, nor one that
      // the running engine has shown to have been in vain
      const bool likely = belief.present_at_start[done.cause] >= kInQuestion &&
                          now.present_at_start[done.cause] >= kInQuestion;
      if (likely) found.insert(done.cause);
    }
    for (std::size_t c = 0; c < now.present_at_start.size(); ++c) {
      if (now.present_at_start[c] >= kConfirmed) found.insert(c);
    }
    review_.found.assign(found.begin(), found.end());
    for (const std::size_t named : job_.evidence().confirmed) {
      const double p = now.present_at_start[named];
      if (p < kInQuestion) review_.in_doubt.push_back({named, p});
    }
    add_needless(now);
    std::vector<belief::Removal> removals;
    for (const std::size_t cause : review_.found) removals.push_back({cause, 0, 1, 0});
    for (const std::size_t finding : complaint) {
      review_.complaint.push_back(
          {finding, belief::cured(given, job_.ground().nodes_of({finding}), removals)});
    }
  }

  /// Judged by how it was found: not where something may have come in since.
  void add_needless(const belief::Belief& now) {
    if (!job_.evidence().appeared.empty()) return;
    for (const RepairDone& done : job_.evidence().repairs) {
      std::vector<Needless>& all = review_.needless;
      if (all.empty() || all.back().entry != done.entry)
        all.push_back({done.entry, done.repair, 0});
      const std::vector<std::size_t>& named = job_.evidence().confirmed;
      const bool is_named = std::binary_search(named.begin(), named.end(), done.cause);
      const double present = is_named ? 1 : now.present_at_start[done.cause];
      all.back().met = std::min(all.back().met + present, 1.0);
    }
    std::erase_if(review_.needless, [](const Needless& one) { return one.met >= kInQuestion; });
  }

  /// With all that was known after the last repair and before the engine was run for it.
  double cured_before_running() const {
    const std::size_t until = verified_by_ > last_repair_ ? verified_by_ - 1 : all();
    return belief::cured(
        belief::narrowed(job_.ground().given(evidence_after(job_, journal_, until))),
        job_.complaint(), {});
  }

  void add_readings() {
    for (const BenchValue& value : last_beyond(job_)) {
      (value.repaired_since ? review_.without_as_left : review_.left_beyond).push_back(value);
    }
  }

  /// Ever recorded, unsure and replaced looks included.
  bool looked_for(std::size_t finding) const {
    const std::vector<const Entry*> valid = journal_.valid();
    return std::any_of(valid.begin(), valid.end(), [&](const Entry* entry) {
      return entry->event == Event::record && finding_named(model_, entry->what) == finding;
    });
  }

  void add_skipped(const Evidence& before) {
    const plan::Advice advice = plan::advise(job_.workshop(), job_.ground(), before, 0);
    for (const plan::Proposal& proposal : advice.proposals) {
      if (review_.skipped.size() == kSkippedShown) break;
      if (proposal.kind != plan::ActionKind::check) continue;
      const double spares = plan::spared_by_itself(advice, proposal);
      if (spares < plan::kLeastSpared || looked_for(model_.pack.checks[proposal.index].finding))
        continue;
      const bool known =
          std::any_of(review_.skipped.begin(), review_.skipped.end(),
                      [&](const SkippedCheck& one) { return one.check == proposal.index; });
      if (!known) {
        review_.skipped.push_back({proposal.index, proposal.places, proposal.minutes(), spares});
      }
    }
  }

  const Diagnosis& job_;
  const Model& model_;
  const Journal& journal_;
  // entries; 0 for none
  std::size_t first_repair_ = 0, last_repair_ = 0;
  std::size_t verified_by_ = 0;  ///< the first verification after the last repair
  Review review_;
};

}  // namespace

Review make_review(const Diagnosis& job, const Journal& journal) {
  return Reviewer(job, journal).make();
}

}  // namespace tickover
