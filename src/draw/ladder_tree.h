/* Parts one after the other and side by side on one rung of a ladder: what room they take, then their strokes. */
#ifndef AMPSUM_DRAW_LADDER_TREE_H
#define AMPSUM_DRAW_LADDER_TREE_H

#include "ladder.h"

/* How the ladder writes and draws. */
struct tree_look {
    struct sign_style style;
    struct canvas_font font;
    struct canvas_font strong; /* of names */
    double line;               /* height of one of text */
    double above;              /* from a wire up to the base line of a name */
    double below;              /* from a wire down to that of the first line of figures */
};

/* Width, and what lies above and below the wire. */
struct tree_box {
    double width;
    double up;
    double down;
};

/* Members of a row that stand in one line. */
struct tree_line {
    size_t first;
    size_t end;
    struct tree_box box;
    double y; /* of its wire below the first line's */
};

struct tree_lines {
    struct tree_line *line;
    size_t count;
    double width; /* of the widest */
    double up;    /* of the first */
    double down;  /* below the first line's wire, all lines */
};

/* A row too long for `room` goes on in further lines; what is no row is one. Memory from `arena`. */
struct tree_lines tree_lines(const struct tree_look *look, const struct ladder_part *part, double room,
                             struct arena *arena);

/* Between two rails at x1 and x2, the first line's wire at y; `side`: what stays free beside each rail. */
void tree_draw(struct canvas *canvas, const struct tree_look *look, const struct ladder_part *part,
               const struct tree_lines *lines, struct canvas_point left, double right, double side);

#endif
