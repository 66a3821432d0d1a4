/// @file
/// The small pack, sheet and job of tests/errors: whole and valid, what bad input departs from.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "engine/pack/load.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::test {

/// The schema of "pack", "machine" or "job".
std::string schema_text(const std::string& name);

/// A pack of a few entries that shows every member the schema knows.
const pack::PackFiles& base_pack();
/// A file beside that pack's own: exceptions.json or language.json.
const std::string& base_beside(const std::string& name);
/// A sheet of two cylinders with every member.
const nlohmann::json& base_sheet();
/// A job of that pack and sheet, as an array of lines without their checksums; every member and
/// every event but `finish` is in it.
const nlohmann::json& base_entries();

/// The lines of a job file, each entry with the checksum that belongs to it: an implementation of
/// its own, so that the engine's is not judged by itself.
std::vector<std::string> chained_lines(const std::vector<std::string>& entries);
std::vector<std::string> chained_lines(const nlohmann::json& entries);
std::string joined(const std::vector<std::string>& lines);  ///< each with a line feed
std::string base_job();

/// A bench by file name: knowledge/ (the small pack, its sheet, the schemas), a copy of the pack in
/// pack/, of the sheet in sheet.json, and the job bike.job.
std::map<std::string, std::string> bench_files();
void lay_out_bench(const Scratch& scratch);

}  // namespace tickover::test
