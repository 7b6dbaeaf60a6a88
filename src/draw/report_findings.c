/* What exceeds what; all findings with their sources. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_facts.h"
#include "ampsum/arena.h"
#include "ampsum/plain_words.h"
#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "report_parts.h"

typedef void list_visit(const struct report *report, const char *where, const struct finding_list *list,
                        enum severity severity, void *state);

/* Every list of findings: panels, then branches in file order. */
static void walk(const struct report *report, enum severity severity, list_visit *visit, void *state)
{
    struct text where = {0};
    for (size_t i = 0; i < report->house->panel_count; i++) {
        const struct panel *panel = &report->house->panels[i];
        text_clear(&where);
        text_printf(&where, "panel %s", panel->name != NULL ? panel->name : panel->id);
        visit(report, text_string(&where), &report->assessment->panels[i].findings, severity, state);
    }
    for (size_t i = 0; i < report->house->branch_count; i++) {
        visit(report, report->house->branches[i].label, &report->assessment->branches[i].findings, severity, state);
    }
    text_done(&where);
}

/* How many lines may still stand, and how many had no place. */
struct lines {
    size_t left;
    size_t more;
};

/* Takes a line's place; false where there is none. */
static bool take_line(struct lines *lines)
{
    const bool taken = lines->left > 0;
    lines->left -= taken;
    lines->more += !taken;
    return taken;
}

static void add_more(const struct report *report, const struct lines *lines, const char *what)
{
    if (lines->more > 0) {
        struct text text = {0};
        text_printf(&text, "Left out are %zu more %s. `ampsum check --format json` lists all.", lines->more, what);
        report_paragraph(report, &text);
    }
}

/* One line a fact, those of that severity. */
static void add_facts(const struct report *report, const char *where, const struct finding_list *list,
                      enum severity severity, void *state)
{
    struct lines *lines = state;
    struct arena *arena = arena_new();
    struct facts facts;
    facts_of(list, arena, &facts);
    for (size_t i = 0; i < facts.count; i++) {
        const struct finding *lead = facts.fact[i].lead;
        if (lead->severity != severity || !take_line(lines)) {
            continue;
        }
        struct text title = {0};
        struct text text = {0};
        text_printf(&title, "%s: %s:", show_severity(severity), where);
        text_add(&text, lead->text);
        show_fact_numbers(&facts.fact[i], &text);
        text_printf(&text, ". %s", lead->row->caution);
        plain_paper(&text);
        print_item(report->document, text_string(&title), text_string(&text));
        text_done(&title);
        text_done(&text);
    }
    arena_free(arena);
}

void report_verdicts(const struct report *report)
{
    const size_t *counts = report->check->verdicts;
    struct text text = {0};
    const char *before = "Of the branches ";
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            const bool one = counts[verdict] == 1;
            const char *verb = verdict == VERDICT_OK ? (one ? "has" : "have") : one ? "is" : "are";
            text_printf(&text, "%s%zu %s %s", before, counts[verdict], verb, show_verdict((enum verdict)verdict));
            before = ", ";
        }
    }
    text_add(&text, text.length == 0 ? "There is no branch yet." : ".");
    report_paragraph(report, &text);
}

void report_part_findings(const struct report *report)
{
    print_heading(report->document, 2, "What exceeds what");
    if (assess_count(report->assessment, SEVERITY_DANGER) + assess_count(report->assessment, SEVERITY_WARNING) == 0) {
        print_paragraph(report->document,
                        "No danger and no warning from what the house file says. A finding that does not appear is no "
                        "clearance: the file may lack what would bring it up.");
        return;
    }
    struct lines lines = {.left = REPORT_FINDINGS_MOST};
    walk(report, SEVERITY_DANGER, add_facts, &lines);
    walk(report, SEVERITY_WARNING, add_facts, &lines);
    add_more(report, &lines, "that exceed something");
}

/* ------------------------------------------------------------------ sources ------------------------------- */

/* The table of notes, with the places that are left in it. */
struct notes {
    struct print_table *table;
    struct lines lines;
};

static void add_notes(const struct report *report, const char *where, const struct finding_list *list,
                      enum severity severity, void *state)
{
    struct notes *notes = state;
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        if (finding->severity != severity || !take_line(&notes->lines)) {
            continue;
        }
        struct text text = {0};
        text_printf(&text, "%s [%s]", finding->text, finding->id);
        plain_paper(&text);
        print_cell(report->document, notes->table, where);
        print_cell(report->document, notes->table, text_string(&text));
        text_done(&text);
    }
}

/* The rows that findings point to, each once. */
struct rows {
    const struct finding **row;
    size_t count;
    size_t capacity;
};

static bool has_row(const struct rows *rows, const struct finding *finding)
{
    size_t i = 0;
    while (i < rows->count && rows->row[i]->row != finding->row) {
        i++;
    }
    return i < rows->count;
}

static void gather(const struct report *report, const char *where, const struct finding_list *list,
                   enum severity severity, void *state)
{
    struct rows *rows = state;
    (void)report, (void)where;
    for (size_t i = 0; i < list->count; i++) {
        if (list->finding[i].severity == severity && !has_row(rows, &list->finding[i])) {
            rows->row = memory_grow(rows->row, rows->count, &rows->capacity, sizeof(const struct finding *));
            rows->row[rows->count++] = &list->finding[i];
        }
    }
}

static int by_row(const void *a, const void *b)
{
    const struct finding *x = *(const struct finding *const *)a;
    const struct finding *y = *(const struct finding *const *)b;
    return x->row < y->row ? -1 : x->row > y->row;
}

static void add_sources(const struct report *report, struct rows *rows)
{
    static const struct print_column columns[] = {
        {"Finding", 20, false}, {"What is held against what", 46, false}, {"Source", 46, false}};
    qsort(rows->row, rows->count, sizeof(const struct finding *), by_row);
    struct print_table *table = print_table_add(report->document, "Numbers in brackets", columns, 3);
    struct text text = {0};
    for (size_t i = 0; i < rows->count; i++) {
        const struct finding *finding = rows->row[i];
        text_clear(&text);
        text_printf(&text, "[%s] %s", finding->id, show_severity(finding->severity));
        print_cell(report->document, table, text_string(&text));
        text_clear(&text);
        text_printf(&text, "%s: %s", finding->row->title, finding->row->compares);
        print_cell(report->document, table, text_string(&text));
        print_cell(report->document, table, finding->source);
    }
    text_done(&text);
}

void report_part_sources(const struct report *report)
{
    static const struct print_column columns[] = {{"Where", 30, false}, {"Note", 84, false}};
    struct rows rows = {0};
    for (int severity = SEVERITY_DANGER; severity >= SEVERITY_NOTE; severity--) {
        walk(report, (enum severity)severity, gather, &rows);
    }
    report_annex(report, "Findings and their sources");
    if (rows.count == 0) {
        print_paragraph(report->document, "There are no findings.");
        return;
    }
    add_sources(report, &rows);
    if (assess_count(report->assessment, SEVERITY_NOTE) > 0) {
        struct notes notes = {print_table_add(report->document, "Notes, beside what exceeds what", columns, 2),
                              {.left = REPORT_FINDINGS_MOST}};
        walk(report, SEVERITY_NOTE, add_notes, &notes);
        add_more(report, &notes.lines, "notes");
    }
    free(rows.row);
}
