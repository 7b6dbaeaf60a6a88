/*
 * Pictures of a house in plain trade drawing, from figures that engine and rules worked out; nothing electrical is
 * computed here. Each knows its size and draws itself on any canvas. Black and white: a verdict is a word and a
 * pattern, a series a kind of line. What is long is continued in further pictures; a name that does not fit is
 * shortened, and the tables that stand beside the pictures hold it whole.
 *
 * A maker takes its memory from `arena` and keeps pointers to the assessment, bill and house, which must outlive it.
 *
 * Checked: tests/unit/test_draw.c.
 */
#ifndef AMPSUM_PICTURES_H
#define AMPSUM_PICTURES_H

#include <stddef.h>

#include "ampsum/answer_cost.h"
#include "ampsum/assess.h"
#include "ampsum/canvas.h"
#include "ampsum/day.h"
#include "ampsum/fault_assess.h"
#include "ampsum/wiring.h"

struct picture {
    const char *title;
    const char *description;                                            /* what it shows, in words */
    double width;                                                       /* at most PICTURE_WIDTH */
    double height;                                                      /* at most PICTURE_HEIGHT_MOST on paper */
    void (*draw)(struct canvas *canvas, const struct picture *picture); /* use picture_draw */
    const void *data;
    const struct picture *narrow; /* the same for a screen on which it would not fit, or NULL */
};

struct picture_list {
    struct picture *picture;
    size_t count;
};

/* Two pictures of half the width stand side by side on paper. */
enum { PICTURE_WIDTH = 500, PICTURE_HALF_WIDTH = 240, PICTURE_HEIGHT_MOST = 640 };

/* Draws it with its upper left corner at the canvas's origin. */
void picture_draw(const struct picture *picture, struct canvas *canvas);

/* Appends it as an <svg> element inside HTML. */
void picture_svg(const struct picture *picture, struct text *text);

/* A circuit for paper; for a narrow screen; the same for a class that is to find the currents: none is written, no
 * line's width tells one. */
enum circuit_look { CIRCUIT_PAPER, CIRCUIT_SCREEN, CIRCUIT_COVERED, CIRCUIT_BOARD, CIRCUIT_BOARD_COVERED };

/*
 * A branch as a parallel circuit: breaker, two rails, each load on its rung with name, power and current, an open
 * switch before one that is off, the current in the rail between the rungs, the equivalent resistance. Line and return
 * are as wide as they carry; a note says so where power factors keep currents from adding up. The assessment holds
 * `loads`. None for an empty branch. On a board, which is wide, ten loads are read from the back of a room. `language`:
 * of the words (ampsum/language.h).
 */
struct picture_list pictures_circuit(const struct assessment *assessment, size_t branch, enum circuit_look look,
                                     int language, struct arena *arena);

/*
 * Branches as bars of their planning current, everything on, against their ratings; busiest minute (or the scene) as a
 * mark. The first `count` of `order`, or of the file where that is NULL.
 */
struct picture_list pictures_bars(const struct assessment *assessment, const size_t *order, size_t count,
                                  struct arena *arena);

/*
 * Current over a day with the rating and the line of the rule `near-share`; narrow: half as wide, for paper and small
 * screens. The series must outlive the picture.
 */
struct picture picture_day(const char *what, const struct day_series *series, double near_share, bool narrow,
                           struct arena *arena);

/*
 * Voltage along the wire of a branch, tree or ring, from a solved wiring; nominal and allowed drop as lines. Copies
 * what it draws. `allowed_percent` NAN: no line.
 */
struct picture picture_wire(const struct wiring *wiring, double supply_v, double allowed_percent, struct arena *arena);

/* Energy of the year of the `most` largest appliances, the others together. The answer must outlive the picture. */
struct picture picture_energy(const struct cost_answer *answer, size_t most, struct arena *arena);

/* The loop that a fault to earth closes at a point of a branch, with its resistances and the least current. */
struct picture picture_fault(const struct fault_study *study, size_t branch, const struct fault_point *point,
                             struct arena *arena);

/* The pattern of a verdict; its word: show_verdict. */
enum canvas_fill verdict_fill(enum verdict verdict);

#endif
