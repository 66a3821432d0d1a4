#include "engine/trail/describe.hpp"

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

std::string act(const Model& model, const Entry& entry, const std::string& where) {
  switch (entry.event) {
    case Event::open:
      return "opened: " + model.machine.name;
    case Event::record:
      return entry.what + where + ": " + entry.value + (entry.asked ? " (when asked)" : "");
    case Event::repair:
      return "repaired: " + entry.what + where;
    case Event::verify:
      return "verified: " + entry.what;
    case Event::finish:
      return "finish" + where;
    case Event::strike:
      return "struck out: entry " + std::to_string(*entry.target);
    default:
      return std::string(name_of(entry.event));
  }
}

}  // namespace

std::string describe(const Model& model, const Entry& entry) {
  std::vector<std::string> numbers;
  const bool several = model.machine.cylinders.size() > 1;
  for (const std::size_t cylinder : entry.cylinders) {
    if (several) numbers.push_back(std::to_string(cylinder));
  }
  std::string text = act(model, entry, numbers.empty() ? "" : ", cyl " + join_words(numbers));
  if (!entry.items.empty()) text += ": " + join_words(entry.items);
  if (!entry.note.empty()) text += " (" + entry.note + ")";
  return printable(text);
}

}  // namespace tickover
