#include "engine/trail/sheet.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kLargestTexts = 1u << 20;

/// knowledge/sheet/LANGUAGE.json.
Catalogue load_catalogue(const World& world, const std::string& language) {
  const std::string folder = world.knowledge + "/sheet", path = folder + "/" + language + ".json";
  std::vector<std::string> known;
  for (const std::string& name : world.store.names(folder, ".json")) {
    known.push_back(name.substr(0, name.size() - 5));
  }
  if (std::find(known.begin(), known.end(), language) == known.end()) {
    throw unknown_name(InputFault::usage, "", "language", language, known);
  }
  const nlohmann::json file = parse_json(world.store.read(path, kLargestTexts), path);
  std::map<std::string, std::string> texts;
  if (!file.is_object() || !file.contains("texts") || !file["texts"].is_object()) {
    throw InputError(InputFault::data, path, "there are no texts",
                     "an object 'texts' with a text for each key");
  }
  for (const auto& [key, text] : file["texts"].items()) {
    if (text.is_string()) texts[key] = text.get<std::string>();
  }
  return {language, std::move(texts)};
}

/// Writes `text` to the new file named by `option`; true when the option was given.
bool written(World& world, const Words& words, const std::string& option, const std::string& text) {
  const std::string file = words.text(option);
  if (file.empty()) return false;
  world.store.create(file, text);
  world.out << "Wrote " << printable(file) << ".\n";
  return true;
}

int run(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Diagnosis& job = *session.diagnosis;
  const bool rider = words.text("for") == "rider";
  if (!rider && words.text("for") != "mechanic") {
    throw unknown_name(InputFault::usage, "", "reader", words.text("for"), {"mechanic", "rider"});
  }
  const Trail trail = make_trail(job, session.journal);
  // Markdown and JSON have no texts of their own, and do without the folder
  const bool in_words = words.has("html") || words.has("csv") || words.has("language");
  const Catalogue catalogue =
      in_words ? load_catalogue(world, words.text("language")) : Catalogue();
  const std::string style =
      in_words ? world.store.read(world.knowledge + "/sheet/style.txt", kLargestTexts) : "";
  const SheetSource source{job, session.journal, trail, catalogue, style};
  bool done = false;
  if (words.has("html")) {
    done |= written(world, words, "html", rider ? rider_html(source) : sheet_html(source));
  }
  if (words.has("csv")) done |= written(world, words, "csv", sheet_csv(source));
  if (words.has("md"))
    done |= written(world, words, "md", trail_markdown(job, session.journal, trail));
  if (done) return kDone;
  world.out << (words.has("json") ? trail_json(job, session.journal, trail)
                                  : trail_markdown(job, session.journal, trail));
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
      {file_option("html", "write it as HTML to a new file"),
       file_option("md", "write it as Markdown to a new file"),
       file_option("csv", "write entries and readings as CSV to a new file"),
       {.name = "for",
        .help = "HTML: for the next mechanic, all of it; or for the rider, one page",
        .placeholder = "READER",
        .usual = "mechanic",
        .choices = {"mechanic", "rider"}},
       {.name = "language",
        .help = "of the HTML and CSV sheet: a catalogue in knowledge/sheet; names from the pack "
                "stay as they are",
        .placeholder = "TAG",
        .usual = "en"}},
      run};
}

}  // namespace tickover::cli
