/* Energy of the year by appliance. */
#include <math.h>
#include <stdlib.h>

#include "pictures.h"

static const double name_width = 158;
static const double bar_left = 166;
static const double bar_right = 380;
static const double row_height = 14;
static const double head_height = 6;
static const double foot_height = 24;
static const struct canvas_font small = {8, false};

struct energy_bar {
    const char *name;
    double kwh_year;
    double standby_kwh_year;
    const char *cost_year; /* NULL: not priced, or several together */
};

struct energy_bars {
    struct energy_bar *bar;
    size_t count;
    double most_kwh;
    const char *currency;
};

static double x_of(const struct energy_bars *bars, double kwh)
{
    return bar_left + (bar_right - bar_left) * (bars->most_kwh > 0 ? fmin(kwh / bars->most_kwh, 1) : 0);
}

static void draw_row(struct canvas *canvas, const struct energy_bars *bars, size_t row)
{
    const struct energy_bar *bar = &bars->bar[row];
    const double top = head_height + (double)row * row_height;
    const double base = top + row_height / 2 + 3;
    struct text text = {0};
    text_fixed(&text, "", bar->kwh_year, bar->kwh_year < 100 ? 1 : 0, " kWh");
    if (bar->cost_year != NULL) {
        text_printf(&text, ", %s %s", bar->cost_year, bars->currency);
    }
    canvas_group(canvas, bar->name, text_string(&text));
    canvas_text_fit(canvas, 0, base, name_width, CANVAS_START, small, bar->name);
    const double end = x_of(bars, bar->kwh_year);
    const double standby = x_of(bars, bar->standby_kwh_year);
    canvas_rectangle(canvas, bar_left, top + 2, end - bar_left, row_height - 4, CANVAS_TINT, 0.8);
    if (standby - bar_left > 1) {
        canvas_rectangle(canvas, bar_left, top + 2, standby - bar_left, row_height - 4, CANVAS_HATCH, 0.8);
    }
    if (bar->kwh_year > bars->most_kwh) {
        draw_cut(canvas, end, top + 2, row_height - 4);
    }
    canvas_text_fit(canvas, end + 6, base, PICTURE_WIDTH - end - 6, CANVAS_START, small, text_string(&text));
    canvas_group_end(canvas);
    text_done(&text);
}

static void draw_energy(struct canvas *canvas, const struct picture *picture)
{
    const struct energy_bars *bars = picture->data;
    for (size_t i = 0; i < bars->count; i++) {
        draw_row(canvas, bars, i);
    }
    const double bottom = head_height + (double)bars->count * row_height;
    canvas_line(canvas, bar_left, head_height, bar_left, bottom, pen_thin);
    canvas_rectangle(canvas, bar_left, bottom + 8, 18, 9, CANVAS_TINT, 0.8);
    canvas_text(canvas, bar_left + 23, bottom + 15, CANVAS_START, small, "kWh a year");
    canvas_rectangle(canvas, bar_left + 96, bottom + 8, 18, 9, CANVAS_HATCH, 0.8);
    canvas_text(canvas, bar_left + 119, bottom + 15, CANVAS_START, small, "of it while standing by");
}

/* ------------------------------------------------------------------ making -------------------------------- */

struct ranked {
    size_t appliance;
    double kwh_year;
};

static int larger_first(const void *a, const void *b)
{
    const struct ranked *x = a;
    const struct ranked *y = b;
    if (x->kwh_year != y->kwh_year) {
        return x->kwh_year > y->kwh_year ? -1 : 1;
    }
    return x->appliance < y->appliance ? -1 : 1;
}

static struct energy_bar together(const struct energy_bill *bill, const struct ranked *rest, size_t count,
                                  struct arena *arena)
{
    struct energy_bar bar = {0};
    for (size_t i = 0; i < count; i++) {
        bar.kwh_year += rest[i].kwh_year;
        bar.standby_kwh_year += bill->appliances[rest[i].appliance].standby_kwh_year;
    }
    struct text text = {0};
    text_printf(&text, "%zu others together", count);
    bar.name = picture_string(arena, &text);
    return bar;
}

struct picture picture_energy(const struct house *house, const struct energy_bill *bill, size_t most,
                              struct arena *arena)
{
    struct energy_bars *bars = arena_array(arena, 1, sizeof *bars);
    struct ranked *ranked = arena_array(arena, house->appliance_count, sizeof *ranked);
    size_t count = 0;
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (bill->appliances[i].kwh_year > 0) {
            ranked[count++] = (struct ranked){i, bill->appliances[i].kwh_year};
        }
    }
    qsort(ranked, count, sizeof *ranked, larger_first);
    const size_t alone = count > most + 1 ? most : count;
    bars->bar = arena_array(arena, alone + 1, sizeof *bars->bar);
    bars->currency = house->currency;
    for (size_t i = 0; i < alone; i++) {
        const struct energy_row *row = &bill->appliances[ranked[i].appliance];
        bars->bar[i] = (struct energy_bar){house->appliances[ranked[i].appliance].name, row->kwh_year,
                                           row->standby_kwh_year, row->cost_year};
    }
    bars->count = alone;
    if (count > alone) {
        bars->bar[bars->count++] = together(bill, ranked + alone, count - alone, arena);
    }
    bars->most_kwh = count > 0 ? ranked[0].kwh_year : 0; /* the bar of the others may be cut */
    struct text description = {0};
    text_printf(&description, "Bars of %zu appliances, the largest first; together ", count);
    text_fixed(&description, "", bill->kwh_year, 0, " kWh a year.");
    return (struct picture){.title = "Energy of a year by appliance",
                            .description = picture_string(arena, &description),
                            .width = PICTURE_WIDTH,
                            .height = head_height + (double)bars->count * row_height + foot_height,
                            .draw = draw_energy,
                            .data = bars};
}
