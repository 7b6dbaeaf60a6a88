#include "csv_line.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <csv.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"

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

/* The code points of bytes 0x80 to 0x9F; those without a letter are the control characters of Latin-1. */
static const unsigned letters_1252[] = {0x20AC, 0x81,   0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                        0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8D,   0x017D, 0x8F,
                                        0x90,   0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                        0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x9D,   0x017E, 0x0178};

static void add_letter(struct text *text, unsigned letter)
{
    if (letter < 0x80) {
        text_add_char(text, (char)letter);
    } else if (letter < 0x800) {
        text_add_char(text, (char)(0xC0 | letter >> 6));
        text_add_char(text, (char)(0x80 | (letter & 0x3F)));
    } else {
        text_add_char(text, (char)(0xE0 | letter >> 12));
        text_add_char(text, (char)(0x80 | (letter >> 6 & 0x3F)));
        text_add_char(text, (char)(0x80 | (letter & 0x3F)));
    }
}

bool csv_line_latin(struct text *text, const char *bytes, size_t length)
{
    enum { FIRST = 0x80, END = 0xA0 };
    if (words_is_utf8(bytes, length)) {
        return false;
    }
    for (size_t i = 0; i < length; i++) {
        const unsigned byte = (unsigned char)bytes[i];
        add_letter(text, byte >= FIRST && byte < END ? letters_1252[byte - FIRST] : byte);
    }
    return true;
}

bool csv_line_names_separator(const char *bytes, size_t length)
{
    static const char word[] = "sep=";
    enum { WORD = sizeof word - 1 };
    return length == WORD + 1 && strncasecmp(bytes, word, WORD) == 0 && strchr(",;\t", bytes[WORD]) != NULL;
}
