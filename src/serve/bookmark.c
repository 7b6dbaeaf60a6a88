#include "bookmark.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "ampsum/text.h"

enum { FILE_BYTES_MOST = 8192, OTHERS = S_IRWXG | S_IRWXO, OTHERS_WRITE = S_IWGRP | S_IWOTH };

/* The house's whole path, its last part as given: the file may not be there yet. False where its folder is not. */
static bool whole_path(const char *house, struct text *ret_path)
{
    const char *slash = strrchr(house, '/');
    struct text folder = {0};
    text_add_length(&folder, house, slash == NULL ? 0 : (size_t)(slash - house) + 1);
    char *real = realpath(folder.length == 0 ? "." : text_string(&folder), NULL);
    text_done(&folder);
    if (real == NULL) {
        return false;
    }
    text_printf(ret_path, "%s/%s", real, slash == NULL ? house : slash + 1);
    free(real);
    return true;
}

/* A name for a path: FNV-1a, 64 bits (draft-eastlake-fnv, section 5). The file says the path, so that two can't mix. */
static uint64_t hash_of(const char *string)
{
    uint64_t hash = 0xcbf29ce484222325u;
    for (; *string != '\0'; string++) {
        hash = (hash ^ (unsigned char)*string) * 0x100000001b3u;
    }
    return hash;
}

/* True for a folder of this user that nobody else can write to; made where it is not there and `makes`. */
static bool is_own_folder(const char *path, bool makes)
{
    struct stat status;
    if (makes && mkdir(path, S_IRWXU) != 0 && errno != EEXIST) {
        return false;
    }
    return lstat(path, &status) == 0 && S_ISDIR(status.st_mode) && status.st_uid == geteuid() &&
           (status.st_mode & OTHERS_WRITE) == 0;
}

/* `.../ampsum`, where it is this user's; false else. */
static bool find_folder(bool makes, struct text *ret_folder)
{
    const char *state = getenv("XDG_STATE_HOME");
    const char *home = getenv("HOME");
    bool good = true;
    if (state != NULL && state[0] == '/') {
        text_add(ret_folder, state);
    } else if (home != NULL && home[0] == '/') {
        text_printf(ret_folder, "%s/.local", home);
        good = is_own_folder(text_string(ret_folder), makes);
        text_add(ret_folder, "/state");
    } else {
        return false;
    }
    good = good && is_own_folder(text_string(ret_folder), makes);
    text_add(ret_folder, "/ampsum");
    return good && is_own_folder(text_string(ret_folder), makes);
}

static bool find_file(const char *house, bool makes, struct text *ret_whole, struct text *ret_file)
{
    if (!whole_path(house, ret_whole) || !find_folder(makes, ret_file)) {
        return false;
    }
    text_printf(ret_file, "/%016llx.address", (unsigned long long)hash_of(text_string(ret_whole)));
    return true;
}

/* This user's alone, and not too old. */
static bool is_ours(int file)
{
    struct stat status;
    const time_t now = time(NULL);
    return fstat(file, &status) == 0 && S_ISREG(status.st_mode) && status.st_uid == geteuid() &&
           (status.st_mode & OTHERS) == 0 && status.st_size < FILE_BYTES_MOST &&
           now - status.st_mtime < (time_t)BOOKMARK_DAYS * 24 * 60 * 60;
}

/* `PORT KEY`, and the path on the second line. */
static bool parse(const char *bytes, const char *whole, struct bookmark *ret_bookmark)
{
    int behind = 0;
    char key[GUARD_SECRET_CHARS + 1];
    const size_t length = strlen(whole);
    if (sscanf(bytes, "%5u %32[0-9a-f]%n", &ret_bookmark->port, key, &behind) != 2 ||
        strlen(key) != GUARD_SECRET_CHARS || ret_bookmark->port == 0 || ret_bookmark->port > 65535) {
        return false;
    }
    memcpy(ret_bookmark->key, key, sizeof key);
    bytes += behind;
    return bytes[0] == '\n' && strncmp(bytes + 1, whole, length) == 0 && strcmp(bytes + 1 + length, "\n") == 0;
}

static bool read_file(const char *path, const char *whole, struct bookmark *ret_bookmark)
{
    char bytes[FILE_BYTES_MOST];
    const int file = open(path, O_RDONLY | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) {
        return false;
    }
    const ssize_t length = is_ours(file) ? read(file, bytes, sizeof bytes - 1) : -1;
    close(file);
    if (length <= 0) {
        return false;
    }
    bytes[length] = '\0';
    return parse(bytes, whole, ret_bookmark);
}

bool bookmark_read(const char *house, struct bookmark *ret_bookmark)
{
    struct text whole = {0};
    struct text path = {0};
    *ret_bookmark = (struct bookmark){0};
    const bool read =
        find_file(house, false, &whole, &path) && read_file(text_string(&path), text_string(&whole), ret_bookmark);
    if (!read) {
        *ret_bookmark = (struct bookmark){0};
    }
    text_done(&whole);
    text_done(&path);
    return read;
}

/* Beside the file, then renamed, so that it is whole at every moment. */
static void write_file(const char *path, const char *whole, const struct bookmark *bookmark)
{
    struct text beside = {0};
    text_printf(&beside, "%s.XXXXXX", path);
    const int file = mkostemp(beside.bytes, O_CLOEXEC); /* 0600 */
    if (file >= 0) {
        const bool written = dprintf(file, "%u %s\n%s\n", bookmark->port, bookmark->key, whole) > 0;
        if (close(file) != 0 || !written || rename(text_string(&beside), path) != 0) {
            unlink(text_string(&beside));
        }
    }
    text_done(&beside);
}

void bookmark_write(const char *house, const struct bookmark *bookmark)
{
    struct text whole = {0};
    struct text path = {0};
    if (find_file(house, bookmark->port != 0, &whole, &path)) {
        if (bookmark->port == 0) {
            unlink(text_string(&path));
        } else {
            write_file(text_string(&path), text_string(&whole), bookmark);
        }
    }
    text_done(&whole);
    text_done(&path);
}
