/*
 * Figures and findings as JSON, CSV and words. Computes nothing: what stands here was worked out by engine and rules.
 * Keys and units of the JSON: contract, outputs.md.
 */
#ifndef AMPSUM_REPORT_H
#define AMPSUM_REPORT_H

#include <jansson.h>
#include <stdbool.h>

#include "ampsum/assess.h"
#include "ampsum/energy.h"
#include "ampsum/table.h"
#include "ampsum/text.h"

/* How a text is laid out: columns of the terminal, and whether it can show more than ASCII. */
struct page {
    size_t width;
    bool utf8;
};

/* A JSON number in the key's unit; null where not finite. A whole number prints without a point. */
json_t *json_figure(double value);

/* A string, or null. */
json_t *json_text(const char *string);

/* {"ampsum":1,"command":…,"house":…}: the head of every answer. `house` NULL: the house key is null. */
json_t *json_answer(const char *command, const char *house);

/* Adds "cautions", and any further lines in `more` (NULL-ended, may be NULL). Last key of every answer. */
void json_cautions(json_t *answer, const char *const *more);

/* Appends the JSON text, one line, and a line break. Takes the reference to `answer`. */
void json_write(json_t *answer, struct text *text);

/* The cautions that every answer carries, NULL-ended, and their lines on a terminal. */
extern const char *const report_cautions[];
void report_cautions_text(const struct page *page, const char *const *more, struct text *text);

/* `Mon 18:30`, day and time of a moment; "-" where there is none. */
void report_moment(struct text *text, struct moment at);

/* Appends `string` broken at blanks to the page's width, further lines indented by `indent` blanks. */
void report_wrap(const struct page *page, size_t indent, const char *string, struct text *text);

/* Appends `string` with what the page cannot show spelled in ASCII (degree sign, ohm, times, at most, ...). */
void report_plain(const char *string, struct text *text);

/* The answer of `check`. */
json_t *report_check_json(const struct assessment *assessment, const struct energy_bill *bill);
struct table *report_check_table(const struct assessment *assessment, const struct energy_bill *bill);
void report_check_text(const struct assessment *assessment, const struct energy_bill *bill, const struct page *page,
                       bool summary, bool notes, struct text *text);

struct steps; /* ampsum/steps.h */

/*
 * The working of a branch from an assessment made with `loads`: steps_branch on its loads that are on. The caller frees
 * with steps_done. One place for the terminal, the lessons' house and the local page.
 */
void report_branch_steps(const struct assessment *assessment, size_t index, struct steps *ret_steps);

/* Parts that other answers share with `check`. */
json_t *report_branch_json(const struct assessment *assessment, const struct energy_bill *bill, size_t branch);
json_t *report_findings_json(const struct finding_list *list);
void report_findings_text(const struct finding_list *list, const char *where, bool notes, const struct page *page,
                          struct text *text);
json_t *report_figures_json(const struct branch_figures *figures);

#endif
