/* The report: its order, and its head. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/cautions.h"
#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "report_parts.h"

void report_paragraph(const struct report *report, struct text *text)
{
    print_paragraph(report->document, text_string(text));
    text_done(text);
}

/* Which branches get pictures: the worst, at most `most`, none that is empty. */
static void choose_pictured(struct report *report, size_t most)
{
    struct arena *arena = report->document->arena;
    const size_t *order = check_worst_first(report->check, arena);
    bool *pictured = arena_array(arena, report->house->branch_count, sizeof *pictured);
    for (size_t i = 0; i < report->house->branch_count && i < most; i++) {
        if (report->assessment->branches[order[i]].verdict != VERDICT_EMPTY) {
            pictured[order[i]] = true;
            report->pictured_count++;
        }
    }
    report->pictured = pictured;
}

static void add_head(const struct report *report)
{
    const struct house *house = report->house;
    struct text text = {0};
    text_printf(&text, "%zu %s on ", house->appliance_count, house->appliance_count == 1 ? "appliance" : "appliances");
    show_house(house, &text);
    text_printf(&text, ". From %s, %s.", report->document->file, report->document->date);
    report_paragraph(report, &text);
}

static void add_cautions(const struct report *report)
{
    const char *cautions[CAUTIONS_MOST + 1];
    print_heading(report->document, 2, "Cautions");
    cautions_of(report->assessment, NO_INDEX, cautions);
    for (size_t i = 0; cautions[i] != NULL; i++) {
        print_caution(report->document, NULL, cautions[i]);
    }
    for (size_t i = 0; show_cautions[i] != NULL; i++) {
        print_caution(report->document, NULL, show_cautions[i]);
    }
}

static void add_notes(const struct report *report)
{
    print_new_page(report->document);
    print_heading(report->document, 2, "Notes of the electrician");
    print_paragraph(report->document, "What was seen, measured and changed; name, licence number, date.");
    print_lines(report->document, 20);
}

struct print_document *print_report(const struct check_answer *check, const struct demand_answer *demand, size_t pictures_most,
                                    const struct print_head *head)
{
    struct report report = {.document = print_new("what is on each branch", check->house->name, head),
                            .check = check,
                            .house = check->house,
                            .assessment = check->assessment,
                            .bill = check->bill,
                            .demand = demand};
    choose_pictured(&report, pictures_most);
    add_head(&report);
    add_cautions(&report);
    report_part_findings(&report);
    report_part_branches(&report);
    report_part_panels(&report);
    report_part_loads(&report);
    report_part_sources(&report);
    report_part_days(&report);
    report_part_wires(&report);
    report_part_faults(&report);
    report_part_demand(&report);
    report_part_cost(&report);
    report_part_assumptions(&report);
    add_notes(&report);
    return report.document;
}
