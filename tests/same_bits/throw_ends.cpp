// Debian's C++ library for WASI has no exceptions: what throws there ends the program.
#include <cstddef>
#include <cstdio>
#include <cstdlib>

extern "C" {
void* __cxa_allocate_exception(std::size_t size) {
  return std::malloc(size);
}
void __cxa_free_exception(void* exception) {
  std::free(exception);
}
void __cxa_throw(void*, void*, void (*)(void*)) {
  std::fputs("something was thrown\n", stderr);
  std::abort();
}
void* __cxa_begin_catch(void*) {
  std::abort();
}
void __cxa_end_catch() {
  std::abort();
}
void __cxa_rethrow() {
  std::abort();
}
}
