/* What a process is told and does at its edge, from outside: a clock that can be put, and a record of every write to the
 * files of a folder, in order. Loaded before the C library (LD_PRELOAD); the program under test is not touched.
 *
 * OUTSIDE_CLOCK   a file of 8 bytes: seconds (double) that the wall clock is off; it may be changed at any time.
 * OUTSIDE_RECORD  a file that gets the record; OUTSIDE_FOLDER the folder (absolute) whose files are recorded.
 *
 * A record: one letter, then length of the path (4 bytes), offset and length (8 each), path, data.
 *   W write   S synchronised   T truncated to offset   C made   U unlinked   R renamed (data: new path)   D folder
 *   synchronised   E said on standard error
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

static pthread_mutex_t turn = PTHREAD_RECURSIVE_MUTEX_INITIALIZER_NP;
static int into = -1;
static const char *folder;
static const volatile double *off_s;

#define REAL(result, name, ...) \
    static result (*real)(__VA_ARGS__); \
    if (!real) real = (result (*)(__VA_ARGS__))dlsym(RTLD_NEXT, name)

static ssize_t plain_write(int fd, const void *data, size_t n) {
    REAL(ssize_t, "write", int, const void *, size_t);
    return real(fd, data, n);
}

__attribute__((constructor)) static void begin(void) {
    const char *clock = getenv("OUTSIDE_CLOCK"), *record = getenv("OUTSIDE_RECORD");
    if (clock) {
        int fd = open(clock, O_RDONLY);
        void *page = fd < 0 ? MAP_FAILED : mmap(NULL, 8, PROT_READ, MAP_SHARED, fd, 0);
        if (page != MAP_FAILED) off_s = page;
        if (fd >= 0) close(fd);
    }
    folder = getenv("OUTSIDE_FOLDER");
    if (record && folder) into = open(record, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
}

static void put(char what, const char *path, uint64_t offset, const void *data, uint64_t n) {
    uint32_t length = (uint32_t)strlen(path);
    size_t whole = 21 + length + n, at = 0;
    char *out = malloc(whole);
    if (!out) abort();
    out[at++] = what;
    memcpy(out + at, &length, 4), at += 4;
    memcpy(out + at, &offset, 8), at += 8;
    memcpy(out + at, &n, 8), at += 8;
    memcpy(out + at, path, length), at += length;
    if (n) memcpy(out + at, data, n);
    if (plain_write(into, out, whole) != (ssize_t)whole) abort();
    free(out);
}

static int inside(const char *path) {
    return into >= 0 && folder && !strncmp(path, folder, strlen(folder)) && path[strlen(folder)] == '/';
}

static int of_fd(int fd, char *path) {
    char link[64];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = into >= 0 && fd > 2 ? readlink(link, path, PATH_MAX - 1) : -1;
    if (n < 0) return 0;
    path[n] = 0;
    return inside(path) || !strcmp(path, folder);
}

static int of_name(const char *name, char *path) {
    if (into < 0 || !name) return 0;
    if (name[0] == '/') snprintf(path, PATH_MAX, "%s", name);
    else {
        char here[PATH_MAX];
        if (!getcwd(here, sizeof here)) return 0;
        if ((size_t)snprintf(path, PATH_MAX, "%s/%s", here, name) >= PATH_MAX) return 0;
    }
    return inside(path);
}

#define LOCK pthread_mutex_lock(&turn)
#define UNLOCK do { int kept = errno; pthread_mutex_unlock(&turn); errno = kept; } while (0)

static ssize_t positioned(ssize_t n, int fd, const void *data, off_t offset) {
    char path[PATH_MAX];
    if (n > 0 && of_fd(fd, path)) put('W', path, (uint64_t)offset, data, (uint64_t)n);
    return n;
}

ssize_t pwrite(int fd, const void *data, size_t n, off_t offset) {
    REAL(ssize_t, "pwrite", int, const void *, size_t, off_t);
    LOCK;
    ssize_t done = positioned(real(fd, data, n, offset), fd, data, offset);
    UNLOCK;
    return done;
}

ssize_t pwrite64(int fd, const void *data, size_t n, off64_t offset) {
    REAL(ssize_t, "pwrite64", int, const void *, size_t, off64_t);
    LOCK;
    ssize_t done = positioned(real(fd, data, n, offset), fd, data, offset);
    UNLOCK;
    return done;
}

ssize_t write(int fd, const void *data, size_t n) {
    if (into < 0 || fd == into) return plain_write(fd, data, n);
    LOCK;
    char path[PATH_MAX];
    int ours = of_fd(fd, path);
    ssize_t done = plain_write(fd, data, n);
    if (done > 0 && fd == 2) put('E', "", 0, data, (uint64_t)done);
    if (done > 0 && ours) put('W', path, (uint64_t)(lseek(fd, 0, SEEK_CUR) - done), data, (uint64_t)done);
    UNLOCK;
    return done;
}

#define SYNC(name) \
    int name(int fd) { \
        REAL(int, #name, int); \
        LOCK; \
        char path[PATH_MAX]; \
        int ours = of_fd(fd, path), done = real(fd); \
        if (!done && ours) put(strcmp(path, folder) ? 'S' : 'D', path, 0, NULL, 0); \
        UNLOCK; \
        return done; \
    }
SYNC(fsync)
SYNC(fdatasync)

#define TRUNCATE(name, type) \
    int name(int fd, type length) { \
        REAL(int, #name, int, type); \
        LOCK; \
        char path[PATH_MAX]; \
        int ours = of_fd(fd, path), done = real(fd, length); \
        if (!done && ours) put('T', path, (uint64_t)length, NULL, 0); \
        UNLOCK; \
        return done; \
    }
TRUNCATE(ftruncate, off_t)
TRUNCATE(ftruncate64, off64_t)

#define ALLOCATE(name, type) \
    int name(int fd, type offset, type length) { \
        REAL(int, #name, int, type, type); \
        LOCK; \
        char path[PATH_MAX]; \
        int ours = of_fd(fd, path), done = real(fd, offset, length); \
        struct stat now; \
        if (!done && ours && !fstat(fd, &now)) put('T', path, (uint64_t)now.st_size, NULL, 0); \
        UNLOCK; \
        return done; \
    }
ALLOCATE(posix_fallocate, off_t)
ALLOCATE(posix_fallocate64, off64_t)

int unlink(const char *name) {
    REAL(int, "unlink", const char *);
    LOCK;
    char path[PATH_MAX];
    int ours = of_name(name, path), done = real(name);
    if (!done && ours) put('U', path, 0, NULL, 0);
    UNLOCK;
    return done;
}

int rename(const char *from, const char *to) {
    REAL(int, "rename", const char *, const char *);
    LOCK;
    char old[PATH_MAX], new[PATH_MAX];
    int ours = of_name(from, old) & of_name(to, new), done = real(from, to);
    if (!done && ours) put('R', old, 0, new, strlen(new));
    UNLOCK;
    return done;
}

#define OPENED(fd, flags, is_new) \
    do { \
        char path[PATH_MAX]; \
        if (fd >= 0 && into >= 0 && of_fd(fd, path) && strcmp(path, folder)) { \
            if (is_new) put('C', path, 0, NULL, 0); \
            else if ((flags) & O_TRUNC) put('T', path, 0, NULL, 0); \
        } \
    } while (0)

#define OPEN(name) \
    int name(const char *file, int flags, ...) { \
        REAL(int, #name, const char *, int, ...); \
        va_list more; \
        va_start(more, flags); \
        mode_t mode = flags & (O_CREAT | O_TMPFILE) ? va_arg(more, mode_t) : 0; \
        va_end(more); \
        LOCK; \
        int is_new = flags & O_CREAT && access(file, F_OK); \
        int fd = real(file, flags, mode); \
        OPENED(fd, flags, is_new); \
        UNLOCK; \
        return fd; \
    }
OPEN(open)
OPEN(open64)

#define CLOCK_IS_PUT (off_s && *off_s != 0.0)

int clock_gettime(clockid_t which, struct timespec *now) {
    REAL(int, "clock_gettime", clockid_t, struct timespec *);
    int done = real(which, now);
    if (!done && CLOCK_IS_PUT && (which == CLOCK_REALTIME || which == CLOCK_REALTIME_COARSE)) {
        double whole = (double)(int64_t)*off_s;
        int64_t ns = now->tv_nsec + (int64_t)((*off_s - whole) * 1e9);
        now->tv_sec += (time_t)whole + (ns < 0 ? -1 : ns / 1000000000);
        now->tv_nsec = ns < 0 ? ns + 1000000000 : ns % 1000000000;
    }
    return done;
}

time_t time(time_t *out) {
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    if (out) *out = now.tv_sec;
    return now.tv_sec;
}

int gettimeofday(struct timeval *out, void *zone) {
    (void)zone;
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    out->tv_sec = now.tv_sec, out->tv_usec = now.tv_nsec / 1000;
    return 0;
}
