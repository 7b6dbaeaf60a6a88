/* What exceeds what; all findings with their sources. */
#include <string.h>

#include "ampsum/reference.h"
#include "report_parts.h"

typedef void finding_visit(const struct report *report, const char *where, const struct finding *finding, void *state);

static void walk_list(const struct report *report, const char *where, const struct finding_list *list,
                      enum severity severity, finding_visit *visit, void *state)
{
    for (size_t i = 0; i < list->count; i++) {
        if (list->finding[i].severity == severity) {
            visit(report, where, &list->finding[i], state);
        }
    }
}

/* Every finding of a severity: panels, then branches in file order. */
static void walk(const struct report *report, enum severity severity, finding_visit *visit, void *state)
{
    struct text where = {0};
    for (size_t i = 0; i < report->house->panel_count; i++) {
        const struct panel *panel = &report->house->panels[i];
        text_clear(&where);
        text_printf(&where, "panel %s", panel->name != NULL ? panel->name : panel->id);
        walk_list(report, text_string(&where), &report->assessment->panels[i].findings, severity, visit, state);
    }
    for (size_t i = 0; i < report->house->branch_count; i++) {
        walk_list(report, report->house->branches[i].label, &report->assessment->branches[i].findings, severity, visit,
                  state);
    }
    text_done(&where);
}

static const char *shown(enum severity severity)
{
    static const char *const words[] = {"note", "WARNING", "DANGER"};
    return words[severity];
}

static void add_serious(const struct report *report, const char *where, const struct finding *finding, void *state)
{
    (void)state;
    struct text lead = {0};
    struct text text = {0};
    text_printf(&lead, "%s: %s:", shown(finding->severity), where);
    text_printf(&text, "%s [%d]. %s", finding->text, finding->number, finding->row->caution);
    print_item(report->document, text_string(&lead), text_string(&text));
    text_done(&lead);
    text_done(&text);
}

static void add_verdicts(const struct report *report)
{
    size_t counts[5] = {0};
    for (size_t i = 0; i < report->house->branch_count; i++) {
        counts[report->assessment->branches[i].verdict]++;
    }
    struct text text = {0};
    const char *before = "Of the branches ";
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            text_printf(&text, "%s%zu %s %s", before, counts[verdict], counts[verdict] == 1 ? "is" : "are",
                        verdict_shown((enum verdict)verdict));
            before = ", ";
        }
    }
    text_add(&text, text.length == 0 ? "There is no branch yet." : ".");
    report_paragraph(report, &text);
}

void report_part_findings(const struct report *report)
{
    print_heading(report->document, 2, "What exceeds what");
    add_verdicts(report);
    if (assess_count(report->assessment, SEVERITY_DANGER) + assess_count(report->assessment, SEVERITY_WARNING) == 0) {
        print_paragraph(report->document,
                        "No danger and no warning from what the house file says. A finding that does not appear is no "
                        "clearance: the file may lack what would bring it up.");
        return;
    }
    walk(report, SEVERITY_DANGER, add_serious, NULL);
    walk(report, SEVERITY_WARNING, add_serious, NULL);
}

static void add_row(const struct report *report, const char *where, const struct finding *finding, void *state)
{
    struct print_table *table = state;
    struct text number = {0};
    text_printf(&number, "%d %s", finding->number, shown(finding->severity));
    print_cell(report->document, table, text_string(&number));
    print_cell(report->document, table, where);
    print_cell(report->document, table, finding->text);
    print_cell(report->document, table, finding->source);
    text_done(&number);
}

void report_part_sources(const struct report *report)
{
    static const struct print_column columns[] = {
        {"Finding", 15, false}, {"Where", 20, false}, {"What", 45, false}, {"Source", 42, false}};
    print_heading(report->document, 2, "Findings with their sources");
    if (assess_count(report->assessment, SEVERITY_NOTE) + assess_count(report->assessment, SEVERITY_WARNING) +
            assess_count(report->assessment, SEVERITY_DANGER) ==
        0) {
        print_paragraph(report->document, "There are no findings.");
        return;
    }
    struct print_table *table = print_table_add(report->document, "Dangers, warnings and notes", columns, 4);
    walk(report, SEVERITY_DANGER, add_row, table);
    walk(report, SEVERITY_WARNING, add_row, table);
    walk(report, SEVERITY_NOTE, add_row, table);
}
