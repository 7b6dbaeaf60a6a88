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

void sign_wire(struct canvas *canvas, const struct sign_style *style, double x1, double y1, double x2, double y2)
{
    canvas_line(canvas, x1, y1, x2, y2, sign_pen(style));
}

/* Half the length that the sign takes of its wire, without the style's scale. */
static double sign_half(enum load_sign sign)
{
    return sign == SIGN_RESISTOR ? resistor_half : sign == SIGN_NONE ? 0 : circle;
}

/* A rectangle, or a line of teeth. */
static void sign_resistor(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    const double half = resistor_half * style->scale;
    const double high = resistor_half_height * style->scale;
    if (!style->zigzag) {
        canvas_rectangle(canvas, x - half, y - high, 2 * half, 2 * high, CANVAS_CLEAR, style->stroke);
        return;
    }
    struct canvas_point points[TEETH + 2];
    points[0] = (struct canvas_point){x - half, y};
    for (int i = 0; i < TEETH; i++) {
        points[i + 1] = (struct canvas_point){x - half + (2 * i + 1) * half / TEETH, y + (i % 2 == 0 ? -high : high)};
    }
    points[TEETH + 1] = (struct canvas_point){x + half, y};
    canvas_polyline(canvas, points, TEETH + 2, sign_pen(style));
}

/* Circle with M, circle with a cross, resistor. */
static void sign_load(struct canvas *canvas, const struct sign_style *style, enum load_sign sign, double x, double y)
{
    const double scale = style->scale;
    const double corner = 4.9 * scale;
    switch (sign) {
    case SIGN_NONE:
        break;
    case SIGN_RESISTOR:
        sign_resistor(canvas, style, x, y);
        break;
    case SIGN_MOTOR:
        canvas_circle(canvas, x, y, circle * scale, false, style->stroke);
        canvas_text(canvas, x, y + 3 * scale, CANVAS_MIDDLE, (struct canvas_font){style->text, true}, "M");
        break;
    case SIGN_LAMP:
        canvas_circle(canvas, x, y, circle * scale, false, style->stroke);
        sign_wire(canvas, style, x - corner, y - corner, x + corner, y + corner);
        sign_wire(canvas, style, x - corner, y + corner, x + corner, y - corner);
        break;
    }
}

double sign_battery(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    const double scale = style->scale;
    const struct canvas_font font = {style->text, true};
    sign_wire(canvas, style, x - 3 * scale, y - 11 * scale, x - 3 * scale, y + 11 * scale);
    sign_wire(canvas, style, x + 3 * scale, y - 5.5 * scale, x + 3 * scale, y + 5.5 * scale);
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

/* One step of a way. */
static const double along_x[] = {[WAY_RIGHT] = 1, [WAY_DOWN] = 0, [WAY_LEFT] = -1, [WAY_UP] = 0};
static const double along_y[] = {[WAY_RIGHT] = 0, [WAY_DOWN] = 1, [WAY_LEFT] = 0, [WAY_UP] = -1};

void sign_breaker(struct canvas *canvas, const struct sign_style *style, double x, double y, enum sign_way way)
{
    const double scale = style->scale;
    const double arm = 3 * scale;
    const double back = 4 * scale;
    const double beside = 10 * scale;
    sign_wire(canvas, style, x - arm, y - arm, x + arm, y + arm);
    sign_wire(canvas, style, x - arm, y + arm, x + arm, y - arm);
    sign_wire(canvas, style, x + 24 * scale * along_x[way], y + 24 * scale * along_y[way],
              x + back * along_x[way] - beside * along_y[way], y + back * along_y[way] - beside * along_x[way]);
}

void sign_arrow(struct canvas *canvas, const struct sign_style *style, double x, double y, enum sign_way way,
                double wire_width)
{
    const double half = fmax(3 * style->scale, wire_width / 2 + 2 * style->scale);
    const double back = half * 7 / 3;
    const double end_x = x - back * along_x[way];
    const double end_y = y - back * along_y[way];
    const struct canvas_point points[] = {{end_x - half * along_y[way], end_y - half * along_x[way]},
                                          {end_x + half * along_y[way], end_y + half * along_x[way]},
                                          {x, y}};
    canvas_polygon(canvas, points, 3, false);
}

void sign_joint(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    canvas_circle(canvas, x, y, 2 * style->scale, true, 0);
}

/* Two slanted strokes where a wire is broken off. */
static void draw_break(struct canvas *canvas, const struct sign_style *style, double x, double y)
{
    const double scale = style->scale;
    for (double at = x + 3 * scale; at < x + gate_long * scale; at += 12 * scale) {
        sign_wire(canvas, style, at, y + 6 * scale, at + 5 * scale, y - 6 * scale);
    }
}

/*
 * The blade hangs at the wire's left end. Closed it lies on the fixed contact, which stands across the wire's right end
 * for it, as IEC 60617 draws a contact that is closed as drawn; open it rises clear of it.
 */
static void draw_contact(struct canvas *canvas, const struct sign_style *style, bool open, double x, double y)
{
    const double scale = style->scale;
    const double reach = (open ? gate_long - 2 : gate_long + 3) * scale;
    const double rise = (open ? 9 : 5.5) * scale;
    sign_wire(canvas, style, x, y, x + reach, y - rise);
    if (!open) {
        const double fixed = x + gate_long * scale;
        sign_wire(canvas, style, fixed, y, fixed, y - rise * gate_long * scale / reach);
    }
}

static void draw_gate(struct canvas *canvas, const struct sign_style *style, enum wire_gate gate, double x, double y)
{
    if (gate == GATE_BREAK) {
        draw_break(canvas, style, x, y);
        return;
    }
    if (gate != GATE_EITHER) {
        draw_contact(canvas, style, gate == GATE_OPEN, x, y);
        return;
    }
    for (int open = 0; open < 2; open++) {
        canvas_mark(canvas, NULL, 0, open ? "open" : "closed");
        canvas_group(canvas, NULL, NULL);
        draw_contact(canvas, style, open != 0, x, y);
        canvas_group_end(canvas);
    }
}

/* From one end of the sign to the other, over it. */
static void draw_bridge(struct canvas *canvas, const struct sign_style *style, double x, double y, double half)
{
    const double beside = half + 6 * style->scale;
    const double above = y - 9 * style->scale;
    const struct canvas_point points[] = {{x - beside, y}, {x - beside, above}, {x + beside, above}, {x + beside, y}};
    canvas_polyline(canvas, points, 4, sign_pen(style));
}

void draw_rung_wire(struct canvas *canvas, const struct sign_style *style, const struct rung *rung)
{
    const double middle = rung->sign_x > 0 ? rung->sign_x : (rung->x1 + rung->x2) / 2;
    const double half = sign_half(rung->sign) * style->scale;
    const double gate_x = rung->x1 + gate_at * style->scale;
    const bool gated = rung->gate != GATE_NONE;
    if (rung->gate == GATE_EITHER) {
        canvas_mark(canvas, NULL, 0, "wire");
        canvas_group(canvas, NULL, NULL);
    }
    if (gated) {
        canvas_line(canvas, rung->x1, rung->y, gate_x, rung->y, rung->pen);
    }
    canvas_line(canvas, gated ? gate_x + gate_long * style->scale : rung->x1, rung->y, middle - half, rung->y,
                rung->pen);
    canvas_line(canvas, middle + half, rung->y, rung->x2, rung->y, rung->pen);
    if (rung->gate == GATE_EITHER) {
        canvas_group_end(canvas);
    }
    if (gated) {
        draw_gate(canvas, style, rung->gate, gate_x, rung->y);
    }
    sign_load(canvas, style, rung->sign, middle, rung->y);
    if (rung->bridged) {
        draw_bridge(canvas, style, middle, rung->y, half);
    }
}
