#include "ampsum/day.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "day_parts.h"

static void add_stretch(struct day_series *series, double near_share, struct day_stretch stretch);

static bool bit(unsigned bits, int index)
{
    return (bits >> index & 1U) != 0;
}

bool day_starts_on(const struct appliance *appliance, int weekday, int month)
{
    return bit(appliance->days, weekday) && bit(appliance->months, month);
}

bool day_window_part(const struct appliance *appliance, struct day day, size_t window, struct window *ret_parts,
                     int *ret_count)
{
    int start_min = appliance->use.window[window].start_min;
    int end_min = appliance->use.window[window].end_min;
    bool crosses = end_min <= start_min;
    *ret_count = 0;
    if (crosses && end_min > 0 && day_starts_on(appliance, (day.weekday + 6) % 7, day.month_before)) {
        ret_parts[(*ret_count)++] = (struct window){0, end_min};
    }
    if (day_starts_on(appliance, day.weekday, day.month)) {
        ret_parts[(*ret_count)++] = (struct window){start_min, crosses ? MINUTES_IN_DAY : end_min};
    }
    return *ret_count > 0;
}

bool day_appliance_is_on(const struct appliance *appliance, struct day day, int minute)
{
    if (appliance->use.count == 0) {
        return day_starts_on(appliance, day.weekday, day.month);
    }
    for (size_t i = 0; i < appliance->use.count; i++) {
        struct window parts[2];
        int count = 0;
        day_window_part(appliance, day, i, parts, &count);
        for (int j = 0; j < count; j++) {
            if (parts[j].start_min <= minute && minute < parts[j].end_min) {
                return true;
            }
        }
    }
    return false;
}

bool day_panel_feeds(const struct house *house, size_t panel, size_t branch)
{
    size_t at = house->branches[branch].panel;
    for (size_t steps = 0; at != NO_INDEX && steps <= house->panel_count; steps++) {
        if (at == panel) {
            return true;
        }
        at = house->panels[at].from;
    }
    return false;
}

struct index_list day_scope_appliances(const struct house *house, struct day_scope scope, struct arena *arena)
{
    if (scope.branch != NO_INDEX) {
        return house->branches[scope.branch].appliances;
    }
    struct index_list list = {.index = arena_array(arena, house->appliance_count, sizeof *list.index)};
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        if (bit(branch->legs, scope.leg) && day_panel_feeds(house, scope.panel, i)) {
            for (size_t j = 0; j < branch->appliances.count; j++) {
                list.index[list.count++] = branch->appliances.index[j];
            }
        }
    }
    return list;
}

size_t day_scope_next(const struct house *house, struct day_scope scope, size_t *at)
{
    if (scope.branch != NO_INDEX) {
        const struct index_list *list = &house->branches[scope.branch].appliances;
        return *at < list->count ? list->index[(*at)++] : NO_INDEX;
    }
    for (; *at < house->appliance_count; (*at)++) {
        const size_t branch = house->appliances[*at].branch;
        if (bit(house->branches[branch].legs, scope.leg) && day_panel_feeds(house, scope.panel, branch)) {
            return (*at)++;
        }
    }
    return NO_INDEX;
}

double day_scope_rating_a(const struct house *house, struct day_scope scope)
{
    return scope.branch != NO_INDEX ? house->branches[scope.branch].breaker_a : house->panels[scope.panel].breaker_a;
}

void day_course(const struct house *house, struct day_scope scope, struct day day, struct planning_factors factors,
                double near_share, struct arena *arena, struct day_series *ret_series)
{
    bool is_edge[MINUTES_IN_DAY + 1];
    struct arena *scratch = arena_new();
    struct index_list list = day_scope_appliances(house, scope, scratch);
    size_t stretches = day_edges(house, &list, day, is_edge);
    *ret_series = (struct day_series){
        .day = day,
        .rating_a = day_scope_rating_a(house, scope),
        .stretches = arena_array(arena, stretches, sizeof *ret_series->stretches),
    };
    unsigned *on = arena_array(scratch, house->appliance_count, sizeof *on);
    struct panel_figures *panels = arena_array(scratch, house->panel_count, sizeof *panels);
    for (int minute = 0, end_min = 0; minute < MINUTES_IN_DAY; minute = end_min) {
        for (end_min = minute + 1; !is_edge[end_min]; end_min++) {
        }
        struct day_stretch stretch = day_look_at(house, scope, &list, day, minute, factors, on, panels);
        stretch.start_min = minute;
        stretch.end_min = end_min;
        add_stretch(ret_series, near_share, stretch);
    }
    arena_free(scratch);
}

size_t day_edges(const struct house *house, const struct index_list *list, struct day day, bool *is_edge)
{
    for (int minute = 0; minute <= MINUTES_IN_DAY; minute++) {
        is_edge[minute] = minute == 0 || minute == MINUTES_IN_DAY;
    }
    for (size_t i = 0; i < list->count; i++) {
        const struct appliance *appliance = &house->appliances[list->index[i]];
        for (size_t j = 0; j < appliance->use.count; j++) {
            struct window parts[2];
            int count = 0;
            day_window_part(appliance, day, j, parts, &count);
            for (int k = 0; k < count; k++) {
                is_edge[parts[k].start_min] = true;
                is_edge[parts[k].end_min] = true;
            }
        }
    }
    size_t stretches = 0;
    for (int minute = 0; minute < MINUTES_IN_DAY; minute++) {
        stretches += is_edge[minute];
    }
    return stretches;
}

struct day_stretch day_look_at(const struct house *house, struct day_scope scope, const struct index_list *list,
                               struct day day, int minute, struct planning_factors factors, unsigned *on,
                               struct panel_figures *panels)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct appliance *appliance = &house->appliances[list->index[i]];
        on[list->index[i]] = day_appliance_is_on(appliance, day, minute) ? appliance->count : 0;
    }
    if (scope.branch != NO_INDEX) {
        struct branch_figures figures;
        branch_total(house, scope.branch, on, house->branches[scope.branch].voltage_v, factors, NULL, &figures);
        return (struct day_stretch){.current_a = figures.current_a, .planning_a = figures.planning_a};
    }
    panels_total(house, on, factors, panels);
    return (struct day_stretch){.current_a = panels[scope.panel].leg_current_a[scope.leg],
                                .planning_a = panels[scope.panel].leg_planning_a[scope.leg]};
}

static void add_stretch(struct day_series *series, double near_share, struct day_stretch stretch)
{
    const double hair = 1 + 1e-9;
    int minutes = stretch.end_min - stretch.start_min;
    series->over_share_min += stretch.planning_a > near_share * series->rating_a * hair ? minutes : 0;
    series->over_rating_min += stretch.planning_a > series->rating_a * hair ? minutes : 0;
    series->stretches[series->stretch_count] = stretch;
    if (stretch.planning_a > series->stretches[series->busiest].planning_a * hair) {
        series->busiest = series->stretch_count;
    }
    series->stretch_count++;
}
