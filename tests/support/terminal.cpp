#include "tests/support/terminal.hpp"

#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <stdexcept>

namespace tickover::test {
namespace {

constexpr int kPatience = 20'000;  // milliseconds

std::vector<char*> pointers_to(std::vector<std::string>& texts) {
  std::vector<char*> pointers;
  for (std::string& text : texts) pointers.push_back(text.data());
  pointers.push_back(nullptr);
  return pointers;
}

}  // namespace

Terminal::Terminal(const TerminalRun& run) {
  std::vector<std::string> words = run.words, environment = run.environment;
  environment.push_back("TERM=xterm");
  if (const char* path = std::getenv("PATH")) environment.push_back("PATH=" + std::string(path));
  const std::vector<char*> argv = pointers_to(words), envp = pointers_to(environment);
  const winsize size = {24, run.columns, 0, 0};
  child_ = ::forkpty(&handle_, nullptr, nullptr, &size);
  if (child_ < 0) throw std::runtime_error("forkpty failed");
  if (child_ == 0) {
    if (::chdir(run.folder.c_str()) != 0) ::_exit(126);
    ::execve(argv.front(), argv.data(), envp.data());
    ::_exit(127);
  }
}

Terminal::~Terminal() {
  if (child_ > 0) {
    ::kill(child_, SIGKILL);
    ::waitpid(child_, nullptr, 0);
  }
  ::close(handle_);
}

void Terminal::type(const std::string& keys) {
  if (::write(handle_, keys.data(), keys.size()) != static_cast<ssize_t>(keys.size())) {
    throw std::runtime_error("the terminal takes no keys");
  }
}

bool Terminal::read_more() {
  pollfd waiting = {handle_, POLLIN, 0};
  if (::poll(&waiting, 1, kPatience) <= 0) throw std::runtime_error("nothing comes: " + unread_);
  char buffer[4096];
  const ssize_t count = ::read(handle_, buffer, sizeof buffer);
  if (count <= 0) return false;  // Linux: EIO once the program is gone
  unread_.append(buffer, static_cast<std::size_t>(count));
  return true;
}

std::string Terminal::until(const std::string& text) {
  std::size_t found = unread_.find(text);
  while (found == std::string::npos) {
    if (!read_more()) throw std::runtime_error("'" + text + "' did not come: " + unread_);
    found = unread_.find(text);
  }
  const std::string came = unread_.substr(0, found + text.size());
  unread_.erase(0, came.size());
  return came;
}

int Terminal::wait() {
  while (read_more()) {
  }
  int status = 0;
  ::waitpid(child_, &status, 0);
  child_ = -1;
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

}  // namespace tickover::test
