/* What hangs between the rails of a ladder: a load on its wire, its words, its arrow; or wires that meet in a point. */
#include <math.h>

#include "ladder_plan.h"

/* Of a flat look, at scale 1, points. */
static const double flat_left = 24;  /* from the rail to the words, past the arrow */
static const double flat_gate = 48;  /* past a contact */
static const double flat_right = 32; /* from the sign's middle to the rail */
static const double flat_sign = 24;  /* half the room of a sign */

/* A little smaller where the words would be cut else. */
static struct canvas_font fitting(struct canvas_font font, double width, const char *words)
{
    const double least = 0.85;
    const double share = 0.98 * width / canvas_text_width(font, words);
    return (struct canvas_font){font.size * fmin(1, fmax(least, share)), font.bold};
}

static void draw_current(struct canvas *canvas, const struct ladder_plan *plan, const struct ladder_rung *rung,
                         const struct rung *wire)
{
    const double scale = plan->hand.style.scale;
    const double tip = wire->x1 + (rung->back ? 11 : 18) * scale;
    if (rung->current == NULL) {
        return;
    }
    sign_arrow(canvas, &plan->hand.style, tip, wire->y, rung->back ? WAY_LEFT : WAY_RIGHT, wire->pen.width);
    if (rung->current[0] != '\0') {
        canvas_text(canvas, wire->x1 + 14 * scale, wire->y - 6 * scale, CANVAS_MIDDLE, plan->hand.font, rung->current);
    }
}

/* What can be pressed: the whole width of the rung, without ink. */
static void draw_touch(struct canvas *canvas, const struct ladder_plan *plan, const struct rung *wire)
{
    const double up = wire->y - plan->hand.above - plan->hand.line;
    const double down = wire->y + plan->row_down;
    const struct canvas_point corners[] = {{wire->x1, up}, {wire->x2, up}, {wire->x2, down}, {wire->x1, down}};
    canvas_mark(canvas, NULL, 0, "touch");
    canvas_polygon(canvas, corners, 4, true);
}

/* The joints of a rung, but of one that closes a single loop; of a star its terminal. */
static void draw_ends(struct canvas *canvas, const struct ladder_plan *plan, const struct ladder_rung *rung,
                      const struct rung *wire)
{
    const double scale = plan->hand.style.scale;
    if (plan->ladder->star) {
        ladder_draw_terminal(canvas, plan, wire->x1, wire->y);
        canvas_text(canvas, wire->x1 - 6 * scale, wire->y + 0.36 * plan->hand.font.size, CANVAS_END, plan->hand.font,
                    rung->terminal);
    } else if (plan->ladder->count > 1) {
        sign_joint(canvas, &plan->hand.style, wire->x1, wire->y);
    }
    if (plan->ladder->count > 1) {
        sign_joint(canvas, &plan->hand.style, wire->x2, wire->y);
    }
}

/* The name over the wire, the figures under it. */
static void write_words(struct canvas *canvas, const struct ladder_plan *plan, size_t index, const struct rung *wire)
{
    const struct ladder_rung *rung = &plan->ladder->rungs[index];
    const char *figures = rung->figures;
    const double middle = (wire->x1 + wire->x2) / 2;
    const double name_y = wire->y - plan->hand.above;
    if (plan->look.cut) {
        canvas_text_fit(canvas, middle, name_y, ladder_name_room(plan, rung), CANVAS_MIDDLE, plan->hand.strong,
                        rung->name);
    } else {
        ladder_write_lines(canvas, plan, middle, name_y, plan->hand.strong, plan->names[index]);
    }
    if (figures != NULL) {
        const double room = wire->x2 - wire->x1 - 2 * LADDER_PAD;
        const double least = canvas_text_width(fitting(plan->hand.font, room, figures), figures);
        figures = rung->brief != NULL && least > room ? rung->brief : figures;
        canvas_text_fit(canvas, middle, wire->y + plan->hand.below, room, CANVAS_MIDDLE,
                        fitting(plan->hand.font, room, figures), figures);
    }
}

/* Both on one line: of two that are too long together the figures become brief, then the name small, then it is cut. */
static void write_flat(struct canvas *canvas, const struct ladder_plan *plan, const struct ladder_rung *rung,
                       const struct rung *wire)
{
    const double scale = plan->hand.style.scale;
    const double blank = canvas_text_width(plan->hand.font, "m");
    const double x = wire->x1 + (wire->gate == GATE_NONE ? flat_left : flat_gate) * scale;
    const double y = wire->y - plan->hand.above;
    const double name = canvas_text_width(plan->hand.strong, rung->name);
    const char *figures = rung->figures == NULL ? "" : rung->figures;
    double room = wire->sign_x - flat_sign * scale - x;
    if (rung->brief != NULL && name + blank + canvas_text_width(plan->hand.font, figures) > room) {
        figures = rung->brief;
    }
    room -= blank + canvas_text_width(plan->hand.font, figures);
    const struct canvas_font font = fitting(plan->hand.strong, room, rung->name);
    canvas_text_fit(canvas, x, y, room, CANVAS_START, font, rung->name);
    canvas_text(canvas, x + fmin(canvas_text_width(font, rung->name), room) + blank, y, CANVAS_START, plan->hand.font,
                figures);
}

static void draw_load(struct canvas *canvas, const struct ladder_plan *plan, size_t index, const struct rung *wire)
{
    const struct ladder *ladder = plan->ladder;
    const struct ladder_rung *rung = &ladder->rungs[index];
    canvas_mark(canvas, ladder->marked ? "rung" : NULL, index, ladder->marked ? "rung" : NULL);
    canvas_group(canvas, rung->name, rung->figures);
    if (ladder->marked) {
        draw_touch(canvas, plan, wire);
    }
    draw_rung_wire(canvas, &plan->hand.style, wire);
    draw_ends(canvas, plan, rung, wire);
    if (plan->look.flat) {
        write_flat(canvas, plan, rung, wire);
    } else {
        write_words(canvas, plan, index, wire);
    }
    draw_current(canvas, plan, rung, wire);
    canvas_group_end(canvas);
}

void ladder_draw_rung(struct canvas *canvas, const struct ladder_plan *plan, size_t index)
{
    const struct ladder_rung *rung = &plan->ladder->rungs[index];
    const struct rung wire = {.x1 = plan->rail_x[rung->from],
                              .x2 = plan->rail_x[rung->to],
                              .y = plan->row_y[rung->row],
                              .sign = rung->sign,
                              .gate = rung->gate,
                              .bridged = rung->bridged,
                              .pen = ladder_pen(plan, rung->pen),
                              .sign_x =
                                  plan->look.flat ? plan->rail_x[rung->to] - flat_right * plan->hand.style.scale : 0};
    if (rung->inside == NULL) {
        draw_load(canvas, plan, index, &wire);
        return;
    }
    tree_draw(canvas, &plan->hand, rung->inside, &plan->trees[index], (struct canvas_point){wire.x1, wire.y}, wire.x2,
              LADDER_TREE_SIDE * plan->hand.style.scale);
    draw_ends(canvas, plan, rung, &wire);
    draw_current(canvas, plan, rung, &wire);
}

/* The wire that is not marked goes down from the point. */
static void draw_unmarked(struct canvas *canvas, const struct ladder_plan *plan, const struct ladder_rung *rung,
                          double x, double y)
{
    const double end = y + 1.6 * plan->hand.line;
    canvas_line(canvas, x, y, x, end, (struct canvas_pen){plan->hand.style.stroke, CANVAS_DASHED});
    canvas_text(canvas, x + 6 * plan->hand.style.scale, end, CANVAS_START, plan->hand.font, rung->name);
}

/* Wires that meet: those that carry in at the left, out at the right, the one that is not marked below. */
void ladder_draw_point(struct canvas *canvas, const struct ladder_plan *plan)
{
    const struct ladder *ladder = plan->ladder;
    const double left = plan->rail_x[0];
    const double right = plan->right;
    const double middle = (left + right) / 2;
    const double bottom = plan->row_y[ladder->rows - 1];
    sign_wire(canvas, &plan->hand.style, middle, plan->row_y[0], middle, bottom);
    for (size_t i = 0; i < ladder->count; i++) {
        const struct ladder_rung *rung = &ladder->rungs[i];
        const double y = plan->row_y[rung->row];
        if (rung->from == 2) {
            draw_unmarked(canvas, plan, rung, middle, bottom);
            continue;
        }
        const double from = rung->from == 0 ? left : middle;
        const double to = rung->from == 0 ? middle : right;
        sign_wire(canvas, &plan->hand.style, from, y, to, y);
        sign_arrow(canvas, &plan->hand.style, (from + to) / 2, y, WAY_RIGHT, 0);
        sign_joint(canvas, &plan->hand.style, middle, y);
        ladder_write_lines(canvas, plan, (from + to) / 2, y - plan->hand.above + 2, plan->hand.font, plan->names[i]);
    }
    sign_joint(canvas, &plan->hand.style, middle, bottom);
}
