/* Voltage along the wire of a branch. */
#include <math.h>

#include "ampsum/quantity.h"
#include "pictures.h"
#include "plot.h"

enum { KEYS_MOST = 60, DIRECTIONS = 8, RINGS = 7 };

static const double plot_left = 50;
static const double plot_right = 424;
static const double plot_top = 12;
static const double plot_bottom = 142;
static const double key_top = 184;
static const double key_height = 11;
static const double column_width = 245;

struct wire_node {
    const char *name;
    size_t from;
    double path_m;
    double voltage_v;
    double drop_percent;
};

struct wire_plot {
    struct wire_node *node; /* [0] the panel */
    size_t count;
    double ring_m;    /* length of the whole ring; NAN: a tree */
    double supply_v;  /* at the panel */
    double allowed_v; /* NAN: no line */
    double allowed_percent;
    double length_per_m; /* feet or metres */
    const char *length_unit;
    struct plot axes;
};

static struct canvas_point point_of(const struct wire_plot *plot, double path_m, double voltage_v)
{
    return (struct canvas_point){plot_x(&plot->axes, path_m), plot_y(&plot->axes, voltage_v)};
}

static struct canvas_point node_point(const struct wire_plot *plot, size_t node)
{
    return point_of(plot, plot->node[node].path_m, plot->node[node].voltage_v);
}

/* ------------------------------------------------------------------ axes ---------------------------------- */

static void draw_lengths(struct canvas *canvas, const struct wire_plot *plot)
{
    const double most = plot->axes.most_x * plot->length_per_m;
    const double step = plot_step(most, 7);
    struct text text = {0};
    for (double value = 0; value <= most + step / 1000; value += step) {
        text_clear(&text);
        text_add_rounded(&text, value, 2);
        plot_draw_below(canvas, &plot->axes, value / plot->length_per_m, text_string(&text));
    }
    text_clear(&text);
    text_printf(&text, "%s of cable from the panel", plot->length_unit);
    canvas_text(canvas, (plot_left + plot_right) / 2, plot_bottom + 25, CANVAS_MIDDLE, plot_font, text_string(&text));
    text_done(&text);
}

static void draw_allowed(struct canvas *canvas, const struct wire_plot *plot)
{
    if (isnan(plot->allowed_v)) {
        return;
    }
    struct text text = {0};
    plot_draw_level(canvas, &plot->axes, plot->allowed_v, (struct canvas_pen){1, CANVAS_DASHED});
    text_rounded(&text, "advised: ", plot->allowed_percent, 2, " %");
    canvas_text_fit(canvas, plot_right + 5, plot_y(&plot->axes, plot->allowed_v) + 3, PICTURE_WIDTH - plot_right - 5,
                    CANVAS_START, plot_font, text_string(&text));
    text_done(&text);
}

/* ------------------------------------------------------------------ nodes --------------------------------- */

struct place {
    double x; /* middle of the base line */
    double y;
    double half_width;
};

static bool meets(struct place a, struct place b)
{
    return fabs(a.x - b.x) < a.half_width + b.half_width + 1 && fabs(a.y - b.y) < plot_bold.size * 1.1;
}

static bool is_free(const struct place *places, size_t count, struct place place)
{
    if (place.x - place.half_width < plot_left + 2 || place.x + place.half_width > plot_right + 2 ||
        place.y < plot_top - 2 || place.y > plot_bottom - 3) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        if (meets(places[i], place)) {
            return false;
        }
    }
    return true;
}

/* A free place near the point, nearest first; false where all around it is taken. */
static bool find_place(struct canvas_point point, double half_width, const struct place *places, size_t count,
                       struct place *ret_place)
{
    static const double pi = 3.14159265358979323846;
    for (int ring = 1; ring <= RINGS; ring++) {
        for (int direction = 0; direction < DIRECTIONS; direction++) {
            const double angle_rad = -pi / 4 + direction * 2 * pi / DIRECTIONS;
            const double away = 3 + 6 * ring;
            const struct place place = {point.x + (away + half_width - 3) * cos(angle_rad),
                                        point.y + away * sin(angle_rad) + 3, half_width};
            if (is_free(places, count, place)) {
                *ret_place = place;
                return true;
            }
        }
    }
    return false;
}

static void draw_numbers(struct canvas *canvas, const struct wire_plot *plot)
{
    struct arena *arena = arena_new();
    struct place *places = arena_array(arena, plot->count, sizeof *places);
    size_t used = 0;
    struct text text = {0};
    for (size_t node = 1; node < plot->count && node <= KEYS_MOST; node++) {
        text_clear(&text);
        text_printf(&text, "%zu", node);
        const double half_width = canvas_text_width(plot_bold, text_string(&text)) / 2;
        if (find_place(node_point(plot, node), half_width, places, used, &places[used])) {
            canvas_text(canvas, places[used].x, places[used].y, CANVAS_MIDDLE, plot_bold, text_string(&text));
            used++;
        }
    }
    text_done(&text);
    arena_free(arena);
}

static void draw_wire(struct canvas *canvas, struct canvas_point from, struct canvas_point to)
{
    canvas_line(canvas, from.x, from.y, to.x, to.y, (struct canvas_pen){1.4, CANVAS_SOLID});
}

static void draw_panel(struct canvas *canvas, struct canvas_point point)
{
    canvas_rectangle(canvas, point.x - 3, point.y - 3, 6, 6, CANVAS_INK, 0);
}

static void draw_wires(struct canvas *canvas, const struct wire_plot *plot)
{
    for (size_t node = 1; node < plot->count; node++) {
        draw_wire(canvas, node_point(plot, plot->node[node].from), node_point(plot, node));
    }
    if (!isnan(plot->ring_m)) {
        const struct canvas_point end = point_of(plot, plot->ring_m, plot->supply_v);
        draw_wire(canvas, node_point(plot, plot->count - 1), end);
        draw_panel(canvas, end);
    }
    for (size_t node = 1; node < plot->count; node++) {
        const struct canvas_point point = node_point(plot, node);
        canvas_circle(canvas, point.x, point.y, 2.4, true, 0);
    }
    draw_panel(canvas, node_point(plot, 0));
}

static void write_figure(struct canvas *canvas, double x, double y, struct canvas_font font, double value, int decimals,
                         const char *unit)
{
    struct text text = {0};
    text_fixed(&text, "", value, decimals, unit);
    canvas_text(canvas, x, y, CANVAS_END, font, text_string(&text));
    text_done(&text);
}

static void draw_key(struct canvas *canvas, const struct wire_plot *plot)
{
    const size_t all = plot->count - 1;
    const size_t shown = all < KEYS_MOST ? all : KEYS_MOST;
    const size_t rows = (shown + 1) / 2;
    for (size_t i = 0; i < shown; i++) {
        const struct wire_node *node = &plot->node[i + 1];
        const double x = i < rows ? 0 : column_width + 10;
        const double y = key_top + (double)(i % rows) * key_height;
        write_figure(canvas, x + 14, y, plot_bold, (double)(i + 1), 0, "");
        canvas_text_fit(canvas, x + 20, y, 120, CANVAS_START, plot_font, node->name);
        write_figure(canvas, x + 192, y, plot_font, node->voltage_v, 2, " V");
        write_figure(canvas, x + 238, y, plot_font, node->drop_percent, 2, " %");
    }
    if (all > shown) {
        struct text text = {0};
        text_printf(&text, "and %zu more, in the table", all - shown);
        canvas_text(canvas, 0, key_top + (double)rows * key_height, CANVAS_START, plot_font, text_string(&text));
        text_done(&text);
    }
}

static void draw_plot(struct canvas *canvas, const struct picture *picture)
{
    const struct wire_plot *plot = picture->data;
    plot_draw_axes(canvas, &plot->axes);
    draw_lengths(canvas, plot);
    draw_allowed(canvas, plot);
    draw_wires(canvas, plot);
    draw_numbers(canvas, plot);
    draw_key(canvas, plot);
}

/* ------------------------------------------------------------------ making -------------------------------- */

static void copy_nodes(const struct wiring *wiring, struct wire_plot *plot, struct arena *arena)
{
    plot->count = wiring->node_count;
    plot->node = arena_array(arena, plot->count, sizeof *plot->node);
    plot->node[0] = (struct wire_node){.name = "panel", .voltage_v = plot->supply_v};
    for (size_t i = 1; i < plot->count; i++) {
        const size_t outlet = wiring->outlet[i];
        plot->node[i] =
            (struct wire_node){.name = outlet == NO_INDEX ? "end of the branch" : wiring->house->outlets[outlet].name,
                               .from = wiring_from(wiring, i),
                               .path_m = wiring->path_m[i],
                               .voltage_v = wiring_voltage_v(wiring, i),
                               .drop_percent = wiring_drop_percent(wiring, i)};
        plot->axes.most_x = fmax(plot->axes.most_x, plot->node[i].path_m);
    }
    plot->ring_m = (double)NAN;
    if (!isnan(wiring->ring_length_m)) {
        plot->ring_m = plot->node[plot->count - 1].path_m + wiring->ring_length_m;
        plot->axes.most_x = fmax(plot->axes.most_x, plot->ring_m);
    }
}

static void set_range(struct wire_plot *plot)
{
    double low_v = isnan(plot->allowed_v) ? plot->supply_v : fmin(plot->supply_v, plot->allowed_v);
    for (size_t i = 1; i < plot->count; i++) {
        low_v = fmin(low_v, plot->node[i].voltage_v);
    }
    const double span_v = fmax(plot->supply_v - low_v, plot->supply_v * 1e-3);
    plot->axes.low = low_v - 0.12 * span_v;
    plot->axes.high = plot->supply_v + 0.05 * span_v;
}

struct picture picture_wire(const struct wiring *wiring, double supply_v, double allowed_percent, struct arena *arena)
{
    const struct house *house = wiring->house;
    struct wire_plot *plot = arena_array(arena, 1, sizeof *plot);
    *plot = (struct wire_plot){
        .axes = {.left = plot_left, .right = plot_right, .top = plot_top, .bottom = plot_bottom, .unit = " V"},
        .supply_v = supply_v,
        .allowed_percent = allowed_percent,
        .allowed_v = isnan(allowed_percent) ? allowed_percent : supply_v - wiring->nominal_v * allowed_percent / 100,
        .length_per_m = house_in_feet(house) ? 1 / M_PER_FT : 1,
        .length_unit = house_in_feet(house) ? "feet" : "metres"};
    copy_nodes(wiring, plot, arena);
    set_range(plot);
    const size_t keys = plot->count - 1 < KEYS_MOST ? plot->count - 1 : KEYS_MOST + 2;
    struct text title = {0};
    text_printf(&title, "%s: voltage along the %s", house->branches[wiring->branch].label,
                isnan(plot->ring_m) ? "wire" : "ring");
    struct text description = {0};
    text_printf(&description, "Voltage over length of cable, %zu points from the panel; worst drop ", plot->count - 1);
    text_fixed(&description, "", wiring_worst_drop_percent(wiring), 2, " percent.");
    return (struct picture){.title = picture_string(arena, &title),
                            .description = picture_string(arena, &description),
                            .width = PICTURE_WIDTH,
                            .height = key_top + (double)((keys + 1) / 2) * key_height,
                            .draw = draw_plot,
                            .data = plot};
}
