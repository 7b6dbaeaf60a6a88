/* A day in sentences. */
#include <math.h>
#include <string.h>

#include "ampsum/show_day.h"
#include "ampsum/values.h"
#include "day_words.h"

void show_day_untimed(const struct day_view *view, struct text *text)
{
    if (view->series.stretches[view->series.busiest].planning_a > 0 && !view->timed) {
        text_add(text, "Nothing here has a time (`use`, `days` or `months`): every day is like this one.");
    }
}

void day_percent(struct text *text, struct chance_bounds chance)
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
        text_fixed(text, " to ", current_a.upper, 2, "");
    }
    text_add(text, " A");
}

static void write_on(const struct house *house, const struct day_view *view, bool names, struct text *text)
{
    for (size_t i = 0; i < view->on.count; i++) {
        const struct appliance *appliance = &house->appliances[view->on.index[i]];
        text_printf(text, "%s%s", i > 0 ? ", " : "", names ? appliance->name : appliance->id);
        if (appliance->count > 1) {
            text_printf(text, "*%u", appliance->count);
        }
    }
    text_add(text, view->on.count == 0 ? "nothing" : "");
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
    text_fixed(text, ", planning ", busiest->planning_a, 2, " A, current ");
    text_fixed(text, "", busiest->current_a, 2, " A; on: ");
    write_on(house, view, names, text);
}

void day_add_when(const struct day_view *view, struct text *text)
{
    const struct day_series *series = &view->series;
    if (!view->timed) {
        text_add(text, "at any time");
        return;
    }
    text_printf(text, "%s in %s, ", day_name(series->day.weekday), month_name(series->day.month));
    if (series->stretch_count == 1) {
        text_add(text, "all day");
    } else {
        clock_add(text, series->stretches[series->busiest].start_min);
    }
}

void show_day_over(const struct day_answer *answer, struct text *text)
{
    size_t i = day_next_above(answer, 0);
    text_add(text, i < answer->count ? "Above the rating: " : "Nothing goes above its rating on its busiest day.");
    while (i < answer->count) {
        const struct day_view *view = &answer->views[i];
        const struct day_series *series = &view->series;
        text_printf(text, "%s%s%s", view->label, view->leg == NULL ? "" : ", leg ", view->leg == NULL ? "" : view->leg);
        text_rounded(text, " with ", series->stretches[series->busiest].planning_a, 1, " A of ");
        text_rounded(text, "", series->rating_a, 1, " A, ");
        day_add_when(view, text);
        i = day_next_above(answer, i + 1);
        text_add(text, i < answer->count ? "; " : ".");
    }
}

void show_day_above(const struct day_answer *answer, const struct day_view *view, struct text *text)
{
    text_rounded(text, "Above ", answer->near_percent, 1, " % of the rating: ");
    write_hours(text, view->series.over_share_min);
    text_add(text, "; above the rating: ");
    write_hours(text, view->series.over_rating_min);
}

void show_day_energy(const struct day_view *view, struct text *text)
{
    text_fixed(text, "Energy of that day: ", view->energy_kwh, 2, " kWh");
}

/* Never less than in the worst minute, and never more than all stretches together. */
static void write_some_time(struct text *text, const struct chance_figures *chance)
{
    struct text least = {0};
    struct text most = {0};
    day_percent(&least, (struct chance_bounds){chance->worst.lower, chance->worst.lower});
    day_percent(&most, (struct chance_bounds){chance->some_time_most, chance->some_time_most});
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
    text_rounded(text, "Chance of more than ", view->series.rating_a, 2, " A: ");
    if (!view->has_odds) {
        text_add(text, "not known, since nothing here has `use` or `hours`.");
        return;
    }
    if (!view->chance_known) {
        text_add(text, "not known: 0 % only without the loads that are left out of the odds.");
        return;
    }
    day_percent(text, chance->worst);
    if (chance->worst.upper > 0) {
        text_add(text, " in the worst minute (");
        clock_add(text, chance->worst_min);
        text_add(text, "); ");
        day_percent(text, chance->time);
        text_add(text, " of the time; at some time of the day: ");
        write_some_time(text, chance);
    } else {
        text_add(text, " all day");
    }
    text_add(text, ".");
}

void show_day_not_exceeded(const struct day_view *view, struct text *text)
{
    if (!view->chance_known) {
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

void show_day_assumptions(const struct day_answer *answer, struct text *text)
{
    text_add(text, "The plot has each appliance on in all of its windows, and without windows always. The odds have it "
                   "on for its hours and duty alone, whatever the others do, all units of a count together, one of a "
                   "group at most. Independence ignores that meals and cold evenings bring loads together: the true "
                   "chance may be higher. At most: the sum over the stretches of the day, if what is on stays on for "
                   "a whole stretch. Exact on a grid of ");
    text_add_rounded(text, answer->least_grid_a, 6);
    if (answer->largest_grid_a > answer->least_grid_a) {
        text_rounded(text, " A (the largest ", answer->largest_grid_a, 6, " A)");
    } else {
        text_add(text, " A");
    }
    text_add(text, ", rounded down and up.");
}
