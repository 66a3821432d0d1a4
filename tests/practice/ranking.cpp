#include "tests/practice/ranking.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/json_text.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {
namespace {

using nlohmann::json;

/// Sums of the instances' `values`, by cause of the pack.
std::vector<double> by_cause(const Model& model, const std::vector<double>& values) {
  std::vector<double> sums(model.pack.causes.size(), 0.0);
  for (std::size_t i = 0; i < values.size(); ++i) sums[model.causes[i].cause] += values[i];
  return sums;
}

std::vector<double> priors(const Model& model) {
  std::vector<double> values;
  for (const CauseInstance& cause : model.causes) values.push_back(cause.prior);
  return by_cause(model, values);
}

/// Place of `cause`, from 1.
std::size_t place_of(std::size_t cause, const std::vector<double>& values) {
  std::size_t place = 1;
  for (const double value : values) place += value > values[cause] ? 1 : 0;
  return place;
}

std::size_t index_of(const pack::Pack& pack, const std::string& id) {
  for (std::size_t i = 0; i < pack.causes.size(); ++i) {
    if (pack.causes[i].id == id) return i;
  }
  return pack.causes.size();
}

JobWriter job_of(const json& row) {
  JobWriter job(shipped_sheet(row.at("machine").get<std::string>()));
  for (const json& symptom : row.at("symptoms")) {
    Cylinders cylinders;
    if (symptom.contains("cylinder")) cylinders.push_back(symptom.at("cylinder"));
    job.record(symptom.at("finding"), symptom.at("answer"), cylinders);
  }
  return job;
}

}  // namespace

json practice(const std::string& file) { return json_of(source_text("tests/practice/" + file)); }

std::vector<double> expected_before(const std::string& machine) {
  return priors(diagnose(JobWriter(shipped_sheet(machine))).model());
}

std::vector<Rank> ranks_of(const json& row) {
  const Diagnosis job = diagnose(job_of(row));
  const std::vector<double> before = priors(job.model());
  const std::vector<double> after = by_cause(job.model(), job.infer().present_now);
  std::vector<double> rise(before.size(), 0.0);
  for (std::size_t i = 0; i < before.size(); ++i)
    rise[i] = before[i] > 0 ? after[i] / before[i] : 0;
  const auto possible = std::count_if(before.begin(), before.end(), [](double p) { return p > 0; });
  std::vector<Rank> ranks;
  for (const json& item : row.at("causes")) {
    Rank best;
    for (const std::string id : item.at("any-of")) {
      const std::size_t cause = index_of(job.model().pack, id);
      INFO(row.at("id") << ": " << id);
      REQUIRE(cause < before.size());
      if (before[cause] == 0) continue;  // this machine cannot have it; another of the item may do
      const Rank rank{
          row.at("id"),           item.at("printed"),    id,
          place_of(cause, after), place_of(cause, rise), static_cast<std::size_t>(possible)};
      if (best.place == 0 || rank.place < best.place) best = rank;
    }
    INFO(row.at("id") << ": " << item.at("printed"));
    REQUIRE(best.place > 0);
    ranks.push_back(best);
  }
  return ranks;
}

}  // namespace tickover::test
