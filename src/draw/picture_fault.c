/* The loop that an earth fault closes: supply, line, the place where it touches, protective conductor back. */
#include <math.h>

#include "ampsum/reference.h"
#include "pictures.h"

/* As wide as a narrow screen, which does not make the type smaller then. */
static const double width = 360;
static const struct canvas_font small = {13, false};
static const struct canvas_font bold = {13, true};
static const double left = 28;
static const double right = 340;
static const double top = 58;
static const double bottom = 176;

struct loop {
    const char *supply;
    const char *line;
    const char *protective;
    const char *place;
    const char *current;
    const char *device;
};

/* A resistance in a conductor along y, with its words above or below. */
static void draw_part(struct canvas *canvas, double x, double y, double words_y, const char *words)
{
    canvas_rectangle(canvas, x - 34, y - 8, 68, 16, CANVAS_CLEAR, 1.2);
    canvas_text_fit(canvas, x, words_y, 240, CANVAS_MIDDLE, small, words);
}

static void draw_supply(struct canvas *canvas, const struct loop *loop)
{
    const double middle = (top + bottom) / 2;
    canvas_circle(canvas, left, middle, 16, false, 1.2);
    canvas_text(canvas, left, middle + 4, CANVAS_MIDDLE, bold, "~");
    canvas_line(canvas, left, top, left, middle - 16, pen_line);
    canvas_line(canvas, left, middle + 16, left, bottom, pen_line);
    canvas_text_fit(canvas, left + 22, middle + 5, 110, CANVAS_START, small, loop->supply);
}

/* Where it touches: both ends joined, and beside them the current and the place. */
static void draw_touch(struct canvas *canvas, const struct loop *loop)
{
    const double middle = (top + bottom) / 2;
    canvas_line(canvas, right, top, right, bottom, (struct canvas_pen){1.6, CANVAS_DOTTED});
    canvas_circle(canvas, right, top, 3, true, 0);
    canvas_circle(canvas, right, bottom, 3, true, 0);
    draw_arrow_down(canvas, right, middle);
    canvas_text_fit(canvas, right - 10, middle - 5, 150, CANVAS_END, small, loop->place);
    canvas_text(canvas, right - 10, middle + 13, CANVAS_END, bold, loop->current);
}

static void draw_loop(struct canvas *canvas, const struct picture *picture)
{
    const struct loop *loop = picture->data;
    const double device_x = left + 46;
    canvas_line(canvas, left, top, device_x - 12, top, pen_line);
    canvas_line(canvas, device_x - 12, top, device_x + 10, top - 8, pen_line);
    canvas_line(canvas, device_x + 12, top, right, top, pen_line);
    canvas_text(canvas, device_x, top - 14, CANVAS_MIDDLE, small, loop->device);
    canvas_line(canvas, left, bottom, right, bottom, (struct canvas_pen){1.2, CANVAS_DASH_DOT});
    draw_supply(canvas, loop);
    draw_part(canvas, 216, top, top - 16, loop->line);
    draw_part(canvas, 216, bottom, bottom + 24, loop->protective);
    draw_touch(canvas, loop);
}

static const char *part_words(struct arena *arena, const char *sign, const struct ref_conductor *conductor,
                              double metres, double cold_c)
{
    struct text text = {0};
    text_printf(&text, "%s ", sign);
    if (conductor != NULL) {
        text_add_rounded(&text, reference_resistance_ohm_per_km(conductor, cold_c) * metres / 1000, 3);
        text_printf(&text, " Ω, %s", conductor->size);
    } else {
        text_add(&text, "not known");
    }
    return picture_string(arena, &text);
}

static const char *figure_words(struct arena *arena, const char *sign, double value, int decimals, const char *unit)
{
    struct text text = {0};
    text_add(&text, sign);
    if (isfinite(value)) {
        text_add_rounded(&text, value, decimals);
        text_printf(&text, " %s", unit);
    } else {
        text_add(&text, "not known");
    }
    return picture_string(arena, &text);
}

static const char *loop_words(const struct fault_study *study, const struct branch *branch,
                              const struct fault_point *point, const char *place, struct arena *arena)
{
    struct text text = {0};
    text_printf(&text,
                "From the supply through %s and its line to %s, where it touches, and back through the "
                "protective conductor. The loop, hot: ",
                branch->label, place);
    text_add(&text, figure_words(arena, "", point->zs_hot_ohm, 3, "Ω"));
    text_add(&text, "; the current at least: ");
    text_add(&text, figure_words(arena, "", point->fault_min_a, 0, "A"));
    text_add(&text, study->by_loop ? "." : ", arcs left out.");
    return picture_string(arena, &text);
}

struct picture picture_fault(const struct fault_study *study, size_t branch_index, const struct fault_point *point,
                             struct arena *arena)
{
    const struct branch *branch = &study->house->branches[branch_index];
    const struct fault_branch *result = &study->branches[branch_index];
    const char *place =
        point->outlet == NO_INDEX ? "its end" : house_row_name(study->house, KIND_OUTLET, point->outlet);
    struct loop *loop = arena_take(arena, sizeof *loop);
    struct text title = {0};
    loop->supply = study->by_loop ? figure_words(arena, "Ze ", study->ze_ohm, 3, "Ω") : "supply";
    loop->line = part_words(arena, "R1", branch->wire.conductor, point->joined_m, study->cold_c);
    loop->protective = part_words(arena, "R2", result->protective, point->joined_m, study->cold_c);
    loop->current = figure_words(arena, "", point->fault_min_a, 0, "A");
    loop->device = figure_words(arena, "", branch->breaker_a, 0, "A");
    loop->place = place;
    text_printf(&title, "The loop of a fault at %s of %s", place, branch->label);
    return (struct picture){.title = picture_string(arena, &title),
                            .description = loop_words(study, branch, point, place, arena),
                            .width = width,
                            .height = bottom + 36,
                            .draw = draw_loop,
                            .data = loop};
}
