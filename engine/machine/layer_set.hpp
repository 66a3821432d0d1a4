/// @file
/// A set of access layers as bits: planning changes them hundreds of thousands of times.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <initializer_list>

namespace tickover {

/// Indices into pack.layers, below kMostLayers. Iterates in ascending order.
class LayerSet {
 public:
  static constexpr std::size_t kMostLayers = 64;

  LayerSet() = default;
  LayerSet(std::initializer_list<std::size_t> layers) {
    for (const std::size_t layer : layers) insert(layer);
  }

  void insert(std::size_t layer) { bits_ |= std::uint64_t{1} << layer; }
  bool contains(std::size_t layer) const { return bits_ >> layer & 1; }
  bool empty() const { return bits_ == 0; }
  void clear() { bits_ = 0; }
  std::size_t size() const { return static_cast<std::size_t>(std::popcount(bits_)); }

  /// Union, and what is here but not there.
  LayerSet operator|(LayerSet other) const { return LayerSet(bits_ | other.bits_); }
  LayerSet operator-(LayerSet other) const { return LayerSet(bits_ & ~other.bits_); }
  bool operator==(const LayerSet&) const = default;

  class Iterator {
   public:
    explicit Iterator(std::uint64_t left) : left_(left) {}
    std::size_t operator*() const { return static_cast<std::size_t>(std::countr_zero(left_)); }
    Iterator& operator++() {
      left_ &= left_ - 1;
      return *this;
    }
    bool operator==(const Iterator&) const = default;

   private:
    std::uint64_t left_;
  };
  /// Layers 8 * byte to 8 * byte + 7, as bits.
  std::size_t byte(std::size_t byte) const { return bits_ >> (8 * byte) & 0xff; }

  Iterator begin() const { return Iterator(bits_); }
  Iterator end() const { return Iterator(0); }

 private:
  explicit LayerSet(std::uint64_t bits) : bits_(bits) {}
  std::uint64_t bits_ = 0;
};

}  // namespace tickover
