#include "csv_line.h"

#include <stdlib.h>
#include <string.h>

#include <csv.h>

#include "ampsum/arena.h"

void csv_line_done(struct csv_line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        free(line->cell[i]);
    }
    free(line->cell);
    *line = (struct csv_line){0};
}

static void take_cell(void *cell, size_t length, void *data)
{
    struct csv_line *line = data;
    if (line->count < CSV_CELLS_MOST) {
        char *copy = memory_new(length + 1);
        memcpy(copy, cell, length);
        copy[length] = '\0';
        line->cell = memory_grow(line->cell, line->count, &line->capacity, sizeof *line->cell);
        line->cell[line->count++] = copy;
    }
}

bool csv_line_read(struct csv_line *line, const char *bytes, size_t length, unsigned char separator)
{
    struct csv_parser parser;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        memory_fail();
    }
    csv_set_delim(&parser, separator);
    bool ok = csv_parse(&parser, bytes, length, take_cell, NULL, line) == length;
    ok = ok && csv_fini(&parser, take_cell, NULL, line) == 0;
    csv_free(&parser);
    return ok;
}

unsigned char csv_separator(const char *bytes, size_t length)
{
    static const unsigned char separators[] = {',', ';', '\t'};
    size_t most = 0;
    unsigned char best = ',';
    for (size_t i = 0; i < sizeof separators; i++) {
        size_t count = 0;
        for (size_t k = 0; k < length && bytes[k] != '\n' && bytes[k] != '\r'; k++) {
            count += (unsigned char)bytes[k] == separators[i];
        }
        if (count > most) {
            most = count;
            best = separators[i];
        }
    }
    return best;
}

size_t csv_line_end(const char *bytes, size_t at, size_t length)
{
    while (at < length && bytes[at] != '\n' && bytes[at] != '\r') {
        at++;
    }
    return at;
}

size_t csv_line_next(const char *bytes, size_t end, size_t length)
{
    return end + (end + 1 < length && bytes[end] == '\r' && bytes[end + 1] == '\n' ? 2 : 1);
}
