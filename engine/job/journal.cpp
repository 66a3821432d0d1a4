#include "engine/job/journal.hpp"

#include <algorithm>

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

/// As in job.schema.json, which the reader goes by: letters (code points) of one text.
constexpr std::ptrdiff_t kLongestText = 20000;

/// Letters as they will stand in the file, where each byte that is not UTF-8 becomes one letter.
std::ptrdiff_t letters_of(const std::string& text) {
  const std::string shown = printable(text);
  return std::count_if(shown.begin(), shown.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;  // not a continuation byte
  });
}

void check_texts(const Entry& entry) {
  std::vector<std::string> texts = {entry.by, entry.value, entry.note};
  if (entry.opening) texts.push_back(entry.opening->complaint);
  for (const std::string& text : texts) {
    if (letters_of(text) <= kLongestText) continue;
    throw InputError(InputFault::usage, "",
                     "a text of " + std::to_string(letters_of(text)) + " letters is too long",
                     "at most " + std::to_string(kLongestText) + " are kept: '" +
                         printable(text.substr(0, 30)) + "...'");
  }
}

/// Where the next entry's fault is: its line when it was read, the file when it is to be added.
std::string next_place(const Journal& journal, const std::string& file, InputFault fault) {
  const std::size_t line = journal.entries.size() + 1;
  return fault == InputFault::usage ? file : file + ":" + std::to_string(line);
}

void check_strike(const Journal& journal, const Entry& strike, const std::string& place,
                  InputFault fault) {
  const std::size_t target = strike.target.value_or(0);
  if (target == 0 || target >= strike.number) {
    throw InputError(fault, place, "there is no entry " + std::to_string(target) + " to strike",
                     strike.number > 2
                         ? "entries 2 to " + std::to_string(strike.number - 1) + " can be struck"
                         : "so far there is only the opening");
  }
  if (target == 1) {
    throw InputError(fault, place, "the opening of a job cannot be struck",
                     "open another job instead");
  }
  if (!journal.struck[target - 1]) return;
  throw InputError(fault, place, "entry " + std::to_string(target) + " is struck already");
}

void check_not_finished(const Journal& journal, const Entry& entry, const std::string& file) {
  if (entry.event == Event::strike || entry.event == Event::note) return;
  for (std::size_t i = 0; i < journal.entries.size(); ++i) {
    if (journal.entries[i].event != Event::finish || journal.struck[i]) continue;
    throw InputError(InputFault::usage, file, "the job is finished",
                     "the machine is back: tickover open NEW.job --after " + file +
                         "; finished by mistake: tickover strike " + file + " " +
                         std::to_string(i + 1) + " --reason ...");
  }
}

void check_order(const Journal& journal, const Entry& entry, const std::string& place) {
  const bool first = journal.entries.empty();
  if (entry.number != journal.entries.size() + 1) {
    throw InputError(InputFault::data, place,
                     "entry number " + std::to_string(entry.number) + " follows " +
                         std::to_string(journal.entries.size()),
                     "a line is missing or stands twice");
  }
  if (first != (entry.event == Event::open)) {
    throw InputError(InputFault::data, place,
                     first ? "a job begins with its opening" : "a job is opened only once");
  }
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

void add(Journal& journal, Entry entry, const std::string& file, InputFault fault) {
  const std::string place = next_place(journal, file, fault);
  check_order(journal, entry, place);
  const bool strikes = entry.event == Event::strike;
  if (strikes) check_strike(journal, entry, place, fault);
  journal.entries.push_back(std::move(entry));
  journal.struck.push_back(false);
  if (strikes) mark_struck(journal);
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
  add(journal, std::move(entry), file, InputFault::data);
}

Journal with_entry(Journal journal, const Entry& entry, const std::string& file) {
  check_texts(entry);
  check_not_finished(journal, entry, file);
  add(journal, entry, file, InputFault::usage);
  return journal;
}

}  // namespace tickover
