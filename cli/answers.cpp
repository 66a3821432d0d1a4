#include "cli/answers.hpp"

#include <histedit.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <clocale>
#include <cstdio>
#include <cstdlib>
#include <istream>
#include <ostream>

#include "engine/foundation/error.hpp"

namespace tickover::cli {

std::optional<std::string> StreamAnswers::line(const std::string& prompt) {
  out_ << prompt << std::flush;
  std::string line;
  // a line without its end is no Enter
  if (!std::getline(in_, line) || in_.eof()) {
    out_ << "\n";
    return std::nullopt;
  }
  if (echo_) out_ << printable(line) << "\n";
  return line;
}

/// The library's editor and its history, with the prompt that it asks for.
struct TerminalAnswers::Editor {
  Editor() : line(::el_init("tickover", stdin, stdout, stderr)), earlier(::history_init()) {
    ::el_set(line, EL_CLIENTDATA, this);
    ::el_set(line, EL_PROMPT, &Editor::prompt_of);
    ::el_set(line, EL_EDITOR, "emacs");
    ::el_set(line, EL_SIGNAL, 1);  // a signal leaves the terminal as it was
    ::history(earlier, &event, H_SETSIZE, 200);
    ::el_set(line, EL_HIST, ::history, earlier);
  }
  ~Editor() {
    ::history_end(earlier);
    ::el_end(line);
  }
  Editor(const Editor&) = delete;
  Editor& operator=(const Editor&) = delete;

  static char* prompt_of(EditLine* of) {
    Editor* self = nullptr;
    ::el_get(of, EL_CLIENTDATA, &self);
    return self->prompt.data();
  }

  EditLine* line;
  History* earlier;
  HistEvent event{};
  std::string prompt;
};

TerminalAnswers::TerminalAnswers(std::ostream& out)
    : out_(out), editor_(std::make_unique<Editor>()) {}

TerminalAnswers::~TerminalAnswers() = default;

std::optional<std::string> TerminalAnswers::line(const std::string& prompt) {
  out_ << std::flush;
  editor_->prompt = prompt;
  int length = 0;
  ::el_set(editor_->line, EL_PREP_TERM, 1);  // before the prompt invites to type
  const char* typed = ::el_gets(editor_->line, &length);
  if (typed == nullptr || length <= 0) {
    out_ << "\n";
    return std::nullopt;
  }
  std::string line(typed, static_cast<std::size_t>(length));
  if (line.back() != '\n') return std::nullopt;  // a line without its end is no Enter
  line.pop_back();
  if (!line.empty()) ::history(editor_->earlier, &editor_->event, H_ENTER, line.c_str());
  return line;
}

std::optional<std::size_t> TerminalAnswers::rows() const {
  winsize size{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_row == 0) return std::nullopt;
  return size.ws_row;
}

std::unique_ptr<Answers> answers_here(std::istream& in, std::ostream& out) {
  const bool typed = ::isatty(STDIN_FILENO) != 0;
  const char* kind = std::getenv("TERM");
  const bool edits = kind != nullptr && *kind != '\0' && std::string(kind) != "dumb";
  if (!typed || !edits || ::isatty(STDOUT_FILENO) == 0) {
    return std::make_unique<StreamAnswers>(in, out, !typed);
  }
  // so that the editor takes a letter of several bytes for one
  if (std::setlocale(LC_CTYPE, "") == nullptr || MB_CUR_MAX == 1) {
    std::setlocale(LC_CTYPE, "C.UTF-8");
  }
  return std::make_unique<TerminalAnswers>(out);
}

}  // namespace tickover::cli
