#include "tests/support/scratch.hpp"

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "tests/support/shell.hpp"

namespace tickover::test {

namespace fs = std::filesystem;

Scratch::Scratch() : folder_(fresh_folder()) {}

Scratch::~Scratch() {
  std::error_code ignored;  // a leftover folder is no reason to fail a test
  fs::remove_all(folder_, ignored);
}

void Scratch::write(const std::string& name, const std::string& text) const {
  fs::create_directories(fs::path(path(name)).parent_path());
  std::ofstream file(path(name), std::ios::binary);
  file << text;
  file.close();
  if (!file) throw std::runtime_error("cannot write " + path(name));
}

std::string Scratch::read(const std::string& name) const {
  std::ifstream file(path(name), std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + path(name));
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::map<std::string, std::string> Scratch::files() const {
  std::map<std::string, std::string> found;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(folder_)) {
    if (!entry.is_regular_file()) continue;
    const std::string name = fs::relative(entry.path(), folder_).string();
    found[name] = read(name);
  }
  return found;
}

}  // namespace tickover::test
