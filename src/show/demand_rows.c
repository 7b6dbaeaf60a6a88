/* The lines of a method of the demand, and the methods side by side, described once. */
#include <math.h>
#include <string.h>

#include "ampsum/show_demand.h"

size_t show_source_number(struct show_sources *sources, const char *source)
{
    for (size_t i = 0; i < sources->count; i++) {
        if (strcmp(sources->source[i], source) == 0) {
            return i + 1;
        }
    }
    sources->source[sources->count] = source;
    return ++sources->count;
}

static const struct demand_line *line_of(const void *answer, size_t row)
{
    return &((const struct show_demand_lines *)answer)->list->line[row];
}

static const void *line_at(const void *answer, size_t row)
{
    return line_of(answer, row);
}

static bool has_working(const void *answer)
{
    return ((const struct show_demand_lines *)answer)->working;
}

/* Whether the lines' sources are numbered, or stand there in full. */
static bool has_numbers(const void *answer)
{
    return ((const struct show_demand_lines *)answer)->sources != NULL;
}

static bool has_no_numbers(const void *answer)
{
    return !has_numbers(answer);
}

/* `General lighting: 3 VA for each of 1500 square feet`. */
static void get_what_and_how(const void *answer, size_t row, struct show_cell *cell)
{
    const struct demand_line *line = line_of(answer, row);
    struct text *made = show_made(cell);
    text_add(made, line->what);
    if (line->how != NULL && line->how[0] != '\0') {
        text_printf(made, ": %s", line->how);
    }
    show_made_done(cell);
}

static void get_factor_words(const void *answer, size_t row, struct show_cell *cell)
{
    const struct demand_line *line = line_of(answer, row);
    if (line->role != DEMAND_COUNTED) {
        cell->words = line->role == DEMAND_GATHERED ? "in the sum" : "left out";
        return;
    }
    text_add_rounded(show_made(cell), line->factor * 100, 1);
    text_add(&cell->made, " %");
    show_made_done(cell);
}

static void get_counted(const void *answer, size_t row, struct show_cell *cell)
{
    const struct demand_line *line = line_of(answer, row);
    cell->figure = line->role == DEMAND_COUNTED ? line->counted_va : (double)NAN;
}

static void get_source_number(const void *answer, size_t row, struct show_cell *cell)
{
    const struct show_demand_lines *lines = answer;
    text_printf(show_made(cell), "[%zu]", show_source_number(lines->sources, line_of(answer, row)->source));
    show_made_done(cell);
}

#define LINE(member) .at = line_at, SHOW_FIELD(struct demand_line, member)

static const struct show_column line_columns[] = {
    {.key = "what", .heading = "WHAT", .faces = SHOW_COMMAND, .wrap = 34, LINE(what)},
    {.key = "line", .title = "Line", .faces = SHOW_PRINT, .weight = 50, .get = get_what_and_how},
    {SHOW_NAMED("load_va", "LOAD VA", "Load", "VA"), .faces = SHOW_EVERY, .weight = 12, LINE(load_va)},
    {SHOW_NAMED("factor", NULL, "Factor", NULL), .faces = SHOW_DATA | SHOW_PAPER, .decimals = 3, .weight = 10,
     .asked = has_no_numbers, LINE(factor)},
    {SHOW_NAMED("factor_words", "FACTOR", "Factor", NULL), .right = true, .faces = SHOW_TERMINAL | SHOW_PRINT,
     .weight = 12, .asked = has_numbers, .get = get_factor_words},
    {SHOW_NAMED("counted_va", NULL, "Counted", "VA"), .faces = SHOW_DATA | SHOW_PAPER, .weight = 13,
     .asked = has_no_numbers, LINE(counted_va)},
    {SHOW_NAMED("counted", "COUNTED VA", "Counted", "VA"), .kind = SHOW_FIGURE, .faces = SHOW_TERMINAL | SHOW_PRINT,
     .weight = 13, .asked = has_numbers, .get = get_counted},
    {.key = "working", .faces = SHOW_CSV, LINE(how)},
    {SHOW_NAMED("source_number", "SOURCE", "Source", NULL), .faces = SHOW_TERMINAL | SHOW_PRINT, .weight = 9,
     .asked = has_numbers, .get = get_source_number},
    {SHOW_NAMED("source", NULL, "Source", NULL), .faces = SHOW_DATA | SHOW_PRINT, .weight = 40, .asked = has_no_numbers,
     LINE(source)},
    {.key = "working", .faces = SHOW_JSON, .asked = has_working, LINE(how)},
};

const struct show_rows show_demand_line_rows = SHOW_ROWS_OF(line_columns);

struct show_demand_lines show_demand_lines(const struct service_method *method)
{
    static const struct demand_list none = {0};
    return (struct show_demand_lines){.list = method->applies ? &method->demand->lines : &none};
}

/* ------------------------------------------------------------------ the methods --------------------------- */

static const void *method_at(const void *answer, size_t row)
{
    return &((const struct demand_answer *)answer)->service->methods[row];
}

static const struct service_method *method_of(const void *answer, size_t row)
{
    return method_at(answer, row);
}

static void get_lines(const void *answer, size_t row, struct show_cell *cell)
{
    const struct show_demand_lines lines = show_demand_lines(method_of(answer, row));
    cell->part = show_json_array(&show_demand_line_rows, &lines, lines.list->count);
}

static void get_current(const void *answer, size_t row, struct show_cell *cell)
{
    const struct service_method *method = method_of(answer, row);
    if (method->applies) {
        show_demand_current(answer, method->current_a, 1, show_made(cell));
        show_made_done(cell);
    }
}

/* With as many decimals as the current has: it is as far from nothing as that from the rating. */
static void get_left(const void *answer, size_t row, struct show_cell *cell)
{
    const struct service_method *method = method_of(answer, row);
    if (method->applies) {
        show_demand_beside(method->headroom_a, method->headroom_a, 1, show_made(cell));
        show_made_done(cell);
    }
}

static void get_fits_word(const void *answer, size_t row, struct show_cell *cell)
{
    const struct service_method *method = method_of(answer, row);
    cell->words = !method->applies ? "n/a" : method->fits ? "yes" : "NO";
}

static void get_fits(const void *answer, size_t row, struct show_cell *cell)
{
    const struct service_method *method = method_of(answer, row);
    cell->flag = method->fits;
    cell->none = !method->applies;
}

#define METHOD(member) .at = method_at, SHOW_FIELD(struct service_method, member)

static const struct show_column method_columns[] = {
    {.key = "method", .heading = "METHOD", .title = "Method", .faces = SHOW_EVERY, .weight = 18, METHOD(word)},
    {SHOW_NAMED("clause", "SECTION", "Section", NULL), .faces = SHOW_ROWS | SHOW_PRINT, .wrap = 20, .weight = 24,
     METHOD(clause)},
    {.key = "applies", .faces = SHOW_DATA, METHOD(applies)},
    {.key = "why_not", .faces = SHOW_DATA, METHOD(why_not)},
    {.key = "lines", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_lines},
    {SHOW_NAMED("total_va", "DEMAND VA", "Demand", "VA"), .faces = SHOW_EVERY, .weight = 13, METHOD(total_va)},
    {.key = "current_a", .faces = SHOW_DATA, METHOD(current_a)},
    {SHOW_NAMED("current", "A", "Current, A", NULL), .right = true, .faces = SHOW_TERMINAL | SHOW_PRINT, .weight = 12,
     .get = get_current},
    {.key = "headroom_a", .faces = SHOW_DATA, METHOD(headroom_a)},
    {SHOW_NAMED("left", "LEFT A", "Left, A", NULL), .right = true, .faces = SHOW_TERMINAL | SHOW_PRINT, .weight = 10,
     .get = get_left},
    {SHOW_NAMED("headroom_percent", "LEFT %", "Left", "%"), .decimals = 1, .faces = SHOW_EVERY, .weight = 9,
     METHOD(headroom_percent)},
    {SHOW_NAMED("fits_word", "FITS", "Fits", NULL), .faces = SHOW_TERMINAL | SHOW_PRINT, .weight = 7,
     .get = get_fits_word},
    {.key = "fits", .kind = SHOW_FLAG, .faces = SHOW_JSON, .get = get_fits},
    {SHOW_NAMED("largest_va", "MOST VA", "Most", "VA"), .faces = SHOW_ROWS | SHOW_PRINT, .weight = 12,
     METHOD(largest.va)},
    {SHOW_NAMED("largest_a", "MOST A", "Most", "A"), .decimals = 1, .faces = SHOW_ROWS | SHOW_PRINT, .weight = 11,
     METHOD(largest.current_a)},
    {SHOW_NAMED("setting_a", "CAR A", "Car", "A"), .faces = SHOW_ROWS | SHOW_PRINT, .weight = 9,
     METHOD(largest.setting_a)},
};

const struct show_rows show_demand_method_rows = SHOW_ROWS_OF(method_columns);
