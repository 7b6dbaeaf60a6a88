/*
 * Preloaded into a program under test: lets one kind of call fail, as AMPSUM_FAIL says.
 *   memory:N     the Nth request for memory, and no other
 *   links        file systems without a rename that replaces nothing and without hard links, such as FAT
 *   folders      a folder can't be brought to the disk
 */
#include <dlfcn.h>
#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define SEEN __attribute__((visibility("default")))

static bool asked_for(const char *what)
{
    const char *given = getenv("AMPSUM_FAIL");
    return given != NULL && strncmp(given, what, strlen(what)) == 0;
}

static bool memory_fails(void)
{
    static const char what[] = "memory:";
    static long number;
    if (!asked_for(what)) {
        return false;
    }
    number++;
    if (number != strtol(getenv("AMPSUM_FAIL") + strlen(what), NULL, 10)) {
        return false;
    }
    errno = ENOMEM;
    return true;
}

/* What malloc, calloc and realloc of the C library end in; the program under test calls these. */
SEEN void *__libc_malloc(size_t bytes);
SEEN void *__libc_calloc(size_t count, size_t size);
SEEN void *__libc_realloc(void *block, size_t bytes);

void *__libc_malloc(size_t bytes)
{
    void *(*real)(size_t) = NULL;
    *(void **)&real = dlsym(RTLD_NEXT, "__libc_malloc");
    return memory_fails() ? NULL : real(bytes);
}

void *__libc_calloc(size_t count, size_t size)
{
    void *(*real)(size_t, size_t) = NULL;
    *(void **)&real = dlsym(RTLD_NEXT, "__libc_calloc");
    return memory_fails() ? NULL : real(count, size);
}

void *__libc_realloc(void *block, size_t bytes)
{
    void *(*real)(void *, size_t) = NULL;
    *(void **)&real = dlsym(RTLD_NEXT, "__libc_realloc");
    return memory_fails() ? NULL : real(block, bytes);
}

SEEN int renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned flags)
{
    if (flags != 0 && asked_for("links")) {
        errno = EINVAL;
        return -1;
    }
    int (*real)(int, const char *, int, const char *, unsigned) = NULL;
    *(void **)&real = dlsym(RTLD_NEXT, "renameat2");
    return real(from_folder, from, to_folder, to, flags);
}

SEEN int link(const char *from, const char *to)
{
    if (asked_for("links")) {
        errno = EPERM;
        return -1;
    }
    int (*real)(const char *, const char *) = NULL;
    *(void **)&real = dlsym(RTLD_NEXT, "link");
    return real(from, to);
}

SEEN int fsync(int file)
{
    struct stat status;
    if (asked_for("folders") && fstat(file, &status) == 0 && S_ISDIR(status.st_mode)) {
        errno = EIO;
        return -1;
    }
    int (*real)(int) = NULL;
    *(void **)&real = dlsym(RTLD_NEXT, "fsync");
    return real(file);
}
