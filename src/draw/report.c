/* The report: its order, and its head. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "report_parts.h"

void report_paragraph(const struct report *report, struct text *text)
{
    print_paragraph(report->document, text_string(text));
    text_done(text);
}

struct ranked {
    size_t branch;
    enum verdict verdict;
    double load; /* share of the rating */
};

static int worst_first(const void *a, const void *b)
{
    const struct ranked *x = a;
    const struct ranked *y = b;
    if (x->verdict != y->verdict) {
        return x->verdict > y->verdict ? -1 : 1;
    }
    if (x->load != y->load) {
        return x->load > y->load ? -1 : 1;
    }
    return x->branch < y->branch ? -1 : 1;
}

/* Which branches get pictures: the worst, at most `most`, none that is empty. */
static void choose_pictured(struct report *report, size_t most)
{
    const size_t count = report->house->branch_count;
    struct arena *arena = report->document->arena;
    struct ranked *ranked = arena_array(arena, count, sizeof *ranked);
    for (size_t i = 0; i < count; i++) {
        const struct branch_assessment *result = &report->assessment->branches[i];
        ranked[i] = (struct ranked){i, result->verdict, result->all.planning_a / report->house->branches[i].breaker_a};
    }
    qsort(ranked, count, sizeof *ranked, worst_first);
    bool *pictured = arena_array(arena, count, sizeof *pictured);
    for (size_t i = 0; i < count && i < most && ranked[i].verdict != VERDICT_EMPTY; i++) {
        pictured[ranked[i].branch] = true;
        report->pictured_count++;
    }
    report->pictured = pictured;
}

static void add_head(const struct report *report)
{
    const struct house *house = report->house;
    struct text text = {0};
    text_printf(&text, "%zu branches, %zu appliances, rules %s, %s ", house->branch_count, house->appliance_count,
                rules_word(house->rules), system_word(house->system));
    text_add_rounded(&text, house->voltage_v, 1);
    if (house->system != SYSTEM_SINGLE_PHASE) {
        text_add_char(&text, '/');
        text_add_rounded(&text, house_circuit_voltage_v(house, 2), 0);
    }
    text_printf(&text, " V, %s ", house_rule_set(house)->main_device);
    text_add_rounded(&text, house->main_breaker_a, 1);
    text_printf(&text, " A. From %s, %s.", report->document->file, report->document->date);
    report_paragraph(report, &text);
}

static void add_cautions(const struct report *report)
{
    print_heading(report->document, 2, "Cautions");
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

struct print_document *print_report(const struct check_answer *check, const struct demand *demand, size_t pictures_most,
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
    report_part_demand(&report);
    report_part_cost(&report);
    report_part_assumptions(&report);
    add_notes(&report);
    return report.document;
}
