#include "cli/calc/chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace tickover::cli {
namespace {

constexpr int kWidth = 64, kHeight = 10;

std::vector<double> samples(double first, const std::function<double(double)>& share_at) {
  std::vector<double> out(kWidth);
  for (std::size_t i = 0; i < kWidth; ++i) {
    out[i] = share_at(std::pow(first, 1.0 - static_cast<double>(i) / (kWidth - 1)));
  }
  return out;
}

/// The next of 1, 2, 5, 10, 20 ... per cent: ends of axes that read well.
double round_up(double share) {
  const double decade = std::pow(10.0, std::floor(std::log10(share)));
  for (const double step : {1.0, 1.5, 2.0, 3.0, 5.0, 7.5}) {
    if (share <= step * decade * (1.0 + 1e-12)) return step * decade;
  }
  return 10.0 * decade;
}

std::string row_label(int row, double top) {
  if (row % 5 != 0) return std::string(8, ' ');
  return fmt::format("{:>6.3g} %", 100.0 * top * row / kHeight);
}

std::string row_text(int row, double top, const std::vector<double>& shares) {
  std::string text = row_label(row, top) + " |";
  for (const double share : shares) {
    text += share * kHeight / top >= row - 0.5 ? '#' : ' ';
  }
  return text.substr(0, text.find_last_not_of(' ') + 1) + "\n";
}

/// Marks below the axis where the opening is 1, 2, 5, 10 ... per cent.
std::string marks(double first) {
  std::string line = std::string(10, ' ') + "idle" + std::string(kWidth - 4, ' ');
  std::size_t free_from = 15;
  for (const int percent : {1, 2, 5, 10, 20, 50, 100}) {
    const double way = 1.0 - std::log(0.01 * percent) / std::log(first);
    const std::string mark = std::to_string(percent);
    const auto column = static_cast<std::ptrdiff_t>(10 + std::lround(way * (kWidth - 1))) -
                        static_cast<std::ptrdiff_t>(mark.size() - 1);
    if (column < static_cast<std::ptrdiff_t>(free_from)) continue;
    line.replace(static_cast<std::size_t>(column), mark.size(), mark);
    free_from = static_cast<std::size_t>(column) + mark.size() + 1;
  }
  return line + " %\n";
}

}  // namespace

std::string throttle_chart(double first, const std::function<double(double)>& share_at) {
  const std::vector<double> shares = samples(first, share_at);
  const double top = round_up(std::max(*std::max_element(shares.begin(), shares.end()), 1e-4));
  std::string out;
  for (int row = kHeight; row >= 1; --row) out += row_text(row, top, shares);
  return out + row_label(0, top) + " +" + std::string(kWidth, '-') + "\n" + marks(first);
}

}  // namespace tickover::cli
