/*
 * A ladder with the place of all that it holds. ladder_across.c and ladder_down.c find the places, ladder_rails.c and
 * ladder_rungs.c draw what stands there; ladder.c calls them. For these five files alone.
 */
#ifndef AMPSUM_DRAW_LADDER_PLAN_H
#define AMPSUM_DRAW_LADDER_PLAN_H

#include "ladder.h"
#include "ladder_tree.h"

enum { LADDER_RAILS_MOST = 16 };

static const double ladder_usual_text = 8.5; /* points: of scale 1 */

/* Distances at scale 1, points, by which what is placed and what is drawn agree. */
enum {
    LADDER_PAD = 8,
    LADDER_BREAKER_LONG = 24,
    LADDER_SOURCE_HALF = 11, /* height of its sign */
    LADDER_STUB = 30,        /* of a rail that goes on elsewhere, not scaled */
    LADDER_BESIDE_RAIL = 10,
    LADDER_END_RADIUS = 2,
    LADDER_TREE_SIDE = 28, /* between a rail and what a rung holds: room for the arrow */
    LADDER_HEAD_SIDE = 14  /* from the rails to the head */
};

/* Sentences in lines, those of the first sentence bold. */
struct ladder_block {
    const char **line;
    size_t count;
    size_t bold;
};

struct ladder_plan {
    const struct ladder *ladder;
    struct ladder_look look;
    struct tree_look hand; /* `strong` is also the first sentence of head and foot */
    double row_down;       /* from a wire down to the end of what is written under it */
    bool bare;             /* nothing is said of where the rails come from: they end in terminals */
    size_t last_rail;
    double rail_x[LADDER_RAILS_MOST];
    double right; /* x of the last one */
    double source_y;
    double way_y;  /* where the first rail begins: under the names */
    double down_y; /* where its first stretch begins: under the breaker */
    double head_y; /* base line of the head's first line */
    double *row_y;
    double *row_end;            /* wire of a row's last line, where the last rail takes it up */
    struct canvas_lines *names; /* by rung */
    struct tree_lines *trees;   /* by rung, where it holds more than a load */
    struct canvas_lines source;
    struct ladder_block head; /* as many lines as they need */
    struct ladder_block foot;
    double foot_y;  /* base line of its first line */
    double table_y; /* top of the table */
    double table_row;
    double height;
    double width;
};

/* Width, rails and lines of the plan; then height, rows and what stands around them. Memory from `arena`. */
void ladder_place_across(struct ladder_plan *plan, struct arena *arena);
void ladder_place_down(struct ladder_plan *plan, struct arena *arena);

/* What a name has of the rung's wire. */
double ladder_name_room(const struct ladder_plan *plan, const struct ladder_rung *rung);

/* The signs' pen where that one is not set; the font of a block's line. */
struct canvas_pen ladder_pen(const struct ladder_plan *plan, struct canvas_pen pen);
struct canvas_font ladder_line_font(const struct ladder_plan *plan, const struct ladder_block *block, size_t line);

void ladder_draw_rails(struct canvas *canvas, const struct ladder_plan *plan);
void ladder_draw_rung(struct canvas *canvas, const struct ladder_plan *plan, size_t index);
void ladder_draw_point(struct canvas *canvas, const struct ladder_plan *plan);

/* The end of a wire; lines in the middle of x, the last one with its base line at y. */
void ladder_draw_terminal(struct canvas *canvas, const struct ladder_plan *plan, double x, double y);
void ladder_write_lines(struct canvas *canvas, const struct ladder_plan *plan, double x, double y,
                        struct canvas_font font, struct canvas_lines lines);

#endif
