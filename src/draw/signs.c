#include "signs.h"

#include <math.h>

enum { TEETH = 6, WAVE_POINTS = 13 };

static const double resistor_half = 22;
static const double resistor_half_height = 5;
static const double circle = 7;
static const double gate_at = 24; /* of a wire from its joint on */
static const double gate_long = 20;

struct canvas_pen sign_pen(const struct sign_style *style)
{
    return (struct canvas_pen){style->stroke, CANVAS_SOLID};
}

double sign_half(enum load_sign sign)
{
    return sign == SIGN_RESISTOR ? resistor_half : sign == SIGN_NONE ? 0 : circle;
}

void sign_resistor(struct canvas *canvas, const struct sign_style *style, double x, double y, double half,
                   double half_height)
{
    if (!style->zigzag) {
        canvas_rectangle(canvas, x - half, y - half_height, 2 * half, 2 * half_height, CANVAS_CLEAR, style->stroke);
        return;
    }
    struct canvas_point points[TEETH + 2];
    points[0] = (struct canvas_point){x - half, y};
    for (int i = 0; i < TEETH; i++) {
        points[i + 1] =
            (struct canvas_point){x - half + (2 * i + 1) * half / TEETH, y + (i % 2 == 0 ? -half_height : half_height)};
    }
    points[TEETH + 1] = (struct canvas_point){x + half, y};
    canvas_polyline(canvas, points, TEETH + 2, sign_pen(style));
}

void sign_load(struct canvas *canvas, const struct sign_style *style, enum load_sign sign, double x, double y)
{
    const double scale = style->scale;
    const double corner = 4.9 * scale;
    switch (sign) {
    case SIGN_NONE:
        break;
    case SIGN_RESISTOR:
        sign_resistor(canvas, style, x, y, resistor_half * scale, resistor_half_height * scale);
        break;
    case SIGN_MOTOR:
        canvas_circle(canvas, x, y, circle * scale, false, style->stroke);
        canvas_text(canvas, x, y + 3 * scale, CANVAS_MIDDLE, (struct canvas_font){8.5 * scale, true}, "M");
        break;
    case SIGN_LAMP:
        canvas_circle(canvas, x, y, circle * scale, false, style->stroke);
        canvas_line(canvas, x - corner, y - corner, x + corner, y + corner, sign_pen(style));
        canvas_line(canvas, x - corner, y + corner, x + corner, y - corner, sign_pen(style));
        break;
    }
}

double sign_battery(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    const double scale = style->scale;
    const struct canvas_font font = {8.5 * scale, true};
    canvas_line(canvas, x - 3 * scale, y - 11 * scale, x - 3 * scale, y + 11 * scale, sign_pen(style));
    canvas_line(canvas, x + 3 * scale, y - 5.5 * scale, x + 3 * scale, y + 5.5 * scale, sign_pen(style));
    canvas_text(canvas, x - 12 * scale, y + 11 * scale, CANVAS_MIDDLE, font, "+");
    canvas_text(canvas, x + 12 * scale, y + 11 * scale, CANVAS_MIDDLE, font, "\xE2\x88\x92");
    return 3 * scale;
}

double sign_alternating(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    static const double two_pi = 6.28318530717958647692;
    const double radius = 10 * style->scale;
    struct canvas_point wave[WAVE_POINTS];
    for (int i = 0; i < WAVE_POINTS; i++) {
        const double along = (double)i / (WAVE_POINTS - 1);
        wave[i] = (struct canvas_point){x + radius * (1.2 * along - 0.6), y - radius * 0.35 * sin(two_pi * along)};
    }
    canvas_circle(canvas, x, y, radius, false, style->stroke);
    canvas_polyline(canvas, wave, WAVE_POINTS, sign_pen(style));
    return radius;
}

void sign_breaker(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    const double scale = style->scale;
    const double arm = 3 * scale;
    canvas_line(canvas, x - arm, y - arm, x + arm, y + arm, sign_pen(style));
    canvas_line(canvas, x - arm, y + arm, x + arm, y - arm, sign_pen(style));
    canvas_line(canvas, x, y + 24 * scale, x - 10 * scale, y + 4 * scale, sign_pen(style));
}

void sign_arrow(struct canvas *canvas, const struct sign_style *style, double x, double y, bool down)
{
    const double half = 3 * style->scale;
    const double back = 7 * style->scale;
    const struct canvas_point right[] = {{x - back, y - half}, {x - back, y + half}, {x, y}};
    const struct canvas_point below[] = {{x - half, y - back}, {x + half, y - back}, {x, y}};
    canvas_polygon(canvas, down ? below : right, 3, false);
}

void sign_joint(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    canvas_circle(canvas, x, y, 2 * style->scale, true, 0);
}

/* A contact that stands open or closed, or a wire that is broken off. */
static void draw_gate(struct canvas *canvas, const struct sign_style *style, enum wire_gate gate, double x, double y)
{
    const double scale = style->scale;
    if (gate == GATE_BREAK) {
        for (double at = x + 3 * scale; at < x + gate_long * scale; at += 12 * scale) {
            canvas_line(canvas, at, y + 6 * scale, at + 5 * scale, y - 6 * scale, sign_pen(style));
        }
        return;
    }
    canvas_line(canvas, x, y, x + (gate_long - 2) * scale, y - (gate == GATE_OPEN ? 9 : 2) * scale, sign_pen(style));
    if (gate == GATE_CLOSED) {
        canvas_circle(canvas, x, y, 1.6 * scale, true, 0);
        canvas_circle(canvas, x + gate_long * scale, y, 1.6 * scale, true, 0);
        canvas_line(canvas, x, y, x + gate_long * scale, y, sign_pen(style));
    }
}

void draw_rung_wire(struct canvas *canvas, const struct sign_style *style, const struct rung *rung)
{
    const double middle = (rung->x1 + rung->x2) / 2;
    const double half = sign_half(rung->sign) * style->scale;
    double from_x = rung->x1;
    if (rung->gate != GATE_NONE) {
        const double gate_x = rung->x1 + gate_at * style->scale;
        canvas_line(canvas, rung->x1, rung->y, gate_x, rung->y, rung->pen);
        draw_gate(canvas, style, rung->gate, gate_x, rung->y);
        from_x = gate_x + gate_long * style->scale;
    }
    canvas_line(canvas, from_x, rung->y, middle - half, rung->y, rung->pen);
    canvas_line(canvas, middle + half, rung->y, rung->x2, rung->y, rung->pen);
    sign_joint(canvas, style, rung->x1, rung->y);
    sign_joint(canvas, style, rung->x2, rung->y);
    sign_load(canvas, style, rung->sign, middle, rung->y);
}
