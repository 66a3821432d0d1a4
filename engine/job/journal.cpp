#include "engine/job/journal.hpp"

#include "engine/foundation/error.hpp"

namespace tickover {
namespace {

struct EventName {
  Event event;
  std::string_view name;
};

constexpr EventName kEvents[] = {
    {Event::open, "open"},     {Event::record, "record"}, {Event::strip, "strip"},
    {Event::refit, "refit"},   {Event::repair, "repair"}, {Event::verify, "verify"},
    {Event::strike, "strike"}, {Event::note, "note"},     {Event::finish, "finish"},
};

std::string at_entry(const std::string& file, std::size_t number) {
  return file + ":" + std::to_string(number);
}

void check_strike(const Journal& journal, const Entry& strike, const std::string& file) {
  const std::string place = at_entry(file, strike.number);
  const std::size_t target = strike.target.value_or(0);
  if (target == 0 || target >= strike.number) {
    throw InputError(InputFault::usage, place,
                     "there is no entry " + std::to_string(target) + " to strike",
                     "entries 2 to " + std::to_string(strike.number - 1) + " can be struck");
  }
  if (target == 1) {
    throw InputError(InputFault::usage, place, "the opening of a job cannot be struck",
                     "open another job instead");
  }
  if (!journal.struck[target - 1]) return;
  throw InputError(InputFault::usage, place,
                   "entry " + std::to_string(target) + " is struck already");
}

void check_not_finished(const Journal& journal, const Entry& entry, const std::string& file) {
  if (entry.event == Event::strike || entry.event == Event::note) return;
  for (std::size_t i = 0; i < journal.entries.size(); ++i) {
    if (journal.entries[i].event != Event::finish || journal.struck[i]) continue;
    throw InputError(InputFault::usage, at_entry(file, entry.number), "the job is finished",
                     "to go on with it, strike entry " + std::to_string(i + 1));
  }
}

void check_order(const Journal& journal, const Entry& entry, const std::string& file) {
  const std::string place = at_entry(file, entry.number);
  const bool first = journal.entries.empty();
  if (first != (entry.event == Event::open)) {
    throw InputError(InputFault::data, place,
                     first ? "a job begins with its opening" : "a job is opened only once");
  }
  if (entry.number != journal.entries.size() + 1) {
    throw InputError(InputFault::data, place,
                     "entry number " + std::to_string(entry.number) + " follows " +
                         std::to_string(journal.entries.size()),
                     "a line is missing or stands twice");
  }
  if (entry.event == Event::strike) check_strike(journal, entry, file);
}

/// Which entries count: the latest strikes are decided first, since a strike may be struck.
void mark_struck(Journal& journal) {
  journal.struck.assign(journal.entries.size(), false);
  for (std::size_t i = journal.entries.size(); i-- > 0;) {
    const Entry& entry = journal.entries[i];
    if (entry.event == Event::strike && !journal.struck[i])
      journal.struck[*entry.target - 1] = true;
  }
}

}  // namespace

std::string_view name_of(Event event) {
  for (const EventName& known : kEvents) {
    if (known.event == event) return known.name;
  }
  return {};
}

std::vector<const Entry*> Journal::valid() const {
  std::vector<const Entry*> counting;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (!struck[i] && entries[i].event != Event::strike) counting.push_back(&entries[i]);
  }
  return counting;
}

void take(Journal& journal, Entry entry, const std::string& file) {
  check_order(journal, entry, file);
  const bool strikes = entry.event == Event::strike;
  journal.entries.push_back(std::move(entry));
  journal.struck.push_back(false);
  if (strikes) mark_struck(journal);
}

Journal with_entry(Journal journal, const Entry& entry, const std::string& file) {
  check_not_finished(journal, entry, file);
  take(journal, entry, file);
  return journal;
}

}  // namespace tickover
