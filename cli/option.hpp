/// @file
/// What a command can be given, as data: parsing, help, and whatever else tells of a command read
/// it from here.
#pragma once

#include <string>
#include <vector>

namespace tickover::cli {

/// What a value names, so that a shell can offer what there is.
enum class Names {
  nothing,  ///< free text, a number, or one of the choices
  file,
  folder,
  job,      ///< a job file
  machine,  ///< a machine sheet's id, or its file
  symptom,
  check,
  observable,  ///< what can be recorded: a check or a symptom
  step,        ///< what can be done: a check, a question to the rider (its symptom), or a repair
  answer,      ///< of the observable before it: one of its outcomes or levels, or unsure
  cause,
  repair,
  layer,
  risk,
  pack_entry,  ///< the id of anything in the pack
  job_entry,   ///< the number of an entry of the job
  cylinders,   ///< "3", "1,4", "all"
};

/// How an option is written and read.
enum class Kind {
  flag,      ///< without a value
  text,      ///< with one; the last holds
  texts,     ///< with one, and may be repeated or given as a list parted by commas
  repeated,  ///< with one, and may be repeated; its commas are its own
  whole,     ///< with a whole number
};

/// One option, written --name VALUE.
struct Option {
  std::string name;
  std::string help;
  Kind kind = Kind::text;
  std::string placeholder = {};  ///< what stands for the value in the help: "LIST"
  Names names = Names::nothing;
  std::string usual = {};                 ///< what holds when it is not given; "" for nothing
  std::vector<std::string> choices = {};  ///< the words it may be; empty for any
  char letter = '\0';                     ///< a short form, written -h
};

/// One argument without a dash, known by its place.
struct Positional {
  std::string name;  ///< in lower case; the help shows it in upper case
  std::string help;  ///< what it is, as a noun
  Names names = Names::nothing;
  bool needed = true;
  bool several = false;  ///< takes all words that are left; only for the last
  std::vector<std::string> choices = {};
};

}  // namespace tickover::cli
