/// @file
/// The #include lines run one way: foundation <- gas, job, store; pack <- machine <- evidence <-
/// belief <- plan <- trail <- cli; belief <- uai <- cli. And each library has its few places.
#include <catch2/catch.hpp>
#include <functional>
#include <map>

#include "tests/architecture/source_tree.hpp"

namespace tickover::architecture_includes_test {
namespace {

using test::Source;
using test::source_of;

struct Room {
  std::string name;
  std::set<std::string> may_include;  ///< other rooms; "" is engine/ itself
};

/// In the order of the house: each room knows only rooms before it. `job` does not know the pack,
/// so that a job stays readable whatever becomes of the knowledge.
const std::vector<Room>& rooms() {
  static const std::vector<Room> all = {
      {"foundation", {}},
      {"gas", {"foundation"}},
      {"job", {"foundation"}},
      {"store", {"foundation"}},
      {"pack", {"foundation"}},
      {"machine", {"foundation", "gas", "pack"}},
      {"evidence", {"foundation", "gas", "job", "pack", "machine"}},
      {"belief", {"foundation", "pack", "machine", "evidence"}},
      {"uai", {"foundation", "belief"}},
      {"plan", {"foundation", "pack", "machine", "evidence", "belief"}},
      {"", {"foundation", "job", "pack", "machine", "evidence", "belief", "plan"}},
      {"trail", {"foundation", "gas", "job", "pack", "machine", "evidence", "belief", "plan", ""}},
      {"triage", {"foundation", "pack"}},
      {"vet", {"foundation", "pack", "machine", "evidence", "belief", "plan"}},
      {"shop", {"foundation", "job", "pack", "machine", "evidence", "belief", "plan", "", "trail"}},
      {"trial", {"foundation", "job", "pack", "machine", "evidence", "belief", "plan", ""}},
      {"cli",
       {"foundation", "gas", "job", "store", "pack", "machine", "evidence", "belief", "uai", "plan",
        "", "trail", "triage", "vet", "shop", "trial"}},
  };
  return all;
}

const Room* room_named(const std::string& name) {
  for (const Room& room : rooms()) {
    if (room.name == name) return &room;
  }
  return nullptr;
}

bool is_own(const std::string& include) {
  return include.starts_with("engine/") || include.starts_with("cli/");
}

/// True for an include of a library by path or name: "<boost/graph/...>".
bool is_of(const std::string& include, const std::string& library) {
  return include.starts_with("<" + library);
}

std::string line(const Source& source, const std::string& include) {
  return source.path + " includes " + include;
}

/// Includes for which `allowed(source, include)` is false.
std::vector<std::string> violations(
    const std::vector<Source>& sources,
    const std::function<bool(const Source&, const std::string&)>& allowed) {
  std::vector<std::string> found;
  for (const Source& source : sources) {
    for (const std::string& include : source.includes) {
      if (!allowed(source, include)) found.push_back(line(source, include));
    }
  }
  return found;
}

bool runs_one_way(const Source& source, const std::string& include) {
  if (!is_own(include)) return include.starts_with("<");  // "own.hpp" would hide where it lies
  const std::string target = source_of(include, "").room();
  const Room* room = room_named(source.room());
  return room != nullptr && (target == room->name || room->may_include.count(target) > 0);
}

/// The network of belief is generic; only these files know what its causes are causes of.
bool generic_belief(const Source& source, const std::string& include) {
  if (source.room() != "belief") return true;
  if (source.path.starts_with("engine/belief/ground.") ||
      source.path.starts_with("engine/belief/sensitivity.")) {
    return true;
  }
  return !is_own(include) || include.starts_with("engine/belief/") ||
         include.starts_with("engine/foundation/");
}

/// Where a library may be included.
struct Library {
  std::string name;
  std::function<bool(const std::string& path)> home;
};

bool under(const std::string& path, const std::string& folder) { return path.starts_with(folder); }

/// The files that read or write JSON.
bool speaks_json(const std::string& path) {
  static const std::set<std::string> files = {"engine/foundation/json_document.hpp",
                                              "engine/foundation/json_document.cpp",
                                              "engine/pack/reader.hpp",
                                              "engine/pack/reader.cpp",
                                              "engine/pack/load.cpp",
                                              "engine/pack/rules.cpp",
                                              "engine/machine/machine.cpp",
                                              "engine/job/journal_text.cpp",
                                              "engine/trail/json.cpp",
                                              "engine/trail/load_catalogue.cpp",
                                              "engine/triage/load_language.cpp",
                                              "engine/trial/settings.cpp",
                                              "engine/vet/exceptions.cpp"};
  return files.count(path) > 0 || under(path, "cli/");
}

const std::vector<Library>& libraries() {
  static const std::vector<Library> all = {
      {"cxxopts", [](const std::string& path) { return path == "cli/parse.cpp"; }},
      {"boost/graph",
       [](const std::string& path) {
         return path == "engine/pack/access.cpp" || path == "engine/belief/schedule.cpp" ||
                path == "engine/belief/tables/order.cpp";
       }},
      {"histedit", [](const std::string& path) { return path == "cli/answers.cpp"; }},
      {"nlohmann", speaks_json},
      {"valijson",
       [](const std::string& path) { return path == "engine/foundation/json_document.cpp"; }},
      {"nettle", [](const std::string& path) { return under(path, "engine/foundation/"); }},
  };
  return all;
}

bool at_home(const Source& source, const std::string& include) {
  return std::all_of(libraries().begin(), libraries().end(), [&](const Library& library) {
    return !is_of(include, library.name) || library.home(source.path);
  });
}

/// JSON reaches a file through its own header too.
bool json_at_home(const Source& source, const std::string& include) {
  return include != "engine/foundation/json_document.hpp" || speaks_json(source.path);
}

/// A chain of own headers that comes back to where it began, or nothing.
class CycleSearch {
 public:
  explicit CycleSearch(const std::vector<Source>& sources) {
    for (const Source& source : sources) {
      if (source.is_header()) includes_[source.path] = source.includes;
    }
  }

  std::vector<std::string> run() {
    for (const auto& [path, includes] : includes_) {
      if (cycle_.empty()) visit(path);
    }
    return cycle_;
  }

 private:
  void visit(const std::string& path) {
    const auto on_path = std::find(path_.begin(), path_.end(), path);
    if (on_path != path_.end()) cycle_.assign(on_path, path_.end());
    if (!cycle_.empty() || !done_.insert(path).second) return;
    path_.push_back(path);
    for (const std::string& include : includes_[path]) {
      if (cycle_.empty() && includes_.count(include) > 0) visit(include);
    }
    path_.pop_back();
  }

  std::map<std::string, std::vector<std::string>> includes_;
  std::set<std::string> done_;
  std::vector<std::string> path_, cycle_;
};

Source including(const std::string& path, const std::string& include) {
  return source_of(path, "#include " + include + "\n");
}

}  // namespace

TEST_CASE("the rooms stand in an order in which each knows only earlier ones", "[architecture]") {
  std::set<std::string> earlier;
  for (const Room& room : rooms()) {
    CAPTURE(room.name);
    for (const std::string& known : room.may_include) CHECK(earlier.count(known) == 1);
    earlier.insert(room.name);
  }
}

TEST_CASE("every folder of the engine is a room of the house", "[architecture]") {
  REQUIRE(test::program().size() > 50);
  for (const Source& source : test::program()) {
    CAPTURE(source.path);
    CHECK(room_named(source.room()) != nullptr);
  }
}

TEST_CASE("includes run one way through the rooms", "[architecture]") {
  CHECK(test::listed(violations(test::program(), runs_one_way)) == "");
  CHECK(test::listed(CycleSearch(test::program()).run()) == "");
}

TEST_CASE("belief knows nothing of carburettors but where it is grounded", "[architecture]") {
  CHECK(test::listed(violations(test::program(), generic_belief)) == "");
}

TEST_CASE("each library is included only where it belongs", "[architecture]") {
  CHECK(test::listed(violations(test::program(), at_home)) == "");
  CHECK(test::listed(violations(test::program(), json_at_home)) == "");
}

TEST_CASE("the include rules see what breaks them", "[architecture]") {
  const auto refused = [](const auto& rule, const std::string& path, const std::string& include) {
    return violations({including(path, include)}, rule).size() == 1;
  };
  CHECK(refused(runs_one_way, "engine/belief/infer.cpp", "\"engine/plan/course.hpp\""));
  CHECK(refused(runs_one_way, "engine/job/journal.hpp", "\"engine/pack/pack.hpp\""));
  CHECK(refused(runs_one_way, "engine/plan/advise.cpp", "\"cli/print.hpp\""));
  CHECK(refused(runs_one_way, "engine/plan/advise.cpp", "\"course.hpp\""));
  CHECK(refused(runs_one_way, "engine/gas/fuel.hpp", "\"engine/diagnosis.hpp\""));
  CHECK_FALSE(refused(runs_one_way, "engine/plan/advise.cpp", "\"engine/belief/infer.hpp\""));
  CHECK(refused(generic_belief, "engine/belief/sweep.cpp", "\"engine/machine/model.hpp\""));
  CHECK_FALSE(refused(generic_belief, "engine/belief/ground.hpp", "\"engine/machine/model.hpp\""));
  CHECK(refused(at_home, "engine/plan/course.cpp", "<boost/graph/adjacency_list.hpp>"));
  CHECK(refused(at_home, "engine/plan/course.cpp", "<nlohmann/json.hpp>"));
  CHECK(refused(at_home, "engine/trail/markdown.cpp", "<nlohmann/json_fwd.hpp>"));
  CHECK(refused(at_home, "cli/command.hpp", "<cxxopts.hpp>"));
  CHECK(refused(json_at_home, "engine/plan/course.cpp", "\"engine/foundation/json_document.hpp\""));
  const Source a = including("engine/plan/a.hpp", "\"engine/plan/b.hpp\"");
  const Source b = including("engine/plan/b.hpp", "\"engine/plan/a.hpp\"");
  CHECK(CycleSearch({a, b}).run().size() == 2);
}

}  // namespace tickover::architecture_includes_test
