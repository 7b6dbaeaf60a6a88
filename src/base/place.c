#include "ampsum/place.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* The last way: whoever makes the name first has it. */
static bool take_name(const char *beside, const char *path)
{
    int file = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (file < 0) {
        return false;
    }
    close(file);
    if (rename(beside, path) == 0) {
        return true;
    }
    const int reason = errno;
    unlink(path);
    errno = reason;
    return false;
}

bool file_put_in_place(const char *beside, const char *path, bool replace)
{
    if (replace) {
        return rename(beside, path) == 0;
    }
    if (renameat2(AT_FDCWD, beside, AT_FDCWD, path, RENAME_NOREPLACE) == 0) {
        return true;
    }
    if (errno != EINVAL && errno != ENOSYS) {
        return false;
    }
    if (link(beside, path) == 0) {
        unlink(beside);
        return true;
    }
    const bool has_no_links = errno == EPERM || errno == EOPNOTSUPP || errno == ENOSYS || errno == EACCES;
    return has_no_links && take_name(beside, path);
}

/* A pipe of the shell's, which stands in no folder of a person. */
static bool is_handed_over(const char *path)
{
    return strncmp(path, "/dev/", strlen("/dev/")) == 0 || strncmp(path, "/proc/", strlen("/proc/")) == 0;
}

/* Opening does not wait, reading does. */
static bool wait_again(int file)
{
    const int flags = fcntl(file, F_GETFL);
    return flags >= 0 && fcntl(file, F_SETFL, flags & ~O_NONBLOCK) == 0;
}

int file_open_to_read(const char *path, const char **ret_why)
{
    struct stat status;
    const int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (file >= 0 && fstat(file, &status) == 0 && S_ISFIFO(status.st_mode) && !is_handed_over(path)) {
        close(file);
        errno = 0;
        *ret_why = "a pipe, which would wait for a writer";
        return -1;
    }
    if (file < 0 || !wait_again(file)) {
        *ret_why = strerror(errno);
        if (file >= 0) {
            close(file);
        }
        return -1;
    }
    return file;
}

FILE *file_stream_to_read(const char *path, const char **ret_why)
{
    const int file = file_open_to_read(path, ret_why);
    FILE *stream = file < 0 ? NULL : fdopen(file, "rb");
    if (file >= 0 && stream == NULL) {
        *ret_why = strerror(errno);
        close(file);
    }
    return stream;
}

int file_open_to_write(const char *path)
{
    const int file = open(path, O_WRONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (file >= 0 && !wait_again(file)) {
        close(file);
        return -1;
    }
    return file;
}
