/// @file
/// The sole door to disk and clock. An interface, so that tests can break it.
#pragma once

#include <memory>
#include <string>
#include <vector>

namespace tickover {

/// Every path is a file system path as the user gave it. All members throw InputError: missing,
/// exists, disk, locked, or data for a file that is too large to be what it should be.
class Store {
 public:
  virtual ~Store() = default;

  /// Whole contents. Refuses more than `limit` bytes before reading them.
  virtual std::string read(const std::string& path, std::size_t limit) const = 0;
  virtual bool exists(const std::string& path) const = 0;
  /// Names of the regular files in a folder that end with `suffix`, sorted.
  virtual std::vector<std::string> names(const std::string& folder,
                                         const std::string& suffix) const = 0;

  /// Creates a file that did not exist, whole and synced, or leaves nothing.
  virtual void create(const std::string& path, const std::string& text) = 0;
  /// Adds `text` to a file of exactly `expected_size` bytes, after cutting `torn` bytes off its
  /// end, whole and synced; on failure the file is as it was. Throws `locked` when its size is
  /// another (somebody wrote since it was read).
  virtual void append(const std::string& path, std::size_t expected_size, std::size_t torn,
                      const std::string& text) = 0;

  /// Holds the job for this process while the returned guard lives. Throws `locked`.
  virtual std::shared_ptr<void> lock(const std::string& path) = 0;

  /// Now, UTC, as "2026-03-02T09:00:00Z". SOURCE_DATE_EPOCH, when set, is the time instead
  /// (reproducible-builds.org/docs/source-date-epoch).
  virtual std::string now() const = 0;
};

/// The real disk and clock (POSIX).
std::unique_ptr<Store> disk_store();

}  // namespace tickover
