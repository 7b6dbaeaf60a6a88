/* The rails of a ladder: their names, where they come from, the breaker in them, what flows there. */
#include <math.h>

#include "ladder_plan.h"

static const double thick = 6; /* of a wire that carries the breaker's rating, in a live drawing */

static void draw_one_source(struct canvas *canvas, const struct ladder_plan *plan, double left, double right)
{
    const double middle = (left + right) / 2;
    const double half =
        (plan->ladder->mains ? sign_alternating : sign_battery)(canvas, &plan->hand.style, middle, plan->source_y);
    sign_wire(canvas, &plan->hand.style, left, plan->source_y, middle - half, plan->source_y);
    sign_wire(canvas, &plan->hand.style, middle + half, plan->source_y, right, plan->source_y);
    ladder_write_lines(canvas, plan, middle, plan->source_y - (LADDER_SOURCE_HALF + 3) * plan->hand.style.scale,
                       plan->hand.font, plan->source);
}

static void draw_sources(struct canvas *canvas, const struct ladder_plan *plan)
{
    const struct ladder *ladder = plan->ladder;
    if (ladder->split) {
        draw_one_source(canvas, plan, plan->rail_x[0], plan->rail_x[1]);
        draw_one_source(canvas, plan, plan->rail_x[1], plan->rail_x[2]);
    } else if (ladder->source != NULL) {
        draw_one_source(canvas, plan, plan->rail_x[0], plan->right);
    }
}

/* The breaker's sign in a rail, from way_y down; its rating beside it. */
static void draw_breaker(struct canvas *canvas, const struct ladder_plan *plan, size_t rail)
{
    const struct ladder *ladder = plan->ladder;
    const double scale = plan->hand.style.scale;
    const double x = plan->rail_x[rail];
    const double y = plan->down_y - LADDER_BREAKER_LONG * scale;
    sign_wire(canvas, &plan->hand.style, x, plan->way_y, x, y);
    sign_breaker(canvas, &plan->hand.style, x, y, WAY_DOWN);
    if (rail == 0) {
        canvas_text(canvas, x - 11 * scale, y + 12 * scale, CANVAS_END, plan->hand.font, ladder->breaker);
    }
}

/* Where the head's longest line ends. */
static double head_end(const struct ladder_plan *plan)
{
    double widest = 0;
    for (size_t i = 0; i < plan->head.count; i++) {
        widest = fmax(widest, canvas_text_width(ladder_line_font(plan, &plan->head, i), plan->head.line[i]));
    }
    return plan->rail_x[0] + LADDER_HEAD_SIDE * plan->hand.style.scale + widest;
}

/* Both poles open together: their contacts are coupled, past the words of the head. */
static void draw_coupling(struct canvas *canvas, const struct ladder_plan *plan)
{
    const double scale = plan->hand.style.scale;
    const double y = plan->down_y - 10 * scale;
    const double left = plan->rail_x[0] - 5 * scale;
    const double right = plan->right - 5 * scale;
    const struct canvas_pen pen = {plan->hand.style.stroke, CANVAS_DASHED};
    canvas_line(canvas, left, y, left + 15 * scale, y, pen);
    canvas_line(canvas, fmin(head_end(plan) + 5 * scale, right), y, right, y, pen);
}

/* Rows from the first rung at a rail to behind the last; `end` 0: it has none. */
struct rows {
    size_t first;
    size_t end;
};

static struct rows rows_of(const struct ladder *ladder, size_t rail)
{
    struct rows rows = {ladder->rows, 0};
    for (size_t i = 0; i < ladder->count; i++) {
        const struct ladder_rung *rung = &ladder->rungs[i];
        if (rung->from == rail || rung->to == rail) {
            rows.first = rung->row < rows.first ? rung->row : rows.first;
            rows.end = rung->row >= rows.end ? rung->row + 1 : rows.end;
        }
    }
    return rows;
}

/* Where a row's stretch begins. */
static double stretch_top(const struct ladder_plan *plan, size_t row, bool breaker)
{
    return row > 0 ? plan->row_y[row - 1] : breaker ? plan->down_y : plan->way_y;
}

static void draw_stretch(struct canvas *canvas, const struct ladder_plan *plan, size_t rail, size_t row)
{
    const struct ladder *ladder = plan->ladder;
    const double x = plan->rail_x[rail];
    const bool breaker = ladder->breaker != NULL && (rail == 0 || ladder->all_poles);
    struct canvas_pen pen = ladder_pen(plan, ladder->stretches[row].pen);
    if (row == 0 && ladder->before != NULL) {
        pen = (struct canvas_pen){plan->hand.style.stroke, CANVAS_DASHED};
    }
    const double end = rail == 0 ? plan->row_y[row] : plan->row_end[row];
    canvas_line(canvas, x, stretch_top(plan, row, breaker), x, end, pen);
    if (ladder->stretches[row].current == NULL || ladder->stretches[row].still) {
        return;
    }
    const double middle = (stretch_top(plan, row, ladder->breaker != NULL) + plan->row_y[row]) / 2;
    const double half = 3.5 * plan->hand.style.scale;
    sign_arrow(canvas, &plan->hand.style, x, middle + (rail == 0 ? half : -half), rail == 0 ? WAY_DOWN : WAY_UP,
               ladder->marked ? thick : pen.width); /* a script makes the wire as thick as that */
}

/* The current beside the first rail. */
static void write_stretch(struct canvas *canvas, const struct ladder_plan *plan, size_t row)
{
    const struct ladder *ladder = plan->ladder;
    if (ladder->stretches[row].current == NULL) {
        return;
    }
    const double middle = (stretch_top(plan, row, ladder->breaker != NULL) + plan->row_y[row]) / 2;
    canvas_mark(canvas, ladder->marked ? "drawn" : NULL, row, NULL);
    canvas_text(canvas, plan->rail_x[0] - LADDER_BESIDE_RAIL * plan->hand.style.scale,
                middle + 0.36 * plan->hand.font.size, CANVAS_END, plan->hand.font, ladder->stretches[row].current);
}

/* Line and return of a row, which carry the same. */
static void draw_outer(struct canvas *canvas, const struct ladder_plan *plan, size_t row)
{
    const struct ladder *ladder = plan->ladder;
    if (ladder->marked) {
        canvas_mark(canvas, "rail", row, NULL);
        canvas_group(canvas, NULL, NULL);
    }
    if (!ladder->star && row < rows_of(ladder, 0).end) {
        draw_stretch(canvas, plan, 0, row);
    }
    if (row < rows_of(ladder, plan->last_rail).end && (!ladder->star || row > 0)) {
        draw_stretch(canvas, plan, plan->last_rail, row);
    }
    if (ladder->marked) {
        canvas_group_end(canvas);
    }
    if (!ladder->star) {
        write_stretch(canvas, plan, row);
    }
}

/* A rail between the others: from its first rung, or the source of which it is the middle, to its last. */
static void draw_inner(struct canvas *canvas, const struct ladder_plan *plan, size_t rail)
{
    const struct ladder *ladder = plan->ladder;
    const double scale = plan->hand.style.scale;
    const double x = plan->rail_x[rail];
    const struct rows rows = rows_of(ladder, rail);
    if (rows.end == 0) {
        return;
    }
    sign_wire(canvas, &plan->hand.style, x, ladder->split ? plan->source_y : plan->row_y[rows.first], x,
              plan->row_y[rows.end - 1]);
    if (ladder->split && ladder->neutral != NULL) {
        const double tip = plan->source_y + 9 * scale;
        sign_arrow(canvas, &plan->hand.style, x, tip, WAY_UP, 0);
        canvas_text(canvas, x + 6 * scale, tip + 5 * scale, CANVAS_START, plan->hand.font, ladder->neutral);
    }
}

/* Over the first rail from its left on, over the last up to the edge: neither leaves the picture. */
static void write_rail_names(struct canvas *canvas, const struct ladder_plan *plan)
{
    const struct ladder *ladder = plan->ladder;
    const double y = plan->hand.line - 2;
    const double right = plan->right;
    const double width = (right - plan->rail_x[0]) / 2 - LADDER_PAD;
    if (ladder->rail_names[0] != NULL) {
        canvas_text_fit(canvas, plan->rail_x[0], y, fmin(width, 2 * plan->rail_x[0]), CANVAS_MIDDLE, plan->hand.font,
                        ladder->rail_names[0]);
    }
    if (ladder->rails > 2 && ladder->rail_names[1] != NULL) {
        canvas_text(canvas, plan->rail_x[1], y, CANVAS_MIDDLE, plan->hand.font, ladder->rail_names[1]);
    }
    if (ladder->rail_names[2] != NULL) {
        const double half = canvas_text_width(plan->hand.font, ladder->rail_names[2]) / 2;
        canvas_text_fit(canvas, fmin(right + half, plan->width - 1), y, width, CANVAS_END, plan->hand.font,
                        ladder->rail_names[2]);
    }
}

void ladder_draw_rails(struct canvas *canvas, const struct ladder_plan *plan)
{
    const struct ladder *ladder = plan->ladder;
    write_rail_names(canvas, plan);
    draw_sources(canvas, plan);
    for (size_t row = 0; row < ladder->rows; row++) {
        draw_outer(canvas, plan, row);
    }
    for (size_t rail = 1; rail < plan->last_rail; rail++) {
        draw_inner(canvas, plan, rail);
    }
    if (plan->bare) {
        const double y = plan->way_y - LADDER_END_RADIUS * plan->hand.style.scale;
        ladder_draw_terminal(canvas, plan, plan->rail_x[0], y);
        ladder_draw_terminal(canvas, plan, plan->right, y);
    }
    if (ladder->breaker != NULL) {
        draw_breaker(canvas, plan, 0);
    }
    if (ladder->breaker != NULL && ladder->all_poles) {
        draw_breaker(canvas, plan, plan->last_rail);
        draw_coupling(canvas, plan);
    }
}
