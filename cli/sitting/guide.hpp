/// @file
/// Guided work: asks, explains, and records one thing at a time.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/sitting/answer.hpp"

namespace tickover::cli {

/// One sitting at a job. Everything recorded goes through the same commands as typed on a command
/// line, and everything advised comes from the same planner.
class Guide {
 public:
  Guide(World& world, const Words& words);

  /// Until the job is finished, "quit", or the end of input. Returns the exit status.
  int run();

 private:
  /// What `back` takes back: an entry, or something skipped.
  struct Done {
    std::size_t entry = 0;
    std::string skipped;
    double minutes = 0;  ///< that it took off what is left today
  };

  void plan();
  /// Nothing where it has not changed since it was told last.
  std::string standing();
  /// Told in whole; or what was typed before the end of a long text.
  std::optional<std::string> tell();
  std::optional<std::string> show_in_screens(const std::string& text);
  void take(const std::string& line);
  bool closes_now(const std::vector<std::string>& typed) const;
  bool take_word(const std::vector<std::string>& typed, const std::string& line);
  void answer(std::vector<std::string> typed, const std::string& line);
  void record(std::vector<std::string> command_line, double planned = 0);
  double planned_minutes() const;
  void spend(double minutes);

  void back();
  void skip();
  void unsure();
  void why(const std::vector<std::string>& typed);
  void other(const std::vector<std::string>& typed);
  void choose(const std::string& words);
  void access(const std::vector<std::string>& typed);
  void note(const std::string& line);
  void take_riders_words(const std::string& line);
  void show(std::vector<std::string> command_line);

  World& world_;
  const std::string path_;
  Session session_;
  Sitting sitting_;
  Plan plan_;
  std::vector<Done> done_;
  std::size_t chosen_after_ = 0;  ///< how much was done when something else was chosen
  std::string told_;              ///< which task was told last
  std::string told_standing_;
  bool leaving_ = false;
};

}  // namespace tickover::cli
