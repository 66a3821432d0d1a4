#include "cli/shell/named_words.hpp"

#include <sstream>

#include "cli/session.hpp"
#include "engine/foundation/error.hpp"
#include "engine/trail/describe.hpp"

namespace tickover::cli {
namespace {

/// The job on the line, read without a word; none when it cannot be read.
std::optional<Session> job_of(World& world, const std::string& path) {
  if (path.empty() || !world.store.exists(path)) return std::nullopt;
  std::ostringstream unheard;
  World quiet{world.store, unheard, unheard, world.knowledge};
  try {
    return read_job(quiet, path);
  } catch (const InputError&) {
    return std::nullopt;
  }
}

class NamedWords {
 public:
  NamedWords(World& world, const LineSoFar& line)
      : line_(line),
        session_(job_of(world, line.job)),
        pack_(session_ ? session_->diagnosis->model().pack : load_pack(world)) {}

  std::vector<Candidate> of(Names names) {
    switch (names) {
      case Names::symptom:
        add_symptoms();
        break;
      case Names::check:
        add(pack_.checks);
        break;
      case Names::observable:
        add(pack_.checks);
        add_findings();
        break;
      case Names::step:
        add(pack_.checks);
        add_findings();
        add(pack_.repairs);
        break;
      case Names::answer:
        add_answers();
        break;
      case Names::cause:
        add(pack_.causes);
        break;
      case Names::repair:
        add(pack_.repairs);
        break;
      case Names::layer:
        add(pack_.layers);
        break;
      case Names::risk:
        for (const pack::Risk& risk : pack_.risks) found_.push_back({risk.id, risk.name});
        break;
      case Names::pack_entry:
        add_everything();
        break;
      case Names::job_entry:
        add_entries();
        break;
      case Names::cylinders:
        add_cylinders();
        break;
      default:
        break;
    }
    return std::move(found_);
  }

 private:
  /// True for what the job's machine has; of no job, everything.
  bool applies(const std::vector<std::string>& needs) const {
    return !session_ || session_->diagnosis->model().applies(needs);
  }

  template <typename Entries>
  void add(const Entries& entries) {
    for (const auto& entry : entries) {
      if (applies(entry.needs)) found_.push_back({entry.id, entry.name});
    }
  }

  void add_symptoms() {
    for (const pack::Finding& finding : pack_.findings) {
      const bool symptom = finding.kind == pack::Kind::symptom;
      if (symptom && applies(finding.needs)) found_.push_back({finding.id, finding.name});
    }
  }

  /// Those that no check of the same name has brought already.
  void add_findings() {
    for (const pack::Finding& finding : pack_.findings) {
      const bool new_here = !pack::find(pack_.checks, finding.id);
      if (new_here && applies(finding.needs)) found_.push_back({finding.id, finding.name});
    }
  }

  void add_answers() {
    std::optional<std::size_t> finding = pack::find(pack_.findings, line_.what);
    const auto check = pack::find(pack_.checks, line_.what);
    if (check) finding = pack_.checks[*check].finding;
    if (!finding) return;
    const pack::Finding& asked = pack_.findings[*finding];
    const bool graded = asked.kind == pack::Kind::symptom || asked.kind == pack::Kind::response;
    for (const std::string& level : graded ? asked.levels : std::vector<std::string>()) {
      found_.push_back({level, asked.name});
    }
    for (const pack::Outcome& one : asked.outcomes) found_.push_back({one.id, one.name});
    if (asked.kind != pack::Kind::reading) found_.push_back({"unsure", "looked, and cannot say"});
  }

  void add_everything() {
    add(pack_.causes);
    add_symptoms();
    add(pack_.checks);
    add(pack_.repairs);
    add(pack_.layers);
    for (const pack::Risk& risk : pack_.risks) found_.push_back({risk.id, risk.name});
    for (const pack::Caution& caution : pack_.cautions) {
      found_.push_back({caution.id, caution.text});
    }
  }

  void add_entries() {
    if (!session_) return;
    for (const Entry* entry : session_->journal.valid()) {
      if (entry->event == Event::open) continue;
      found_.push_back(
          {std::to_string(entry->number), describe(session_->diagnosis->model(), *entry)});
    }
  }

  void add_cylinders() {
    if (!session_) return;
    const std::size_t count = session_->diagnosis->model().machine.cylinders.size();
    for (std::size_t i = 1; i <= count; ++i) {
      found_.push_back({std::to_string(i), "cylinder " + std::to_string(i)});
    }
    found_.push_back({"all", "every cylinder"});
  }

  const LineSoFar& line_;
  const std::optional<Session> session_;
  const pack::Pack pack_;
  std::vector<Candidate> found_;
};

std::vector<Candidate> machines_known(const World& world) {
  std::vector<Candidate> found;
  for (const std::string& file : world.store.names(world.knowledge + "/machines", ".json")) {
    const Machine machine = load_machine_sheet(world, file.substr(0, file.size() - 5));
    found.push_back({machine.id, machine.name});
  }
  return found;
}

}  // namespace

Completion words_named(World& world, Names names, const LineSoFar& line) {
  switch (names) {
    case Names::nothing:
      return {};
    case Names::file:
    case Names::job:
      return {{}, Paths::files};
    case Names::folder:
      return {{}, Paths::folders};
    case Names::machine:
      return {machines_known(world), Paths::files};
    default:
      return {NamedWords(world, line).of(names), Paths::none};
  }
}

}  // namespace tickover::cli
