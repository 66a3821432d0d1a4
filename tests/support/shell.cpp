#include "tests/support/shell.hpp"

#include <stdlib.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <stdexcept>

namespace tickover::test {

ShellResult run_shell(const std::string& command) {
  FILE* pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("popen failed");
  ShellResult result;
  std::array<char, 4096> buffer{};
  for (std::size_t got; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    result.out.append(buffer.data(), got);
  }
  const int status = ::pclose(pipe);
  result.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return result;
}

std::string fresh_folder() {
  std::string path = "/tmp/tickover-test-XXXXXX";
  if (::mkdtemp(path.data()) == nullptr) throw std::runtime_error("mkdtemp failed");
  return path;
}

}  // namespace tickover::test
