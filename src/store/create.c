/*
 * A new house database: built in a file beside the target, synced, then renamed over it. A kill at any moment leaves
 * the old file or the new one; SIGINT, SIGTERM and SIGHUP are held back until the file beside it is gone again.
 */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/arena.h"
#include "ampsum/place.h"
#include "internal.h"
#include "schema_steps.h"

enum { ROWS_BETWEEN_LOOKS = 1024, MODE_OF_NEW_FILE = 0666 };

/* Where the new file goes and where it is built. */
struct target {
    char *path;   /* a link followed to its end, so that the link stays */
    char *folder; /* of path */
    char *beside; /* the file being built; NULL before it is there */
    int held;     /* locked while it is built, so that nobody takes it for one that was left behind; -1: none */
    mode_t mode;
    bool exists;
};

static bool target_init(struct target *target, const char *path, bool replace, struct error *error);
static bool target_build(struct target *target, const struct house *house, struct error *error);
static bool target_put(struct target *target, bool replace, struct error *error);
static void target_done(struct target *target);

/* Signals that end the program, held back while the file is built. */
static const int held[] = {SIGINT, SIGTERM, SIGHUP};

static void hold_signals(sigset_t *ret_before)
{
    sigset_t set;
    sigemptyset(&set);
    for (size_t i = 0; i < sizeof held / sizeof held[0]; i++) {
        sigaddset(&set, held[i]);
    }
    pthread_sigmask(SIG_BLOCK, &set, ret_before);
}

static bool signal_waits(void)
{
    sigset_t set;
    sigpending(&set);
    for (size_t i = 0; i < sizeof held / sizeof held[0]; i++) {
        if (sigismember(&set, held[i]) == 1) {
            return true;
        }
    }
    return false;
}

bool store_create(const char *path, const struct house *house, bool replace, struct error *error)
{
    struct target target = {.held = -1};
    sigset_t before;
    hold_signals(&before);
    bool ok = target_init(&target, path, replace, error) && target_build(&target, house, error) &&
              target_put(&target, replace, error);
    target_done(&target);
    pthread_sigmask(SIG_SETMASK, &before, NULL);
    return ok;
}

static bool failed(const char *path, const char *what, struct error *error)
{
    error_set(error, ERROR_STORE, "%s: %s (%s), nothing was written", path, what, strerror(errno));
    return false;
}

/* ------------------------------------------------------------------ the place of the new file ------------- */

/*
 * An interrupted change of the file that is about to be replaced is rolled back first: its journal would otherwise be
 * taken for one of the new file. Waits for a program that is just changing it.
 */
static bool old_file_rests(const char *path, struct error *error)
{
    struct store *old = NULL;
    bool ok = store_open(path, STORE_WRITE, &old, error) && store_execute(old, "BEGIN EXCLUSIVE; ROLLBACK", error);
    store_close(old);
    return ok;
}

static bool old_file_may_go(const char *path, const struct stat *status, struct error *error)
{
    if (!S_ISREG(status->st_mode)) {
        error_set(error, ERROR_INPUT, "%s: not an ordinary file, expected the name of a house database", path);
        return false;
    }
    if (status->st_size > 0 && !store_is_database(path)) {
        error_set(error, ERROR_INPUT, "%s: holds something else than a house database, expected another name", path);
        return false;
    }
    struct error fault = {0};
    bool ok = status->st_size == 0 || old_file_rests(path, &fault);
    if (!ok && strstr(error_message(&fault) + strlen(path), "damaged") != NULL) {
        ok = true; /* a damaged one is just what one replaces */
    } else if (!ok) {
        error_set(error, fault.code, "%s", error_message(&fault));
    }
    error_done(&fault);
    return ok;
}

static char *folder_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    struct text folder = {0};
    if (slash == NULL) {
        text_add(&folder, ".");
    } else {
        text_add_length(&folder, path, slash == path ? 1 : (size_t)(slash - path));
    }
    return folder.bytes;
}

static bool target_init(struct target *target, const char *path, bool replace, struct error *error)
{
    struct stat status;
    target->exists = stat(path, &status) == 0;
    if (!target->exists && errno != ENOENT) {
        return failed(path, "can't be looked at", error);
    }
    char *end = target->exists ? realpath(path, NULL) : NULL;
    target->path = end == NULL ? strdup(path) : end;
    if (target->path == NULL) {
        memory_fail();
    }
    target->folder = folder_of(target->path);
    if (target->exists && !replace) {
        error_set(error, ERROR_INPUT, "%s: exists already, nothing was written", path);
        return false;
    }
    mode_t mask = umask(0);
    umask(mask);
    target->mode = target->exists ? status.st_mode & 0777 : MODE_OF_NEW_FILE & ~mask;
    if (target->exists && !old_file_may_go(path, &status, error)) {
        return false;
    }
    /* What an old file left beside it is gone by now; a journal that stays would be played back into the new one. */
    return store_place_is_free(target->path, error);
}

static void target_done(struct target *target)
{
    if (target->beside != NULL) {
        unlink(target->beside);
    }
    if (target->held >= 0) {
        close(target->held);
    }
    free(target->path);
    free(target->folder);
    free(target->beside);
}

/* ------------------------------------------------------------------ building ------------------------------ */

static void number_rows(const struct house *house, struct row_numbers *numbers)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        size_t count = 0;
        house_rows(house, (enum kind)kind, &count);
        numbers->n[kind] = memory_resize(NULL, count, sizeof(int64_t));
        for (size_t i = 0; i < count; i++) {
            numbers->n[kind][i] = (int64_t)i + (kind == KIND_PANEL ? 0 : 1);
        }
    }
}

static bool put_kind(struct store *store, const struct house *house, const struct row_numbers *numbers, enum kind kind,
                     struct error *error)
{
    struct inserter inserter;
    size_t count = 0;
    house_rows(house, kind, &count);
    bool ok = inserter_open(&inserter, store, kind, error);
    for (size_t i = 0; ok && i < count; i++) {
        if (i % ROWS_BETWEEN_LOOKS == ROWS_BETWEEN_LOOKS - 1 && signal_waits()) {
            error_set(error, ERROR_STORE, "%s: interrupted, nothing was written", store->path);
            ok = false;
            break;
        }
        ok = inserter_put(&inserter, store, house, numbers, i, error);
    }
    inserter_close(&inserter);
    return ok;
}

static bool put_house(struct store *store, const struct house *house, struct error *error)
{
    struct row_numbers numbers = {0};
    number_rows(house, &numbers);
    bool ok = true;
    for (int kind = 0; ok && kind < KIND_COUNT; kind++) {
        ok = put_kind(store, house, &numbers, (enum kind)kind, error);
    }
    row_numbers_done(&numbers);
    return ok;
}

/*
 * No journal on the disk and no syncing while the file is built, since nobody sees it before it is synced as a whole;
 * no look at foreign keys, since every n comes from a row of the same house.
 */
static bool fill(struct store *store, const struct house *house, struct error *error)
{
    static const char prepare[] = "PRAGMA journal_mode = MEMORY; PRAGMA synchronous = OFF; PRAGMA foreign_keys = OFF;"
                                  "PRAGMA cache_size = -65536; PRAGMA locking_mode = EXCLUSIVE; BEGIN";
    struct text finish = {0};
    text_printf(&finish, "PRAGMA application_id = %d; PRAGMA user_version = %d; COMMIT", STORE_APPLICATION_ID,
                schema_step_count);
    bool ok = store_execute(store, prepare, error);
    for (int i = 0; ok && i < schema_step_count; i++) {
        ok = store_execute(store, schema_steps[i].sql, error);
    }
    ok = ok && put_house(store, house, error) && store_execute(store, text_string(&finish), error);
    text_done(&finish);
    return ok;
}

static const char *last_name(const struct target *target)
{
    const char *slash = strrchr(target->path, '/');
    return slash == NULL ? target->path : slash + 1;
}

/* `.house.db.XXXXXX.tmp` of this target, or the journal that SQLite had beside it. */
static bool is_name_beside(const struct target *target, const char *name)
{
    const char *own = last_name(target);
    const size_t length = strlen(own);
    if (name[0] != '.' || strncmp(name + 1, own, length) != 0 || name[1 + length] != '.' ||
        strnlen(name + 2 + length, 6) < 6) {
        return false;
    }
    const char *ending = name + 8 + length;
    return strcmp(ending, ".tmp") == 0 || strcmp(ending, ".tmp-journal") == 0;
}

/* Takes away a file that a killed program left behind: ours, and nobody is building it. */
static void remove_left_behind(int folder, const char *name)
{
    int file = openat(folder, name, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    struct stat status;
    if (file >= 0 && fstat(file, &status) == 0 && S_ISREG(status.st_mode) && status.st_uid == geteuid() &&
        flock(file, LOCK_EX | LOCK_NB) == 0) {
        unlinkat(folder, name, 0);
    }
    if (file >= 0) {
        close(file);
    }
}

static void clean_folder(const struct target *target)
{
    DIR *folder = opendir(target->folder);
    for (struct dirent *entry = NULL; folder != NULL && (entry = readdir(folder)) != NULL;) {
        if (is_name_beside(target, entry->d_name)) {
            remove_left_behind(dirfd(folder), entry->d_name);
        }
    }
    if (folder != NULL) {
        closedir(folder);
    }
}

static bool file_reserve(struct target *target, struct error *error)
{
    struct text beside = {0};
    clean_folder(target);
    text_printf(&beside, "%s/.%s.XXXXXX.tmp", target->folder, last_name(target));
    target->held = mkostemps(beside.bytes, 4, O_CLOEXEC);
    if (target->held < 0) {
        text_done(&beside);
        return failed(target->path, "can't be written", error);
    }
    flock(target->held, LOCK_EX | LOCK_NB); /* a file system without it: then its name is all that keeps it */
    target->beside = beside.bytes;
    return fchmod(target->held, target->mode) == 0 || failed(target->path, "can't be written", error);
}

static bool file_sync(const char *path, int flags)
{
    int file = open(path, flags | O_CLOEXEC);
    /* A folder on some file systems can't be synced (EINVAL); there is no more to be done there. */
    const bool ok = file >= 0 && (fsync(file) == 0 || errno == EINVAL);
    const int reason = errno;
    if (file >= 0) {
        close(file);
    }
    errno = reason;
    return ok;
}

static bool target_build(struct target *target, const struct house *house, struct error *error)
{
    if (!file_reserve(target, error)) {
        return false;
    }
    struct store *store = store_new(target->path, STORE_WRITE);
    bool ok = store_connect(store, target->beside, SQLITE_OPEN_READWRITE, error) && fill(store, house, error);
    store_close(store);
    if (ok && !file_sync(target->beside, O_RDONLY)) {
        ok = failed(target->path, "can't be written", error);
    }
    return ok;
}

/* ------------------------------------------------------------------ into place ---------------------------- */

static bool target_put(struct target *target, bool replace, struct error *error)
{
    if (!file_put_in_place(target->beside, target->path, replace)) {
        if (errno != EEXIST || replace) {
            return failed(target->path, "can't be written", error);
        }
        error_set(error, ERROR_INPUT, "%s: exists already, nothing was written", target->path);
        return false;
    }
    free(target->beside);
    target->beside = NULL;
    if (!file_sync(target->folder, O_RDONLY | O_DIRECTORY)) {
        error_set(error, ERROR_STORE,
                  "%s: was written, but its folder can't be brought to the disk (%s): after a power cut it may be as "
                  "before",
                  target->path, strerror(errno));
        return false;
    }
    return true;
}
