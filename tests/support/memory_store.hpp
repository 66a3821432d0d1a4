/// @file
/// A disk and clock in memory that fail when they are told to.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "engine/store/store.hpp"

namespace tickover::test {

/// What stands for the end of the process in the midst of a write.
struct PowerCut {};

/// Keeps the promises of Store: what fails with an InputError has changed nothing.
class MemoryStore : public Store {
 public:
  std::map<std::string, std::string> files;
  std::size_t fail_at = 0;                  ///< the call (from 1) that fails; 0: none
  std::optional<std::size_t> power_cut_at;  ///< appending ends with PowerCut after so many bytes
  bool locked_by_another = false;

  std::size_t calls() const { return calls_; }
  void tick(int minutes) { minutes_ += minutes; }

  std::string read(const std::string& path, std::size_t limit) const override;
  bool exists(const std::string& path) const override;
  std::vector<std::string> names(const std::string& folder,
                                 const std::string& suffix) const override;
  void create(const std::string& path, const std::string& text) override;
  void append(const std::string& path, std::size_t expected_size, std::size_t torn,
              const std::string& text) override;
  std::shared_ptr<void> lock(const std::string& path) override;
  std::string now() const override;

 private:
  void count() const;

  mutable std::size_t calls_ = 0;
  int minutes_ = 0;
};

}  // namespace tickover::test
