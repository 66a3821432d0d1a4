#include <fmt/format.h>
#include <unistd.h>

#include <charconv>
#include <chrono>
#include <nlohmann/json.hpp>
#include <ostream>
#include <thread>

#include "cli/command.hpp"
#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "cli/trial/crew.hpp"
#include "cli/trial/report.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kLargestSettings = 1u << 20;
constexpr std::size_t kLargestResults = 1u << 30;
constexpr int kMostJobs = 1'000'000, kMostThreads = 1024;

std::string schema_of(const World& world) {
  return world.store.read(world.knowledge + "/schema/trial.schema.json", kLargestSettings);
}

int whole_between(const Words& words, const std::string& name, int low, int high) {
  const int value = words.whole(name);
  if (value >= low && value <= high) return value;
  throw InputError(
      InputFault::usage, "--" + name,
      "it should be a whole number from " + std::to_string(low) + " to " + std::to_string(high));
}

double slips_from(const Words& words) {
  const std::string text = words.text("slips");
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error == std::errc() && end == text.data() + text.size() && value >= 0 && value <= 1) {
    return value;
  }
  throw InputError(InputFault::usage, "--slips",
                   "'" + printable(text) + "' is no probability from 0 to 1",
                   "one result in fifty misread is 0.02");
}

Shard shard_from(const Words& words) {
  const std::string text = words.text("shard");
  const std::size_t slash = text.find('/');
  Shard shard{0, 0};
  const auto read = [&](std::size_t from, std::size_t to, std::size_t& into) {
    const auto [end, error] = std::from_chars(text.data() + from, text.data() + to, into);
    return error == std::errc() && end == text.data() + to;
  };
  const bool parsed = slash != std::string::npos && read(0, slash, shard.i) &&
                      read(slash + 1, text.size(), shard.n);
  if (parsed && shard.i >= 1 && shard.i <= shard.n && shard.n <= kMostJobs) return shard;
  throw InputError(InputFault::usage, "--shard", "'" + printable(text) + "' is no shard",
                   "the first of four is 1/4, the last 4/4");
}

std::vector<std::string> policies_from(const Words& words) {
  std::vector<std::string> known, chosen;
  for (const trial::PolicyEntry& one : trial::policies()) known.push_back(one.name);
  for (const std::string& name : words.several("policy")) {
    if (std::find(known.begin(), known.end(), name) == known.end()) {
      throw unknown_name(InputFault::usage, "", "policy", name, known);
    }
    if (std::find(chosen.begin(), chosen.end(), name) == chosen.end()) chosen.push_back(name);
  }
  return chosen.empty() ? known : chosen;
}

/// What is played, and the line that says so.
struct Played {
  trial::Trial trial;
  TrialHead head;
};

Played from_words(const World& world, const Words& words) {
  Played all;
  all.trial.pack = load_pack(world);
  all.trial.machine = load_machine_sheet(world, words.required("machine"));
  const std::string path =
      words.has("settings") ? words.text("settings") : world.knowledge + "/trial/settings.json";
  const std::string settings = world.store.read(path, kLargestSettings);
  all.trial.settings = trial::load_settings(settings, schema_of(world), path, all.trial.pack);
  all.trial.seed = static_cast<std::uint64_t>(whole_between(words, "seed", 0, 2'000'000'000));
  all.trial.perturbed = words.has("perturbed");
  all.trial.slips = slips_from(words);
  all.trial.policies = policies_from(words);
  all.head = {
      all.trial.pack.id,    all.trial.pack.hash,
      all.trial.machine.id, sha256(all.trial.machine.sheet),
      sha256(settings),     static_cast<std::size_t>(whole_between(words, "jobs", 1, kMostJobs)),
      all.trial.seed,       all.trial.perturbed,
      all.trial.slips,      all.trial.policies,
      shard_from(words)};
  if (all.head.shard.i <= all.head.jobs && trial::complaint_possible(all.trial)) return all;
  if (all.head.shard.i > all.head.jobs) {
    throw InputError(InputFault::usage, "--shard", "it holds no job",
                     "there are " + std::to_string(all.head.jobs) + " jobs");
  }
  throw InputError(InputFault::data, "machine '" + all.trial.machine.id + "'",
                   "no rider can ever complain of it",
                   "nothing that the pack has for it shows itself unasked");
}

/// "\r  120 of 1000 jobs, 4.1 a second" on a terminal, nothing elsewhere.
class Progress {
 public:
  Progress(std::ostream& talk, std::size_t jobs)
      : talk_(talk), jobs_(jobs), shown_(::isatty(STDERR_FILENO) != 0) {}
  ~Progress() {
    if (shown_ && done_ > 0) talk_ << "\n";
  }
  void add(std::size_t jobs) {
    done_ += jobs;
    if (!shown_) return;
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begin_;
    talk_ << "\r  " << done_ << " of " << jobs_ << " jobs, "
          << fmt::format("{:.1f}", static_cast<double>(done_) / std::max(passed.count(), 0.1))
          << " a second   " << std::flush;
  }

 private:
  std::ostream& talk_;
  const std::size_t jobs_;
  const bool shown_;
  std::size_t done_ = 0;
  const std::chrono::steady_clock::time_point begin_ = std::chrono::steady_clock::now();
};

/// The file that results go to, line by line; nothing without one.
class ResultsFile {
 public:
  /// Takes up what is there already with --resume; creates the file otherwise.
  ResultsFile(World& world, const Words& words, TrialResults& results)
      : store_(world.store), path_(words.text("out")) {
    if (path_.empty()) return;
    if (words.has("resume") && store_.exists(path_)) {
      lock_ = store_.lock(path_);
      const std::string text = store_.read(path_, kLargestResults);
      const TrialResults before = parse_results(text, JsonSchema(schema_of(world)), path_);
      take_up(results, before);
      size_ = text.size();
      torn_ = before.torn;
      return;
    }
    const std::string line = head_line(results.head);
    store_.create(path_, line);
    lock_ = store_.lock(path_);
    size_ = line.size();
  }

  void add(const std::vector<trial::JobResult>& played) {
    if (path_.empty()) return;
    std::string text;
    for (const trial::JobResult& one : played) text += played_line(one);
    store_.append(path_, size_, torn_, text);
    size_ += text.size() - torn_;
    torn_ = 0;
  }

 private:
  void take_up(TrialResults& results, const TrialResults& before) const {
    const std::string differs = difference(results.head, before.head);
    if (differs.empty() && results.head.shard == before.head.shard) {
      results.played = before.played;
      return;
    }
    throw InputError(InputFault::data, path_ + ":1", "these are results of another trial",
                     "'" + (differs.empty() ? "shard" : differs) + "' differs; name another --out");
  }

  Store& store_;
  const std::string path_;
  std::size_t size_ = 0, torn_ = 0;
  std::shared_ptr<void> lock_;
};

TrialResults played(World& world, const Words& words) {
  const Played all = from_words(world, words);
  TrialResults results{all.head, {}, 0};
  ResultsFile file(world, words, results);
  std::vector<std::size_t> numbers = all.head.numbers();
  numbers.erase(numbers.begin(),
                numbers.begin() + static_cast<std::ptrdiff_t>(results.played.size()));
  const auto cores = static_cast<int>(std::max(std::thread::hardware_concurrency(), 1u));
  const int threads =
      words.has("threads") ? whole_between(words, "threads", 1, kMostThreads) : cores;
  Progress progress(world.talk, numbers.size());
  play_jobs(all.trial, numbers, static_cast<std::size_t>(threads),
            [&](const std::vector<trial::JobResult>& run) {
              file.add(run);
              results.played.insert(results.played.end(), run.begin(), run.end());
              progress.add(run.size());
            });
  return results;
}

TrialResults joined(World& world, const Words& words) {
  const JsonSchema schema(schema_of(world));
  const std::vector<std::string> files = words.several("results");
  if (files.empty()) {
    throw InputError(InputFault::usage, "--merge", "RESULTS are missing",
                     "name the files that '--shard i/n --out FILE' wrote");
  }
  std::vector<TrialResults> shards;
  for (const std::string& file : files) {
    shards.push_back(parse_results(world.store.read(file, kLargestResults), schema, file));
  }
  TrialResults all = merged(shards, files);
  if (words.has("out")) {
    std::string text = head_line(all.head);
    for (const trial::JobResult& one : all.played) text += played_line(one);
    world.store.create(words.text("out"), text);
  }
  return all;
}

void refuse_strays(const Words& words) {
  if (!words.has("merge") && words.has("results")) {
    throw InputError(InputFault::usage, "", "results are named, but not --merge",
                     "tickover trial --merge RESULTS...");
  }
  for (const std::string name : {"jobs", "seed", "machine", "policy", "perturbed", "slips", "shard",
                                 "resume", "threads", "settings"}) {
    if (!words.has("merge") || !words.has(name)) continue;
    throw InputError(InputFault::usage, "--" + name, "it has no meaning with --merge",
                     "the results say what was played");
  }
  if (words.has("resume") && !words.has("out")) {
    throw InputError(InputFault::usage, "--resume", "it needs --out FILE",
                     "the file that was cut short");
  }
}

/// Before an hour of play, not after it.
void refuse_files(const World& world, const Words& words) {
  for (const std::string name : {"html", "svg"}) {
    if (!words.has(name)) continue;
    const std::string path = words.text(name);
    if (world.store.exists(path)) {
      throw InputError(InputFault::exists, path, "it exists already", "name another file");
    }
    const std::size_t slash = path.rfind('/');
    if (slash == std::string::npos || slash == 0 || world.store.exists(path.substr(0, slash)))
      continue;
    throw InputError(InputFault::exists, path, "there is no folder " + path.substr(0, slash),
                     "make it first, or name another file");
  }
}

int run_trial(World& world, const Words& words) {
  refuse_strays(words);
  refuse_files(world, words);
  const TrialResults results = words.has("merge") ? joined(world, words) : played(world, words);
  const TrialReport report{
      results.head, trial::summarize(results.played, results.head.policies, results.head.seed)};
  if (words.has("html")) world.store.create(words.text("html"), trial_html(report));
  if (words.has("svg")) world.store.create(words.text("svg"), trial_svg(report));
  if (words.has("json")) {
    print_json(world.out, trial_json(report));
  } else {
    world.out << trial_text(report);
  }
  return kDone;
}

std::vector<Option> trial_options() {
  return {
      {.name = "machine",
       .help = "a sheet of 'tickover list machines', or the path of your own",
       .placeholder = "ID|FILE",
       .names = Names::machine},
      {.name = "jobs",
       .help = "how many jobs",
       .kind = Kind::whole,
       .placeholder = "N",
       .usual = "100"},
      {.name = "seed",
       .help = "another seed, other jobs",
       .kind = Kind::whole,
       .placeholder = "S",
       .usual = "1"},
      {.name = "policy",
       .help = "only these: planner, one-step, one-step-exact, ratio, most-probable, entropy, "
               "printed-order, "
               "strip-first, "
               "truth; the others are compared with the first",
       .kind = Kind::texts,
       .placeholder = "LIST"},
      {.name = "perturbed",
       .help = "truths from numbers moved within their ranges, belief from the pack as it is",
       .kind = Kind::flag},
      {.name = "slips",
       .help = "probability that a result is misread",
       .placeholder = "P",
       .usual = "0"},
      {.name = "settings",
       .help = "riders, rules and the printed order, instead of those of the knowledge folder",
       .placeholder = "FILE",
       .names = Names::file},
      {.name = "threads",
       .help = "how many at once (default: one a core)",
       .kind = Kind::whole,
       .placeholder = "N"},
      {.name = "shard",
       .help = "play only every n-th job, from the i-th",
       .placeholder = "I/N",
       .usual = "1/1"},
      {.name = "out",
       .help = "write the results there, a line a job",
       .placeholder = "FILE",
       .names = Names::file},
      {.name = "resume", .help = "go on with an --out file that was cut short", .kind = Kind::flag},
      {.name = "merge",
       .help = "join the RESULTS of all shards instead of playing",
       .kind = Kind::flag},
      {.name = "html",
       .help = "write a page with chart and tables",
       .placeholder = "FILE",
       .names = Names::file},
      {.name = "svg",
       .help = "write the chart alone",
       .placeholder = "FILE",
       .names = Names::file}};
}

}  // namespace

Command trial_command() {
  return {
      "trial",
      "Plays simulated jobs, drawn from the knowledge, by several ways of working, and compares "
      "what they cost.",
      {{.name = "results",
        .help = "results to join, with --merge",
        .names = Names::file,
        .needed = false,
        .several = true}},
      "tickover trial --machine four-inline --jobs 200 --seed 7 --html trial.html",
      trial_options(),
      run_trial};
}

}  // namespace tickover::cli
