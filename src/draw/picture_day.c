/* Current over a day. */
#include <math.h>

#include "ampsum/values.h"
#include "pictures.h"
#include "plot.h"

static const double plot_left = 44;
static const double right_room = 96; /* for the words beside the plot */
static const double plot_top = 12;
static const double plot_bottom = 148;
static const double day_height = 186;
static const double legend_line = 13;
static const struct canvas_pen planning_pen = {1.8, CANVAS_SOLID};
static const struct canvas_pen current_pen = {1, CANVAS_DOTTED};
static const struct canvas_pen rating_pen = {1.2, CANVAS_DASH_DOT};
static const struct canvas_pen near_pen = {1, CANVAS_DASHED};

struct course {
    const struct day_series *series;
    struct plot plot; /* the words of the limits stand beside it, or inside where the picture is narrow */
    double near_share;
    bool narrow;
};

static void draw_hours(struct canvas *canvas, const struct course *course)
{
    for (int hour = 0; hour <= 24; hour += course->narrow ? 6 : 3) {
        struct text text = {0};
        text_printf(&text, "%02d:00", hour);
        plot_draw_below(canvas, &course->plot, hour * 60, text_string(&text));
        text_done(&text);
    }
}

/* True where the course stays clear of words on `y` (their base line) from `x` on. */
static bool is_clear(const struct course *course, double x, double y, double width, double high)
{
    const struct day_series *series = course->series;
    for (size_t i = 0; i < series->stretch_count; i++) {
        const struct day_stretch *stretch = &series->stretches[i];
        const bool beside =
            plot_x(&course->plot, stretch->end_min) < x || plot_x(&course->plot, stretch->start_min) > x + width;
        const double top = plot_y(&course->plot, stretch->planning_a);
        const double before = i == 0 ? top : plot_y(&course->plot, series->stretches[i - 1].planning_a);
        if (!beside && !(fmin(top, before) > y + 2 || fmax(top, before) < y - high)) {
            return false;
        }
    }
    return true;
}

/* Where words of that width stand clear of the course on a limit's line; by night where they do so nowhere. */
static double clear_x(const struct course *course, double y, double width, double high)
{
    const double step = 6;
    for (double x = plot_left + 4; x + width < course->plot.right; x += step) {
        if (is_clear(course, x, y, width, high)) {
            return x;
        }
    }
    return plot_left + 4;
}

/* The words of a limit at its line, whose y is given: beside the plot; where that is narrow on the line. */
static void add_limit(struct canvas *canvas, const struct course *course, double y, struct canvas_font font,
                      struct text *text)
{
    const double x = course->plot.right;
    if (course->narrow) {
        const double width = canvas_text_width(font, text_string(text));
        const double at = clear_x(course, y - 2, width, font.size);
        canvas_text_fit(canvas, at, y - 2, x - at, CANVAS_START, font, text_string(text));
    } else {
        canvas_text_fit(canvas, x + 5, y + 3, right_room - 5, CANVAS_START, font, text_string(text));
    }
    text_clear(text);
}

static void draw_limits(struct canvas *canvas, const struct course *course)
{
    const double rating_y = plot_y(&course->plot, course->series->rating_a);
    const double near_y = plot_y(&course->plot, course->series->rating_a * course->near_share);
    struct text text = {0};
    plot_draw_level(canvas, &course->plot, course->series->rating_a, rating_pen);
    plot_draw_level(canvas, &course->plot, course->series->rating_a * course->near_share, near_pen);
    text_rounded(&text, "rating ", course->series->rating_a, 1, " A");
    add_limit(canvas, course, rating_y, plot_bold, &text);
    text_rounded(&text, "", 100 * course->near_share, 0, " % of it");
    if (!course->narrow || near_y - rating_y > plot_font.size + 3) {
        add_limit(canvas, course, fmax(near_y, rating_y + 11), plot_font, &text);
    }
    text_done(&text);
}

static void draw_course(struct canvas *canvas, const struct course *course, bool planning)
{
    const struct day_series *series = course->series;
    struct arena *arena = arena_new();
    struct canvas_point *points = arena_array(arena, 2 * series->stretch_count, sizeof *points);
    for (size_t i = 0; i < series->stretch_count; i++) {
        const struct day_stretch *stretch = &series->stretches[i];
        const double y = plot_y(&course->plot, planning ? stretch->planning_a : stretch->current_a);
        points[2 * i] = (struct canvas_point){plot_x(&course->plot, stretch->start_min), y};
        points[2 * i + 1] = (struct canvas_point){plot_x(&course->plot, stretch->end_min), y};
    }
    canvas_polyline(canvas, points, 2 * series->stretch_count, planning ? planning_pen : current_pen);
    arena_free(arena);
}

/* What lies above the rating, hatched. */
static void draw_excess(struct canvas *canvas, const struct course *course)
{
    const struct day_series *series = course->series;
    const double rating_y = plot_y(&course->plot, series->rating_a);
    for (size_t i = 0; i < series->stretch_count; i++) {
        const struct day_stretch *stretch = &series->stretches[i];
        if (exceeds(stretch->planning_a, series->rating_a)) {
            const double x = plot_x(&course->plot, stretch->start_min);
            const double y = plot_y(&course->plot, stretch->planning_a);
            canvas_rectangle(canvas, x, y, plot_x(&course->plot, stretch->end_min) - x, rating_y - y, CANVAS_HATCH, 0);
        }
    }
}

static void draw_legend(struct canvas *canvas, const struct course *course)
{
    const double y = plot_bottom + 31;
    const double below = course->narrow ? legend_line : 0;
    plot_key_line(canvas, plot_left, y, 26, planning_pen, "planning current");
    plot_key_line(canvas, plot_left + 130, y, 20, current_pen, "current");
    plot_key_fill(canvas, plot_left + (course->narrow ? 0 : 220), y + below, 26, CANVAS_HATCH, plot_font,
                  "above the rating");
}

static void draw_day(struct canvas *canvas, const struct picture *picture)
{
    const struct course *course = picture->data;
    plot_draw_axes(canvas, &course->plot);
    draw_hours(canvas, course);
    draw_limits(canvas, course);
    draw_excess(canvas, course);
    draw_course(canvas, course, false);
    draw_course(canvas, course, true);
    draw_legend(canvas, course);
}

static const char *describe(const struct course *course, double most_a, struct arena *arena)
{
    const struct day_series *series = course->series;
    struct text text = {0};
    text_add(&text, "Steps over 24 hours. The most is ");
    add_ampere(&text, most_a);
    text_add(&text, " planning current, from ");
    clock_add(&text, series->stretches[series->busiest].start_min);
    text_add(&text, " to ");
    clock_add(&text, series->stretches[series->busiest].end_min);
    text_rounded(&text, ", against a rating of ", series->rating_a, 1, "");
    text_printf(&text, " A; above the rating for %d minutes.", series->over_rating_min);
    return picture_string(arena, &text);
}

struct picture picture_day(const char *what, const struct day_series *series, double near_share, bool narrow,
                           struct arena *arena)
{
    struct course *course = arena_array(arena, 1, sizeof *course);
    const double most_a = series->stretches[series->busiest].planning_a;
    const double width = narrow ? PICTURE_HALF_WIDTH : PICTURE_WIDTH;
    *course = (struct course){.series = series,
                              .plot = {.left = plot_left,
                                       .right = width - (narrow ? 12 : right_room),
                                       .top = plot_top,
                                       .bottom = plot_bottom,
                                       .most_x = MINUTES_IN_DAY,
                                       .high = 1.08 * fmax(series->rating_a, most_a),
                                       .unit = " A"},
                              .near_share = near_share,
                              .narrow = narrow};
    struct text title = {0};
    text_printf(&title, "%s: current over a day, %s in %s", what, day_name(series->day.weekday),
                month_name(series->day.month));
    return (struct picture){.title = picture_string(arena, &title),
                            .description = describe(course, most_a, arena),
                            .width = width,
                            .height = day_height + (narrow ? legend_line : 0),
                            .draw = draw_day,
                            .data = course};
}
