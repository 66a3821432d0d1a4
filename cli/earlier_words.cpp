#include "cli/earlier_words.hpp"

#include <algorithm>

#include "cli/print.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

/// Names of instances by their id; the id of what the pack has no more.
template <class Instances, class Describe>
std::vector<std::string> described(const std::vector<std::string>& ids, const Instances& instances,
                                   const Describe& describe) {
  std::vector<std::string> names;
  for (const std::string& id : ids) {
    const auto found = std::find_if(instances.begin(), instances.end(),
                                    [&](const auto& one) { return one.id == id; });
    names.push_back(found == instances.end()
                        ? printable(id)
                        : describe(static_cast<std::size_t>(found - instances.begin())));
  }
  return names;
}

std::vector<std::string> repairs_of(const Model& model, const Earlier& earlier) {
  std::vector<std::string> names;
  for (const Earlier::Repair& done : earlier.repairs) {
    const auto repair = pack::find(model.pack.repairs, done.repair);
    std::vector<std::string> numbers;
    for (const std::size_t cylinder : done.cylinders) numbers.push_back(std::to_string(cylinder));
    names.push_back((repair ? model.pack.repairs[*repair].name : printable(done.repair)) +
                    (numbers.empty() || model.machine.cylinders.size() == 1
                         ? ""
                         : ", cyl " + join_words(numbers)));
  }
  return names;
}

std::string listed(const std::vector<std::string>& names, const std::string& none) {
  return names.empty() ? none : join_words(names, "; ", "; ");
}

std::string verdict_of(const Earlier& earlier) {
  if (earlier.verdict == "gone") return "the complaint was gone";
  if (earlier.verdict == "changed") return "part of the complaint had gone";
  return earlier.verdict == "still" ? "the complaint was still there" : "none was recorded";
}

}  // namespace

Session read_earlier(World& world, const std::string& path) {
  Session session = read_job(world, path);
  if (session.diagnosis->evidence().finished) return session;
  throw InputError(InputFault::usage, path, "this job is not finished",
                   "go on in it as it is, or finish it first: tickover finish " + path);
}

std::string earlier_in_words(const Model& model, const Earlier& earlier,
                             const std::vector<Standing>& left_then) {
  std::vector<std::string> left;
  for (const Standing& one : left_then) {
    left.push_back(model.describe_cause(one.cause) + " " + percent(one.probability));
  }
  std::vector<std::string> risks;
  for (const std::size_t risk : model.risks) risks.push_back(model.pack.risks[risk].name);
  const auto finding = [&](std::size_t index) { return model.describe_finding(index); };
  const auto cause = [&](std::size_t index) { return model.describe_cause(index); };
  const std::string said =
      earlier.complaint.empty() ? "" : " The rider: \"" + printable(earlier.complaint) + "\".";
  return wrapped("It came back after " + printable(earlier.job) + ", finished " +
                     earlier.time.substr(0, 10) + "." + said,
                 0) +
         labelled("  Complaint   ",
                  listed(described(earlier.symptoms, model.findings, finding), "none recorded"),
                  14) +
         labelled("  Cause       ",
                  listed(described(earlier.causes, model.causes, cause), "none was named"), 14) +
         labelled("  Repaired    ", listed(repairs_of(model, earlier), "nothing"), 14) +
         labelled("  Road test   ", verdict_of(earlier), 14) +
         labelled("  Left then   ", listed(left, "nothing that stands out"), 14) +
         labelled("  Risks now   ", listed(risks, "none"), 14) +
         wrapped(
             "Known then, or left by that job: these make causes likelier. The causes begin anew; "
             "what was repaired then can have failed again, and what was left then was not cured.",
             0);
}

std::string how_to_go_on(const std::string& path) {
  return "The machine is back? tickover open NEW.job --after " + printable(path);
}

}  // namespace tickover::cli
