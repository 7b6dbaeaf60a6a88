/*
 * The answers of `check` and `branch` as rows and sentences (ampsum/answer_check.h, answer_branch.h). Computes nothing.
 *
 * Checked: tests/golden/check-rows, check-us, check-iec, check-uk, branch-demo; tests/unit/test_show_rows.c.
 */
#ifndef AMPSUM_SHOW_CHECK_H
#define AMPSUM_SHOW_CHECK_H

#include "ampsum/answer_branch.h"
#include "ampsum/answer_check.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each branch of a struct check_answer, in file order: every face's columns. */
enum { SHOW_BAR_SIGNS = 10 }; /* of a bar on a terminal, which ends at the rating */

extern const struct show_rows show_check_rows;

/* The one row of a struct branch_figures (JSON): current, planning current, power and the rest. */
extern const struct show_rows show_figure_rows;

/* The one row of a struct energy_bill (JSON): energy and cost. */
extern const struct show_rows show_energy_rows;

/* The key `supply_v` of a struct assessment (JSON), line to neutral: figures hold for another than the nominal one. */
extern const struct show_rows show_supply_v_rows;

/* A row for each load of a struct branch_answer; the number of them. */
extern const struct show_rows show_load_rows;
size_t show_load_count(const struct branch_answer *answer);

json_t *show_check_json(const struct check_answer *answer);
void show_check_text(const struct check_answer *answer, const struct page *page, bool summary, bool notes,
                     struct text *text);

/*
 * What to do on a branch that is near, what is left on one that has room or is empty: one sentence. Nothing of one that
 * is over or at risk, whose loads may not all run together.
 */
void show_check_left(const struct check_answer *answer, size_t branch, struct text *text);

/* Where a danger stands beside what loads do together: a sentence with a blank before it; else "". */
const char *show_check_besides(const struct check_answer *answer, size_t branch);

/* What is to be done about a panel, a sentence; nothing where nothing is. */
void show_check_panel(const struct check_answer *answer, size_t panel, struct text *text);

/*
 * What the verdicts mean, as a sentence for any face. `danger`: where the dangers that also make an OVER stand
 * ("below"). The share from which a branch is near is the rule set's own.
 */
void show_legend(const struct check_answer *answer, const char *danger, struct text *text);

json_t *show_branch_json(const struct branch_answer *answer);

/* `wire`: of the branch (ampsum/answer_wire.h), for the working too; NULL: without. */
struct wire_branch;
void show_branch_text(const struct branch_answer *answer, const struct wire_branch *wire, const struct page *page,
                      struct text *text);

/* Planning currents with everything on, what is left on its breaker or how far it is over, and at the busiest minute.
 */
void show_branch_everything(const struct branch_answer *answer, struct text *text);

/* How loads that are connected by halves to two lines and the neutral are worked; "" where none is. */
const char *show_branch_halves(const struct branch_answer *answer);

/* The steps of the branch alone. */
void show_branch_working(const struct branch_answer *answer, const struct page *page, struct text *text);

#endif
