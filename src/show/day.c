/* A day in sentences and as JSON: the answer of `day`. */
#include <math.h>
#include <string.h>

#include "ampsum/day_assess.h"
#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "ampsum/values.h"

bool show_day_has_times(const struct house *house, const struct day_view *view)
{
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (day_scope_has(house, view->scope, i) && appliance_has_times(&house->appliances[i])) {
            return true;
        }
    }
    return false;
}

bool show_day_when(const struct house *house, const struct day_view *view, struct text *text)
{
    const struct day_series *series = &view->series;
    const struct day_stretch *busiest = &series->stretches[series->busiest];
    if (!(busiest->planning_a > 0)) {
        return false;
    }
    if (!show_day_has_times(house, view)) {
        text_add(text, "any time");
        return true;
    }
    text_printf(text, "%s %s ", day_word(series->day.weekday), month_word(series->day.month));
    if (series->stretch_count == 1) {
        text_add(text, "all day");
    } else {
        clock_add(text, busiest->start_min);
    }
    return true;
}

void show_day_untimed(const struct house *house, const struct day_view *view, struct text *text)
{
    if (view->series.stretches[view->series.busiest].planning_a > 0 && !show_day_has_times(house, view)) {
        text_add(text, "Nothing here has a time (`use`, `days` or `months`): every day is like this one.");
    }
}

void show_day_percent(struct text *text, struct chance_bounds chance)
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

void show_day_on(const struct house *house, const struct day_view *view, bool names, struct text *text)
{
    const struct day_series *series = &view->series;
    int minute = series->stretches[series->busiest].start_min;
    size_t written = 0;
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        if (day_scope_has(house, view->scope, i) && day_appliance_is_on(appliance, series->day, minute)) {
            text_printf(text, "%s%s", written++ > 0 ? ", " : "", names ? appliance->name : appliance->id);
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

void show_day_busiest(const struct house *house, const struct day_view *view, bool names, struct text *text)
{
    const struct day_stretch *busiest = &view->series.stretches[view->series.busiest];
    text_add(text, "Busiest: ");
    clock_add_span(text, busiest->start_min, busiest->end_min);
    text_add(text, ", planning ");
    text_add_fixed(text, busiest->planning_a, 2);
    text_add(text, " A, current ");
    text_add_fixed(text, busiest->current_a, 2);
    text_add(text, " A; on: ");
    show_day_on(house, view, names, text);
}

void show_day_above(const struct house *house, const struct day_view *view, struct text *text)
{
    text_add(text, "Above ");
    text_add_rounded(text, reference_rule_value("near-share", rules_word(house->rules)), 1);
    text_add(text, " % of the rating: ");
    write_hours(text, view->series.over_share_min);
    text_add(text, "; above the rating: ");
    write_hours(text, view->series.over_rating_min);
}

void show_day_energy(const struct day_view *view, struct text *text)
{
    text_add(text, "Energy of that day: ");
    text_add_fixed(text, view->energy_kwh, 2);
    text_add(text, " kWh");
}

bool show_day_has_odds(const struct day_view *view)
{
    return view->left_out.count == 0 || view->chance.current_99_a.upper > 0 || view->chance.worst.upper > 0;
}

bool show_day_chance_known(const struct day_view *view)
{
    return show_day_has_odds(view) &&
           (view->chance.worst.upper > 0 || view->left_out.count == 0 || view->series.over_rating_min == 0);
}

/* Never less than in the worst minute, and never more than all stretches together. */
static void write_some_time(struct text *text, const struct chance_figures *chance)
{
    struct text least = {0};
    struct text most = {0};
    show_day_percent(&least, (struct chance_bounds){chance->worst.lower, chance->worst.lower});
    show_day_percent(&most, (struct chance_bounds){chance->some_time_most, chance->some_time_most});
    if (strcmp(text_string(&least), text_string(&most)) != 0) {
        text_printf(text, "between %s and ", text_string(&least));
    }
    text_add(text, text_string(&most));
    text_done(&least);
    text_done(&most);
}

void show_day_odds(const struct day_view *view, struct text *text)
{
    const struct chance_figures *chance = &view->chance;
    text_add(text, "Chance of more than ");
    text_add_rounded(text, view->series.rating_a, 2);
    text_add(text, " A: ");
    if (!show_day_has_odds(view)) {
        text_add(text, "not known, since nothing here has `use` or `hours`.");
        return;
    }
    if (!show_day_chance_known(view)) {
        text_add(text, "not known: 0 % only without the loads that are left out of the odds.");
        return;
    }
    show_day_percent(text, chance->worst);
    if (chance->worst.upper > 0) {
        text_add(text, " in the worst minute (");
        clock_add(text, chance->worst_min);
        text_add(text, "); ");
        show_day_percent(text, chance->time);
        text_add(text, " of the time; at some time of the day: ");
        write_some_time(text, chance);
    } else {
        text_add(text, " all day");
    }
    text_add(text, ".");
}

void show_day_not_exceeded(const struct day_view *view, struct text *text)
{
    if (!show_day_chance_known(view)) {
        return; /* what is left out draws the most: a figure of the rest would mislead */
    }
    text_add(text, "Not exceeded 95 % of the time: ");
    write_current(text, view->chance.current_95_a);
    text_add(text, "; 99 %: ");
    write_current(text, view->chance.current_99_a);
    text_add(text, ".");
}

void show_day_left_out(const struct house *house, const struct day_view *views, size_t count, bool names,
                       struct text *text)
{
    size_t written = 0;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < views[i].left_out.count; j++) {
            const struct appliance *appliance = &house->appliances[views[i].left_out.index[j]];
            text_add(text, written++ == 0 ? "Left out of the odds (neither `use` nor `hours` given): " : ", ");
            text_add(text, names ? appliance->name : appliance->id);
        }
    }
    text_add(text, written > 0 ? "." : "");
}

void show_day_assumptions(const struct day_view *views, size_t count, struct text *text)
{
    double least_a = count > 0 ? views[0].chance.grid_a : CHANCE_GRID_A;
    double most_a = least_a;
    for (size_t i = 1; i < count; i++) {
        least_a = fmin(least_a, views[i].chance.grid_a);
        most_a = fmax(most_a, views[i].chance.grid_a);
    }
    text_add(text, "The plot has each appliance on in all of its windows, and without windows always. The odds have it "
                   "on for its hours and duty alone, whatever the others do, all units of a count together, one of a "
                   "group at most. Independence ignores that meals and cold evenings bring loads together: the true "
                   "chance may be higher. At most: the sum over the stretches of the day, if what is on stays on for "
                   "a whole stretch. Exact on a grid of ");
    text_add_rounded(text, least_a, 6);
    if (most_a > least_a) {
        text_add(text, " A (the largest ");
        text_add_rounded(text, most_a, 6);
        text_add(text, " A)");
    } else {
        text_add(text, " A");
    }
    text_add(text, ", rounded down and up.");
}

static json_t *time_json(int minute)
{
    struct text text = {0};
    clock_add(&text, minute);
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

static json_t *view_json(const struct house *house, const struct day_view *view)
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
    json_object_set_new(object, "energy_kwh", json_figure(view->energy_kwh));
    json_object_set_new(object, "chance", chance_json(house, view));
    json_t *stretches = json_array();
    for (size_t i = 0; i < series->stretch_count; i++) {
        json_array_append_new(stretches, stretch_json(&series->stretches[i]));
    }
    json_object_set_new(object, "stretches", stretches);
    return object;
}

json_t *show_day_json(const struct house *house, const struct day_view *views, size_t count)
{
    static const char *const more[] = {
        "The odds take appliances as independent of one another; meals and cold evenings bring loads together, so the "
        "true chance may be higher.",
        NULL};
    json_t *answer = json_answer("day", house->name);
    json_t *branches = json_array();
    json_t *panels = json_array();
    for (size_t i = 0; i < count; i++) {
        json_array_append_new(views[i].leg == NULL ? branches : panels, view_json(house, &views[i]));
    }
    json_object_set_new(answer, "branches", branches);
    json_object_set_new(answer, "panels", panels);
    json_cautions(answer, more);
    return answer;
}
