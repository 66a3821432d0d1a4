#include <sys/ioctl.h>
#include <unistd.h>

#include <climits>
#include <cstdlib>
#include <iostream>

#include "cli/answers.hpp"
#include "cli/command.hpp"
#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

/// The folder of the running program, or "" when the system does not tell.
std::string program_folder() {
  char path[PATH_MAX];
  const ssize_t length = ::readlink("/proc/self/exe", path, sizeof path);
  if (length <= 0) return {};
  const std::string whole(path, static_cast<std::size_t>(length));
  return whole.substr(0, whole.rfind('/'));
}

/// --knowledge DIR anywhere on the line is taken out of it.
std::string take_knowledge_option(std::vector<std::string>& words) {
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i] == "--") break;
    if (words[i].rfind("--knowledge=", 0) == 0) {
      const std::string folder = words[i].substr(12);
      words.erase(words.begin() + static_cast<std::ptrdiff_t>(i));
      return folder;
    }
    if (words[i] != "--knowledge") continue;
    if (i + 1 == words.size()) {
      throw InputError(InputFault::usage, "", "--knowledge needs a folder");
    }
    const std::string folder = words[i + 1];
    const auto begin = words.begin() + static_cast<std::ptrdiff_t>(i);
    words.erase(begin, begin + 2);
    return folder;
  }
  return {};
}

/// Said on the line, in the environment, beside the installed program, or in the source tree.
std::string find_knowledge(const Store& store, const std::string& said) {
  if (!said.empty()) return said;
  if (const char* set = std::getenv("TICKOVER_KNOWLEDGE"); set != nullptr && *set != '\0')
    return set;
  for (const std::string& folder :
       {program_folder() + "/../share/tickover", std::string(TICKOVER_KNOWLEDGE_BUILD),
        std::string(TICKOVER_KNOWLEDGE_INSTALLED)}) {
    if (store.exists(folder + "/carburettor/pack.json")) return folder;
  }
  throw InputError(InputFault::missing, "", "the knowledge folder is not found",
                   "name it with --knowledge DIR or TICKOVER_KNOWLEDGE");
}

/// The width of the terminal that reads the answer; the usual one for anything else.
std::size_t terminal_columns() {
  winsize size{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0) return kColumns;
  return size.ws_col == 0 ? kColumns : size.ws_col;
}

int run(std::vector<std::string> words) {
  const std::unique_ptr<Store> store = disk_store();
  const std::string said = take_knowledge_option(words);
  const std::unique_ptr<Answers> answers = answers_here(std::cin, std::cout);
  set_columns(terminal_columns());
  World world{*store, std::cout, std::cerr, find_knowledge(*store, said), answers.get()};
  const int status = dispatch(world, words);
  std::cout.flush();
  if (!std::cout) {
    throw InputError(InputFault::disk, "", "the answer could not be written out",
                     "an entry that was recorded is kept: the job's last line shows it");
  }
  return status;
}

}  // namespace
}  // namespace tickover::cli

int main(int argc, char** argv) {
  using namespace tickover;
  std::ios::sync_with_stdio(false);
  try {
    return cli::run({argv + 1, argv + argc});
  } catch (const InputError& error) {
    std::cerr << cli::error_in_words(error);
    return cli::exit_status(error.fault());
  } catch (const std::exception& error) {
    std::cerr << "tickover: a fault of the program: " << printable(error.what()) << "\n"
              << "  please report it with the command that led here; a job is never left torn\n";
    return cli::kSoftware;
  }
}
