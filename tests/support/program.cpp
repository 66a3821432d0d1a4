#include "tests/support/program.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <stdexcept>

#include "tests/support/scratch.hpp"

namespace tickover::test {
namespace {

/// What exec wants, made before the fork: the child must not allocate.
class Strings {
 public:
  explicit Strings(std::vector<std::string> texts) : texts_(std::move(texts)) {
    for (std::string& text : texts_) pointers_.push_back(text.data());
    pointers_.push_back(nullptr);
  }
  char** get() { return pointers_.data(); }

 private:
  std::vector<std::string> texts_;
  std::vector<char*> pointers_;
};

std::vector<std::string> environment_of(const ProgramRun& run) {
  std::vector<std::string> all = run.environment;
  all.push_back("TICKOVER_KNOWLEDGE=" + run.knowledge);
  if (const char* path = std::getenv("PATH")) all.push_back("PATH=" + std::string(path));
  return all;
}

void redirect(int handle, const char* path) {
  const int file = ::open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  if (file < 0 || ::dup2(file, handle) < 0) ::_exit(126);
  ::close(file);
}

void limit_files(std::size_t largest) {
  const rlimit limit = {largest, largest};
  ::setrlimit(RLIMIT_FSIZE, &limit);
  ::signal(SIGXFSZ, SIG_IGN);  // the write fails instead, as on a full disk
}

[[noreturn]] void become(const ProgramRun& run, const std::string& out, const std::string& err,
                         Strings& words, Strings& environment) {
  redirect(STDOUT_FILENO, out.c_str());
  redirect(STDERR_FILENO, err.c_str());
  if (run.out_closed) ::close(STDOUT_FILENO);
  if (run.largest_file) limit_files(*run.largest_file);
  if (::chdir(run.folder.c_str()) != 0) ::_exit(126);
  ::execve(TICKOVER_PROGRAM, words.get(), environment.get());
  ::_exit(127);
}

}  // namespace

ProgramResult run_program(const ProgramRun& run) {
  const Scratch said;  // apart, so that `folder` shows only what the program does to it
  std::vector<std::string> words = {"tickover"};
  words.insert(words.end(), run.words.begin(), run.words.end());
  Strings arguments(std::move(words)), environment(environment_of(run));
  const std::string out = run.out_to.empty() ? said.path("out") : run.out_to;
  const std::string err = said.path("err");
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("fork failed");
  if (child == 0) become(run, out, err, arguments, environment);
  int status = 0;
  rusage used{};
  if (::wait4(child, &status, 0, &used) != child) throw std::runtime_error("wait4 failed");
  ProgramResult result;
  result.peak_kib = static_cast<std::size_t>(used.ru_maxrss);
  result.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  if (run.out_to.empty()) result.out = said.read("out");
  result.err = said.read("err");
  return result;
}

ProgramResult run_in(const std::string& folder, const std::vector<std::string>& words) {
  return run_program({.words = words, .folder = folder});
}

std::vector<std::string> words_of_line(const std::string& line) {
  std::vector<std::string> words;
  std::string word;
  bool inside = false, quoted = false;
  for (const char c : line) {
    if (c == '\'') quoted = !quoted;
    if (c == '\'' || c != ' ') inside = true;
    if (c != '\'' && (c != ' ' || quoted)) word += c;
    if (c != ' ' || quoted || !inside) continue;
    words.push_back(word);
    word.clear();
    inside = false;
  }
  if (inside) words.push_back(word);
  return words;
}

}  // namespace tickover::test
