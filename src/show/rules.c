/* The answer of `rules`: a row for each finding, limit, rule set and table, its JSON, and one of them in full. */
#include "ampsum/show_rules.h"

#include <string.h>

/* ------------------------------------------------------------------ rows ---------------------------------- */

static const struct rules_row *row_of(const void *answer, size_t row)
{
    return &((const struct rules_answer *)answer)->rows[row];
}

static void get_severity(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = row_of(answer, row)->severity == NULL ? "" : row_of(answer, row)->severity;
}

static void add_rows(struct text *text, size_t rows)
{
    text_printf(text, "%zu %s", rows, rows == 1 ? "row" : "rows");
}

static void get_value(const void *answer, size_t row, struct show_cell *cell)
{
    const struct rules_row *line = row_of(answer, row);
    struct text *text = show_made(cell);
    if (line->rule != NULL) {
        text_add_rounded(text, line->rule->value, 4);
        text_add(text, strcmp(line->rule->unit, "1") == 0 ? "" : " ");
        text_add(text, strcmp(line->rule->unit, "1") == 0 ? "" : line->rule->unit);
    } else if (line->sources > 0) {
        add_rows(text, line->table_rows);
    } else {
        text_add(text, line->set ? "rule set" : "");
    }
    show_made_done(cell);
}

/* A clause as the edition numbers it that is usual under the rules. */
static void get_clause(const void *answer, size_t row, struct show_cell *cell)
{
    const struct rules_row *line = row_of(answer, row);
    struct text *text = show_made(cell);
    if (line->clause != NULL) {
        reference_clause(text, line->rules, line->clause, 0);
    } else {
        text_add(text, line->set ? "" : "table");
    }
    show_made_done(cell);
}

static void get_edition(const void *answer, size_t row, struct show_cell *cell)
{
    const struct rules_row *line = row_of(answer, row);
    /* A clause that each edition numbers anew is shown by the usual one's number. */
    const bool numbered = line->clause != NULL && strchr(line->clause, '{') != NULL;
    const char *usual = numbered ? reference_choice_usual(line->rules, "code_edition") : NULL;
    cell->words = line->sources > 1 ? "" : usual != NULL ? usual : line->edition;
}

static void get_source(const void *answer, size_t row, struct show_cell *cell)
{
    const struct rules_row *line = row_of(answer, row);
    struct text *text = show_made(cell);
    if (line->sources > 1) {
        text_printf(text, "%zu sources: ampsum rules %s", line->sources, line->id);
    } else {
        text_add(text, line->source);
    }
    show_made_done(cell);
}

static void get_note(const void *answer, size_t row, struct show_cell *cell)
{
    const struct rules_row *line = row_of(answer, row);
    struct text *text = show_made(cell);
    if (line->finding != NULL) {
        text_printf(text, "compares %s. %s", line->finding->compares, line->finding->caution);
    } else {
        text_add(text, line->rule == NULL || line->rule->note == NULL ? "" : line->rule->note);
    }
    show_made_done(cell);
}

/* Which part of it was recalled, not read. */
static void get_from_memory(const void *answer, size_t row, struct show_cell *cell)
{
    const struct rules_row *line = row_of(answer, row);
    struct text *text = show_made(cell);
    if (line->sources > 0 && line->recalled > 0) {
        add_rows(text, line->recalled);
    } else {
        text_add(text, line->recalled > 0 ? "yes" : "");
    }
    show_made_done(cell);
}

#define OF_ROW(member) SHOW_IN(struct rules_answer, rows, struct rules_row, member)

static const struct show_column columns[] = {
    {.key = "id", .heading = "ID", .faces = SHOW_COMMAND, OF_ROW(id)},
    {.key = "rules", .heading = "FOR", .faces = SHOW_COMMAND, OF_ROW(rules)},
    {.key = "name", .heading = "WHAT", .faces = SHOW_COMMAND, .wrap = 30, OF_ROW(name)},
    {.key = "severity", .faces = SHOW_DATA, .get = get_severity, .null_if_empty = true},
    {.key = "value", .heading = "VALUE", .faces = SHOW_COMMAND, .get = get_value},
    {.key = "clause", .heading = "CLAUSE", .faces = SHOW_COMMAND, .wrap = 18, .get = get_clause},
    {.key = "edition", .faces = SHOW_DATA, .get = get_edition},
    {.key = "source", .faces = SHOW_DATA, .get = get_source},
    {.key = "note", .faces = SHOW_DATA, .get = get_note, .null_if_empty = true},
    {.key = "from_memory", .heading = "FROM MEMORY", .faces = SHOW_COMMAND, .get = get_from_memory},
};

const struct show_rows show_rules_rows = SHOW_ROWS_OF(columns);

json_t *show_rules_json(const struct rules_answer *answer)
{
    static const struct show_column whole[] = {{.key = "rows", SHOW_LIST(show_rules_rows, struct rules_answer, count)}};
    static const struct show_rows rows = SHOW_ROWS_OF(whole);
    return show_answer_json("rules", NULL, &rows, answer, NULL);
}

/* ------------------------------------------------------------------ people -------------------------------- */

static void write_full(const struct rules_answer *answer, size_t row, const struct page *page, struct text *text)
{
    static const char *const keys[] = {"name", "value", "severity", "clause", "edition", "source", "note"};
    const char *rules = answer->rows[row].rules;
    text_printf(text, "%s%s (%s)\n", row == 0 ? "" : "\n", answer->rows[row].id,
                strcmp(rules, "*") == 0 ? "every rule set" : rules);
    struct show_cell cell = {0};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        show_get_cell(show_column_of(&show_rules_rows, keys[i]), answer, row, &cell);
        if (cell.words != NULL && cell.words[0] != '\0') {
            text_printf(text, "  %-9s ", keys[i]);
            show_wrap(page, 12, cell.words, text);
        }
    }
    text_done(&cell.made);
}

static void add_cell(const struct rules_answer *answer, size_t row, const char *key, const char *before,
                     struct text *text)
{
    struct show_cell cell = {0};
    show_get_cell(show_column_of(&show_rules_rows, key), answer, row, &cell);
    if (cell.words != NULL && cell.words[0] != '\0') {
        text_printf(text, "%s%s", before, cell.words);
    }
    text_done(&cell.made);
}

/* `5 (us): breaker larger than the wire allows; 240.4, 240.4(D)`: a line of the list, which no word is cut to fit. */
static void write_brief(const struct rules_answer *answer, size_t row, const struct page *page, struct text *text)
{
    const struct rules_row *of = &answer->rows[row];
    struct text line = {0};
    text_add(&line, of->id);
    if (!of->set && strcmp(of->rules, "*") != 0) {
        text_printf(&line, " (%s)", of->rules);
    }
    const size_t length = strlen(of->name);
    text_add(&line, ": ");
    text_add_length(&line, of->name, length - (length > 0 && of->name[length - 1] == '.'));
    add_cell(answer, row, "value", ": ", &line);
    if (of->clause != NULL) {
        add_cell(answer, row, "clause", "; ", &line);
    }
    if (of->recalled > 0) {
        text_add(&line, "; ");
        if (of->sources > 0) {
            add_rows(&line, of->recalled);
            text_add_char(&line, ' ');
        }
        text_add(&line, "from memory");
    }
    show_line(page, 0, 4, &line, text);
}

/* Above the list of one set: what it has no rows for. */
static void write_missing(const struct rules_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    if (answer->set != NULL && reference_missing_add(&line, answer->set)) {
        show_wrap(page, 0, text_string(&line), text);
        text_add_char(text, '\n');
    }
    text_done(&line);
}

void show_rules_text(const struct rules_answer *answer, const struct page *page, struct text *text)
{
    write_missing(answer, page, text);
    for (size_t row = 0; row < answer->count; row++) {
        (answer->one ? write_full : write_brief)(answer, row, page, text);
    }
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
