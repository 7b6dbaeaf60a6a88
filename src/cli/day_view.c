#include "day_view.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

enum { PLOT_ROWS = 10, PLOT_COLUMNS_WIDE = 96, PLOT_COLUMNS = 48, LABEL_COLUMNS = 8 };

void day_view_minute(struct text *text, int minute)
{
    text_printf(text, "%02d:%02d", minute / 60, minute % 60);
}

void day_view_percent(struct text *text, struct chance_bounds chance)
{
    struct text lower = {0};
    struct text upper = {0};
    text_printf(&lower, "%.3g", chance.lower * 100);
    text_printf(&upper, "%.3g", chance.upper * 100);
    text_add(text, text_string(&lower));
    if (strcmp(text_string(&lower), text_string(&upper)) != 0) {
        text_printf(text, " to %s", text_string(&upper));
    }
    text_add(text, " %");
    text_done(&lower);
    text_done(&upper);
}

static void write_current(struct text *text, struct chance_bounds current_a)
{
    if (!isfinite(current_a.upper)) {
        text_add(text, "beyond the grid");
        return;
    }
    text_add_fixed(text, current_a.lower, 2);
    if (current_a.upper - current_a.lower > 0.001) {
        text_add(text, " to ");
        text_add_fixed(text, current_a.upper, 2);
    }
    text_add(text, " A");
}

/* Largest planning current of each column of the plot. */
static void plot_columns(const struct day_series *series, size_t count, double *columns_a)
{
    size_t stretch = 0;
    for (size_t i = 0; i < count; i++) {
        int start_min = (int)(i * MINUTES_IN_DAY / count);
        int end_min = (int)((i + 1) * MINUTES_IN_DAY / count);
        columns_a[i] = 0;
        while (series->stretches[stretch].end_min <= start_min) {
            stretch++;
        }
        for (size_t j = stretch; j < series->stretch_count && series->stretches[j].start_min < end_min; j++) {
            columns_a[i] = fmax(columns_a[i], series->stretches[j].planning_a);
        }
    }
}

static void plot_cell(double current_a, double low_a, double row_a, bool rating_row, bool utf8, struct text *text)
{
    static const char *const blocks[] = {"\u2581", "\u2582", "\u2583", "\u2584",
                                         "\u2585", "\u2586", "\u2587", "\u2588"};
    double filled = (current_a - low_a) / row_a;
    int eighths = (int)floor(filled * 8 + 0.5);
    if (utf8 && eighths >= 1) {
        text_add(text, blocks[(eighths > 8 ? 8 : eighths) - 1]);
    } else if (!utf8 && filled >= 0.5) {
        text_add_char(text, '#');
    } else if (!utf8 && filled > 0.01) {
        text_add_char(text, '.');
    } else {
        text_add(text, !rating_row ? " " : utf8 ? "\u2500" : "-");
    }
}

static void plot_axis(size_t columns, struct text *text)
{
    text_printf(text, "%*s+", LABEL_COLUMNS, "");
    for (size_t i = 0; i < columns; i++) {
        text_add_char(text, '-');
    }
    text_printf(text, "\n%*s", LABEL_COLUMNS - 1, "");
    for (int hour = 0; hour <= 24; hour += 3) {
        text_printf(text, "%02d%*s", hour, hour < 24 ? (int)(columns / 8) - 2 : 0, "");
    }
    text_add_char(text, '\n');
}

void day_view_plot(const struct day_view *view, const struct page *page, struct text *text)
{
    const struct day_series *series = &view->series;
    size_t columns = page->width >= PLOT_COLUMNS_WIDE + LABEL_COLUMNS + 4 ? PLOT_COLUMNS_WIDE : PLOT_COLUMNS;
    double columns_a[PLOT_COLUMNS_WIDE];
    plot_columns(series, columns, columns_a);
    /* Eight rows reach up to the rating, so that the rating is the edge of a row; more where the current goes beyond.
     */
    double row_a = fmax(series->rating_a, series->stretches[series->busiest].planning_a / 2) / (PLOT_ROWS - 2);
    int rows = (int)ceil(fmax(series->stretches[series->busiest].planning_a, series->rating_a) / row_a * (1 - 1e-9));
    int rating_row = (int)floor(series->rating_a / row_a + 1e-9);
    rows = rows <= rating_row ? rating_row + 1 : rows;
    for (int row = rows - 1; row >= 0; row--) {
        struct text label = {0};
        if (row == rating_row) {
            text_add_rounded(&label, series->rating_a, 1);
            text_add(&label, " A");
        } else if (row == 0) {
            text_add(&label, "0 A");
        }
        text_printf(text, "%*s |", LABEL_COLUMNS - 1, text_string(&label));
        text_done(&label);
        for (size_t i = 0; i < columns; i++) {
            plot_cell(columns_a[i], row * row_a, row_a, row == rating_row, page->utf8, text);
        }
        while (text->length > 0 && text->bytes[text->length - 1] == ' ') {
            text->bytes[--text->length] = '\0';
        }
        text_add(text, row == rating_row ? " rating\n" : "\n");
    }
    plot_axis(columns, text);
}

void day_view_on(const struct house *house, const struct day_view *view, struct text *text)
{
    const struct day_series *series = &view->series;
    int minute = series->stretches[series->busiest].start_min;
    size_t written = 0;
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        if (day_scope_has(house, view->scope, i) && day_appliance_is_on(appliance, series->day, minute)) {
            text_printf(text, "%s%s", written++ > 0 ? ", " : "", appliance->id);
            if (appliance->count > 1) {
                text_printf(text, "*%u", appliance->count);
            }
        }
    }
    text_add(text, written == 0 ? "nothing" : "");
}

static void write_hours(struct text *text, int minutes)
{
    text_printf(text, "%d h %02d min", minutes / 60, minutes % 60);
}

void day_view_left_out(const struct house *house, const struct day_view *views, size_t count, const struct page *page,
                       struct text *text)
{
    struct text line = {0};
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < views[i].left_out.count; j++) {
            text_add(&line, line.length == 0 ? "Left out of the odds (neither `use` nor `hours` given): " : ", ");
            text_add(&line, house->appliances[views[i].left_out.index[j]].id);
        }
    }
    if (line.length > 0) {
        text_add_char(&line, '.');
        report_wrap(page, 2, text_string(&line), text);
    }
    text_done(&line);
}

static void write_odds(const struct house *house, const struct day_view *view, const struct page *page,
                       struct text *text)
{
    const struct chance_figures *chance = &view->chance;
    struct text line = {0};
    text_add(&line, "Chance of more than ");
    text_add_rounded(&line, view->series.rating_a, 2);
    text_add(&line, " A: ");
    day_view_percent(&line, chance->worst);
    if (chance->worst.upper > 0) {
        text_add(&line, " in the worst minute (");
        day_view_minute(&line, chance->worst_min);
        text_add(&line, "); ");
        day_view_percent(&line, chance->time);
        text_add(&line, " of the time; at some time of the day at least the worst minute's, at most ");
        day_view_percent(&line, (struct chance_bounds){chance->some_time_most, chance->some_time_most});
    } else {
        text_add(&line, " all day");
    }
    text_add(&line, ".");
    report_wrap(page, 2, text_string(&line), text);
    text_clear(&line);
    text_add(&line, "Not exceeded 95 % of the time: ");
    write_current(&line, chance->current_95_a);
    text_add(&line, "; 99 %: ");
    write_current(&line, chance->current_99_a);
    text_add(&line, ".");
    report_wrap(page, 2, text_string(&line), text);
    day_view_left_out(house, view, 1, page, text);
    text_done(&line);
}

void day_view_text(const struct house *house, const struct day_view *view, const struct page *page, struct text *text)
{
    const struct day_series *series = &view->series;
    const struct day_stretch *busiest = &series->stretches[series->busiest];
    struct text line = {0};
    text_printf(&line, "%s%s%s: %s; day shown: %s, %s", view->id, view->leg != NULL ? " leg " : "",
                view->leg != NULL ? view->leg : "", view->label, day_word(series->day.weekday),
                month_word(series->day.month));
    report_wrap(page, 2, text_string(&line), text);
    text_add(text, "Planning current over the day\n");
    day_view_plot(view, page, text);
    text_clear(&line);
    text_add(&line, "Busiest: ");
    day_view_minute(&line, busiest->start_min);
    text_add_char(&line, '-');
    day_view_minute(&line, busiest->end_min);
    text_add(&line, ", planning ");
    text_add_fixed(&line, busiest->planning_a, 2);
    text_add(&line, " A, current ");
    text_add_fixed(&line, busiest->current_a, 2);
    text_add(&line, " A; on: ");
    day_view_on(house, view, &line);
    report_wrap(page, 2, text_string(&line), text);
    text_add(text, "Above 80 % of the rating: ");
    write_hours(text, series->over_share_min);
    text_add(text, "; above the rating: ");
    write_hours(text, series->over_rating_min);
    text_add_char(text, '\n');
    write_odds(house, view, page, text);
    text_done(&line);
}

void day_view_assumptions(const struct day_view *views, size_t count, const struct page *page, struct text *text)
{
    double least_a = count > 0 ? views[0].chance.grid_a : CHANCE_GRID_A;
    double most_a = least_a;
    for (size_t i = 1; i < count; i++) {
        least_a = fmin(least_a, views[i].chance.grid_a);
        most_a = fmax(most_a, views[i].chance.grid_a);
    }
    struct text line = {0};
    text_add(&line,
             "The plot has each appliance on in all of its windows, and without windows always. The odds have it "
             "on for its hours and duty alone, whatever the others do, all units of a count together, one of a "
             "group at most. Independence ignores that meals and cold evenings bring loads together: the true "
             "chance may be higher. At most: the sum over the stretches of the day, if what is on stays on for "
             "a whole stretch. Exact on a grid of ");
    text_add_rounded(&line, least_a, 6);
    if (most_a > least_a) {
        text_add(&line, " A (the largest ");
        text_add_rounded(&line, most_a, 6);
        text_add(&line, " A)");
    } else {
        text_add(&line, " A");
    }
    text_add(&line, ", rounded down and up.");
    report_wrap(page, 2, text_string(&line), text);
    text_done(&line);
}

static json_t *time_json(int minute)
{
    struct text text = {0};
    day_view_minute(&text, minute);
    json_t *time = json_text(text_string(&text));
    text_done(&text);
    return time;
}

static json_t *bounds_json(struct chance_bounds bounds)
{
    json_t *object = json_object();
    json_object_set_new(object, "lower", json_figure(bounds.lower));
    json_object_set_new(object, "upper", json_figure(bounds.upper));
    return object;
}

static json_t *chance_json(const struct house *house, const struct day_view *view)
{
    const struct chance_figures *chance = &view->chance;
    json_t *object = json_object();
    json_object_set_new(object, "grid_a", json_figure(chance->grid_a));
    json_object_set_new(object, "worst_at", time_json(chance->worst_min));
    json_object_set_new(object, "worst_minute", bounds_json(chance->worst));
    json_object_set_new(object, "share_of_time", bounds_json(chance->time));
    json_object_set_new(object, "some_time_at_least", json_figure(chance->worst.lower));
    json_object_set_new(object, "some_time_at_most", json_figure(chance->some_time_most));
    json_object_set_new(object, "current_95_a", bounds_json(chance->current_95_a));
    json_object_set_new(object, "current_99_a", bounds_json(chance->current_99_a));
    json_t *left_out = json_array();
    for (size_t i = 0; i < view->left_out.count; i++) {
        json_array_append_new(left_out, json_text(house->appliances[view->left_out.index[i]].id));
    }
    json_object_set_new(object, "left_out", left_out);
    return object;
}

static json_t *stretch_json(const struct day_stretch *stretch)
{
    json_t *object = json_object();
    json_object_set_new(object, "start", time_json(stretch->start_min));
    json_object_set_new(object, "end", time_json(stretch->end_min));
    json_object_set_new(object, "current_a", json_figure(stretch->current_a));
    json_object_set_new(object, "planning_a", json_figure(stretch->planning_a));
    return object;
}

static json_t *busiest_json(const struct house *house, const struct day_view *view)
{
    const struct day_series *series = &view->series;
    const struct day_stretch *busiest = &series->stretches[series->busiest];
    json_t *object = stretch_json(busiest);
    json_t *on = json_array();
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (day_scope_has(house, view->scope, i) &&
            day_appliance_is_on(&house->appliances[i], series->day, busiest->start_min)) {
            json_array_append_new(on, json_text(house->appliances[i].id));
        }
    }
    json_object_set_new(object, "on", on);
    return object;
}

json_t *day_view_json(const struct house *house, const struct day_view *view)
{
    const struct day_series *series = &view->series;
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(view->id));
    if (view->leg != NULL) {
        json_object_set_new(object, "leg", json_text(view->leg));
    }
    json_object_set_new(object, "day", json_text(day_word(series->day.weekday)));
    json_object_set_new(object, "month", json_text(month_word(series->day.month)));
    json_object_set_new(object, "rating_a", json_figure(series->rating_a));
    json_object_set_new(object, "busiest", busiest_json(house, view));
    json_object_set_new(object, "over_80_percent_h", json_figure(series->over_share_min / 60.0));
    json_object_set_new(object, "over_rating_h", json_figure(series->over_rating_min / 60.0));
    json_object_set_new(object, "chance", chance_json(house, view));
    json_t *stretches = json_array();
    for (size_t i = 0; i < series->stretch_count; i++) {
        json_array_append_new(stretches, stretch_json(&series->stretches[i]));
    }
    json_object_set_new(object, "stretches", stretches);
    return object;
}
