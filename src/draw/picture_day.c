/* Current over a day. */
#include <math.h>

#include "ampsum/values.h"
#include "pictures.h"

static const double plot_left = 44;
static const double plot_right = 404;
static const double plot_top = 12;
static const double plot_bottom = 148;
static const double day_height = 190;
static const struct canvas_font small = {8, false};
static const struct canvas_pen planning_pen = {1.8, CANVAS_SOLID};
static const struct canvas_pen current_pen = {1, CANVAS_DOTTED};
static const struct canvas_pen rating_pen = {1.2, CANVAS_DASH_DOT};
static const struct canvas_pen near_pen = {1, CANVAS_DASHED};

struct course {
    const struct day_series *series;
    double near_share;
    double top_a; /* at plot_top */
};

static double x_of(int minute)
{
    return plot_left + (plot_right - plot_left) * minute / MINUTES_IN_DAY;
}

static double y_of(const struct course *course, double current_a)
{
    return plot_bottom - (plot_bottom - plot_top) * current_a / course->top_a;
}

static void draw_axes(struct canvas *canvas, const struct course *course)
{
    const double step = round_step(course->top_a, 6);
    struct text text = {0};
    canvas_line(canvas, plot_left, plot_top, plot_left, plot_bottom, pen_thin);
    canvas_line(canvas, plot_left, plot_bottom, plot_right, plot_bottom, pen_thin);
    for (double value = 0; value <= course->top_a; value += step) {
        text_clear(&text);
        text_add_rounded(&text, value, 2);
        text_add(&text, " A");
        const double y = y_of(course, value);
        canvas_line(canvas, plot_left - 3, y, plot_left, y, pen_thin);
        canvas_text_fit(canvas, plot_left - 5, y + 3, plot_left - 5, CANVAS_END, small, text_string(&text));
    }
    for (int hour = 0; hour <= 24; hour += 3) {
        text_clear(&text);
        text_printf(&text, "%02d:00", hour);
        const double x = x_of(hour * 60);
        canvas_line(canvas, x, plot_bottom, x, plot_bottom + 3, pen_thin);
        canvas_text(canvas, x, plot_bottom + 13, CANVAS_MIDDLE, small, text_string(&text));
    }
    text_done(&text);
}

static void draw_limits(struct canvas *canvas, const struct course *course)
{
    const double rating_y = y_of(course, course->series->rating_a);
    const double near_y = y_of(course, course->series->rating_a * course->near_share);
    struct text text = {0};
    canvas_line(canvas, plot_left, rating_y, plot_right, rating_y, rating_pen);
    canvas_line(canvas, plot_left, near_y, plot_right, near_y, near_pen);
    text_add(&text, "rating ");
    text_add_rounded(&text, course->series->rating_a, 1);
    text_add(&text, " A");
    canvas_text_fit(canvas, plot_right + 5, rating_y + 3, PICTURE_WIDTH - plot_right - 5, CANVAS_START,
                    (struct canvas_font){8, true}, text_string(&text));
    text_clear(&text);
    text_add_rounded(&text, 100 * course->near_share, 0);
    text_add(&text, " % of it");
    canvas_text_fit(canvas, plot_right + 5, fmax(near_y, rating_y + 11) + 3, PICTURE_WIDTH - plot_right - 5,
                    CANVAS_START, small, text_string(&text));
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
        points[2 * i] = (struct canvas_point){x_of(stretch->start_min), y};
        points[2 * i + 1] = (struct canvas_point){x_of(stretch->end_min), y};
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
            const double x = x_of(stretch->start_min);
            const double y = y_of(course, stretch->planning_a);
            canvas_rectangle(canvas, x, y, x_of(stretch->end_min) - x, rating_y - y, CANVAS_HATCH, 0);
        }
    }
}

static void draw_legend(struct canvas *canvas)
{
    const double y = plot_bottom + 32;
    canvas_line(canvas, plot_left, y, plot_left + 26, y, planning_pen);
    canvas_text(canvas, plot_left + 31, y + 3, CANVAS_START, small, "planning current");
    canvas_line(canvas, plot_left + 130, y, plot_left + 156, y, current_pen);
    canvas_text(canvas, plot_left + 161, y + 3, CANVAS_START, small, "current");
    canvas_rectangle(canvas, plot_left + 220, y - 5, 18, 9, CANVAS_HATCH, 0.8);
    canvas_text(canvas, plot_left + 243, y + 3, CANVAS_START, small, "above the rating");
}

static void draw_day(struct canvas *canvas, const struct picture *picture)
{
    const struct course *course = picture->data;
    draw_axes(canvas, course);
    draw_limits(canvas, course);
    draw_excess(canvas, course);
    draw_course(canvas, course, false);
    draw_course(canvas, course, true);
    draw_legend(canvas);
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
    text_add(&text, ", against a rating of ");
    text_add_rounded(&text, series->rating_a, 1);
    text_printf(&text, " A; above the rating for %d minutes.", series->over_rating_min);
    return picture_string(arena, &text);
}

struct picture picture_day(const char *what, const struct day_series *series, double near_share, struct arena *arena)
{
    struct course *course = arena_array(arena, 1, sizeof *course);
    const double most_a = series->stretches[series->busiest].planning_a;
    *course = (struct course){series, near_share, 1.08 * fmax(series->rating_a, most_a)};
    struct text title = {0};
    text_printf(&title, "%s: current over a day, %c%s in %c%s", what, day_word(series->day.weekday)[0] - 'a' + 'A',
                day_word(series->day.weekday) + 1, month_word(series->day.month)[0] - 'a' + 'A',
                month_word(series->day.month) + 1);
    return (struct picture){.title = picture_string(arena, &title),
                            .description = describe(course, most_a, arena),
                            .width = PICTURE_WIDTH,
                            .height = day_height,
                            .draw = draw_day,
                            .data = course};
}
