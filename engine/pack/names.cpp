#include "engine/pack/pack.hpp"

namespace tickover::pack {

std::string_view name_of(Basis basis) {
  switch (basis) {
    case Basis::published:
      return "published";
    case Basis::common_practice:
      return "common-practice";
    case Basis::judgement:
      return "judgement";
  }
  return {};
}

std::string_view name_of(Scope scope) {
  switch (scope) {
    case Scope::engine:
      return "engine";
    case Scope::carburettor:
      return "carburettor";
    case Scope::cylinder:
      return "cylinder";
  }
  return {};
}

std::string_view name_of(Mixture mixture) {
  switch (mixture) {
    case Mixture::lean:
      return "lean";
    case Mixture::normal:
      return "normal";
    case Mixture::rich:
      return "rich";
  }
  return {};
}

std::string_view name_of(Kind kind) {
  switch (kind) {
    case Kind::symptom:
      return "symptom";
    case Kind::response:
      return "response";
    case Kind::inspection:
      return "inspection";
    case Kind::reading:
      return "reading";
  }
  return {};
}

std::string_view name_of(Grade grade) {
  switch (grade) {
    case Grade::danger:
      return "danger";
    case Grade::warning:
      return "warning";
    case Grade::caution:
      return "caution";
    case Grade::notice:
      return "notice";
  }
  return {};
}

}  // namespace tickover::pack
