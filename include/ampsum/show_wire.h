/*
 * The answer of `wire` as rows and sentences (ampsum/answer_wire.h). Computes nothing.
 *
 * Checked: tests/golden/wire-demo, wire-ring, wire-collapse.
 */
#ifndef AMPSUM_SHOW_WIRE_H
#define AMPSUM_SHOW_WIRE_H

#include "ampsum/answer_wire.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* Rows of a struct wire_answer: each branch; each piece of a broken ring, outlet of a starting motor, size, length. */
extern const struct show_rows show_wire_rows;
extern const struct show_rows show_break_rows;
extern const struct show_rows show_start_rows;
extern const struct show_rows show_size_rows;
extern const struct show_rows show_longest_rows;

/* One branch's points, over a struct show_points; how many a face shows of them. */
struct show_points {
    const struct house *house;
    const struct wire_branch *wire;
};
extern const struct show_rows show_point_rows;

json_t *show_wire_json(const struct wire_answer *answer);

/* The rows that CSV has of an answer: of the study asked for, else of the branch, else of all branches. */
struct table *show_wire_csv(const struct wire_answer *answer, bool of_one);

/* `of_one`: one branch was asked about; `working`: how well the laws are kept, and the drop in two ways. */
void show_wire_text(const struct wire_answer *answer, bool of_one, bool working, const struct page *page,
                    struct text *text);

/* The working of a solved branch alone. */
void show_wire_working(const struct house *house, const struct wire_branch *wire, struct text *text);

#endif
