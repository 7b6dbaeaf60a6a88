#include "ampsum/place.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
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
