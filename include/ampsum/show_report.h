/*
 * What a report alone has as rows (ampsum/answer_report.h). Computes nothing.
 *
 * Checked: tests/unit/test_draw.c.
 */
#ifndef AMPSUM_SHOW_REPORT_H
#define AMPSUM_SHOW_REPORT_H

#include "ampsum/answer_report.h"
#include "ampsum/show_rows.h"

/* A row for each panel of a struct check_answer: its currents with everything on, by leg. */
extern const struct show_rows show_report_panel_rows;

/* A row for each of an array of struct found: its number with what is held against what and the source; its sentence.
 */
extern const struct show_rows show_report_number_rows;
extern const struct show_rows show_report_note_rows;

/* Appends where something was found: the label of a branch, `panel Main`. */
void show_found_where(const struct found_where *where, struct text *text);

#endif
