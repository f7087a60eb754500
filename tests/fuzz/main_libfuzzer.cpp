// clang's entry: DRAWDOWN_FUZZ=ON builds each fuzz_NAME with it.
#include <cstddef>
#include <cstdint>

#include "fuzz/fuzz.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return fuzz_one(std::string(reinterpret_cast<const char*>(data), size));
}
