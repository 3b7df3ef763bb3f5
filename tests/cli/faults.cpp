// A library that the dynamic loader puts before the C library (LD_PRELOAD), to make a disk fail or the power go at a
// chosen moment. AIRTALLY_FAULT says when: "kill 3" ends the program, without another word, just before the third of
// the calls that change a file; "fail 2 28" lets the second of them fail with error 28 (ENOSPC). Standard streams are
// left alone. Nothing but tests/cli/nothing-lost uses it.
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>

namespace {

int calls = 0;

/// Whether this call is to fail; errno is then set.
bool fails() {
  const char* plan = std::getenv("AIRTALLY_FAULT");
  if (plan == nullptr) return false;
  ++calls;
  int at = 0, error = 0;
  if (std::sscanf(plan, "kill %d", &at) == 1 && calls == at) ::kill(::getpid(), SIGKILL);
  if (std::sscanf(plan, "fail %d %d", &at, &error) == 2 && calls == at) {
    errno = error;
    return true;
  }
  return false;
}

template <typename Function>
Function* next(const char* name) {
  return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, name));
}

}  // namespace

extern "C" {

int mkostemp(char* pattern, int flags) { return fails() ? -1 : next<int(char*, int)>("mkostemp")(pattern, flags); }
ssize_t write(int descriptor, const void* data, size_t size) {
  if (descriptor > 2 && fails()) {
    // A disk that fills up takes a part first.
    if (size > 1 && errno == ENOSPC) next<ssize_t(int, const void*, size_t)>("write")(descriptor, data, size / 2);
    errno = ENOSPC;
    return -1;
  }
  return next<ssize_t(int, const void*, size_t)>("write")(descriptor, data, size);
}
int fchmod(int descriptor, mode_t mode) noexcept {
  return fails() ? -1 : next<int(int, mode_t)>("fchmod")(descriptor, mode);
}
int fsync(int descriptor) { return fails() ? -1 : next<int(int)>("fsync")(descriptor); }
int rename(const char* from, const char* to) noexcept {
  return fails() ? -1 : next<int(const char*, const char*)>("rename")(from, to);
}
}
