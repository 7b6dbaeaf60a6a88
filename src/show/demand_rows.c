/* The lines of a method of the demand, described once. */
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

static const struct show_column columns[] = {
    {.key = "what",
     .heading = "WHAT",
     .faces = SHOW_ROWS | SHOW_JSON,
     .wrap = 34,
     .at = line_at,
     SHOW_STRING(struct demand_line, what)},
    {.key = "line", .title = "Line", .faces = SHOW_PRINT, .weight = 50, .get = get_what_and_how},
    {.key = "load_va",
     .heading = "LOAD VA",
     .title = "Load",
     .unit = "VA",
     .faces = SHOW_ROWS | SHOW_JSON | SHOW_PRINT,
     .weight = 12,
     .at = line_at,
     SHOW_DOUBLE(struct demand_line, load_va)},
    {.key = "factor",
     .title = "Factor",
     .faces = SHOW_DATA | SHOW_PAPER,
     .decimals = 3,
     .weight = 10,
     .at = line_at,
     SHOW_DOUBLE(struct demand_line, factor)},
    {.key = "factor_words",
     .heading = "FACTOR",
     .title = "Factor",
     .right = true,
     .faces = SHOW_TERMINAL | SHOW_PAGE,
     .get = get_factor_words},
    {.key = "counted_va",
     .title = "Counted",
     .unit = "VA",
     .faces = SHOW_DATA | SHOW_PAPER,
     .weight = 13,
     .at = line_at,
     SHOW_DOUBLE(struct demand_line, counted_va)},
    {.key = "counted",
     .heading = "COUNTED VA",
     .title = "Counted",
     .unit = "VA",
     .kind = SHOW_FIGURE,
     .faces = SHOW_TERMINAL | SHOW_PAGE,
     .get = get_counted},
    {.key = "working", .faces = SHOW_CSV, .at = line_at, SHOW_STRING(struct demand_line, how)},
    {.key = "source_number", .heading = "SOURCE", .faces = SHOW_TERMINAL, .get = get_source_number},
    {.key = "source",
     .title = "Source",
     .faces = SHOW_DATA | SHOW_PRINT,
     .weight = 40,
     .at = line_at,
     SHOW_STRING(struct demand_line, source)},
    {.key = "working", .faces = SHOW_JSON, .asked = has_working, .at = line_at, SHOW_STRING(struct demand_line, how)},
};

const struct show_rows show_demand_line_rows = {columns, sizeof columns / sizeof columns[0]};
