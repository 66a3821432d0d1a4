#include "cli/instructions.hpp"

#include <algorithm>

#include "cli/cautions.hpp"
#include "cli/print.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

template <class Item>
void add_new(std::vector<Item>& to, const std::vector<Item>& from) {
  for (const Item& item : from) {
    if (std::find(to.begin(), to.end(), item) == to.end()) to.push_back(item);
  }
}

/// What is opened for `after`, with its cautions.
void add_opening(const Diagnosis& job, const OpenLayers& after, Instructions& out) {
  for (const std::size_t layer : after) {
    if (job.evidence().open_layers.contains(layer)) continue;
    add_new(out.cautions, job.model().pack.layers[layer].cautions);
  }
  out.opens = out.opens | (after - job.evidence().open_layers);
}

/// Cautions of a run with the layers `after` open, and of the first start since others were opened
/// or closed.
void add_running(const Diagnosis& job, const OpenLayers& after, Instructions& out) {
  const OpenLayers& before = job.evidence().open_layers;
  const OpenLayers moved = job.evidence().moved_since_run | (before - after) | (after - before);
  for (const std::size_t layer : after) {
    add_new(out.cautions, job.model().pack.layers[layer].cautions);
  }
  for (const std::size_t layer : moved | after) {
    add_new(out.cautions, job.model().pack.layers[layer].first_start);
  }
}

/// The steps of a look or a repair under its name, once for all its places.
void add_steps(Instructions& out, const std::string& of, const std::vector<std::string>& how) {
  const bool known = std::any_of(out.stretches.begin(), out.stretches.end(),
                                 [&](const Stretch& one) { return one.of == of; });
  if (known || how.empty()) return;
  out.stretches.push_back({of, out.how.size()});
  out.how.insert(out.how.end(), how.begin(), how.end());
}

/// Looks first, then repairs: the cautions of all before any step.
void add_course(const Diagnosis& job, const plan::Batch& batch, Instructions& out) {
  const pack::Pack& pack = job.model().pack;
  for (const plan::CourseStep& step : batch.steps) {
    const pack::Repair& repair = pack.repairs[step.repair];
    add_new(out.cautions, repair.cautions);  // after a look too: it may be called for
    if (step.look) {
      const pack::Check& check = pack.checks[step.look->check];
      add_new(out.cautions, check.cautions);
      add_new(out.tools, check.tools);
      add_steps(out, "look: " + check.name, check.how);
      add_opening(job, step.look->need.open, out);
      continue;
    }
    add_new(out.parts, repair.parts);
    add_steps(out, "repair: " + repair.name, repair.how);
    add_opening(job, step.need.open, out);
  }
  add_new(out.cautions, pack.frame.verify_cautions);
}

}  // namespace

Instructions instructions(const Diagnosis& job, const plan::Proposal& proposal) {
  const pack::Pack& pack = job.model().pack;
  Instructions out;
  if (proposal.kind == plan::ActionKind::check) {
    const pack::Check& check = pack.checks[proposal.index];
    out = {check.cautions, check.tools, {}, check.how, check.good, check.mistakes};
    add_opening(job, proposal.open_after, out);
    out.closes = job.evidence().open_layers - proposal.open_after;
    if (check.running) add_running(job, proposal.open_after, out);
  } else if (proposal.kind == plan::ActionKind::course) {
    add_course(job, proposal.batch, out);
  } else if (proposal.kind == plan::ActionKind::verify) {
    out = {pack.frame.verify_cautions, {}, {}, pack.frame.verify_how};
    out.closes = job.evidence().open_layers;
  } else if (proposal.kind == plan::ActionKind::ask) {
    out.how = {pack.findings[proposal.index].ask};
  }
  return out;
}

Instructions repair_instructions(const Diagnosis& job, std::size_t repair) {
  const pack::Repair& told = job.model().pack.repairs[repair];
  const Access& access = job.workshop().access();
  Instructions out{told.cautions, {}, told.parts, told.how};
  const OpenLayers after = access.after(job.evidence().open_layers, access.need_of(told));
  add_opening(job, after, out);
  if (told.running) add_running(job, after, out);
  return out;
}

namespace {

/// Numbered; those of a course from one again under the name of each of its parts.
std::string how_in_words(const Instructions& steps) {
  if (steps.stretches.empty()) return numbered(steps.how);
  std::string out;
  for (std::size_t i = 0; i < steps.stretches.size(); ++i) {
    const bool last = i + 1 == steps.stretches.size();
    const auto at = [&](std::size_t n) {
      return steps.how.begin() + static_cast<std::ptrdiff_t>(n);
    };
    const std::size_t end = last ? steps.how.size() : steps.stretches[i + 1].first;
    out += labelled("  ", steps.stretches[i].of, 2) +
           numbered({at(steps.stretches[i].first), at(end)});
  }
  return out;
}

}  // namespace

std::string layers_in_words(const pack::Pack& pack, const OpenLayers& layers) {
  std::vector<std::string> names;
  for (const std::size_t layer : layers) names.push_back(pack.layers[layer].name);
  return join_words(names, "; ", "; ");
}

std::string instructions_in_words(const pack::Pack& pack, const Instructions& steps) {
  const auto layers = [&](const char* label, const OpenLayers& which) {
    return which.empty() ? "" : "\n" + labelled(label, layers_in_words(pack, which), 7);
  };
  std::string out;
  if (!steps.cautions.empty()) out += "\n" + cautions_in_words(pack, steps.cautions);
  out += layers("Close  ", steps.closes) + layers("Open   ", steps.opens);
  if (!steps.tools.empty())
    out += "\n" + labelled("Tools  ", join_words(steps.tools, "; ", "; "), 7);
  if (!steps.parts.empty())
    out += "\n" + labelled("Parts  ", join_words(steps.parts, "; ", "; "), 7);
  if (!steps.how.empty()) out += "\nHow\n" + how_in_words(steps);
  if (!steps.good.empty()) out += "\n" + labelled("In order  ", steps.good, 10);
  if (!steps.mistakes.empty()) out += "\nMistakes to avoid\n" + bullets(steps.mistakes);
  return out;
}

}  // namespace tickover::cli
