/* The trade's signs of a circuit, and a load on its wire: every drawing of a circuit is made of these. */
#ifndef AMPSUM_DRAW_SIGNS_H
#define AMPSUM_DRAW_SIGNS_H

#include "ampsum/canvas.h"

/* Of one drawing. At scale 1 a resistor is 44 points long. */
struct sign_style {
    double scale;
    double stroke; /* width of the signs' lines */
    double text;   /* size of their letters */
    bool zigzag;   /* a resistor is three teeth up and down, else a rectangle */
};

enum load_sign { SIGN_RESISTOR, SIGN_MOTOR, SIGN_LAMP, SIGN_NONE };

/* What interrupts a load's wire, or could. GATE_EITHER: closed and open over one another, for a script to choose. */
enum wire_gate { GATE_NONE, GATE_CLOSED, GATE_OPEN, GATE_BREAK, GATE_EITHER };

/* A load on a lying wire from x1 to x2 > x1. */
struct rung {
    double x1;
    double x2;
    double y;
    enum load_sign sign;
    enum wire_gate gate;
    bool bridged;          /* a wire from one end of the sign to the other */
    struct canvas_pen pen; /* of its wire */
    double sign_x;         /* the sign's middle; 0: halfway */
};

enum sign_way { WAY_RIGHT, WAY_DOWN, WAY_LEFT, WAY_UP };

struct canvas_pen sign_pen(const struct sign_style *style);

void sign_wire(struct canvas *canvas, const struct sign_style *style, double x1, double y1, double x2, double y2);

/* On a lying wire, + at the left: long and short stroke; a circle with a wave. What they take to each side. */
double sign_battery(struct canvas *canvas, const struct sign_style *style, double x, double y);
double sign_alternating(struct canvas *canvas, const struct sign_style *style, double x, double y);

/* The breaker's sign from x, y on, down or to the right: a cross at the fixed end of a contact, 24 points at scale 1.
 */
void sign_breaker(struct canvas *canvas, const struct sign_style *style, double x, double y, enum sign_way way);

/* A filled arrow head with its tip at x, y, on a wire of that width, beyond which it stands out. */
void sign_arrow(struct canvas *canvas, const struct sign_style *style, double x, double y, enum sign_way way,
                double wire_width);

/* The joint of wires. */
void sign_joint(struct canvas *canvas, const struct sign_style *style, double x, double y);

/* Wire, gate and sign. */
void draw_rung_wire(struct canvas *canvas, const struct sign_style *style, const struct rung *rung);

#endif
