// Prints how long the parts of `next` take on the shipped pack and the in-line four.
// Build and run: cmake --build build/release --target bench
// Not a test: machines differ. Medians of repeated runs, in milliseconds.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "engine/diagnosis.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/pack/load.hpp"
#include "engine/store/store.hpp"
#include "tests/support/shell.hpp"

namespace {

using namespace tickover;

double median_milliseconds(int runs, const std::function<void()>& work) {
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    work();
    const auto end = std::chrono::steady_clock::now();
    times.push_back(std::chrono::duration<double, std::milli>(end - begin).count());
  }
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

void print(const char* what, double milliseconds) {
  std::printf("%-48s %9.2f ms\n", what, milliseconds);
}

const std::string kKnowledge = std::string(TICKOVER_SOURCE) + "/knowledge";
constexpr std::size_t kLimit = 1u << 24;

pack::Pack load(const Store& store) {
  pack::PackFiles files;
  for (const std::string& name : pack::file_names()) {
    files[name] = store.read(kKnowledge + "/carburettor/" + name, kLimit);
  }
  return pack::load(files, store.read(kKnowledge + "/schema/pack.schema.json", kLimit), "pack");
}

std::string make_job(const std::string& folder) {
  const std::string program = TICKOVER_PROGRAM, job = folder + "/bench.job";
  test::run_shell(program + " open " + job + " --machine four-inline --risk long-storage && " +
                  program + " record " + job + " idle-hunts clear && " + program + " record " +
                  job + " steady-surge clear && " + program + " record " + job +
                  " idles-only-propped yes");
  return job;
}

}  // namespace

int main() {
  const auto store = disk_store();
  const std::string folder = test::fresh_folder(), job = make_job(folder);
  const JsonSchema schema(store->read(kKnowledge + "/schema/job.schema.json", kLimit));
  const Journal journal = parse_journal(store->read(job, kLimit), schema, job);
  const Diagnosis diagnosis(load(*store), journal,
                            store->read(kKnowledge + "/schema/machine.schema.json", kLimit), job);
  const belief::Belief belief = diagnosis.infer();
  std::printf("in-line four, %zu cause instances, 3 symptoms, width %zu\n",
              diagnosis.model().causes.size(), belief.width);
  print("pack: load and check", median_milliseconds(15, [&] { load(*store); }));
  print("all marginals", median_milliseconds(200, [&] { diagnosis.infer(); }));
  print("five best explanations",
        median_milliseconds(15, [&] { belief::explanations(diagnosis.given(), 5); }));
  print("advice, one step of lookahead", median_milliseconds(7, [&] { diagnosis.advise(); }));
  print("next, whole process", median_milliseconds(7, [&] {
          test::run_shell(std::string(TICKOVER_PROGRAM) + " next " + job + " >/dev/null 2>&1");
        }));
  return std::system(("rm -r " + folder).c_str()) == 0 ? 0 : 1;
}
