#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/uai/uai.hpp"

namespace tickover::uai {
namespace {

using belief::tables::Factor;
using belief::tables::FactorGraph;
using belief::tables::Observed;

constexpr double kRowTolerance = 1e-6;

/// The words of a text one after the other, with the line each stands on.
class WordReader {
 public:
  WordReader(std::string_view text, const std::string& file) : text_(text), file_(file) {}

  /// The next word; `expected` says in errors what should stand there.
  std::string_view word(const std::string& expected) {
    skip_blanks();
    if (at_ == text_.size()) fail("the text ends where " + expected + " is expected");
    const std::size_t end = std::min(text_.find_first_of(" \t\r\n", at_), text_.size());
    const std::string_view word = text_.substr(at_, end - at_);
    at_ = end;
    return word;
  }

  /// A whole number from `low` to `high`.
  std::size_t whole(const std::string& expected, std::size_t low, std::size_t high) {
    const std::string_view text = word(expected);
    std::size_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc() && end == text.data() + text.size() && low <= value && value <= high) {
      return value;
    }
    wrong(text, expected + ", a whole number " +
                    (low == high ? "equal to " + std::to_string(low)
                                 : "from " + std::to_string(low) + " to " + std::to_string(high)));
  }

  /// A number of things each of which takes a word or more, so that no text can ask for more
  /// memory than it is long.
  std::size_t count(const std::string& expected) { return whole(expected, 0, text_.size()); }

  double probability(const std::string& expected) {
    const std::string_view text = word(expected);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc() && end == text.data() + text.size() && std::isfinite(value) &&
        value >= 0) {
      return value;
    }
    wrong(text, expected + ", a number that is not negative");
  }

  void end() {
    skip_blanks();
    if (at_ < text_.size()) wrong(word(""), "the end");
  }

  [[noreturn]] void fail(const std::string& what, const std::string& hint = {}) const {
    throw InputError(InputFault::data, file_ + ":" + std::to_string(line_), what, hint);
  }

 private:
  [[noreturn]] void wrong(std::string_view text, const std::string& expected) const {
    fail("'" + printable(text.substr(0, 40)) + "' stands where " + expected + " is expected");
  }

  void skip_blanks() {
    for (; at_ < text_.size() && text_.find_first_of(" \t\r\n", at_) == at_; ++at_) {
      line_ += text_[at_] == '\n';
    }
  }

  const std::string_view text_;
  const std::string file_;
  std::size_t at_ = 0, line_ = 1;
};

std::size_t count_words(const std::string& text) {
  std::size_t count = 0;
  bool inside = false;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\t' || c == '\r' || c == '\n';
    count += !blank && !inside;
    inside = !blank;
  }
  return count;
}

std::string numbered(const std::string& what, std::size_t i) {
  return what + " " + std::to_string(i);
}

std::vector<std::size_t> read_scope(WordReader& words, std::size_t f, std::size_t variables) {
  const std::string whose = numbered("factor", f);
  std::vector<std::size_t> scope;
  const std::size_t count = words.whole("the number of variables of " + whose, 0, variables);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t v = words.whole("a variable of " + whose, 0, variables - 1);
    if (std::find(scope.begin(), scope.end(), v) != scope.end()) {
      words.fail(numbered("variable", v) + " stands twice in " + whose);
    }
    scope.push_back(v);
  }
  return scope;
}

/// Entries of a table over `scope`; none when no computer could hold them.
std::optional<std::size_t> entries_of(const std::vector<std::size_t>& scope,
                                      const std::vector<std::size_t>& cardinality) {
  constexpr std::size_t kMost = std::size_t{1} << 40;
  std::size_t entries = 1;
  for (const std::size_t v : scope) {
    if (cardinality[v] > kMost / entries) return std::nullopt;
    entries *= cardinality[v];
  }
  return entries;
}

void read_table(WordReader& words, std::size_t f, const std::vector<std::size_t>& cardinality,
                Factor& factor) {
  const std::string whose = numbered("factor", f);
  const std::optional<std::size_t> entries = entries_of(factor.scope, cardinality);
  if (!entries) words.fail(whose + " has too many entries");
  words.whole("the number of entries of " + whose, *entries, *entries);
  for (std::size_t i = 0; i < *entries; ++i) {
    factor.values.push_back(words.probability("an entry of " + whose));
  }
}

/// Of a Bayesian network: a distribution of the last variable in every row.
void check_rows(const WordReader& words, std::size_t f, const std::vector<std::size_t>& cardinality,
                const Factor& factor) {
  const std::size_t states = cardinality[factor.scope.back()];
  for (std::size_t row = 0; row * states < factor.values.size(); ++row) {
    double sum = 0;
    for (std::size_t s = 0; s < states; ++s) sum += factor.values[row * states + s];
    if (std::abs(sum - 1) <= kRowTolerance) continue;
    words.fail(numbered("row", row) + " of " + numbered("factor", f) + " sums to " + shortest(sum),
               "in a Bayesian network each row is a distribution of the factor's last variable, "
               "and sums to 1");
  }
}

/// Of a Bayesian network: every variable is the child of one table.
void check_children(const WordReader& words, const FactorGraph& graph) {
  std::vector<bool> child(graph.cardinality.size(), false);
  for (std::size_t f = 0; f < graph.factors.size(); ++f) {
    const std::vector<std::size_t>& scope = graph.factors[f].scope;
    if (scope.empty()) words.fail(numbered("factor", f) + " of a Bayesian network has no variable");
    if (child[scope.back()]) {
      words.fail(numbered("variable", scope.back()) + " is the child, the last, of two factors",
                 "in a Bayesian network each variable has one table; MARKOV has no such rule");
    }
    child[scope.back()] = true;
  }
}

}  // namespace

FactorGraph read_network(const std::string& text, const std::string& file) {
  WordReader words(text, file);
  const std::string kind(words.word("BAYES or MARKOV"));
  const bool bayes = kind == "BAYES";
  if (!bayes && kind != "MARKOV") {
    words.fail("'" + printable(kind.substr(0, 40)) + "' stands where BAYES or MARKOV is expected");
  }
  FactorGraph graph;
  const std::size_t variables = words.count("the number of variables");
  for (std::size_t v = 0; v < variables; ++v) {
    graph.cardinality.push_back(
        words.whole(numbered("the number of states of variable", v), 1, 1'000'000));
  }
  const std::string expected = "the number of factors";
  const std::size_t factors =
      bayes ? words.whole(expected, variables, variables) : words.count(expected);
  for (std::size_t f = 0; f < factors; ++f) {
    graph.factors.push_back({read_scope(words, f, variables), {}});
  }
  if (bayes) check_children(words, graph);
  for (std::size_t f = 0; f < factors; ++f) {
    read_table(words, f, graph.cardinality, graph.factors[f]);
    if (bayes) check_rows(words, f, graph.cardinality, graph.factors[f]);
  }
  words.end();
  return graph;
}

std::vector<Observed> read_evidence(const std::string& text, const std::string& file,
                                    const std::vector<std::size_t>& cardinality) {
  WordReader words(text, file);
  const bool older = count_words(text) % 2 == 0 && count_words(text) > 0;
  if (older) words.whole("the number of samples", 1, 1);
  std::vector<Observed> observed;
  std::vector<bool> known(cardinality.size(), false);
  const std::size_t count = words.whole("the number of variables observed", 0, cardinality.size());
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t v = words.whole("a variable", 0, cardinality.size() - 1);
    if (known[v]) words.fail(numbered("variable", v) + " is observed twice");
    known[v] = true;
    const std::string expected = numbered("the state of variable", v);
    observed.push_back({v, words.whole(expected, 0, cardinality[v] - 1)});
  }
  words.end();
  return observed;
}

}  // namespace tickover::uai
