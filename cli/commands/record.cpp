#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"

namespace tickover::cli {
namespace {

int run(World& world, const cxxopts::ParseResult& parsed) {
  Entry entry = entry_from_options(parsed, Event::record);
  required(parsed, "job");
  entry.what = required(parsed, "what");
  for (const std::string& word : several(parsed, "value")) {
    entry.value += (entry.value.empty() ? "" : " ") + word;
  }
  if (entry.value.empty()) required(parsed, "value");
  entry.confirmed = parsed.count("confirm") > 0;
  return report_entry(world, parsed, add_entry(world, parsed, std::move(entry)));
}

}  // namespace

Command record_command() {
  return {
      "record",
      "Records what was seen: a symptom, the result of a check, or a reading with its unit. WHAT "
      "is a check or finding ('tickover list checks'), VALUE one of its answers, a value with "
      "unit, or unsure.",
      {"job", "what", "value..."},
      "tickover record grey-four.job float-height --cyl 3 14.6mm",
      [](cxxopts::OptionAdder& adder) {
        adder("cyl", "at which cylinders: 3, or 1,4, or all", cxxopts::value<std::string>(),
              "LIST")("confirm", "yes, the value is that far out");
        add_entry_options(adder);
      },
      run};
}

}  // namespace tickover::cli
