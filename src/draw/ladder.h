/*
 * Loads between rails, as the trade draws a parallel circuit: what is to be drawn, without any place. ladder_picture
 * gives it places on a canvas; report, page, class, live lesson, worksheet and `solve` hand over no more than this.
 */
#ifndef AMPSUM_DRAW_LADDER_H
#define AMPSUM_DRAW_LADDER_H

#include "ampsum/pictures.h"
#include "signs.h"

enum { LADDER_RAIL_NAMES = 3, LADDER_SENTENCES = 3, LADDER_SIDE = 5 };

/* Of a rung that holds more than one load: a load, parts one after the other, parts side by side. */
struct ladder_part {
    enum { LADDER_LOAD, LADDER_ROW, LADDER_GROUP } kind;
    const char *name;    /* of a load, over its wire */
    const char *figures; /* under it */
    const char *more;    /* under that; "": none */
    enum wire_gate gate;
    bool bridged;
    const struct ladder_part *parts; /* of a row or group */
    size_t count;
};

/* A load on its wire between two rails. */
struct ladder_rung {
    const struct ladder_part *inside; /* instead of the load; NULL: it is one */
    const char *name;                 /* over the wire */
    const char *figures;              /* under it; NULL: none */
    const char *brief;                /* in their place where they are too long for their line; NULL: they are cut */
    const char *current;              /* at an arrow on its wire; "": the arrow alone; NULL: no arrow */
    bool back;                        /* that arrow points to the left */
    const char *terminal;             /* of a star: at the wire's left end */
    enum load_sign sign;
    enum wire_gate gate;
    bool bridged;          /* shorted: a wire from one end of the sign to the other */
    struct canvas_pen pen; /* of its wire; width 0: that of the signs */
    size_t from;           /* rails, from the left */
    size_t to;
    size_t row; /* from above */
};

/* Of the first and the last rail, from the row above (or the source) to this one: what flows there, out and back. */
struct ladder_stretch {
    const char *current;   /* at an arrow; NULL: none of both */
    struct canvas_pen pen; /* width 0: that of the signs */
    bool still;            /* nothing flows: no arrow */
};

struct ladder {
    const char *title;
    const char *description;
    size_t rails; /* 2 or more */
    size_t rows;
    const struct ladder_rung *rungs;
    size_t count;
    const struct ladder_stretch *stretches;    /* by row */
    const char *rail_names[LADDER_RAIL_NAMES]; /* over the first, a middle and the last rail; NULL: none */
    const char *source;                        /* label of one between the rails' upper ends; NULL: they go on */
    bool mains;                                /* it alternates, else it is a battery */
    bool split;                                /* two of them, from three rails, the middle one the neutral */
    const char *neutral;                       /* at an arrow on the middle rail, back to the source; NULL: none */
    const char *breaker;                       /* beside its sign on the first rail; "": sign alone; NULL: none */
    bool all_poles;                            /* the last rail has the breaker's other pole */
    const char *head[LADDER_SENTENCES];        /* between the rails over the first row, the first one bold */
    const char *foot[LADDER_SENTENCES];        /* under the last row, the first one bold; each may be NULL */
    const char *before;                        /* "continued from ...": the rails come dashed; NULL: they begin here */
    const char *after;                         /* "continued in ...": they go on dashed; NULL: they end here */
    bool star;                                 /* no first rail: each row begins at a terminal with its own name */
    bool point;                                /* no rails: all rungs end in one point, from the left or the right */
    const char *const (*cells)[LADDER_SIDE];   /* LADDER_SIDE rows of a table below; NULL: there is none */
    const char *widest; /* of what may yet be written beside the first rail; NULL: what is written */
    bool marked;        /* rungs, stretches and their currents can be found by a script: rung0, rail0, drawn0 */
};

struct ladder_look {
    double text;   /* size of the lettering, points */
    double stroke; /* width of signs and plain wires */
    bool zigzag;   /* the sign of a resistor */
    double width;  /* of the whole; 0: as wide as its columns ask for, PICTURE_WIDTH at most */
    bool cut;      /* a name too long for its place is shortened, else broken into lines */
    bool bold;     /* names are */
    bool flat;     /* of two rails: name and figures on one line, from the left over the wire, the sign at its right */
};

/* "2 x Phone chargers", the times sign between. */
const char *load_name(const struct appliance *appliance, unsigned units, struct arena *arena);

/* Lamp, motor or, for all else, resistor. */
enum load_sign appliance_sign(const struct appliance *appliance);

/*
 * Memory from `arena`; what the ladder points to must outlive it. A rung alone that holds a long row goes on in further
 * lines; what rungs hold may take more than PICTURE_WIDTH and PICTURE_HEIGHT_MOST: then a smaller look is to be tried.
 */
struct picture ladder_picture(const struct ladder *ladder, const struct ladder_look *look, struct arena *arena);

#endif
