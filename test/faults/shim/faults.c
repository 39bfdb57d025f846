/*
 * Preloaded into the agent by tests: makes the Nth call that writes below a folder fail, and shifts the wall clock.
 *
 *   FAULT_UNDER   folder; only calls on files below it count
 *   FAULT_TRACE   file that gets the name of each counted call, a line each
 *   FAULT_AT      which counted call fails, from 1; left out, none does
 *   FAULT_ERRNO   the error number it fails with
 *   FAULT_STAYS   1: every later counted call fails too, as on a full or read-only disk
 *   FAULT_CLOCK   file that holds by how many seconds the wall clock is off; read anew at each look at the clock
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <sys/uio.h>
#include <time.h>
#include <unistd.h>

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static long counted = 0;

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

static int is_under(const char *path) {
  char whole[2 * PATH_MAX];
  const char *under = getenv("FAULT_UNDER");
  if (under == NULL || path == NULL) return 0;
  if (path[0] != '/') {
    if (getcwd(whole, PATH_MAX) == NULL) return 0;
    strcat(whole, "/");
    strncat(whole, path, PATH_MAX - 2);
    path = whole;
  }
  size_t length = strlen(under);
  return strncmp(path, under, length) == 0 && (path[length] == '/' || path[length] == 0);
}

static int is_under_fd(int fd) {
  char link[64], path[PATH_MAX + 1];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  long length = syscall(SYS_readlinkat, AT_FDCWD, link, path, PATH_MAX);
  if (length < 0) return 0;
  path[length] = 0;
  return is_under(path);
}

/* Counts a call; true when it is to fail, with errno set. */
static int fails(const char *name) {
  const char *trace = getenv("FAULT_TRACE"), *at = getenv("FAULT_AT"), *stays = getenv("FAULT_STAYS");
  pthread_mutex_lock(&lock);
  long number = ++counted;
  if (trace != NULL) {
    int fd = (int)syscall(SYS_openat, AT_FDCWD, trace, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0644);
    if (fd >= 0) {
      dprintf(fd, "%s\n", name);
      syscall(SYS_close, fd);
    }
  }
  pthread_mutex_unlock(&lock);
  if (at == NULL) return 0;
  long wanted = atol(at);
  if (number != wanted && !(stays != NULL && number > wanted)) return 0;
  const char *number_text = getenv("FAULT_ERRNO");
  errno = number_text == NULL ? EIO : atoi(number_text);
  return 1;
}

#define PATH_CALL(name, parameters, path, arguments)                                               \
  int name parameters {                                                                            \
    if (is_under(path) && fails(#name)) return -1;                                                 \
    return REAL(name) arguments;                                                                   \
  }
#define FD_CALL(type, name, parameters, fd, arguments)                                             \
  type name parameters {                                                                           \
    if (is_under_fd(fd) && fails(#name)) return -1;                                                \
    return REAL(name) arguments;                                                                   \
  }

PATH_CALL(mkdir, (const char *path, mode_t mode), path, (path, mode))
PATH_CALL(rename, (const char *from, const char *to), to, (from, to))
PATH_CALL(unlink, (const char *path), path, (path))
PATH_CALL(rmdir, (const char *path), path, (path))
PATH_CALL(link, (const char *from, const char *to), to, (from, to))
PATH_CALL(chmod, (const char *path, mode_t mode), path, (path, mode))
FD_CALL(ssize_t, write, (int fd, const void *data, size_t size), fd, (fd, data, size))
FD_CALL(ssize_t, writev, (int fd, const struct iovec *parts, int count), fd, (fd, parts, count))
FD_CALL(ssize_t, pwrite64, (int fd, const void *data, size_t size, off64_t at), fd, (fd, data, size, at))
FD_CALL(ssize_t, pwritev64, (int fd, const struct iovec *parts, int count, off64_t at), fd, (fd, parts, count, at))
FD_CALL(int, ftruncate64, (int fd, off64_t size), fd, (fd, size))
FD_CALL(int, fsync, (int fd), fd, (fd))
FD_CALL(int, fdatasync, (int fd), fd, (fd))

ssize_t pwrite(int fd, const void *data, size_t size, off_t at) { return pwrite64(fd, data, size, at); }
ssize_t pwritev(int fd, const struct iovec *parts, int count, off_t at) { return pwritev64(fd, parts, count, at); }
int ftruncate(int fd, off_t size) { return ftruncate64(fd, size); }

static int open_writing(int folder, const char *path, int flags, mode_t mode) {
  if ((flags & (O_CREAT | O_WRONLY | O_RDWR | O_TRUNC)) != 0 && is_under(path) && fails("open")) return -1;
  return (int)syscall(SYS_openat, folder, path, flags, mode);
}

#define OPEN(name)                                                                                 \
  int name(const char *path, int flags, ...) {                                                     \
    va_list more;                                                                                  \
    va_start(more, flags);                                                                         \
    mode_t mode = (flags & (O_CREAT | O_TMPFILE)) != 0 ? va_arg(more, mode_t) : 0;                 \
    va_end(more);                                                                                  \
    return open_writing(AT_FDCWD, path, flags, mode);                                              \
  }
OPEN(open)
OPEN(open64)

static long clock_shift(void) {
  const char *path = getenv("FAULT_CLOCK");
  if (path == NULL) return 0;
  char text[32] = {0};
  int fd = (int)syscall(SYS_openat, AT_FDCWD, path, O_RDONLY | O_CLOEXEC, 0);
  if (fd < 0) return 0;
  long size = syscall(SYS_read, fd, text, sizeof text - 1);
  syscall(SYS_close, fd);
  return size > 0 ? atol(text) : 0;
}

int clock_gettime(clockid_t clock, struct timespec *now) {
  int result = (int)syscall(SYS_clock_gettime, clock, now);
  if (result == 0 && (clock == CLOCK_REALTIME || clock == CLOCK_REALTIME_COARSE)) now->tv_sec += clock_shift();
  return result;
}

int gettimeofday(struct timeval *restrict now, void *restrict zone) {
  (void)zone;
  struct timespec precise;
  if (clock_gettime(CLOCK_REALTIME, &precise) != 0) return -1;
  now->tv_sec = precise.tv_sec;
  now->tv_usec = precise.tv_nsec / 1000;
  return 0;
}
