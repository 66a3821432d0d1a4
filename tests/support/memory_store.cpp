#include "tests/support/memory_store.hpp"

#include <fmt/format.h>

#include "engine/foundation/error.hpp"

namespace tickover::test {
namespace {

[[noreturn]] void fail(InputFault fault, const std::string& path) {
  throw InputError(fault, path, "refused by the test");
}

}  // namespace

void MemoryStore::count() const {
  if (++calls_ == fail_at) fail(InputFault::disk, "the disk");
}

std::string MemoryStore::read(const std::string& path, std::size_t limit) const {
  count();
  const auto file = files.find(path);
  if (file == files.end()) fail(InputFault::missing, path);
  if (file->second.size() > limit) fail(InputFault::data, path);
  return file->second;
}

bool MemoryStore::exists(const std::string& path) const {
  count();
  return files.count(path) > 0;
}

std::vector<std::string> MemoryStore::names(const std::string& folder,
                                            const std::string& suffix) const {
  count();
  std::vector<std::string> found;
  for (const auto& [path, text] : files) {
    if (path.starts_with(folder + "/") && path.ends_with(suffix)) {
      found.push_back(path.substr(folder.size() + 1));
    }
  }
  return found;
}

void MemoryStore::create(const std::string& path, const std::string& text) {
  count();
  if (!files.emplace(path, text).second) fail(InputFault::exists, path);
}

void MemoryStore::append(const std::string& path, std::size_t expected_size, std::size_t torn,
                         const std::string& text) {
  count();
  std::string& file = files.at(path);
  if (file.size() != expected_size) fail(InputFault::locked, path);
  file.resize(expected_size - torn);
  file += text.substr(0, power_cut_at.value_or(text.size()));
  if (power_cut_at) throw PowerCut();
}

std::shared_ptr<void> MemoryStore::lock(const std::string& path) {
  count();
  if (files.count(path) == 0) fail(InputFault::missing, path);
  if (locked_by_another) fail(InputFault::locked, path);
  return std::make_shared<int>(0);
}

std::string MemoryStore::now() const {
  count();
  return fmt::format("2026-03-02T{:02}:{:02}:00Z", 12 + minutes_ / 60, minutes_ % 60);
}

}  // namespace tickover::test
