#include "cli/shop.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/session.hpp"
#include "engine/foundation/decimal.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kLargestShop = 1u << 20;

void add_to(std::vector<std::string>& list, const std::vector<std::string>& more) {
  list.insert(list.end(), more.begin(), more.end());
}

void add_words(const std::string& text, std::vector<std::string>& words) {
  std::istringstream in(text);
  for (std::string word; in >> word;) words.push_back(word);
}

/// Where names come from, for errors.
struct Source {
  InputFault fault;
  const std::string& place;
};

void check_known(const std::vector<std::string>& named, const std::vector<std::string>& known,
                 std::string_view kind, const Source& source) {
  for (const std::string& name : named) {
    if (plan::any_named(known, {name})) continue;
    std::vector<std::string> nearby = known;
    for (const std::string& text : known) add_words(text, nearby);
    throw unknown_name(source.fault, source.place, kind, name, nearby);
  }
}

/// The file, checked against its schema and the pack.
plan::Shop read_shop(const World& world, const std::string& path, const pack::Pack& pack) {
  const nlohmann::json file = parse_json(world.store.read(path, kLargestShop), path);
  JsonSchema(schema_text(world, "shop")).validate(file, "shop-file", path);
  require_printable(file, path);
  plan::Shop::Prices prices;
  prices.currency = file.at("currency").get<std::string>();
  prices.minute = file.at("hour").get<double>() / 60;
  if (file.contains("hand-on")) prices.hand_on = file.at("hand-on").get<double>();
  prices.comeback = file.value("comeback", 0.0);
  plan::Shop shop;
  const auto at = [&](const char* member) { return json_place(path, std::string("/") + member); };
  for (const char* member : {"parts", "consumables"}) {
    plan::Constraints named;
    const nlohmann::json list = file.value(member, nlohmann::json::object());
    for (const auto& [name, money] : list.items()) {
      const bool part = member == std::string("parts");
      (part ? named.parts : named.without).push_back(name);
      (part ? prices.parts : prices.consumables).emplace_back(name, money.get<double>());
    }
    checked(named, pack, InputFault::data, at(member));
  }
  shop.constraints.tools = file.value("tools-missing", std::vector<std::string>());
  shop.constraints.parts = file.value("parts-missing", std::vector<std::string>());
  checked(plan::Constraints{.tools = shop.constraints.tools}, pack, InputFault::data,
          at("tools-missing"));
  checked(plan::Constraints{.parts = shop.constraints.parts}, pack, InputFault::data,
          at("parts-missing"));
  shop.prices = std::move(prices);
  return shop;
}

/// An amount as said in an option, "62" or "62 EUR"; in another currency than `currency`, unless
/// that is empty, it is refused. One said for the first time is taken over.
double parse_money(const std::string& option, const std::string& text, std::string& currency) {
  constexpr double kMostMoney = 1e6;
  constexpr std::size_t kLongestCurrency = 8;
  if (text.find_first_of("0123456789") != 0 && !text.starts_with('-')) {
    throw InputError(InputFault::usage, option, "'" + text + "' is no amount of money",
                     "for instance: '62 EUR'");
  }
  const Decimal said = parse_decimal(text);
  if (said.value < 0 || said.value > kMostMoney) {
    throw InputError(InputFault::usage, option,
                     fmt::format("it should be an amount from 0 to {:.0f}", kMostMoney));
  }
  const bool sign = std::none_of(said.rest.begin(), said.rest.end(), [](unsigned char c) {
    return std::isdigit(c) ||
           std::string_view(",;:=+-/*%'\"").find(static_cast<char>(c)) != std::string_view::npos;
  });
  if (said.rest.size() > kLongestCurrency || !sign || printable(said.rest) != said.rest) {
    throw InputError(InputFault::usage, option, "'" + said.rest + "' is no currency",
                     "for instance: " + option + " '62 EUR'");
  }
  if (currency.empty()) currency = said.rest;
  if (!said.rest.empty() && said.rest != currency) {
    throw InputError(InputFault::usage, option,
                     "the other prices are in " + currency + ", not in " + said.rest);
  }
  return said.value;
}

/// "intake rubber=24" or, for what a check uses up, "gas-bench-each=0.5": goes before what the file
/// says.
void add_price(const std::string& text, const pack::Pack& pack, plan::Shop::Prices& prices) {
  const std::size_t sign = text.rfind('=');
  const std::string name(trimmed(text.substr(0, sign)));
  if (sign == std::string::npos || name.empty()) {
    throw InputError(InputFault::usage, "--price", "'" + text + "' should be a name and an amount",
                     "for instance: --price 'intake rubber=24'");
  }
  const double money =
      parse_money("--price", std::string(trimmed(text.substr(sign + 1))), prices.currency);
  const bool check = pack::find(pack.checks, name).has_value();
  if (!check) checked(plan::Constraints{.parts = {name}}, pack, InputFault::usage, "--price");
  std::vector<std::pair<std::string, double>>& list = check ? prices.consumables : prices.parts;
  list.insert(list.begin(), std::pair(name, money));
}

/// "plug=6,50, cap, with screw=4" are two prices: after an amount a digit alone goes on with it,
/// anything else begins a name, which may hold commas itself.
std::vector<std::string> prices_listed(const std::string& text) {
  std::vector<std::string> listed;
  std::istringstream in(text);
  for (std::string part; std::getline(in, part, ',');) {
    const std::string_view piece = trimmed(part);
    const bool digits = !piece.empty() && piece[0] >= '0' && piece[0] <= '9' &&
                        piece.find('=') == std::string_view::npos;
    const bool priced = !listed.empty() && listed.back().find('=') != std::string::npos;
    if (listed.empty() || (priced && !digits)) {
      listed.emplace_back(piece);
    } else {
      listed.back() += "," + part;
    }
  }
  return listed;
}

/// Prices in options: with those of the file, or in its stead.
void add_prices(const Words& words, const pack::Pack& pack,
                std::optional<plan::Shop::Prices>& prices) {
  std::vector<std::string> listed;
  for (const std::string& text : words.several("price")) add_to(listed, prices_listed(text));
  if (words.has("hour")) {
    if (!prices) prices = plan::Shop::Prices{};
    prices->minute = parse_money("--hour", words.text("hour"), prices->currency) / 60;
    if (!(prices->minute > 0)) {
      throw InputError(InputFault::usage, "--hour", "an hour of work should cost more than 0");
    }
    if (prices->currency.empty()) {
      throw InputError(InputFault::usage, "--hour", "it should tell the currency too",
                       "for instance: --hour '62 EUR'");
    }
  }
  for (const char* option : {"hand-on", "comeback", "price"}) {
    if (prices || !words.has(option)) continue;
    throw InputError(InputFault::usage, std::string("--") + option,
                     "money counts only where an hour of work has its price",
                     "say that too: --hour '62 EUR', or --shop with the shop's file");
  }
  if (words.has("hand-on")) {
    prices->hand_on = parse_money("--hand-on", words.text("hand-on"), prices->currency);
  }
  if (words.has("comeback")) {
    prices->comeback = parse_money("--comeback", words.text("comeback"), prices->currency);
  }
  for (auto one = listed.rbegin(); one != listed.rend(); ++one) add_price(*one, pack, *prices);
}

}  // namespace

plan::Constraints checked(plan::Constraints constraints, const pack::Pack& pack, InputFault fault,
                          const std::string& place) {
  std::vector<std::string> ids = pack::ids_of(pack.checks), tools, parts;
  for (const pack::Finding& finding : pack.findings) {
    if (finding.kind == pack::Kind::symptom) ids.push_back(finding.id);
  }
  for (const pack::Check& check : pack.checks) {
    tools.insert(tools.end(), check.tools.begin(), check.tools.end());
  }
  for (const pack::Repair& repair : pack.repairs) {
    ids.push_back(repair.id);
    parts.insert(parts.end(), repair.parts.begin(), repair.parts.end());
  }
  for (const std::string& id : constraints.without) {
    if (std::count(ids.begin(), ids.end(), id) > 0) continue;
    throw unknown_name(fault, place, "check, question or repair", id, ids);
  }
  check_known(constraints.tools, tools, "tool", {fault, place});
  check_known(constraints.parts, parts, "part", {fault, place});
  return constraints;
}

std::vector<Option> shop_options() {
  return {{.name = "shop",
           .help = "file with the shop's prices and what it lacks: money counts beside minutes",
           .placeholder = "FILE",
           .names = Names::file},
          {.name = "hour",
           .help = "what an hour of work costs, as '62 EUR': money counts then too without --shop",
           .placeholder = "MONEY"},
          {.name = "price",
           .help = "what a part costs, by its words, or what a check uses up, by its id: "
                   "'intake rubber=24'; may be repeated",
           .kind = Kind::repeated,
           .placeholder = "NAME=MONEY"},
          {.name = "comeback",
           .help = "what it costs when a machine leaves as cured and is not, besides the work",
           .placeholder = "MONEY"},
          {.name = "hand-on",
           .help = "what is lost with a machine that is handed on uncured",
           .placeholder = "MONEY"},
          {.name = "without",
           .help = "a check, question or repair that cannot be done here; may be repeated",
           .kind = Kind::texts,
           .placeholder = "ID",
           .names = Names::step},
          {.name = "no-tool",
           .help = "a tool that is not in the shop; may be repeated",
           .kind = Kind::texts,
           .placeholder = "TOOL"},
          {.name = "no-part",
           .help = "a part that is not in stock and must be ordered; may be repeated. Where it "
                   "cannot be had at all: --without the repair",
           .kind = Kind::texts,
           .placeholder = "PART"},
          {.name = "no-running",
           .help = "the engine cannot be run for a check: indoors, or it does not start",
           .kind = Kind::flag},
          {.name = "left",
           .help = "time left today: 40, in minutes, or with a unit: 1.5h, 1h30",
           .placeholder = "TIME"}};
}

plan::Shop shop_from(const World& world, const Words& words, const pack::Pack& pack) {
  plan::Shop shop;
  if (words.has("shop")) shop = read_shop(world, words.text("shop"), pack);
  add_prices(words, pack, shop.prices);
  plan::Constraints said;
  said.without = words.several("without");
  said.tools = words.several("no-tool");
  said.parts = words.several("no-part");
  said = checked(std::move(said), pack);
  add_to(shop.constraints.without, said.without);
  add_to(shop.constraints.tools, said.tools);
  add_to(shop.constraints.parts, said.parts);
  shop.constraints.running = !words.has("no-running");
  if (words.has("left")) shop.constraints.minutes = parse_minutes("--left", words.text("left"));
  return shop;
}

}  // namespace tickover::cli
