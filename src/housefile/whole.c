/* Files that are whole at every moment: written beside their target, synced, then put in its place. */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/housefile.h"
#include "ampsum/place.h"

static bool write_all(int file, const char *bytes, size_t length)
{
    while (length > 0) {
        ssize_t count = write(file, bytes, length);
        if (count < 0 && errno != EINTR) {
            return false;
        }
        bytes += count > 0 ? count : 0;
        length -= count > 0 ? (size_t)count : 0;
    }
    return true;
}

static bool refuse(const char *path, const char *what, struct error *error)
{
    error_set(error, ERROR_INPUT, "%s: %s: %s", path, what, strerror(errno));
    return false;
}

/* A new file gets what the person's mask leaves of rw-rw-rw-, a replaced one keeps its bits. */
static mode_t mode_for(const struct stat *existing)
{
    if (existing != NULL) {
        return existing->st_mode & 07777;
    }
    mode_t mask = umask(0);
    umask(mask);
    return 0666 & ~mask;
}

static void sync_folder(const char *path)
{
    char *folder = memory_new(strlen(path) + 2);
    memcpy(folder, path, strlen(path) + 1);
    char *slash = strrchr(folder, '/');
    if (slash == NULL) {
        memcpy(folder, ".", 2);
    } else {
        slash[slash == folder ? 1 : 0] = '\0';
    }
    int file = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file >= 0) {
        fsync(file); /* some file systems can't; the rename itself is atomic all the same */
        close(file);
    }
    free(folder);
}

static bool write_beside(const char *path, const char *bytes, size_t length, bool replace, const struct stat *existing,
                         struct error *error)
{
    struct text beside = {0};
    text_printf(&beside, "%s.XXXXXX", path);
    int file = mkstemp(beside.bytes);
    if (file < 0) {
        text_done(&beside);
        return refuse(path, "cannot be written", error);
    }
    bool good = write_all(file, bytes, length) && fchmod(file, mode_for(existing)) == 0 && fsync(file) == 0;
    good = close(file) == 0 && good;
    good = good && file_put_in_place(beside.bytes, path, replace);
    if (!good) {
        refuse(path, "cannot be written", error);
        unlink(beside.bytes);
    } else {
        sync_folder(path);
    }
    text_done(&beside);
    return good;
}

/* A pipe, terminal or device has no place to be renamed to. */
static bool write_through(const char *path, const char *bytes, size_t length, struct error *error)
{
    const int file = file_open_to_write(path);
    if (file < 0 && errno == ENXIO) {
        error_set(error, ERROR_INPUT, "%s: a pipe that nobody reads, expected its reader to be started first", path);
        return false;
    }
    bool good = file >= 0 && write_all(file, bytes, length);
    good = (file < 0 || close(file) == 0) && good;
    return good ? true : refuse(path, "cannot be written", error);
}

bool file_write_whole(const char *path, const char *bytes, size_t length, bool replace, struct error *error)
{
    if (strcmp(path, "-") == 0) {
        bool good = fflush(stdout) == 0 && write_all(STDOUT_FILENO, bytes, length);
        return good ? true : refuse("standard output", "cannot be written", error);
    }
    struct stat status;
    bool exists = stat(path, &status) == 0;
    if (exists && S_ISDIR(status.st_mode)) {
        error_set(error, ERROR_INPUT, "%s: a directory, expected the name of a file", path);
        return false;
    }
    if (exists && !replace) {
        error_set(error, ERROR_INPUT, "%s: exists already, expected a new name, or --force to replace it", path);
        return false;
    }
    if (exists && !S_ISREG(status.st_mode)) {
        return write_through(path, bytes, length, error);
    }
    return write_beside(path, bytes, length, replace, exists ? &status : NULL, error);
}
