/// @file
/// A folder of its own for a test.
#pragma once

#include <map>
#include <string>

namespace tickover::test {

/// Made empty under the system's temporary folder, removed with all its contents at the end.
class Scratch {
 public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  const std::string& folder() const { return folder_; }
  std::string path(const std::string& name) const { return folder_ + "/" + name; }
  /// Makes the folders that `name` needs.
  void write(const std::string& name, const std::string& text) const;
  std::string read(const std::string& name) const;
  /// Every regular file below, by its name from here, with its contents.
  std::map<std::string, std::string> files() const;

 private:
  std::string folder_;
};

}  // namespace tickover::test
