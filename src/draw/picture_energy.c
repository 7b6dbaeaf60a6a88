/* Energy of the year by appliance. */
#include <math.h>

#include "pictures.h"
#include "plot.h"

static const double head_height = 6;
static const double foot_height = 24;

static const struct bar_shape wide = {.size = 8,
                                      .width = PICTURE_WIDTH,
                                      .name_width = 158,
                                      .bar_left = 166,
                                      .bar_right = 380,
                                      .bar_top = 2,
                                      .bar_height = 10,
                                      .row_height = 14,
                                      .base = 10};
static const struct bar_shape slim = {.size = 9,
                                      .width = PICTURE_HALF_WIDTH,
                                      .name_width = 124,
                                      .bar_left = 1,
                                      .bar_right = 236,
                                      .bar_top = 13,
                                      .bar_height = 8,
                                      .row_height = 26,
                                      .base = 10};

struct energy_bar {
    const char *name;
    const char *words; /* kWh, and what they cost */
    double kwh_year;
    double standby_kwh_year;
};

struct energy_bars {
    const struct bar_shape *shape;
    struct energy_bar *bar;
    size_t count;
    double most_kwh;
};

/* Behind the bar; where that stands below its name, at the right of the name. */
static void write_words(struct canvas *canvas, const struct bar_shape *shape, double end, double base,
                        const char *words)
{
    const struct canvas_font font = {shape->size, false};
    if (shape->bar_top < shape->base) {
        canvas_text_fit(canvas, end + 6, base, shape->width - end - 6, CANVAS_START, font, words);
    } else {
        canvas_text_fit(canvas, shape->width, base, shape->width - shape->name_width - 4, CANVAS_END, font, words);
    }
}

static void draw_row(struct canvas *canvas, const struct energy_bars *bars, size_t row)
{
    const struct energy_bar *bar = &bars->bar[row];
    const struct bar_shape *shape = bars->shape;
    const double top = head_height + (double)row * shape->row_height;
    const double share = bars->most_kwh > 0 ? bar->kwh_year / bars->most_kwh : 0;
    const double standby = bars->most_kwh > 0 ? bar->standby_kwh_year / bars->most_kwh : 0;
    canvas_group(canvas, bar->name, bar->words);
    canvas_text_fit(canvas, 0, top + shape->base, shape->name_width, CANVAS_START,
                    (struct canvas_font){shape->size, false}, bar->name);
    bar_draw(canvas, shape, top, share, CANVAS_TINT);
    if (bar_x(shape, standby) - shape->bar_left > 1) {
        bar_draw(canvas, shape, top, fmin(standby, 1), CANVAS_HATCH);
    }
    write_words(canvas, shape, bar_x(shape, share), top + shape->base, bar->words);
    canvas_group_end(canvas);
}

static void draw_energy(struct canvas *canvas, const struct picture *picture)
{
    const struct energy_bars *bars = picture->data;
    const struct bar_shape *shape = bars->shape;
    const struct canvas_font font = {shape->size, false};
    const double bottom = head_height + (double)bars->count * shape->row_height;
    for (size_t i = 0; i < bars->count; i++) {
        draw_row(canvas, bars, i);
    }
    if (shape->bar_top < shape->base) {
        canvas_line(canvas, shape->bar_left, head_height, shape->bar_left, bottom, pen_thin);
    }
    plot_key_fill(canvas, shape->bar_left, bottom + 15, 18, CANVAS_TINT, font, "kWh a year");
    plot_key_fill(canvas, shape->bar_left + 96, bottom + 15, 18, CANVAS_HATCH, font, "of it while standing by");
}

/* ------------------------------------------------------------------ making -------------------------------- */

static struct energy_bar bar_of(const struct house *house, const char *name, const struct energy_row *row,
                                struct arena *arena)
{
    struct text text = {0};
    text_fixed(&text, "", row->kwh_year, row->kwh_year < 100 ? 1 : 0, " kWh");
    if (row->cost_year != NULL) {
        text_printf(&text, ", %s %s", row->cost_year, house->currency);
    }
    return (struct energy_bar){name, picture_string(arena, &text), row->kwh_year, row->standby_kwh_year};
}

/* The first `most`, the others together; the bar of these may be cut. */
static void fill(const struct cost_answer *answer, size_t most, struct energy_bars *bars, struct arena *arena)
{
    const struct cost_rows *by = &answer->by[COST_BY_APPLIANCE];
    const size_t alone = by->used > most + 1 ? most : by->used;
    bars->bar = arena_array(arena, alone + 1, sizeof *bars->bar);
    for (size_t i = 0; i < alone; i++) {
        bars->bar[bars->count++] =
            bar_of(answer->house, answer->house->appliances[by->order[i]].name, &by->rows[by->order[i]], arena);
    }
    if (by->used > alone) {
        const struct energy_row rest = cost_rest(by, alone);
        bars->bar[bars->count++] =
            bar_of(answer->house, arena_printf(arena, "%zu others together", by->used - alone), &rest, arena);
    }
    bars->most_kwh = bars->count > 0 ? bars->bar[0].kwh_year : 0;
}

static struct picture picture_of(const struct energy_bars *bars, const struct bar_shape *shape, const char *words,
                                 struct arena *arena)
{
    struct energy_bars *kept = arena_take(arena, sizeof *kept);
    *kept = *bars;
    kept->shape = shape;
    return (struct picture){.title = "Energy of a year by appliance",
                            .description = words,
                            .width = shape->width,
                            .height = head_height + (double)bars->count * shape->row_height + foot_height,
                            .draw = draw_energy,
                            .data = kept};
}

struct picture picture_energy(const struct cost_answer *answer, size_t most, struct arena *arena)
{
    struct energy_bars bars = {0};
    struct text text = {0};
    struct picture *narrow = arena_take(arena, sizeof *narrow);
    fill(answer, most, &bars, arena);
    text_printf(&text, "Bars of %zu appliances, the largest first; together ", answer->by[COST_BY_APPLIANCE].used);
    text_fixed(&text, "", answer->bill->kwh_year, 0, " kWh a year.");
    const char *words = picture_string(arena, &text);
    struct picture picture = picture_of(&bars, &wide, words, arena);
    *narrow = picture_of(&bars, &slim, words, arena);
    picture.narrow = narrow;
    return picture;
}
