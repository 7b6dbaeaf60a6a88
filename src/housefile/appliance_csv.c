#include "ampsum/appliance_csv.h"

#include <csv.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ampsum/freetext.h"
#include "ampsum/place.h"
#include "ampsum/words.h"
#include "faults.h"
#include "meant.h"

enum { ID_COLUMN = -1, UNKNOWN_COLUMN = -2 };

/* One run over the file. */
struct list {
    struct document *document;
    const struct section *section;
    struct faults *faults;
    int *columns; /* index of the key, or ID_COLUMN */
    size_t column_count;
    size_t column_capacity;
    char **cells; /* of the row being read */
    size_t cell_count;
    size_t cell_capacity;
    int line; /* being read */
    int row_line;
    size_t row_count;
    bool heading_done;
};

static void take_cell(void *bytes, size_t length, void *user)
{
    struct list *list = user;
    list->cells = memory_grow(list->cells, list->cell_count, &list->cell_capacity, sizeof *list->cells);
    char *cell = arena_copy_length(list->document->arena, bytes == NULL ? "" : bytes, length);
    if (strlen(cell) != length || !words_is_utf8(cell, length)) {
        faults_add(list->faults, list->row_line, "column %zu: a NUL byte or broken UTF-8, expected text",
                   list->cell_count + 1);
    }
    size_t used = strlen(cell);
    while (used > 0 && cell[used - 1] == ' ') {
        cell[--used] = '\0';
    }
    list->cells[list->cell_count++] = cell + strspn(cell, " ");
}

static int column_of(struct list *list, const char *name)
{
    if (strcmp(name, "id") == 0) {
        return ID_COLUMN;
    }
    const struct key *key = section_key(list->section, name);
    if (key != NULL) {
        return (int)(key - list->section->keys);
    }
    const char *meant = meant_key(list->section, name);
    faults_add(list->faults, list->row_line, "column '%s': not a key of [appliance]%s%s, expected id or a key", name,
               meant == NULL ? "" : ", the nearest is ", meant == NULL ? "" : meant);
    return UNKNOWN_COLUMN;
}

static void take_heading(struct list *list)
{
    for (size_t i = 0; i < list->cell_count; i++) {
        list->columns = memory_grow(list->columns, list->column_count, &list->column_capacity, sizeof *list->columns);
        list->columns[list->column_count++] = column_of(list, list->cells[i]);
        for (size_t j = 0; j < i; j++) {
            if (strcmp(list->cells[i], list->cells[j]) == 0) {
                faults_add(list->faults, list->row_line, "column '%s' stands twice, expected it once", list->cells[i]);
            }
        }
    }
    list->heading_done = true;
}

/* The ID of the row: its `id` cell, else one that follows from its name. NULL with a fault. */
static const char *row_id(struct list *list)
{
    const char *name = NULL;
    for (size_t i = 0; i < list->cell_count; i++) {
        if (list->columns[i] == ID_COLUMN && list->cells[i][0] != '\0') {
            if (!words_is_id(list->cells[i])) {
                faults_add(list->faults, list->row_line, "id '%s': expected a-z, 0-9 and -, 1 to 40 characters",
                           list->cells[i]);
                return NULL;
            }
            if (document_find(list->document, "appliance", list->cells[i]) != NULL) {
                faults_add(list->faults, list->row_line, "id '%s' is taken, expected another one", list->cells[i]);
                return NULL;
            }
            return list->cells[i];
        }
        if (list->columns[i] >= 0 && strcmp(list->section->keys[list->columns[i]].name, "name") == 0) {
            name = list->cells[i];
        }
    }
    if (name == NULL || name[0] == '\0') {
        faults_add(list->faults, list->row_line, "neither id nor name, expected one of them");
        return NULL;
    }
    return freetext_id(list->document, name);
}

static void take_appliance(struct list *list)
{
    if (list->cell_count > list->column_count) {
        faults_add(list->faults, list->row_line, "%zu cells, expected at most the %zu of the first row",
                   list->cell_count, list->column_count);
        return;
    }
    const char *id = row_id(list);
    if (id == NULL) {
        return;
    }
    struct document_section *section = document_add(list->document, "appliance", id);
    section->line = list->row_line;
    for (size_t i = 0; i < list->cell_count; i++) {
        if (list->columns[i] >= 0 && list->cells[i][0] != '\0') {
            document_set(list->document, section, list->section->keys[list->columns[i]].name, list->cells[i]);
        }
    }
    for (size_t i = 0; i < section->key_count; i++) {
        section->keys[i].line = list->row_line;
    }
    list->row_count++;
}

static void take_row(int end, void *user)
{
    (void)end;
    struct list *list = user;
    bool empty = true;
    for (size_t i = 0; i < list->cell_count; i++) {
        empty = empty && list->cells[i][0] == '\0';
    }
    if (!empty && !list->heading_done) {
        take_heading(list);
    } else if (!empty) {
        take_appliance(list);
    }
    list->cell_count = 0;
    list->row_line = list->line + 1;
}

/* Hands the parser one line after the other, so that each row knows its line. */
static bool parse(struct list *list, struct csv_parser *parser, const char *bytes, size_t length)
{
    while (length > 0) {
        const char *end = memchr(bytes, '\n', length);
        size_t size = end == NULL ? length : (size_t)(end - bytes) + 1;
        if (csv_parse(parser, bytes, size, take_cell, take_row, list) != size) {
            faults_add(list->faults, list->line, "%s, expected quotes only around a whole cell, doubled inside it",
                       csv_strerror(csv_error(parser)));
            return false;
        }
        list->line++;
        bytes += size;
        length -= size;
    }
    if (csv_fini(parser, take_cell, take_row, list) != 0) {
        faults_add(list->faults, list->row_line, "a quoted cell never ends, expected a closing quote");
        return false;
    }
    return true;
}

static void parse_bytes(struct list *list, const char *bytes, size_t length)
{
    if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        bytes += 3;
        length -= 3;
    }
    struct csv_parser parser;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        memory_fail();
    }
    const char *first_end = memchr(bytes, '\n', length);
    size_t first_length = first_end == NULL ? length : (size_t)(first_end - bytes);
    if (memchr(bytes, ',', first_length) == NULL && memchr(bytes, ';', first_length) != NULL) {
        csv_set_delim(&parser, ';');
    }
    if (parse(list, &parser, bytes, length) && !list->heading_done) {
        faults_add(list->faults, 0, "an empty list, expected a first row that names the columns");
    }
    csv_free(&parser);
}

/* The whole file; NULL with the error set. */
static char *read_bytes(const char *path, size_t *ret_length, struct error *error)
{
    struct stat status;
    const char *why = "not a regular file";
    FILE *file = file_stream_to_read(path, &why);
    if (file == NULL || fstat(fileno(file), &status) != 0 || !S_ISREG(status.st_mode)) {
        error_set(error, ERROR_INPUT, "%s: %s, expected a CSV file", path, why);
    } else if (status.st_size > HOUSEFILE_BYTES_MOST) {
        error_set(error, ERROR_INPUT, "%s: more than 16 MiB, expected a list below that limit", path);
    } else {
        char *bytes = memory_new((size_t)status.st_size);
        *ret_length = fread(bytes, 1, (size_t)status.st_size, file);
        fclose(file);
        return bytes;
    }
    if (file != NULL) {
        fclose(file);
    }
    return NULL;
}

bool list_read_appliances(const char *path, struct document *document, size_t *ret_count, struct error *error)
{
    size_t length = 0;
    char *bytes = read_bytes(path, &length, error);
    if (bytes == NULL) {
        return false;
    }
    struct faults faults;
    faults_init(&faults, path);
    document->source = arena_copy(document->arena, path);
    struct list list = {
        .document = document, .section = &sections[KIND_APPLIANCE], .faults = &faults, .line = 1, .row_line = 1};
    parse_bytes(&list, bytes, length);
    *ret_count = list.row_count;
    bool good = faults_report(&faults, error);
    faults_done(&faults);
    free(list.columns);
    free((void *)list.cells);
    free(bytes);
    return good;
}
