#include "engine/trail/sheet.hpp"

#include <algorithm>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kLargestTexts = 1u << 20;

/// knowledge/sheet/LANGUAGE.json.
Catalogue catalogue_in(const World& world, const std::string& language) {
  const std::string folder = world.knowledge + "/sheet", path = folder + "/" + language + ".json";
  std::vector<std::string> known;
  for (const std::string& name : world.store.names(folder, ".json")) {
    known.push_back(name.substr(0, name.size() - 5));
  }
  if (std::find(known.begin(), known.end(), language) == known.end()) {
    throw unknown_name(InputFault::usage, "", "language", language, known);
  }
  return load_catalogue(world.store.read(path, kLargestTexts), schema_text(world, "sheet"), path);
}

/// Writes `text` to the new file named by `option`, or prints it for "-"; true when the option was
/// given.
bool written(World& world, const Words& words, const std::string& option, const std::string& text) {
  const std::string file = words.text(option);
  if (file.empty()) return false;
  if (file == "-") {
    world.out << text;
    return true;
  }
  world.store.create(file, text);
  world.out << "Wrote " << printable(file) << ".\n";
  return true;
}

int run_sheet(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Diagnosis& job = *session.diagnosis;
  const bool rider = words.text("for") == "rider";
  if (!rider && words.text("for") != "mechanic") {
    throw unknown_name(InputFault::usage, "", "reader", words.text("for"), {"mechanic", "rider"});
  }
  const Trail trail = make_trail(job, session.journal);
  if (words.has("json")) {
    world.out << trail_json(job, session.journal, trail);
    return kDone;
  }
  const Catalogue catalogue = catalogue_in(world, words.text("language"));
  const std::string style =
      words.has("html") ? world.store.read(world.knowledge + "/sheet/style.txt", kLargestTexts)
                        : "";
  const SheetSource source{job, session.journal, trail, catalogue, style};
  bool done = false;
  if (words.has("html")) {
    done |= written(world, words, "html", rider ? rider_html(source) : sheet_html(source));
  }
  if (words.has("csv")) done |= written(world, words, "csv", sheet_csv(source));
  const std::string markdown = rider ? rider_markdown(source) : sheet_markdown(source);
  if (words.has("md")) done |= written(world, words, "md", markdown);
  if (!done) world.out << markdown;
  return kDone;
}

Option file_option(const std::string& name, const std::string& help) {
  return {.name = name, .help = help, .placeholder = "FILE", .names = Names::file};
}

}  // namespace

Command sheet_command() {
  return {
      "sheet",
      "The job sheet: complaint, cause, correction, the whole trail, what was ruled out. As one "
      "HTML file that needs nothing else, as CSV, Markdown (printed when no file is named), or "
      "JSON.",
      {job_argument()},
      "tickover sheet grey-four.job --html grey-four.html --for rider",
      {file_option("html", "write it as HTML to a new file; - prints it"),
       file_option("md", "write it as Markdown to a new file; - prints it"),
       file_option("csv", "write entries and readings as CSV to a new file; - prints it"),
       {.name = "for",
        .help = "HTML and Markdown: for the next mechanic, all of it; or for the rider, one page",
        .placeholder = "READER",
        .usual = "mechanic",
        .choices = {"mechanic", "rider"}},
       {.name = "language",
        .help =
            "of the sheet: a catalogue in knowledge/sheet; names from the pack stay as they are",
        .placeholder = "TAG",
        .usual = "en"}},
      run_sheet};
}

}  // namespace tickover::cli
