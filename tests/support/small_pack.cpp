#include "tests/support/small_pack.hpp"

#include <fmt/format.h>

#include <fstream>
#include <sstream>
#include <stdexcept>

#include "engine/foundation/text.hpp"

namespace tickover::test {
namespace {

pack::PackFiles shipped_files() {
  pack::PackFiles files;
  for (const std::string& name : pack::file_names()) {
    files[name] = source_text("knowledge/carburettor/" + name);
  }
  return files;
}

Entry entry_of(Event event, const std::string& what, const Cylinders& cylinders = {},
               const std::string& value = {}) {
  Entry entry;
  entry.event = event;
  entry.what = what;
  entry.cylinders = cylinders;
  entry.value = value;
  return entry;
}

std::string name(const std::string& kind, std::size_t index) {
  return kind + "-" + std::to_string(index);
}

pack::Outcome outcome(const std::string& id, double present, double absent) {
  return {id, id, number(present), number(absent)};
}

template <class Instance>
std::size_t index_of(const std::vector<Instance>& instances, const std::string& id) {
  for (std::size_t i = 0; i < instances.size(); ++i) {
    if (instances[i].id == id) return i;
  }
  throw std::runtime_error("no instance " + id);
}

std::string quoted(const std::vector<std::string>& words) {
  std::vector<std::string> out;
  for (const std::string& word : words) out.push_back('"' + word + '"');
  return "[" + join_words(out, ",", ",") + "]";
}

}  // namespace

std::string source_text(const std::string& path) {
  std::ifstream file(std::string(TICKOVER_SOURCE) + "/" + path, std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

const pack::Pack& shipped_pack() {
  static const pack::Pack pack = pack::load(
      shipped_files(), source_text("knowledge/schema/pack.schema.json"), "knowledge/carburettor");
  return pack;
}

std::string shipped_sheet(const std::string& machine) {
  return source_text("knowledge/machines/" + machine + ".json");
}

const std::vector<std::string>& shipped_machines() {
  static const std::vector<std::string> names = {"single", "single-pumper", "twin-parallel",
                                                 "twin-v", "triple-inline", "four-inline",
                                                 "four-v", "six-inline"};
  return names;
}

const std::string& machine_schema() {
  static const std::string text = source_text("knowledge/schema/machine.schema.json");
  return text;
}

JobWriter::JobWriter(const std::string& sheet, const std::vector<std::string>& risks,
                     const std::string& complaint) {
  Entry entry = entry_of(Event::open, "");
  entry.opening = Opening{"test", "1.0.0", std::string(64, '0'), sheet, risks, complaint};
  add(entry);
}

JobWriter& JobWriter::add(Entry entry) {
  const std::size_t index = journal_.entries.size();
  entry.number = index + 1;
  entry.time = fmt::format("2026-03-02T{:02}:{:02}:00Z", 9 + index / 60, index % 60);
  journal_ = with_entry(std::move(journal_), entry, "test");
  return *this;
}

JobWriter& JobWriter::record(const std::string& what, const std::string& value,
                             const Cylinders& cylinders) {
  return add(entry_of(Event::record, what, cylinders, value));
}

JobWriter& JobWriter::repair(const std::string& what, const Cylinders& cylinders) {
  return add(entry_of(Event::repair, what, cylinders));
}

JobWriter& JobWriter::verify(const std::string& verdict, const std::vector<std::string>& gone) {
  Entry entry = entry_of(Event::verify, verdict);
  entry.items = gone;
  return add(entry);
}

JobWriter& JobWriter::strip(const std::vector<std::string>& layers) {
  Entry entry = entry_of(Event::strip, "");
  entry.items = layers;
  return add(entry);
}

JobWriter& JobWriter::refit(const std::vector<std::string>& layers) {
  Entry entry = entry_of(Event::refit, "");
  entry.items = layers;
  return add(entry);
}

JobWriter& JobWriter::note(const std::string& text) {
  Entry entry = entry_of(Event::note, "");
  entry.note = text;
  return add(entry);
}

JobWriter& JobWriter::strike(std::size_t target) {
  Entry entry = entry_of(Event::strike, "");
  entry.target = target;
  return add(entry);
}

Diagnosis diagnose(const pack::Pack& pack, const Journal& journal) {
  return Diagnosis(pack, journal, machine_schema(), "test");
}

Diagnosis diagnose(const JobWriter& job) { return diagnose(shipped_pack(), job.journal()); }

std::size_t cause_instance(const Model& model, const std::string& id) {
  return index_of(model.causes, id);
}

const FindingInstance& finding_instance(const Model& model, const std::string& id) {
  return model.findings[index_of(model.findings, id)];
}

pack::Number number(double value) {
  pack::Number number;
  number.value = number.low = number.high = value;
  return number;
}

SmallPack::SmallPack(double verify_minutes, double hand_on_minutes) {
  pack.id = "small";
  pack.defers_to = "the service manual";
  pack.frame.verify_minutes = verify_minutes;
  pack.frame.hand_on_minutes = hand_on_minutes;
  pack.disturbed = number(0);
}

std::size_t SmallPack::cause(double prior) {
  pack::Cause cause;
  cause.id = name("cause", pack.causes.size());
  cause.name = cause.id;
  cause.prior = number(prior);
  cause.disturbed = number(0);
  pack.causes.push_back(cause);
  return pack.causes.size() - 1;
}

std::size_t SmallPack::symptom(double leak, const std::vector<Link>& links) {
  pack::Finding finding;
  finding.id = name("symptom", pack.findings.size());
  finding.name = finding.id;
  finding.levels = {"no", "yes"};
  finding.leak = {number(leak)};
  for (const Link& link : links) {
    finding.links.push_back({link.cause, {number(link.strength)}, "", pack::Direction::low, 0});
  }
  pack.findings.push_back(finding);
  return pack.findings.size() - 1;
}

std::size_t SmallPack::layer(const Layer& layer) {
  pack::Layer added;
  added.id = name("layer", pack.layers.size());
  added.name = added.id;
  added.behind = layer.behind;
  added.open_minutes = layer.open;
  added.close_minutes = layer.close;
  added.runs_open = layer.runs_open;
  added.needs = layer.needs;
  pack.layers.push_back(added);
  return pack.layers.size() - 1;
}

std::size_t SmallPack::repair(const Repair& repair) {
  pack::Repair added;
  added.id = name("repair", pack.repairs.size());
  added.name = added.id;
  for (const Link& one : repair.removes) {
    added.removes.push_back({one.cause, number(one.strength)});
  }
  added.minutes = repair.minutes;
  added.open = repair.open;
  pack.repairs.push_back(added);
  return pack.repairs.size() - 1;
}

std::size_t SmallPack::look(const Look& look) {
  pack::Finding finding;
  finding.id = name("look", pack.findings.size());
  finding.name = finding.id;
  finding.kind = pack::Kind::inspection;
  finding.cause = look.cause;
  finding.outcomes = {outcome("sound", 1 - look.sensitivity, 1 - look.false_alarm),
                      outcome("faulty", look.sensitivity, look.false_alarm)};
  pack::Check check;
  check.id = finding.id;
  check.name = finding.id;
  check.finding = pack.findings.size();
  check.minutes = look.minutes;
  check.open = look.open;
  pack.findings.push_back(finding);
  pack.checks.push_back(check);
  return pack.checks.size() - 1;
}

std::string plain_sheet(std::size_t cylinders, const std::vector<std::string>& features) {
  std::vector<std::string> names;
  std::vector<std::string> carburettors;
  for (std::size_t i = 1; i <= cylinders; ++i) {
    names.push_back(std::to_string(i));
    carburettors.push_back(fmt::format(R"({{"name":"{0}","feeds":[{0}]}})", i));
  }
  return fmt::format(
      R"({{"format":1,"id":"plain","name":"Plain test machine","invented":true,"cylinders":{},)"
      R"("carburettors":[{}],"features":{},"wanted":{{}}}})",
      quoted(names), join_words(carburettors, ",", ","), quoted(features));
}

Model small_model(const SmallPack& small) {
  return build_model(small.pack, load_machine(plain_sheet(), machine_schema(), "plain"), {});
}

}  // namespace tickover::test
