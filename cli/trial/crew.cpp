#include "cli/trial/crew.hpp"

#include <condition_variable>
#include <exception>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace tickover::cli {
namespace {

class Crew {
 public:
  Crew(const trial::Trial& trial, const std::vector<std::size_t>& numbers)
      : trial_(trial), numbers_(numbers), results_(numbers.size()) {}

  void work() {
    try {
      trial::Player player(trial_);
      while (const std::optional<std::size_t> index = next()) {
        std::optional<trial::JobResult> result = player.play(numbers_[*index]);
        const std::lock_guard hold(mutex_);
        results_[*index] = std::move(result);
        changed_.notify_one();
      }
    } catch (...) {
      stop(std::current_exception());
      changed_.notify_one();
    }
  }

  /// Waits for results that follow those taken before; none when all are taken or work stopped.
  std::vector<trial::JobResult> wait() {
    std::unique_lock hold(mutex_);
    changed_.wait(hold, [&] {
      return taken_ == results_.size() || failure_ || results_[taken_].has_value();
    });
    if (failure_) return {};
    std::vector<trial::JobResult> run;
    for (; taken_ < results_.size() && results_[taken_]; ++taken_) {
      run.push_back(*std::exchange(results_[taken_], std::nullopt));
    }
    return run;
  }

  void stop(std::exception_ptr failure) {
    const std::lock_guard hold(mutex_);
    if (!failure_) failure_ = std::move(failure);
  }
  std::exception_ptr failure() const { return failure_; }

 private:
  std::optional<std::size_t> next() {
    const std::lock_guard hold(mutex_);
    if (failure_ || next_ == numbers_.size()) return std::nullopt;
    return next_++;
  }

  const trial::Trial& trial_;
  const std::vector<std::size_t>& numbers_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::vector<std::optional<trial::JobResult>> results_;
  std::size_t next_ = 0, taken_ = 0;
  std::exception_ptr failure_;
};

}  // namespace

void play_jobs(const trial::Trial& trial, const std::vector<std::size_t>& numbers,
               std::size_t threads,
               const std::function<void(const std::vector<trial::JobResult>&)>& take) {
  Crew crew(trial, numbers);
  std::vector<std::thread> workers;
  for (std::size_t i = 0; i < threads; ++i) workers.emplace_back([&] { crew.work(); });
  try {
    for (auto run = crew.wait(); !run.empty(); run = crew.wait()) take(run);
  } catch (...) {
    crew.stop(std::current_exception());
  }
  for (std::thread& worker : workers) worker.join();
  if (crew.failure()) std::rethrow_exception(crew.failure());
}

}  // namespace tickover::cli
