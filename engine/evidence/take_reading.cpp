#include "engine/evidence/take_reading.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "engine/evidence/exhaust_sample.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/evidence/repeated.hpp"
#include "engine/evidence/siblings.hpp"
#include "engine/evidence/slip.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

const pack::Finding& finding_of(const Model& model, std::size_t instance) {
  return model.pack.findings[model.findings[instance].finding];
}

std::string percent(double share) { return format_quantity({share, Dimension::fraction}, "%", 3); }

/// The sibling of the same epoch that reads furthest against the direction of the links.
std::optional<double> furthest_sibling(const Model& model, const Evidence& evidence,
                                       const Observation& seen) {
  const std::size_t finding = model.findings[seen.finding].finding;
  const bool low = model.pack.findings[finding].links.front().direction == pack::Direction::low;
  std::optional<double> furthest;
  for (const Observation& other : evidence.observations) {
    const bool sibling = model.findings[other.finding].finding == finding &&
                         other.finding != seen.finding && other.epoch == seen.epoch;
    if (!sibling || !other.reading) continue;
    const bool further =
        !furthest || (low ? *other.reading > *furthest : *other.reading < *furthest);
    if (further) furthest = other.reading;
  }
  return furthest;
}

/// Repairs so far of what can move the reading: readings between them are of one part as it stood.
std::size_t repairs_before(const Model& model, const Evidence& evidence, const Observation& seen) {
  const std::vector<LinkInstance>& links = model.findings[seen.finding].links;
  return static_cast<std::size_t>(
      std::count_if(evidence.repairs.begin(), evidence.repairs.end(), [&](const RepairDone& done) {
        return done.epoch <= seen.epoch &&
               std::any_of(links.begin(), links.end(),
                           [&](const LinkInstance& link) { return link.cause == done.cause; });
      }));
}

bool gives_way(const Model& model, std::size_t instance, const Observation& seen) {
  const std::vector<std::string>& others = finding_of(model, seen.finding).instead_of;
  return model.findings[instance].place == model.findings[seen.finding].place &&
         std::find(others.begin(), others.end(), finding_of(model, instance).id) != others.end();
}

void set_aside(Evidence& evidence, const Observation& told) {
  evidence.told.push_back(told);
  std::erase_if(evidence.observations, [&](const Observation& other) {
    const bool same = other.finding == told.finding && other.epoch == told.epoch;
    if (same) evidence.replaced.push_back({other.entry, told.entry});
    return same;
  });
}

/// The pipe is the same when it is sampled again in the same epoch: the later sample counts.
void replace_sample(Evidence& evidence, const std::vector<Observation>& sampled) {
  std::map<std::size_t, std::set<std::size_t>> places;  // of the samples so far, by entry
  for (const Observation& earlier : evidence.observations) {
    if (!earlier.sample || earlier.epoch != sampled.front().epoch) continue;
    places[earlier.entry].insert(earlier.finding);
  }
  std::set<std::size_t> here;
  for (const Observation& seen : sampled) here.insert(seen.finding);
  for (const auto& [entry, there] : places) {
    if (there != here) continue;
    evidence.replaced.push_back({entry, sampled.front().entry});
    std::erase_if(evidence.observations,
                  [number = entry](const Observation& seen) { return seen.entry == number; });
  }
}

void check_places(const Entry& entry, std::size_t count) {
  if (count <= kMostSampled) return;
  throw InputError(
      InputFault::usage, "",
      "'" + entry.what + "' cannot be one sample of " + std::to_string(count) + " cylinders",
      "it is for at most " + std::to_string(kMostSampled) +
          " that share a pipe; for the whole engine see 'tickover list checks exhaust'");
}

void check_balance(const Entry& entry, const SampleLambda& sample) {
  if (entry.confirmed || !needs_confirmation(sample)) return;
  throw InputError(InputFault::usage, "",
                   "these gases do not fit each other: by their oxygen they make " +
                       percent(sample.balance) + " of the sample, not 100 %",
                   "look again at each figure and at the zero of the cells; if it is so, add "
                   "--confirm");
}

void check_expected(const Model& model, const Entry& entry, const ReadingModel& reading,
                    const Observation& seen) {
  if (!needs_confirmation(reading, *seen.reading)) return;
  const std::string question =
      probable_slip(entry.value, finding_of(model, seen.finding).unit, reading);
  const std::string look = "look again at the unit, the cylinder and the decimal point";
  throw InputError(InputFault::usage, "",
                   printable(entry.value) + " for '" + entry.what +
                       "' is far from what is seen: " + verdict(model, seen).text,
                   (question.empty() ? look + "; if it is so, add --confirm"
                                     : question + " if it is as written, add --confirm"));
}

}  // namespace

void take_reading(const Model& model, const Evidence& before, const Entry& entry,
                  Observation& seen) {
  const FindingInstance& instance = model.findings[seen.finding];
  const pack::Finding& finding = model.pack.findings[instance.finding];
  ReadingModel reading = reading_model(model, instance);
  seen.reading = parse_reading(model, instance, entry.value);
  if (finding.sibling_tolerance) {
    seen.sibling = furthest_sibling(model, before, seen);
    if (finding.nominal.empty() && !seen.sibling) return;  // nothing to judge it by yet
    if (finding.nominal.empty()) reading.wanted = *seen.sibling;
  } else {
    seen.likelihood = joint_likelihood(reading, seen.finding, likelihood(reading, *seen.reading));
  }
  if (!entry.confirmed) check_expected(model, entry, reading, seen);
}

void take_sample(const Model& model, Evidence& evidence, const Entry& entry, std::size_t finding,
                 const std::vector<Place>& where) {
  check_places(entry, where.size());
  std::vector<std::size_t> instances;
  for (const Place place : where) instances.push_back(*model.find_finding(finding, place));
  Observation seen;
  seen.entry = entry.number;
  seen.epoch = evidence.epoch;
  seen.sample = parse_exhaust_sample(model.pack.findings[finding], entry.value);
  seen.reading = seen.sample->lambda;
  check_balance(entry, *seen.sample);
  seen.likelihood = sample_likelihood(sample_model(model, model.findings[instances.front()]),
                                      *seen.sample, instances);
  std::vector<Observation> sampled;
  for (const std::size_t instance : instances) {
    seen.finding = instance;
    sampled.push_back(seen);
    seen.likelihood = {};
  }
  replace_sample(evidence, sampled);
  std::copy(sampled.begin(), sampled.end(), std::back_inserter(evidence.observations));
}

void compare_siblings(const Model& model, Evidence& evidence, AllSiblingsTold& told) {
  std::map<std::pair<std::size_t, std::size_t>, std::vector<Observation*>> groups;
  for (Observation& seen : evidence.observations) {
    if (!seen.reading || !finding_of(model, seen.finding).sibling_tolerance) continue;
    groups[{model.findings[seen.finding].finding, seen.epoch}].push_back(&seen);
    seen.sibling = furthest_sibling(model, evidence, seen);
  }
  for (const auto& [key, group] : groups) {
    std::vector<std::size_t> findings;
    std::vector<double> values;
    for (const Observation* seen : group) {
      findings.push_back(seen->finding);
      values.push_back(*seen->reading);
    }
    SiblingsTold& known = told[key];
    if (known.findings != findings || known.values != values) {
      const SiblingModel siblings = sibling_model(model, model.pack.findings[key.first]);
      known = {findings, values, sibling_likelihoods(siblings, findings, values)};
    }
    for (std::size_t i = 0; i < group.size(); ++i) group[i]->likelihood = known.added[i];
  }
}

void join_repeated(const Model& model, Evidence& evidence) {
  std::map<std::pair<std::size_t, std::size_t>, std::vector<Observation*>> groups;
  for (Observation& seen : evidence.observations) {
    if (!seen.reading || seen.sample || finding_of(model, seen.finding).sibling_tolerance) continue;
    groups[{seen.finding, repairs_before(model, evidence, seen)}].push_back(&seen);
  }
  for (const auto& [key, group] : groups) {
    if (group.size() < 2) continue;
    const ReadingModel reading = reading_model(model, model.findings[key.first]);
    std::vector<double> values;
    for (const Observation* seen : group) values.push_back(*seen->reading);
    const std::vector<ReadingLikelihood> added = repeated_likelihoods(reading, values);
    for (std::size_t i = 1; i < group.size(); ++i) {
      group[i]->likelihood = joint_likelihood(reading, key.first, added[i]);
    }
  }
}

void give_way(const Model& model, Evidence& evidence) {
  const std::vector<Observation> all = evidence.observations;
  for (const Observation& seen : all) {
    if (finding_of(model, seen.finding).instead_of.empty()) continue;
    for (std::size_t i = 0; i < model.findings.size(); ++i) {
      if (!gives_way(model, i, seen)) continue;
      Observation told = seen;
      told.finding = i;
      set_aside(evidence, told);
    }
  }
}

}  // namespace tickover
