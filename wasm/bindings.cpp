// wasm/bindings.cpp
//
// The core's plain C face for WebAssembly: bytes of one JSON request in, bytes of one JSON answer out. What a request
// may say is decided by stanch/host/call.hpp; nothing is computed here. Memory belongs to the module: the caller gets
// room with `alloc`, writes into it, and gives it and each answer back with `free`.
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>

#include "stanch/host/call.hpp"

#define STANCH_EXPORT(name) extern "C" __attribute__((export_name(name)))

/// Room for `size` bytes, or null when memory has run out.
STANCH_EXPORT("alloc") void* stanch_alloc(std::size_t size) { return std::malloc(size == 0 ? 1 : size); }

/// Gives back what `alloc` or `call` answered with.
STANCH_EXPORT("free") void stanch_free(void* bytes) { std::free(bytes); }

/// Answers the request of `size` bytes at `bytes`. The result packs the answer's address (high half) and its length in
/// bytes (low half); an address of zero says that memory has run out. The request stays the caller's.
STANCH_EXPORT("call") std::uint64_t stanch_call(const char* bytes, std::size_t size) {
  // One page asks about one case at a time; what the last forecast worked out is kept for the next.
  static stanch::host::Memory memory;
  const std::string answer = stanch::host::call(std::string_view(bytes, size), &memory);
  void* out = stanch_alloc(answer.size());
  if (out == nullptr) return 0;
  std::memcpy(out, answer.data(), answer.size());
  return (static_cast<std::uint64_t>(reinterpret_cast<std::uintptr_t>(out)) << 32U) | answer.size();
}
