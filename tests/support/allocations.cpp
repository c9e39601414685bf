// allocations.cpp: a count beside every allocation.
//
// Room: tests/support. May include: nothing.
//
// The operators below replace those of the whole test program, which the standard allows; they do the same
// and count. Under a sanitizer malloc and free are still the sanitizer's own.
#include "support/allocations.hpp"

#include <cstdlib>
#include <new>

namespace {

thread_local std::size_t allocations = 0;

void* counted_or_nothing(std::size_t size) noexcept {
    ++allocations;
    return std::malloc(size == 0 ? 1 : size);
}

void* counted(std::size_t size) {
    if (void* memory = counted_or_nothing(size)) return memory;
    throw std::bad_alloc{};
}

}  // namespace

std::size_t midspan::test::allocations_so_far() { return allocations; }

void* operator new(std::size_t size) { return counted(size); }
void* operator new[](std::size_t size) { return counted(size); }
// What std::stable_sort takes its buffer with.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return counted_or_nothing(size); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept { return counted_or_nothing(size); }
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }
