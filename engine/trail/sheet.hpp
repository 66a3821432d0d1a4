/// @file
/// The job sheet: a Trail as a page to be read, printed and kept. Only puts into words.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "engine/trail/trail.hpp"

namespace tickover {

/// The sheet's texts in one language, by key; "{0}" and "{1}" stand for what is put in.
class Catalogue {
 public:
  Catalogue() = default;
  Catalogue(std::string language, std::map<std::string, std::string> texts,
            std::map<std::string, std::string> answers = {})
      : language_(std::move(language)), texts_(std::move(texts)), answers_(std::move(answers)) {}

  /// The tag of BCP 47: "en".
  const std::string& language() const { return language_; }
  /// "[key]" for a key that is not there.
  std::string text(const std::string& key) const;
  std::string text(const std::string& key, const std::vector<std::string>& parts) const;
  /// An answer of the pack ("slight") in this language; as it is where the catalogue has no word.
  std::string answer(const std::string& id) const;

 private:
  std::string language_;
  std::map<std::string, std::string> texts_, answers_;
};

/// Reads a file of texts. `schema` is sheet.schema.json, `place` names the file in errors. Throws
/// InputError (data).
Catalogue load_catalogue(std::string_view text, const std::string& schema,
                         const std::string& place);

/// What a sheet is made of. `style` is CSS.
struct SheetSource {
  const Diagnosis& job;
  const Journal& journal;
  const Trail& trail;
  const Catalogue& words;
  const std::string& style;
};

/// One self-contained page for the next mechanic: no script, nothing fetched. All that people typed
/// is escaped.
std::string sheet_html(const SheetSource& source);
/// The same job in plain words for the rider, on one page.
std::string rider_html(const SheetSource& source);
/// The same content as Markdown: complaint, cause, correction first. What people typed is no
/// markup.
std::string sheet_markdown(const SheetSource& source);
/// The rider's page as Markdown.
std::string rider_markdown(const SheetSource& source);
/// Entries and readings, a row each (RFC 4180); no cell is taken for a formula.
std::string sheet_csv(const SheetSource& source);

/// Text as HTML: control characters gone, markup as entities.
std::string html_text(const std::string& text);

/// Charts in SVG, each with a text alternative and its data as a table. Inside trail only.
std::string standing_chart(const SheetSource& source);
std::string readings_chart(const SheetSource& source);
std::string time_chart(const SheetSource& source);

}  // namespace tickover
