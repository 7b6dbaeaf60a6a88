#include "walk.h"

#include <math.h>
#include <string.h>

const struct element elements[] = {
    [PRINT_HEADING] = {least_heading, draw_heading, html_heading},
    [PRINT_PARAGRAPH] = {least_text, draw_paragraph, html_paragraph},
    [PRINT_ITEM] = {least_text, draw_item, html_item},
    [PRINT_CAUTION] = {least_text, draw_caution, html_caution},
    [PRINT_TABLE] = {least_table, draw_table, html_table},
    [PRINT_PICTURE] = {least_picture, draw_picture, html_picture},
    [PRINT_LINES] = {least_lines, draw_lines, html_lines},
    [PRINT_PAGE] = {NULL, draw_page, html_page},
    [PRINT_TOGETHER] = {least_group, draw_group, NULL},
    [PRINT_ROOM] = {NULL, draw_room, NULL},
    [PRINT_FIELD] = {NULL, draw_field, html_field},
    [PRINT_FOOT] = {NULL, draw_new_foot, NULL},
};

bool walk_shows(const struct print_document *document, size_t at, enum print_face face)
{
    const struct print_block *block = &document->blocks[at];
    return face == ON_PAPER ? !block->screen : !block->paper;
}

size_t walk_next(const struct print_document *document, size_t at, enum print_face face)
{
    do {
        at++;
    } while (at < document->block_count && !walk_shows(document, at, face));
    return at;
}

bool walk_begins_list(const struct print_document *document, size_t at, enum print_face face)
{
    while (at > 0 && !walk_shows(document, at - 1, face)) {
        at--;
    }
    return at == 0 || document->blocks[at - 1].kind != PRINT_ITEM;
}

bool walk_ends_list(const struct print_document *document, size_t at, enum print_face face)
{
    const size_t next = walk_next(document, at, face);
    return next == document->block_count || document->blocks[next].kind != PRINT_ITEM;
}

bool walk_is_titled(const struct print_document *document)
{
    return document->house[0] != '\0';
}

void walk_title(const struct print_document *document, struct text *text)
{
    text_printf(text, "%s%s%s", document->house, walk_is_titled(document) ? ": " : "", document->title);
}

/* ------------------------------------------------------------------ columns ------------------------------- */

/* The narrowest that holds a heading on two lines. */
static double on_two_lines(struct canvas_font font, const char *heading, struct arena *arena)
{
    double least = canvas_text_width(font, heading);
    for (const char *blank = strchr(heading, ' '); blank != NULL; blank = strchr(blank + 1, ' ')) {
        char *first = arena_copy(arena, heading);
        first[blank - heading] = '\0';
        least = fmin(least, fmax(canvas_text_width(font, first), canvas_text_width(font, blank + 1)));
    }
    return least;
}

static void measure_cells(const struct print_table *table, struct natural *natural)
{
    static const struct canvas_font plain = {1, false};
    for (size_t at = 0; at < table->cell_count; at++) {
        struct natural *own = &natural[at % table->column_count];
        if (print_group_name(table, at / table->column_count) == NULL) {
            own->cells = fmax(own->cells, canvas_text_width(plain, table->cells[at]));
            own->word = fmax(own->word, canvas_longest_word(plain, table->cells[at]));
        }
    }
}

const struct natural *walk_measure(const struct print_document *document, struct print_table *table)
{
    static const struct canvas_font bold = {1, true};
    if (table->natural == NULL) {
        struct natural *natural = arena_array(document->arena, table->column_count, sizeof *natural);
        for (size_t i = 0; i < table->column_count; i++) {
            const char *heading = table->columns[i].heading;
            natural[i].heading = canvas_text_width(bold, heading);
            natural[i].heading_word = canvas_longest_word(bold, heading);
            natural[i].two_lines = on_two_lines(bold, heading, document->arena);
        }
        measure_cells(table, natural);
        table->natural = natural;
    }
    return table->natural;
}
