#include "tests/bench/shipped.hpp"

#include <cstdio>
#include <cstdlib>
#include <string>
#include <thread>

#include "engine/diagnosis.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/pack/load.hpp"
#include "engine/store/store.hpp"
#include "tests/bench/measure.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/shell.hpp"

namespace tickover::bench {
namespace {

const std::string kKnowledge = std::string(TICKOVER_SOURCE) + "/knowledge";
constexpr std::size_t kLimit = 1u << 24;

void print(const std::string& what, double milliseconds, const char* reach = "") {
  std::printf("%-52s %9.3f ms  %s\n", what.c_str(), milliseconds, reach);
  std::fflush(stdout);
}

std::string read(const std::string& path) {
  return disk_store()->read(kKnowledge + "/" + path, kLimit);
}

struct PackText {
  pack::PackFiles files;
  std::string schema = read("schema/pack.schema.json");
  PackText() {
    for (const std::string& name : pack::file_names()) files[name] = read("carburettor/" + name);
  }
  pack::Pack load(const std::string& known = "") const {
    return pack::load(files, schema, "pack", known);
  }
};

/// A complaint of three symptoms on the in-line four.
std::string make_job(const std::string& folder) {
  const std::string program = TICKOVER_PROGRAM, job = folder + "/bench.job";
  test::run_shell(program + " open " + job + " --machine four-inline --risk long-storage && " +
                  program + " record " + job + " idle-hunts clear && " + program + " record " +
                  job + " steady-surge clear && " + program + " record " + job +
                  " idles-only-propped yes");
  return job;
}

void print_process(const std::string& what, const std::vector<std::string>& words,
                   const std::string& folder, const char* reach) {
  const Process process = run(words, folder);
  std::printf("%-52s %9.1f ms %6.1f MiB  %s%s\n", what.c_str(), process.milliseconds,
              process.mebibytes, reach, process.ran ? "" : "  FAILED");
  std::fflush(stdout);
}

void print_trial(const std::string& machine, const std::string& policy, int jobs,
                 const std::string& folder, const char* aim) {
  const Process trial = run({TICKOVER_PROGRAM, "trial", "--machine", machine, "--jobs",
                             std::to_string(jobs), "--policy", policy, "--threads", "1"},
                            folder, 1);
  const std::string what = "trial, " + machine + ", policy " + policy;
  std::printf("%-52s %9.1f jobs a second and core  %s%s\n", what.c_str(),
              1000 * jobs / trial.milliseconds, aim, trial.ran ? "" : "  FAILED");
  std::fflush(stdout);
}

/// The shipped network with `present` of its findings that can be seen, and 40 absent.
belief::Case shipped_case(const belief::Network& network, std::size_t present) {
  test::Random random(present);
  std::vector<std::size_t> order;
  for (std::size_t f = 0; f < network.findings.size(); ++f) {
    if (network.findings[f].links.size() > 0) order.push_back(f);
  }
  random.shuffle(order);
  belief::Case given;
  given.network = network;
  for (std::size_t i = 0; i < order.size() && i < present + 40; ++i) {
    const std::size_t level = i < present ? network.findings[order[i]].leak.size() : 0;
    given.levels.push_back({order[i], 0, level, i + 1});
  }
  return given;
}

void print_marginals(const belief::Network& network) {
  for (std::size_t present = 2; present <= 20; present += 2) {
    const belief::Case given = shipped_case(network, present);
    belief::Solver solver;
    const belief::Belief belief = solver.infer(given);
    const std::string what = "all marginals, shipped, " + std::to_string(present) +
                             " present, 40 absent, width " + std::to_string(belief.width);
    print(what, milliseconds([&] { solver.infer(given); }),
          belief.exact ? (belief.contradiction ? "impossible" : "") : "bounds only");
  }
}

}  // namespace

void print_processes() {
  std::printf("\nThe program (processor time)\n");
  const std::string folder = test::fresh_folder(), job = make_job(folder);
  const std::string program = TICKOVER_PROGRAM;
  print_process("next, one step (--nodes 0), whole process", {program, "next", job, "--nodes", "0"},
                folder, "reach 30 ms, 32 MiB");
  print_process("next as it comes (24 moments), whole process", {program, "next", job}, folder,
                "(32 MiB)");
  print_process("causes, whole process", {program, "causes", job}, folder, "");
  print_process("list causes, whole process", {program, "list", "causes"}, folder, "");
  print_trial("single", "planner", 8, folder, "");
  print_trial("four-inline", "planner", 8, folder, "");
  print_trial("four-inline", "one-step-exact", 20, folder, "");
  print_trial("four-inline", "one-step", 40, folder, "aim 50");
  if (std::system(("rm -r " + folder).c_str()) != 0) std::printf("%s stays\n", folder.c_str());
}

void print_shipped() {
  const std::string folder = test::fresh_folder(), job = make_job(folder);
  const JsonSchema schema(read("schema/job.schema.json"));
  const Journal journal = parse_journal(disk_store()->read(job, kLimit), schema, job);
  const PackText text;
  const Diagnosis diagnosis(text.load(), journal, read("schema/machine.schema.json"), job);
  const belief::Belief belief = diagnosis.infer();
  std::printf("\nThe shipped pack, in-line four, %zu cause instances; a job of 3 symptoms\n",
              diagnosis.model().causes.size());
  const std::string hash = text.load().hash;
  print("pack: load and check, its hash known from the build",
        milliseconds([&] { text.load(hash); }), "reach 8 ms");
  print("pack: load and check, a pack of one's own", milliseconds([&] { text.load(); }));
  print("all marginals, new order", milliseconds([&] { diagnosis.infer(); }));
  belief::Solver solver;
  print("all marginals", milliseconds([&] { solver.infer(diagnosis.given()); }));
  print("five best explanations",
        milliseconds([&] { belief::explanations(diagnosis.given(), 5); }));
  const plan::Effort one_step{.points = 0};
  print("advice, one step of lookahead", milliseconds([&] { diagnosis.advise({}, 1, one_step); }),
        "reach 10 ms");
  print("advice as it comes, 24 moments to come", milliseconds([&] { diagnosis.advise(); }));
  print_marginals(diagnosis.ground().network());
  if (std::system(("rm -r " + folder).c_str()) != 0) std::printf("%s stays\n", folder.c_str());
}

}  // namespace tickover::bench
