/* The answer of `typical`: a row for each rating, its JSON, and the sources below it. */
#include "ampsum/show_typical.h"

#include <math.h>
#include <string.h>

static const char *const cautions[] = {
    "Typical ratings stand in until the nameplate is read: the appliance's own plate decides.", NULL};

/* ------------------------------------------------------------------ rows ---------------------------------- */

static const void *row_at(const void *answer, size_t row)
{
    return ((const struct typical_answer *)answer)->rows[row];
}

static void get_rules(const void *answer, size_t row, struct show_cell *cell)
{
    const struct ref_typical *typical = row_at(answer, row);
    cell->words = strcmp(typical->rules, "*") == 0 ? "all" : typical->rules;
}

#define OF_ROW(member) .at = row_at, SHOW_FIELD(struct ref_typical, member)

static const struct show_column columns[] = {
    {.key = "id", .heading = "ID", .faces = SHOW_COMMAND, OF_ROW(id)},
    {.key = "name", .heading = "WHAT", .faces = SHOW_COMMAND, .wrap = 22, OF_ROW(name)},
    {.key = "rules", .heading = "FOR", .faces = SHOW_ROWS, .kind = SHOW_WORDS, .get = get_rules},
    {.key = "rules", .faces = SHOW_JSON, OF_ROW(rules)},
    {.key = "low_w", .heading = "LOW W", .faces = SHOW_COMMAND, OF_ROW(low_w)},
    {.key = "typical_w", .heading = "TYPICAL W", .faces = SHOW_COMMAND, OF_ROW(typical_w)},
    {.key = "high_w", .heading = "HIGH W", .faces = SHOW_COMMAND, OF_ROW(high_w)},
    {.key = "hours_day", .heading = "H/DAY", .faces = SHOW_COMMAND, .decimals = 2, OF_ROW(hours_day)},
    {.key = "standby_w", .heading = "STANDBY W", .faces = SHOW_COMMAND, .decimals = 1, OF_ROW(standby_w)},
    {.key = "edition", .faces = SHOW_JSON, OF_ROW(edition)},
    {.key = "source", .faces = SHOW_DATA, OF_ROW(source)},
};

const struct show_rows show_typical_rows = SHOW_ROWS_OF(columns);

json_t *show_typical_json(const struct typical_answer *answer)
{
    static const struct show_column whole[] = {
        {.key = "rows", SHOW_LIST(show_typical_rows, struct typical_answer, count)}};
    static const struct show_rows rows = SHOW_ROWS_OF(whole);
    return show_answer_json("typical", NULL, &rows, answer, cautions);
}

/* ------------------------------------------------------------------ people -------------------------------- */

void show_typical_text(const struct typical_answer *answer, const struct page *page, struct text *text)
{
    if (answer->near) {
        text_printf(text, "Nothing is called '%s'; the nearest:\n", answer->word);
    }
    show_table_text(&show_typical_rows, answer, answer->count, page, text);
    text_add(text, "\nSources\n");
    for (size_t i = 0; i < answer->source_count; i++) {
        struct text line = {0};
        reference_add_source(&line, answer->sources[i]->source, answer->sources[i]->edition);
        show_line(page, 2, 4, &line, text);
    }
    text_add_char(text, '\n');
    show_cautions_text(page, cautions, text);
}

void show_typical_load(const struct typical_answer *answer, struct text *text)
{
    const struct ref_typical *row = answer->rows[0];
    text_printf(text, "%s, ", row->name);
    text_rounded(text, "", isfinite(row->typical_w) ? row->typical_w : row->high_w, 0, " W");
}
