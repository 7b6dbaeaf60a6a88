/*
 * What the drawing of a question shows, as things and words without any geometry: rails, one for each node, and rungs
 * between them, and the sentence that says it. src/draw gives it places on paper.
 * Checked: tests/unit/test_lesson_figure.c.
 */
#ifndef AMPSUM_LESSON_FIGURE_H
#define AMPSUM_LESSON_FIGURE_H

#include "ampsum/arena.h"
#include "ampsum/lesson.h"

enum lesson_sign { LESSON_RESISTOR, LESSON_MACHINE, LESSON_BARE };

struct lesson_rung {
    const char *label;    /* "R1 = 12 ohm", "kettle, P1 = 960 W" */
    const char *current;  /* at the arrow on its wire: "I1"; NULL for none */
    bool back;            /* that arrow points to the left */
    const char *terminal; /* of a star, at its left end: "L1" */
    enum lesson_sign sign;
    enum lesson_gate gate;
    size_t from; /* rails, from the left */
    size_t to;
    size_t row; /* from above */
};

struct lesson_figure {
    size_t rails; /* 2 or more */
    size_t rows;
    struct lesson_rung *rungs;
    size_t count;
    const char *source;        /* its label; NULL: none is drawn */
    const char *total;         /* at the arrow behind the source, "I"; NULL for none */
    bool mains;                /* the source alternates, else it is a battery */
    bool split;                /* two sources, above the first and the second column */
    const char *neutral;       /* at the arrow on the neutral of two sources; NULL for none */
    bool star;                 /* no first rail: each row begins at a terminal */
    bool point;                /* no rails: all rungs end in one point, from the left or the right */
    const char *breaker;       /* its rating, "15 A"; NULL for none */
    const char *rail_names[3]; /* of a split supply; NULL for none */
    const char *note;          /* below; NULL for none */
    const char *cells[LESSON_GRID_SIDE + 1][LESSON_GRID_SIDE + 1]; /* of a table below; NULL: there is none */
    const char *title;                                             /* "Circuit" */
    const char *sentence;                                          /* all of it in words */
};

/* False for a question without a drawing. `paper`: as on paper, with the ohm's Greek letter. All of it lives in
 * `arena`, which must not outlive the question. */
bool lesson_figure(const struct lesson_plan *plan, const struct lesson_question *question, bool paper,
                   struct arena *arena, struct lesson_figure *ret_figure);

#endif
