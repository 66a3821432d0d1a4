#include "engine/foundation/heap.hpp"

#include <cstdint>
#include <cstdlib>

#ifdef __GLIBC__
#include <malloc.h>
#include <sys/mman.h>
#endif

namespace tickover {

#ifdef __GLIBC__
namespace {

constexpr int kNever = 1 << 28;
constexpr std::size_t kLargePage = 2 << 20;
constexpr std::size_t kGrowth = 4 * kLargePage;

/// The heap behind `within`, as far as it has grown, on large pages where the system has them.
void on_large_pages(void* within) {
  const std::size_t beyond = reinterpret_cast<std::uintptr_t>(within) % kLargePage;
  ::madvise(static_cast<char*>(within) + (kLargePage - beyond), kGrowth - kLargePage,
            MADV_HUGEPAGE);
}

}  // namespace

void keep_freed_memory() {
  ::mallopt(M_TRIM_THRESHOLD, kNever);
  ::mallopt(M_MMAP_THRESHOLD, kNever);
  ::mallopt(M_TOP_PAD, static_cast<int>(kGrowth));
  // Larger than what the heap begins with, so that it grows now.
  if (void* first = std::malloc(1 << 18)) {
    on_large_pages(first);
    std::free(first);
  }
}
#else
void keep_freed_memory() {}
#endif

}  // namespace tickover
