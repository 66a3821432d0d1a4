/// @file
/// A job's parts in the words of a catalogue, for every form of the sheet. Names from the pack stay
/// in the pack's language. Nothing is escaped here; what people typed is made printable.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "engine/trail/sheet.hpp"

namespace tickover {

class SheetText {
 public:
  SheetText(const Model& model, const Catalogue& words) : model_(model), words_(words) {}

  std::string word(const std::string& key) const { return words_.text(key); }
  std::string word(const std::string& key, const std::vector<std::string>& slots) const {
    return words_.text(key, slots);
  }
  /// "a, b and c".
  std::string joined(const std::vector<std::string>& parts) const;

  std::string cause(std::size_t instance) const;
  /// Causes with how they stand, those alike in one: "Intake rubber split, cylinders 1 and 3" and
  /// "each 12 %".
  struct Stands {
    std::string cause, share;
  };
  std::vector<Stands> standings(const std::vector<Standing>& list) const;
  /// What it was: what the mechanic named, then what else was probably there as found.
  std::vector<Stands> found(const Trail& trail) const;
  /// The same for the rider: the mechanic's word alone where there is one.
  std::vector<std::string> found_for_rider(const Trail& trail) const;
  /// What the rider should watch for: causes, and readings that were left out of their limits.
  std::vector<std::string> watch(const Trail& trail) const;
  std::string finding(std::size_t instance) const;
  /// "Float height, cylinder 3: 17.6mm (at the lip)".
  std::string entry(const Entry& entry) const;
  /// What was repaired and where, with the remark.
  std::string repair(const Entry& entry) const;
  /// What was remarked when the job was closed; may be empty.
  std::string closing_remark(const Journal& journal) const;
  /// The cautions of what was repaired and of the road test, gravest first: signal word and text.
  std::vector<std::pair<std::string, std::string>> cautions(const Journal& journal) const;
  /// The job before, where the machine came back: a line each.
  std::vector<std::string> earlier(const Journal& journal) const;
  /// What the road test found.
  std::string road_test(const Evidence& evidence) const;
  /// "as found", "as left", "as found, unchanged".
  std::string state(const BenchValue& value) const;
  /// "; replaced later by entry 7", "" for an entry that counts.
  std::string replaced(const TrailStep& step) const;
  /// "under 1 %", "42 %", "over 99 %".
  std::string share(double probability) const;
  /// "2026-03-02 09:00".
  static std::string time(const Entry& entry);

 private:
  std::string place(Place place) const;
  std::string places(const std::vector<Place>& places) const;
  std::string with_place(const std::string& name, Place place) const;
  /// Where an entry says so, and there is more than one to say it of.
  std::string with_cylinders(const std::string& name, const Entry& entry) const;
  std::string at_cylinders(const std::vector<std::size_t>& cylinders) const;
  std::string act(const Entry& entry) const;
  std::string observation(const Entry& entry) const;
  std::string listed(const Entry& entry, const std::string& with, const std::string& without) const;
  static std::string parted(const std::vector<std::string>& names);
  std::vector<std::string> names_of(const Entry& entry) const;
  /// An instance by its id, with its place; the plain name where the model has no such place.
  std::string cause_of_id(const std::string& id) const;
  std::string finding_of_id(const std::string& id) const;

  const Model& model_;
  const Catalogue& words_;
};

/// Parts that the repairs of a job call for, each once, in alphabetical order.
std::vector<std::string> parts_used(const Model& model, const Journal& journal);

/// "2 (1 front, 2 rear)": how many, with the names that the machine's sheet gives them.
std::string cylinders_in_digits(const Machine& machine);

}  // namespace tickover
