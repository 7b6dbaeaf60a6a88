/* Current over a day. */
#include <math.h>

#include "ampsum/values.h"
#include "pictures.h"

static const double plot_left = 44;
static const double right_room = 96; /* for the words beside the plot */
static const double plot_top = 12;
static const double plot_bottom = 148;
static const double day_height = 186;
static const double legend_line = 13;
static const struct canvas_font small = {8, false};
static const struct canvas_pen planning_pen = {1.8, CANVAS_SOLID};
static const struct canvas_pen current_pen = {1, CANVAS_DOTTED};
static const struct canvas_pen rating_pen = {1.2, CANVAS_DASH_DOT};
static const struct canvas_pen near_pen = {1, CANVAS_DASHED};

struct course {
    const struct day_series *series;
    double near_share;
    double top_a;      /* at plot_top */
    double plot_right; /* the words of the limits stand beside it, or inside where the picture is narrow */
    bool narrow;
};

static double x_of(const struct course *course, int minute)
{
    return plot_left + (course->plot_right - plot_left) * minute / MINUTES_IN_DAY;
}

static struct plot_scale scale_of(const struct course *course)
{
    return (struct plot_scale){plot_left, plot_bottom, plot_top, 0, course->top_a, " A"};
}

static double y_of(const struct course *course, double current_a)
{
    const struct plot_scale scale = scale_of(course);
    return plot_y(&scale, current_a);
}

static void draw_axes(struct canvas *canvas, const struct course *course)
{
    const struct plot_scale scale = scale_of(course);
    struct text text = {0};
    draw_scale(canvas, &scale);
    canvas_line(canvas, plot_left, plot_bottom, course->plot_right, plot_bottom, pen_thin);
    for (int hour = 0; hour <= 24; hour += course->narrow ? 6 : 3) {
        text_clear(&text);
        text_printf(&text, "%02d:00", hour);
        const double x = x_of(course, hour * 60);
        canvas_line(canvas, x, plot_bottom, x, plot_bottom + 3, pen_thin);
        canvas_text(canvas, x, plot_bottom + 13, CANVAS_MIDDLE, small, text_string(&text));
    }
    text_done(&text);
}

/* True where the course stays clear of words on `y` (their base line) from `x` on. */
static bool is_clear(const struct course *course, double x, double y, double width, double high)
{
    const struct day_series *series = course->series;
    for (size_t i = 0; i < series->stretch_count; i++) {
        const struct day_stretch *stretch = &series->stretches[i];
        const bool beside = x_of(course, stretch->end_min) < x || x_of(course, stretch->start_min) > x + width;
        const double top = y_of(course, stretch->planning_a);
        const double before = i == 0 ? top : y_of(course, series->stretches[i - 1].planning_a);
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
    for (double x = plot_left + 4; x + width < course->plot_right; x += step) {
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
    const double x = course->plot_right;
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
    const double rating_y = y_of(course, course->series->rating_a);
    const double near_y = y_of(course, course->series->rating_a * course->near_share);
    struct text text = {0};
    canvas_line(canvas, plot_left, rating_y, course->plot_right, rating_y, rating_pen);
    canvas_line(canvas, plot_left, near_y, course->plot_right, near_y, near_pen);
    text_rounded(&text, "rating ", course->series->rating_a, 1, " A");
    add_limit(canvas, course, rating_y, (struct canvas_font){8, true}, &text);
    text_rounded(&text, "", 100 * course->near_share, 0, " % of it");
    if (!course->narrow || near_y - rating_y > small.size + 3) {
        add_limit(canvas, course, fmax(near_y, rating_y + 11), small, &text);
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
        const double y = y_of(course, planning ? stretch->planning_a : stretch->current_a);
        points[2 * i] = (struct canvas_point){x_of(course, stretch->start_min), y};
        points[2 * i + 1] = (struct canvas_point){x_of(course, stretch->end_min), y};
    }
    canvas_polyline(canvas, points, 2 * series->stretch_count, planning ? planning_pen : current_pen);
    arena_free(arena);
}

/* What lies above the rating, hatched. */
static void draw_excess(struct canvas *canvas, const struct course *course)
{
    const struct day_series *series = course->series;
    const double rating_y = y_of(course, series->rating_a);
    for (size_t i = 0; i < series->stretch_count; i++) {
        const struct day_stretch *stretch = &series->stretches[i];
        if (exceeds(stretch->planning_a, series->rating_a)) {
            const double x = x_of(course, stretch->start_min);
            const double y = y_of(course, stretch->planning_a);
            canvas_rectangle(canvas, x, y, x_of(course, stretch->end_min) - x, rating_y - y, CANVAS_HATCH, 0);
        }
    }
}

static void draw_legend(struct canvas *canvas, const struct course *course)
{
    const double y = plot_bottom + 28;
    const double below = course->narrow ? legend_line : 0;
    const double x = plot_left + (course->narrow ? 0 : 220);
    canvas_line(canvas, plot_left, y, plot_left + 26, y, planning_pen);
    canvas_text(canvas, plot_left + 31, y + 3, CANVAS_START, small, "planning current");
    canvas_line(canvas, plot_left + 130, y, plot_left + 150, y, current_pen);
    canvas_text(canvas, plot_left + 155, y + 3, CANVAS_START, small, "current");
    canvas_rectangle(canvas, x, y - 5 + below, 18, 9, CANVAS_HATCH, 0.8);
    canvas_text(canvas, x + 31, y + 3 + below, CANVAS_START, small, "above the rating");
}

static void draw_day(struct canvas *canvas, const struct picture *picture)
{
    const struct course *course = picture->data;
    draw_axes(canvas, course);
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
                              .near_share = near_share,
                              .top_a = 1.08 * fmax(series->rating_a, most_a),
                              .plot_right = width - (narrow ? 12 : right_room),
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
