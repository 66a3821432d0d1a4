#include "tests/bench/measure.hpp"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <thread>

namespace tickover::bench {
namespace {

double now() {
  timespec time{};
  ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
  return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_nsec) / 1e6;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

double milliseconds_of(const timeval& time) {
  return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_usec) / 1e3;
}

[[noreturn]] void become(const std::vector<std::string>& words, const std::string& folder) {
  std::vector<char*> arguments;
  for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  const int nowhere = ::open("/dev/null", O_WRONLY);
  ::dup2(nowhere, STDOUT_FILENO);
  ::dup2(nowhere, STDERR_FILENO);
  if (::chdir(folder.c_str()) == 0) ::execv(arguments.front(), arguments.data());
  ::_exit(127);
}

/// The rest of the first line of `path` that begins with `key`.
std::string line_after(const std::string& path, const std::string& key) {
  std::ifstream file(path);
  for (std::string line; std::getline(file, line);) {
    if (line.rfind(key, 0) != 0) continue;
    const std::size_t colon = line.find(':');
    return colon == std::string::npos ? line : line.substr(colon + 2);
  }
  return "unknown";
}

}  // namespace

double milliseconds(const std::function<void()>& work, double budget) {
  double begin = now();
  work();
  const double first = std::max(now() - begin, 1e-6);
  const int batch = std::max(1, static_cast<int>(0.05 / first));  // the clock ticks in about 1 us
  std::vector<double> times;
  for (double spent = 0; times.size() < 5 || spent < budget;) {
    begin = now();
    for (int i = 0; i < batch; ++i) work();
    const double time = now() - begin;
    times.push_back(time / batch);
    spent += time;
    if (first > budget && times.size() >= 2) break;
  }
  return median(times);
}

Process run(const std::vector<std::string>& words, const std::string& folder, int runs) {
  Process process{true, 0, 0};
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    const pid_t child = ::fork();
    if (child == 0) become(words, folder);
    int status = 0;
    rusage used{};
    ::wait4(child, &status, 0, &used);
    process.ran = process.ran && WIFEXITED(status) && WEXITSTATUS(status) == 0;
    process.mebibytes = std::max(process.mebibytes, static_cast<double>(used.ru_maxrss) / 1024);
    times.push_back(milliseconds_of(used.ru_utime) + milliseconds_of(used.ru_stime));
  }
  process.milliseconds = median(times);
  return process;
}

std::string machine_line() {
#ifdef __clang__
  const std::string compiler = "clang " __clang_version__;
#else
  const std::string compiler = "g++ " __VERSION__;
#endif
#ifdef NDEBUG
  const std::string build = "release";
#else
  const std::string build = "not a release build";
#endif
  return line_after("/proc/cpuinfo", "model name") + ", " +
         std::to_string(std::thread::hardware_concurrency()) + " cores; " + compiler + ", " +
         build + "; load " + line_after("/proc/loadavg", "");
}

double growth(const std::vector<double>& x, const std::vector<double>& y) {
  const double n = static_cast<double>(x.size());
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double log = std::log(y[i]);
    sx += x[i];
    sy += log;
    sxx += x[i] * x[i];
    sxy += x[i] * log;
  }
  return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

}  // namespace tickover::bench
