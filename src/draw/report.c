/* The report: its order, and its head. */
#include "ampsum/answer_combos.h"
#include "ampsum/cautions.h"
#include "ampsum/reference.h"
#include "ampsum/show_check.h"
#include "ampsum/show_combos.h"
#include "report_parts.h"

void report_paragraph(const struct report *report, struct text *text)
{
    print_paragraph(report->document, text_string(text));
    text_done(text);
}

void report_annex(const struct report *report, const char *heading)
{
    print_heading(report->document, 2, heading);
    print_last(report->document)->folded = true;
}

/* A circuit of very many loads is a book of its own, which says no more than their table. */
static void choose_circuits(struct report *report, size_t most, enum verdict least)
{
    struct arena *arena = report->document->arena;
    const bool *worst = report_worst(report->check, most, least, arena);
    bool *circuits = arena_array(arena, report->house->branch_count, sizeof *circuits);
    for (size_t i = 0; i < report->house->branch_count; i++) {
        circuits[i] = worst[i] && report->house->branches[i].appliances.count <= REPORT_CIRCUIT_LOADS_MOST;
        report->circuit_count += circuits[i];
    }
    report->circuits = circuits;
}

/*
 * Which branches get pictures. Of PICTURES_USUAL: the circuit of the worst alone, as the example of all; the days of
 * those over or at risk; the wire with the most drop.
 */
static void choose_pictured(struct report *report, size_t most)
{
    const bool usual = most == PICTURES_USUAL;
    report->pictures_most = usual ? 1 : most;
    choose_circuits(report, usual ? 1 : most, usual ? VERDICT_AT_RISK : VERDICT_OK);
    report->days = report_worst(report->check, usual ? PICTURES_USUAL_MOST : most,
                                usual ? VERDICT_AT_RISK : VERDICT_NEAR, report->document->arena);
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

/* Panels that are full, or whose feeder asks for a look. */
static void add_panel_needs(const struct report *report)
{
    for (size_t i = 0; i < report->house->panel_count; i++) {
        struct text text = {0};
        show_check_panel(report->check, i, &text);
        if (text.length > 0) {
            print_paragraph(report->document, text_string(&text));
        }
        text_done(&text);
    }
}

/* The smallest set that may not run together on a branch. */
static void add_set(const struct report *report, size_t branch)
{
    const struct combos_question question = {.branch = branch, .most = 1};
    struct combos_answer answer;
    struct text lead = {0};
    struct text text = {0};
    text_printf(&lead, "%s:", report->house->branches[branch].label);
    if (answer_combos(report->house, &question, &answer, NULL) && answer.count > 0) {
        text_add(&text, answer.rows[0].set->units > 1 ? "not together: " : "too much alone: ");
        decide_names(answer.house, answer.index, answer.rows[0].set, &text);
        text_printf(&text, ".%s", show_check_besides(report->check, branch));
    } else {
        text_add(&text, "see its findings, and ask a licensed electrician.");
    }
    print_item(report->document, text_string(&lead), text_string(&text));
    text_done(&lead);
    text_done(&text);
    combos_answer_done(&answer);
}

static void add_advice(const struct report *report)
{
    enum { TOLD_MOST = 6, LOADS_MOST = 24 };
    size_t count;
    const size_t *advised = report_advised(report->check, TOLD_MOST, LOADS_MOST, report->document->arena, &count);
    print_heading(report->document, 2, "What to do");
    for (size_t i = 0; i < count; i++) {
        add_set(report, advised[i]);
    }
    add_panel_needs(report);
    print_paragraph(report->document, count == 0 ? "No branch is over or at risk from what the house says."
                                                 : "Otherwise fewer loads at a time, another branch, or a licensed "
                                                   "electrician. What exceeds what stands below.");
}

/* The first page: verdict, bars, what to do, the bill. */
static void add_first_page(const struct report *report)
{
    enum { BARS_MOST = 12 };
    const size_t branches = report->house->branch_count;
    const size_t *order = check_worst_first(report->check, report->document->arena);
    struct text bill = {0};
    report_verdicts(report);
    print_pictures(
        report->document,
        pictures_bars(report->assessment, order, branches < BARS_MOST ? branches : BARS_MOST, report->document->arena));
    if (branches > BARS_MOST) {
        print_paragraph(report->document, branches > REPORT_BRANCHES_MOST
                                              ? "The worst branches; more of them stand in the annex."
                                              : "The worst branches; all of them stand in the annex.");
    }
    add_advice(report);
    report_bill(report, &bill);
    print_heading(report->document, 2, "The bill");
    report_paragraph(report, &bill);
}

static void add_notes(const struct report *report)
{
    report_annex(report, "Notes of the electrician");
    print_paragraph(report->document, "What was seen, measured and changed; name, licence number, date.");
    print_lines(report->document, 20);
}

struct print_document *print_report(const struct check_answer *check, const struct demand_answer *demand,
                                    size_t pictures_most, const struct print_head *head)
{
    struct report report = {.document = print_new("what is on each branch", check->house->name, head),
                            .check = check,
                            .house = check->house,
                            .assessment = check->assessment,
                            .bill = check->bill,
                            .demand = demand};
    choose_pictured(&report, pictures_most);
    add_head(&report);
    add_first_page(&report);
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
