/* The parts of the report, in its order. Each adds its blocks to the document. */
#ifndef AMPSUM_DRAW_REPORT_PARTS_H
#define AMPSUM_DRAW_REPORT_PARTS_H

#include "ampsum/answer_report.h"
#include "ampsum/print.h"
#include "ampsum/show_demand.h"

/*
 * What a report lists at most of a house that is no home any more: the worst of it, and behind it how much is left out
 * and what that comes to. So it is made within two seconds, however large the house.
 */
enum {
    REPORT_BRANCHES_MOST = 1000,
    REPORT_LOADS_MOST = 2000,
    REPORT_BRANCH_LOADS_MOST = 1000, /* of one branch */
    REPORT_CIRCUIT_LOADS_MOST = 60,  /* drawn in parallel */
    REPORT_FINDINGS_MOST = 500,
    REPORT_POINTS_MOST = 1000, /* outlets in a table */
    REPORT_PANELS_MOST = 500
};

struct report {
    struct print_document *document;
    const struct check_answer *check;
    const struct house *house;
    const struct assessment *assessment;
    const struct energy_bill *bill;
    const struct demand_answer *demand;
    size_t pictures_most; /* wires drawn, those with the most drop */
    const bool *circuits; /* by branch: whether its circuit is drawn */
    size_t circuit_count;
    const bool *days; /* by branch: whether its day is drawn */
};

/* How many branches have which verdict, as a sentence. */
void report_verdicts(const struct report *report);

/* Begins a part of the annex: a screen folds it under its heading. */
void report_annex(const struct report *report, const char *heading);

/* Energy and money of a day and a year, as a sentence; without a tariff what is missing and where it stands. */
void report_bill(const struct report *report, struct text *text);

void report_part_findings(const struct report *report);
void report_part_sources(const struct report *report);
void report_part_branches(const struct report *report);
void report_part_panels(const struct report *report);
void report_part_loads(const struct report *report);
void report_part_days(const struct report *report);
void report_part_wires(const struct report *report);
void report_part_faults(const struct report *report);
void report_part_demand(const struct report *report);
void report_part_cost(const struct report *report);
void report_part_assumptions(const struct report *report);

/* A paragraph from a text, which is emptied. */
void report_paragraph(const struct report *report, struct text *text);

/*
 * What report and service sheet have alike. A paragraph, which is emptied, and a list of sentences (NULL-ended), in
 * people's words; the methods of a demand side by side; the lines of one, where it has any, with their sum; the sources
 * that these lines met, for which there is room.
 */
void paper_plain(struct print_document *document, enum print_style style, struct text *text);
void paper_items(struct print_document *document, const char *const *sentence);
void paper_methods(struct print_document *document, const struct demand_answer *answer);
bool paper_has_lines(const struct service_method *method);
void paper_method(struct print_document *document, const struct demand_answer *answer,
                  const struct service_method *method, struct show_sources *sources);
struct show_sources paper_room_for_sources(const struct demand_answer *answer, struct arena *arena);
void paper_sources(struct print_document *document, const struct show_sources *sources);

#endif
