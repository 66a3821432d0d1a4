#include "cli/shell/scripts.hpp"

namespace tickover::cli {
namespace {

// In all three: a line of 'tickover complete' is a word, a tab, and what it is; "@files" and
// "@folders" leave the rest to the shell.

constexpr const char* kBash = R"(# bash completion for tickover
_tickover() {
  local line begun="${COMP_WORDS[COMP_CWORD]}"
  local -a words=()
  for line in "${COMP_WORDS[@]:1:COMP_CWORD}"; do words+=("${line//[\"\'\\]/}"); done
  [ "$begun" != = ] || { begun= ; words+=(""); }
  COMPREPLY=()
  while IFS= read -r line; do
    case $line in
      @files) compopt -o filenames; mapfile -t -O ${#COMPREPLY[@]} COMPREPLY < <(compgen -f -- "$begun") ;;
      @folders) compopt -o filenames; mapfile -t -O ${#COMPREPLY[@]} COMPREPLY < <(compgen -d -- "$begun") ;;
      *) COMPREPLY+=("${line%%$'\t'*}") ;;
    esac
  done < <("$1" complete -- "${words[@]}" 2>/dev/null)
}
complete -F _tickover tickover
)";

constexpr const char* kZsh = R"(#compdef tickover
_tickover() {
  local line
  local -a found
  for line in "${(@f)$(tickover complete -- "${(@)words[2,CURRENT]}" 2>/dev/null)}"; do
    case $line in
      @files) _files ;;
      @folders) _files -/ ;;
      ?*) found+=("${${line%%$'\t'*}//:/\\:}:${line#*$'\t'}") ;;
    esac
  done
  (( $#found )) && _describe tickover found
}
if [ "$funcstack[1]" = "_tickover" ]; then _tickover "$@"; else compdef _tickover tickover; fi
)";

constexpr const char* kFish = R"(# fish completion for tickover
function __tickover_complete
    set -l before (commandline -opc)
    set -l begun (commandline -ct)
    for line in (tickover complete -- $before[2..-1] "$begun" 2>/dev/null)
        switch $line
            case '@files'
                __fish_complete_path "$begun"
            case '@folders'
                __fish_complete_directories "$begun"
            case '*'
                echo $line
        end
    end
end
complete -c tickover -f -a '(__tickover_complete)'
)";

}  // namespace

const std::vector<std::string>& known_shells() {
  static const std::vector<std::string> names = {"bash", "zsh", "fish"};
  return names;
}

std::string completion_script(const std::string& shell) {
  if (shell == "bash") return kBash;
  return shell == "zsh" ? kZsh : kFish;
}

}  // namespace tickover::cli
