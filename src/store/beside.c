/*
 * What stands beside a house database is SQLite's to follow: a rollback journal is played back into it at the next
 * opening, and whoever put it there decides what is played back and, by a record at its end, which file is deleted
 * then. So all of it is judged before SQLite sees the file.
 */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "internal.h"

enum {
    HEADER_BYTES = 100, /* https://www.sqlite.org/fileformat2.html, 1.3 */
    APPLICATION_ID_AT = 68,
    MAGIC_BYTES = 8,
    LOOKS = 10, /* at a file of another owner: someone who shares the folder may just be changing the house */
    BETWEEN_LOOKS_US = 100000
};

static const char *const endings[] = {"-journal", "-wal", "-shm"};

/* ------------------------------------------------------------------ the file itself ----------------------- */

static bool read_header(const char *path, unsigned char *header, struct store *store, struct error *error)
{
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0) {
        store_fault(store, SQLITE_CANTOPEN, error);
        return false;
    }
    const ssize_t length = pread(file, header, HEADER_BYTES, 0);
    close(file);
    if (length < 0) {
        store_fault(store, SQLITE_IOERR_READ, error);
        return false;
    }
    const bool is_database = length == HEADER_BYTES && memcmp(header, "SQLite format 3", 16) == 0;
    if (!is_database) {
        store_fault(store, SQLITE_NOTADB, error);
    }
    return is_database;
}

static bool is_house(const char *path, struct store *store, struct error *error)
{
    unsigned char header[HEADER_BYTES] = {0};
    if (!read_header(path, header, store, error)) {
        return false;
    }
    const unsigned char *at = header + APPLICATION_ID_AT;
    const uint32_t id = (uint32_t)at[0] << 24 | (uint32_t)at[1] << 16 | (uint32_t)at[2] << 8 | at[3];
    if (id != STORE_APPLICATION_ID) {
        error_set(error, ERROR_STORE, "%s: not a house database, expected a file made by ampsum import", store->path);
    }
    return id == STORE_APPLICATION_ID;
}

/* ------------------------------------------------------------------ the files beside it ------------------- */

/* A journal of several databases at once ends in the name of a file that is deleted once it was played back, and these
 * eight bytes (https://www.sqlite.org/fileformat2.html, 3). A house is one database: no journal of ours ends so. */
static bool names_a_file(const char *path, const struct stat *status)
{
    static const unsigned char magic[MAGIC_BYTES] = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};
    unsigned char end[MAGIC_BYTES] = {0};
    int file = open(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    const bool is_read = file >= 0 && status->st_size > MAGIC_BYTES &&
                         pread(file, end, MAGIC_BYTES, status->st_size - MAGIC_BYTES) == MAGIC_BYTES;
    if (file >= 0) {
        close(file);
    }
    return is_read && memcmp(end, magic, MAGIC_BYTES) == 0;
}

/* What is wrong with a file beside the database; NULL where nothing is, or there is no such file. */
static const char *explain(const char *path, uid_t owner, bool is_journal, bool *ret_may_go)
{
    struct stat status;
    *ret_may_go = false;
    if (lstat(path, &status) != 0) {
        return errno == ENOENT ? NULL : strerror(errno);
    }
    if (!S_ISREG(status.st_mode) || status.st_nlink > 1) {
        return "no file of its own, as SQLite would make it";
    }
    if (status.st_uid != owner && status.st_uid != geteuid() && status.st_uid != 0) {
        *ret_may_go = true;
        return "belongs to another user than the house database";
    }
    /* The others are left closed: closing a file drops this program's locks on it. */
    return is_journal && names_a_file(path, &status) ? "names another file that would be deleted" : NULL;
}

static bool ending_is_harmless(const char *real, const char *ending, uid_t owner, const char *shown,
                               struct error *error)
{
    struct text name = {0};
    text_printf(&name, "%s%s", real, ending);
    const bool is_journal = strcmp(ending, "-journal") == 0;
    bool may_go = false;
    const char *reason = explain(text_string(&name), owner, is_journal, &may_go);
    for (int look = 1; look < LOOKS && may_go; look++) {
        usleep(BETWEEN_LOOKS_US);
        reason = explain(text_string(&name), owner, is_journal, &may_go);
    }
    text_done(&name);
    if (reason != NULL) {
        error_set(error, ERROR_STORE,
                  "%s%s: %s, so the house database was not opened; look who put it there, and move it away", shown,
                  ending, reason);
    }
    return reason == NULL;
}

bool store_is_harmless(struct store *store, const char *path, struct error *error)
{
    struct stat status;
    char *real = realpath(path, NULL); /* SQLite too looks beside the end of a link */
    if (real == NULL || stat(real, &status) != 0) {
        free(real);
        error_set(error, ERROR_STORE, "%s: %s", store->path, strerror(errno));
        return false;
    }
    bool ok = is_house(real, store, error);
    for (size_t i = 0; ok && i < sizeof endings / sizeof endings[0]; i++) {
        ok = ending_is_harmless(real, endings[i], status.st_uid, store->path, error);
    }
    free(real);
    return ok;
}

bool store_place_is_free(const char *path, struct error *error)
{
    bool ok = true;
    for (size_t i = 0; ok && i < sizeof endings / sizeof endings[0]; i++) {
        struct text name = {0};
        struct stat status;
        text_printf(&name, "%s%s", path, endings[i]);
        if (lstat(text_string(&name), &status) == 0) {
            error_set(error, ERROR_INPUT,
                      "%s: belongs to another database of that name and would be taken for a part of the new one; "
                      "end the program that uses it, or move it away",
                      text_string(&name));
            ok = false;
        }
        text_done(&name);
    }
    return ok;
}

/* ------------------------------------------------------------------ what SQLite may touch ----------------- */

/* `vfs` is the first member, so that SQLite's pointer to it is one to the whole. */
struct own_files {
    sqlite3_vfs vfs;
    sqlite3_vfs *under;
    char *database; /* as SQLite resolved it; NULL before it was opened */
    char name[32];
};

static bool is_own(const struct own_files *own, const char *name)
{
    const size_t length = own->database == NULL ? 0 : strlen(own->database);
    if (length == 0 || strncmp(name, own->database, length) != 0) {
        return false;
    }
    bool known = false;
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        known = known || strcmp(name + length, endings[i]) == 0;
    }
    return known;
}

static int delete_own(sqlite3_vfs *vfs, const char *name, int sync)
{
    struct own_files *own = (struct own_files *)vfs;
    return is_own(own, name) ? own->under->xDelete(own->under, name, sync) : SQLITE_IOERR_DELETE;
}

/* The database, its journal and files without a name; never one that a journal names. */
static int open_own(sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *ret_flags)
{
    struct own_files *own = (struct own_files *)vfs;
    const bool is_database = (flags & SQLITE_OPEN_MAIN_DB) != 0 && name != NULL;
    if (is_database && own->database == NULL) {
        own->database = memory_new(strlen(name) + 1);
        memcpy(own->database, name, strlen(name) + 1);
    }
    if (name != NULL && !is_database && !is_own(own, name)) {
        file->pMethods = NULL;
        return SQLITE_CANTOPEN;
    }
    return own->under->xOpen(own->under, name, file, flags, ret_flags);
}

struct own_files *own_files_new(void)
{
    sqlite3_vfs *under = sqlite3_vfs_find(NULL);
    if (under == NULL) {
        memory_fail(); /* SQLite could not even begin */
    }
    struct own_files *own = memory_new(sizeof *own);
    *own = (struct own_files){.vfs = *under, .under = under};
    sqlite3_snprintf((int)sizeof own->name, own->name, "ampsum-%p", (void *)own);
    own->vfs.pNext = NULL;
    own->vfs.zName = own->name;
    own->vfs.xOpen = open_own;
    own->vfs.xDelete = delete_own;
    if (sqlite3_vfs_register(&own->vfs, 0) != SQLITE_OK) {
        memory_fail();
    }
    return own;
}

const char *own_files_name(const struct own_files *own)
{
    return own->name;
}

void own_files_free(struct own_files *own)
{
    if (own != NULL) {
        sqlite3_vfs_unregister(&own->vfs);
        free(own->database);
        free(own);
    }
}
