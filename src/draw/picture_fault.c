/* The loop that an earth fault closes: supply, line, the place where it touches, protective conductor back. */
#include <math.h>

#include "ampsum/reference.h"
#include "pictures.h"
#include "signs.h"

/* As wide as a narrow screen, which does not make the type smaller then. */
static const double width = 360;
static const struct sign_style style = {1.5, 1.2, 13, false};
static const struct canvas_font small = {13, false};
static const struct canvas_font bold = {13, true};
static const double left = 28;
static const double right = 340;
static const double top = 44;
static const double middle = 103;
static const double bottom = 162;
static const double device_x = 56;
static const double device_end = 92;
static const double part_x = 216;

struct loop {
    const char *supply;
    const char *line;
    const char *protective;
    const char *place;
    const char *current;
    const char *device;
};

static void draw_supply(struct canvas *canvas, const struct loop *loop)
{
    const double half = sign_alternating(canvas, &style, left, middle);
    const struct canvas_point out[] = {{left, middle - half}, {left, top}, {device_x, top}};
    canvas_polyline(canvas, out, 3, sign_pen(&style));
    sign_wire(canvas, &style, left, middle + half, left, bottom);
    sign_breaker(canvas, &style, device_x, top, WAY_RIGHT);
    canvas_text(canvas, (device_x + device_end) / 2, top - 22, CANVAS_MIDDLE, small, loop->device);
    canvas_text_fit(canvas, left + half + 6, middle + 5, 110, CANVAS_START, small, loop->supply);
}

/* A conductor with its resistance, whose words stand on that base line. */
static void draw_conductor(struct canvas *canvas, double from, double y, enum canvas_stroke stroke, double words_y,
                           const char *words)
{
    const struct rung wire = {.x1 = from, .x2 = right, .y = y, .pen = {style.stroke, stroke}, .sign_x = part_x};
    draw_rung_wire(canvas, &style, &wire);
    canvas_text_fit(canvas, part_x, words_y, 240, CANVAS_MIDDLE, small, words);
}

/* Where it touches: both ends joined, and beside them the current and the place. */
static void draw_touch(struct canvas *canvas, const struct loop *loop)
{
    canvas_line(canvas, right, top, right, bottom, (struct canvas_pen){1.6, CANVAS_DOTTED});
    sign_joint(canvas, &style, right, top);
    sign_joint(canvas, &style, right, bottom);
    sign_arrow(canvas, &style, right, middle + 5, WAY_DOWN, style.stroke);
    canvas_text_fit(canvas, right - 12, middle - 5, 150, CANVAS_END, small, loop->place);
    canvas_text(canvas, right - 12, middle + 13, CANVAS_END, bold, loop->current);
}

static void draw_loop(struct canvas *canvas, const struct picture *picture)
{
    const struct loop *loop = picture->data;
    draw_supply(canvas, loop);
    draw_conductor(canvas, device_end, top, CANVAS_SOLID, top - 16, loop->line);
    draw_conductor(canvas, left, bottom, CANVAS_DASH_DOT, bottom + 24, loop->protective);
    draw_touch(canvas, loop);
}

static const char *figure_words(struct arena *arena, const char *sign, double value, int decimals, const char *unit)
{
    struct text text = {0};
    if (isfinite(value)) {
        text_rounded(&text, sign, value, decimals, unit);
    } else {
        text_printf(&text, "%snot known", sign);
    }
    return picture_string(arena, &text);
}

static const char *part_words(struct arena *arena, const char *sign, const struct ref_conductor *conductor,
                              double metres, double cold_c)
{
    if (conductor == NULL) {
        return figure_words(arena, sign, (double)NAN, 0, "");
    }
    return arena_printf(
        arena, "%s, %s",
        figure_words(arena, sign, reference_resistance_ohm_per_km(conductor, cold_c) * metres / 1000, 3, " Ω"),
        conductor->size);
}

static const char *loop_words(const struct fault_study *study, const struct branch *branch,
                              const struct fault_point *point, const char *place, struct arena *arena)
{
    return arena_printf(arena,
                        "From the supply through %s and its line to %s, where it touches, and back through the "
                        "protective conductor. The loop, hot: %s; the current at least: %s%s",
                        branch->label, place, figure_words(arena, "", point->zs_hot_ohm, 3, " Ω"),
                        figure_words(arena, "", point->fault_min_a, 0, " A"),
                        study->by_loop ? "." : ", arcs left out.");
}

struct picture picture_fault(const struct fault_study *study, size_t branch_index, const struct fault_point *point,
                             struct arena *arena)
{
    const struct branch *branch = &study->house->branches[branch_index];
    const struct fault_branch *result = &study->branches[branch_index];
    const char *place =
        point->outlet == NO_INDEX ? "the end" : house_row_name(study->house, KIND_OUTLET, point->outlet);
    struct loop *loop = arena_take(arena, sizeof *loop);
    loop->supply = study->by_loop ? figure_words(arena, "Ze ", study->ze_ohm, 3, " Ω") : "supply";
    loop->line = part_words(arena, "R1 ", branch->wire.conductor, point->joined_m, study->cold_c);
    loop->protective = part_words(arena, "R2 ", result->protective, point->joined_m, study->cold_c);
    loop->current = figure_words(arena, "", point->fault_min_a, 0, " A");
    loop->device = figure_words(arena, "", branch->breaker_a, 0, " A");
    loop->place = place;
    return (struct picture){.title = arena_printf(arena, "The loop of a fault at %s of %s", place, branch->label),
                            .description = loop_words(study, branch, point, place, arena),
                            .width = width,
                            .height = bottom + 32,
                            .draw = draw_loop,
                            .data = loop};
}
