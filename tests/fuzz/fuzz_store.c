/* Any bytes as a house database: an error or a house, never a crash, a hang or a file left behind. */
#include <fcntl.h>
#include <sqlite3.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/store.h"
#include "read_store.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static char path[64];

static void remove_file(void)
{
    unlink(path);
}

static void write_file(const uint8_t *data, size_t size)
{
    if (path[0] == '\0') {
        /* A folder in memory: a disk would be waited for at each run. */
        snprintf(path, sizeof path, "%s/ampsum-fuzz-XXXXXX", access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
        sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 1200, 2000); /* what SQLite allocates is not looked at */
        close(mkstemp(path));
        atexit(remove_file);
    }
    int file = open(path, O_WRONLY | O_TRUNC | O_CLOEXEC);
    for (size_t done = 0; file >= 0 && done < size;) {
        ssize_t count = write(file, data + done, size - done);
        if (count <= 0) {
            abort();
        }
        done += (size_t)count;
    }
    if (file < 0 || close(file) != 0) {
        abort();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    write_file(data, size);
    struct error error = {0};
    struct store *store = NULL;
    if (store_open(path, STORE_WRITE, &store, &error)) {
        struct text what = {0};
        read_all(store);
        store_undo(store, &what, NULL);
        store_redo(store, &what, NULL);
        read_all(store);
        text_done(&what);
        store_close(store);
    } else if (error.code != ERROR_STORE || error.message.length == 0) {
        abort();
    }
    error_done(&error);
    return 0;
}
