/* A ladder as a picture: its places are found, then it is drawn: rails, rungs and what stands around them. */
#include "ladder.h"

#include <math.h>

#include "ladder_plan.h"
#include "pictures.h"

static const double scale_most = 1.6;
static const double scale_cut = 1.25; /* where names are cut, room is scarce */

const char *load_name(const struct appliance *appliance, unsigned units, struct arena *arena)
{
    return appliance->count > 1 ? arena_printf(arena, "%u \xC3\x97 %s", units, appliance->name) : appliance->name;
}

enum load_sign appliance_sign(const struct appliance *appliance)
{
    return appliance->behaviour == BEHAVIOUR_MOTOR    ? SIGN_MOTOR
           : appliance->category == CATEGORY_LIGHTING ? SIGN_LAMP
                                                      : SIGN_RESISTOR;
}

struct canvas_pen ladder_pen(const struct ladder_plan *plan, struct canvas_pen pen)
{
    return pen.width > 0 ? pen : sign_pen(&plan->hand.style);
}

void ladder_write_lines(struct canvas *canvas, const struct ladder_plan *plan, double x, double y,
                        struct canvas_font font, struct canvas_lines lines)
{
    canvas_text_lines(canvas, x, y - (double)lines.count * plan->hand.line + plan->hand.line, CANVAS_MIDDLE, font,
                      lines);
}

void ladder_draw_terminal(struct canvas *canvas, const struct ladder_plan *plan, double x, double y)
{
    canvas_circle(canvas, x, y, LADDER_END_RADIUS * plan->hand.style.scale, false, plan->hand.style.stroke);
}

/* The table below the circuit: what is given, and the letters of the parts where it is to be filled in. */
static void draw_table(struct canvas *canvas, const struct ladder_plan *plan)
{
    const struct canvas_pen pen = {plan->hand.style.stroke, CANVAS_SOLID};
    const double left = 2;
    const double column = (plan->width - 2 * left) / LADDER_SIDE;
    const double row = plan->table_row;
    for (size_t i = 0; i <= LADDER_SIDE; i++) {
        const double x = left + column * (double)i;
        const double y = plan->table_y + row * (double)i;
        canvas_line(canvas, left, y, left + column * LADDER_SIDE, y, pen);
        canvas_line(canvas, x, plan->table_y, x, plan->table_y + row * LADDER_SIDE, pen);
    }
    for (size_t i = 0; i < LADDER_SIDE; i++) {
        for (size_t k = 0; k < LADDER_SIDE; k++) {
            canvas_text(canvas, left + column * ((double)k + 0.5), plan->table_y + row * ((double)i + 0.68),
                        CANVAS_MIDDLE, plan->hand.font, plan->ladder->cells[i][k]);
        }
    }
}

struct canvas_font ladder_line_font(const struct ladder_plan *plan, const struct ladder_block *block, size_t line)
{
    return line < block->bold ? plan->hand.strong : plan->hand.font;
}

static void write_head(struct canvas *canvas, const struct ladder_plan *plan)
{
    const double x = plan->rail_x[0] + LADDER_HEAD_SIDE * plan->hand.style.scale;
    for (size_t i = 0; i < plan->head.count; i++) {
        canvas_text(canvas, x, plan->head_y + (double)i * plan->hand.line, CANVAS_START,
                    ladder_line_font(plan, &plan->head, i), plan->head.line[i]);
    }
}

static double middle_of(const struct ladder_plan *plan)
{
    return (plan->rail_x[0] + plan->right) / 2;
}

/* Under the middle of the rails, as long as it fits there. */
static void write_foot(struct canvas *canvas, const struct ladder_plan *plan)
{
    for (size_t i = 0; i < plan->foot.count; i++) {
        const struct canvas_font font = ladder_line_font(plan, &plan->foot, i);
        const double half = fmin(canvas_text_width(font, plan->foot.line[i]) / 2, plan->width / 2 - 2);
        const double x = fmax(fmin(middle_of(plan), plan->width - 2 - half), half + 2);
        canvas_text_fit(canvas, x, plan->foot_y + (double)i * plan->hand.line, plan->width - 4, CANVAS_MIDDLE, font,
                        plan->foot.line[i]);
    }
}

static void draw_continuations(struct canvas *canvas, const struct ladder_plan *plan)
{
    const struct ladder *ladder = plan->ladder;
    const struct canvas_pen dashed = {plan->hand.style.stroke, CANVAS_DASHED};
    if (ladder->before != NULL) {
        canvas_text(canvas, middle_of(plan), plan->way_y - 2, CANVAS_MIDDLE, plan->hand.font, ladder->before);
    }
    if (ladder->after != NULL) {
        const double y = plan->row_y[ladder->rows - 1];
        canvas_line(canvas, plan->rail_x[0], y, plan->rail_x[0], y + LADDER_STUB, dashed);
        canvas_line(canvas, plan->right, y, plan->right, y + LADDER_STUB, dashed);
        canvas_text(canvas, middle_of(plan), plan->foot_y, CANVAS_MIDDLE, plan->hand.font, ladder->after);
    }
}

static void draw(struct canvas *canvas, const struct picture *picture)
{
    const struct ladder_plan *plan = picture->data;
    const struct ladder *ladder = plan->ladder;
    if (ladder->point) {
        ladder_draw_point(canvas, plan);
        return;
    }
    ladder_draw_rails(canvas, plan);
    write_head(canvas, plan);
    for (size_t i = 0; i < ladder->count; i++) {
        ladder_draw_rung(canvas, plan, i);
    }
    draw_continuations(canvas, plan);
    write_foot(canvas, plan);
    if (ladder->cells != NULL) {
        draw_table(canvas, plan);
    }
}

struct picture ladder_picture(const struct ladder *ladder, const struct ladder_look *look, struct arena *arena)
{
    struct ladder_plan *plan = arena_take(arena, sizeof *plan);
    const double scale = fmin(look->text / ladder_usual_text, look->cut ? scale_cut : scale_most);
    *plan = (struct ladder_plan){
        .ladder = ladder,
        .look = *look,
        .hand = {.style = {scale, look->stroke, look->cut ? ladder_usual_text * scale : look->text, look->zigzag},
                 .font = {look->text, false},
                 .strong = {look->text, look->bold},
                 .line = canvas_line_height((struct canvas_font){look->text, false})},
        .last_rail = ladder->rails - 1,
        .bare = ladder->source == NULL && ladder->before == NULL && ladder->rail_names[0] == NULL && !ladder->star &&
                !ladder->point};
    ladder_place_across(plan, arena);
    ladder_place_down(plan, arena);
    return (struct picture){.title = ladder->title,
                            .description = ladder->description,
                            .width = plan->width,
                            .height = plan->height,
                            .draw = draw,
                            .data = plan};
}
