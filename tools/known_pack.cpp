// known_pack KNOWLEDGE OUT: run by the build. Validates the pack in the folder KNOWLEDGE and writes
// to OUT the source that tells the program its hash, so that the program need not validate the same
// files at every start. An invalid pack is no failure here: the program will say what is wrong.

#include <fmt/format.h>

#include <cstdio>
#include <fstream>
#include <string>

#include "engine/foundation/error.hpp"
#include "engine/pack/load.hpp"
#include "engine/store/store.hpp"

namespace {

using namespace tickover;

std::string hash_of_pack(const std::string& knowledge) {
  constexpr std::size_t kLargest = 8u << 20;
  const auto store = disk_store();
  try {
    pack::PackFiles files;
    for (const std::string& name : pack::file_names()) {
      files[name] = store->read(knowledge + "/carburettor/" + name, kLargest);
    }
    const std::string schema = store->read(knowledge + "/schema/pack.schema.json", kLargest);
    return pack::load(files, schema, "carburettor").hash;
  } catch (const InputError& error) {
    std::fprintf(stderr, "the pack is not valid: %s\n", error.what());
    return {};
  }
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) return 2;
  std::ofstream out(words[2]);
  out << fmt::format(
      "#include \"cli/known_pack.hpp\"\n\n"
      "std::string_view tickover::cli::known_pack() {{ return \"{}\"; }}\n",
      hash_of_pack(words[1]));
  return out.flush() ? 0 : 1;
}
