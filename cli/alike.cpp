#include "cli/alike.hpp"

#include <set>

#include "cli/report.hpp"

namespace tickover::cli {

namespace {

/// The instances of the same cause, `cause` among them, of which the same is said.
std::vector<std::size_t> said_alike(const Model& model, std::size_t cause, const Said& said) {
  std::vector<std::size_t> alike;
  for (std::size_t c = 0; c < model.causes.size(); ++c) {
    if (model.causes[c].cause != model.causes[cause].cause) continue;
    if (c == cause || said(c) == said(cause)) alike.push_back(c);
  }
  return alike;
}

}  // namespace

std::string of_places(const Model& model, const std::vector<Place>& places) {
  std::string where = places_in_words(model, places);
  if (where.starts_with("all ")) where.replace(0, 3, "the");
  if (where.starts_with("both ")) where.replace(0, 4, "the two");
  return where;
}

std::string causes_in_words(const Model& model, const std::vector<std::size_t>& alike) {
  if (alike.size() == 1) return model.describe_cause(alike.front());
  std::vector<Place> places;
  for (const std::size_t cause : alike) places.push_back(model.causes[cause].place);
  return model.pack.causes[model.causes[alike.front()].cause].name + ", each of " +
         of_places(model, places);
}

void each_alike(const Model& model, const std::vector<std::size_t>& causes, const Said& said,
                const std::function<void(const std::vector<std::size_t>& alike)>& use) {
  std::set<std::size_t> told;
  for (const std::size_t cause : causes) {
    if (told.count(cause) > 0) continue;
    const std::vector<std::size_t> alike = said_alike(model, cause, said);
    told.insert(alike.begin(), alike.end());
    use(alike);
  }
}

}  // namespace tickover::cli
