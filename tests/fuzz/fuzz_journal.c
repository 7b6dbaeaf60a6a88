/*
 * Any bytes as the journal beside a good house database: an error or a house, and a file that the journal may name
 * stays, as does everything else in the folder.
 */
#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/housefile.h"
#include "ampsum/store.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char plain_house[] = "[house]\nname = H\nrules = us\nmain_breaker = 100\n\n"
                                  "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\n";
static char folder[64];
static char victim[80];
static char path[80];
static char journal[96];
static uint8_t *database;
static size_t database_bytes;

static void put(const char *name, const uint8_t *bytes, size_t size)
{
    FILE *file = fopen(name, "wb");
    if (file == NULL || fwrite(bytes, 1, size, file) != size || fclose(file) != 0) {
        abort();
    }
}

static void remove_all(void)
{
    unlink(journal);
    unlink(path);
    unlink(victim);
    rmdir(folder);
    free(database);
}

static void keep_database(void)
{
    FILE *file = fopen(path, "rb");
    struct stat status;
    if (file == NULL || fstat(fileno(file), &status) != 0) {
        abort();
    }
    database_bytes = (size_t)status.st_size;
    database = malloc(database_bytes);
    if (database == NULL || fread(database, 1, database_bytes, file) != database_bytes) {
        abort();
    }
    fclose(file);
}

static void start(void)
{
    struct document *document = NULL;
    struct house *house = NULL;
    struct error error = {0};
    snprintf(folder, sizeof folder, "%s/ampsum-fuzz-XXXXXX", access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
    if (mkdtemp(folder) == NULL) {
        abort();
    }
    snprintf(victim, sizeof victim, "%s/v", folder);
    snprintf(path, sizeof path, "%s/h.db", folder);
    snprintf(journal, sizeof journal, "%s-journal", path);
    put(victim, (const uint8_t *)"kept", 4);
    if (!housefile_read_bytes("fuzz", plain_house, strlen(plain_house), &document, &error) ||
        !house_build(document, &house, &error) || !store_create(path, house, false, &error)) {
        abort();
    }
    house_free(house);
    document_free(document);
    keep_database();
    atexit(remove_all);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (folder[0] == '\0') {
        start();
    }
    put(path, database, database_bytes);
    put(journal, data, size);
    struct error error = {0};
    struct store *store = NULL;
    struct house *house = NULL;
    if (store_open(path, size % 2 == 0 ? STORE_READ : STORE_WRITE, &store, &error)) {
        if (store_read_house(store, &house, &error)) {
            house_free(house);
        }
        store_close(store);
    } else if (error.code != ERROR_STORE || error.message.length == 0) {
        abort();
    }
    error_done(&error);
    if (access(victim, F_OK) != 0 || access(path, F_OK) != 0) {
        abort();
    }
    unlink(journal);
    return 0;
}
