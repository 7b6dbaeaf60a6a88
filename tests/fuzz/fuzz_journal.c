/*
 * Any bytes as the journal beside a good house database: an error or a house, and a file that the journal may name
 * stays, as does everything else in the folder. Bytes that begin with `r` are read as a recipe for a journal whose
 * header, checksums and last record are right, so that SQLite really plays it back.
 */
#include <fcntl.h>
#include <sqlite3.h>
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
    sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 1200, 2000); /* what SQLite allocates is not looked at: spare it the way */
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
    sqlite3 *db = NULL; /* small pages: less to write at each run */
    if (sqlite3_open(path, &db) != SQLITE_OK ||
        sqlite3_exec(db, "PRAGMA page_size = 1024; VACUUM", NULL, NULL, NULL) != SQLITE_OK) {
        abort();
    }
    sqlite3_close(db);
    keep_database();
    atexit(remove_all);
}

/* ------------------------------------------------------------------ a recipe ------------------------------ */

/* The journal's format: https://www.sqlite.org/fileformat2.html, 3. */
enum { PAGE_BYTES_AT = 16, SECTOR_BYTES = 512, RECORDS_MOST = 8, SPOTS_MOST = 6, NONCE = 7, LOCK_BYTE = 0x40000000 };
static const uint8_t magic[8] = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};

struct recipe {
    const uint8_t *at;
    size_t left;
    uint8_t *out;
    size_t length;
    size_t page_bytes;
};

static uint8_t take(struct recipe *recipe)
{
    if (recipe->left == 0) {
        return 0;
    }
    recipe->left--;
    return *recipe->at++;
}

static void add_bytes(struct recipe *recipe, const void *bytes, size_t count)
{
    memcpy(recipe->out + recipe->length, bytes, count);
    recipe->length += count;
}

static void add_number(struct recipe *recipe, uint32_t number)
{
    const uint8_t bytes[4] = {(uint8_t)(number >> 24), (uint8_t)(number >> 16), (uint8_t)(number >> 8),
                              (uint8_t)number};
    add_bytes(recipe, bytes, sizeof bytes);
}

/* A page as it is said to have been: that of the database, some bytes changed. */
static void add_record(struct recipe *recipe)
{
    const size_t pages = database_bytes / recipe->page_bytes;
    const uint32_t number = take(recipe);
    const bool is_page = number >= 1 && number <= pages;
    add_number(recipe, number);
    uint8_t *page = recipe->out + recipe->length;
    memset(page, 0, recipe->page_bytes);
    if (is_page) {
        memcpy(page, database + (number - 1) * recipe->page_bytes, recipe->page_bytes);
    }
    for (int i = take(recipe) % SPOTS_MOST; i > 0; i--) {
        const size_t spot = (size_t)(take(recipe) * 256 + take(recipe)) % recipe->page_bytes;
        page[spot] = take(recipe);
    }
    recipe->length += recipe->page_bytes;
    uint32_t sum = NONCE;
    for (size_t at = recipe->page_bytes - 200; at > 0 && at < recipe->page_bytes; at -= 200) {
        sum += page[at];
    }
    add_number(recipe, sum);
}

/* The name of a file that is deleted after the journal was played back. */
static void add_victim(struct recipe *recipe)
{
    uint32_t sum = 0;
    for (const char *at = victim; *at != '\0'; at++) {
        sum += (uint8_t)*at;
    }
    add_number(recipe, (uint32_t)(LOCK_BYTE / recipe->page_bytes) + 1);
    add_bytes(recipe, victim, strlen(victim));
    add_number(recipe, (uint32_t)strlen(victim));
    add_number(recipe, sum);
    add_bytes(recipe, magic, sizeof magic);
}

static void put_recipe(const uint8_t *data, size_t size)
{
    struct recipe recipe = {.at = data, .left = size};
    recipe.page_bytes = (size_t)(database[PAGE_BYTES_AT] * 256 + database[PAGE_BYTES_AT + 1]);
    recipe.out = calloc(1, SECTOR_BYTES + (recipe.page_bytes + 8) * RECORDS_MOST + sizeof victim + 32);
    if (recipe.out == NULL) {
        abort();
    }
    const uint8_t how = take(&recipe);
    const uint32_t count = how % RECORDS_MOST;
    add_bytes(&recipe, magic, sizeof magic);
    add_number(&recipe, how & 0x40 ? take(&recipe) : count);
    add_number(&recipe, NONCE);
    add_number(&recipe, how & 0x20 ? take(&recipe) : (uint32_t)(database_bytes / recipe.page_bytes));
    add_number(&recipe, SECTOR_BYTES);
    add_number(&recipe, (uint32_t)recipe.page_bytes);
    recipe.length = SECTOR_BYTES;
    for (uint32_t i = 0; i < count; i++) {
        add_record(&recipe);
    }
    if (how & 0x80) {
        add_victim(&recipe);
    }
    put(journal, recipe.out, recipe.length);
    free(recipe.out);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (folder[0] == '\0') {
        start();
    }
    put(path, database, database_bytes);
    if (size > 0 && data[0] == 'r') {
        put_recipe(data + 1, size - 1);
    } else {
        put(journal, data, size);
    }
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
