/* Which branches of a large house a report shows, and what the others come to. */
#include "ampsum/answer_report.h"

#include <stdlib.h>

const bool *report_worst(const struct check_answer *check, size_t most, enum verdict least, struct arena *arena)
{
    const size_t *order = check_worst_first(check, arena);
    bool *chosen = arena_array(arena, check->house->branch_count, sizeof *chosen);
    for (size_t i = 0; i < check->house->branch_count && i < most; i++) {
        chosen[order[i]] = check->assessment->branches[order[i]].verdict >= least;
    }
    return chosen;
}

const bool *report_listed(const struct check_answer *check, size_t most, size_t each, struct arena *arena)
{
    const struct house *house = check->house;
    const size_t *order = check_worst_first(check, arena);
    bool *listed = arena_array(arena, house->branch_count, sizeof *listed);
    size_t loads = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        const size_t own = house->branches[order[i]].appliances.count;
        const size_t more = own < each ? own : each;
        listed[order[i]] = house->appliance_count <= most || i == 0 || loads + more <= most;
        loads += listed[order[i]] ? more : 0;
    }
    return listed;
}

struct report_rest report_rest(const struct check_answer *check, const bool *chosen)
{
    struct report_rest rest = {0};
    for (size_t i = 0; i < check->house->branch_count; i++) {
        if (!chosen[i]) {
            const struct branch_assessment *result = &check->assessment->branches[i];
            rest.branches++;
            rest.loads += check->house->branches[i].appliances.count;
            rest.verdicts[result->verdict]++;
            rest.power_w += result->all.power_w;
        }
    }
    return rest;
}

double report_most_leg_a(const struct check_answer *check, size_t from)
{
    double most_a = 0;
    for (size_t i = from; i < check->house->panel_count; i++) {
        for (size_t leg = 0; leg < 3; leg++) {
            const double leg_a = check->assessment->panels[i].all.leg_current_a[leg];
            most_a = leg_a > most_a ? leg_a : most_a;
        }
    }
    return most_a;
}

/* ------------------------------------------------------------------ findings ------------------------------ */

static const char *panel_name(const struct panel *panel)
{
    return panel->name != NULL ? panel->name : panel->id;
}

struct found_list *report_places(const struct check_answer *check, struct arena *arena, size_t *ret_count)
{
    const struct house *house = check->house;
    struct found_list *places = arena_array(arena, house->panel_count + house->branch_count, sizeof *places);
    size_t count = 0;
    for (size_t i = 0; i < house->panel_count; i++) {
        places[count++] =
            (struct found_list){{true, panel_name(&house->panels[i])}, &check->assessment->panels[i].findings};
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        places[count++] =
            (struct found_list){{false, house->branches[i].label}, &check->assessment->branches[i].findings};
    }
    *ret_count = count;
    return places;
}

struct found *report_found(const struct check_answer *check, enum severity least, enum severity most,
                           struct arena *arena, size_t *ret_count)
{
    size_t place_count;
    size_t all = 0;
    const struct found_list *places = report_places(check, arena, &place_count);
    for (size_t i = 0; i < place_count; i++) {
        all += places[i].list->count;
    }
    struct found *found = arena_array(arena, all + 1, sizeof *found);
    *ret_count = 0;
    for (size_t i = 0; i < place_count; i++) {
        for (size_t k = 0; k < places[i].list->count; k++) {
            const struct finding *finding = &places[i].list->finding[k];
            if (finding->severity >= least && finding->severity <= most) {
                found[(*ret_count)++] = (struct found){places[i].where, finding};
            }
        }
    }
    return found;
}

/* By their row, of which all say the same; the graver first. */
static int by_row(const void *a, const void *b)
{
    const struct finding *x = ((const struct found *)a)->finding;
    const struct finding *y = ((const struct found *)b)->finding;
    if (x->row != y->row) {
        return x->row < y->row ? -1 : 1;
    }
    return x->severity > y->severity ? -1 : x->severity < y->severity;
}

struct found *report_numbers(const struct check_answer *check, struct arena *arena, size_t *ret_count)
{
    size_t count;
    struct found *found = report_found(check, SEVERITY_NOTE, SEVERITY_DANGER, arena, &count);
    qsort(found, count, sizeof *found, by_row);
    *ret_count = 0;
    for (size_t i = 0; i < count; i++) {
        if (*ret_count == 0 || found[*ret_count - 1].finding->row != found[i].finding->row) {
            found[(*ret_count)++] = found[i];
        }
    }
    return found;
}
