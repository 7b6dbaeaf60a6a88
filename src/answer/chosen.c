/* Which branches of a large house a report shows, and what the others come to. */
#include "ampsum/answer_report.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/keys.h"

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

const size_t *report_advised(const struct check_answer *check, size_t most, size_t loads_most, struct arena *arena,
                             size_t *ret_count)
{
    const size_t *order = check_worst_first(check, arena);
    size_t *advised = arena_array(arena, most, sizeof *advised);
    *ret_count = 0;
    for (size_t i = 0; i < check->house->branch_count && *ret_count < most; i++) {
        if (check->assessment->branches[order[i]].verdict >= VERDICT_AT_RISK &&
            check->house->branches[order[i]].appliances.count <= loads_most) {
            advised[(*ret_count)++] = order[i];
        }
    }
    return advised;
}

struct measured {
    size_t branch;
    double figure;
};

static int largest_first(const void *a, const void *b)
{
    const struct measured *x = a;
    const struct measured *y = b;
    if (x->figure > y->figure || x->figure < y->figure) {
        return x->figure > y->figure ? -1 : 1;
    }
    return x->branch < y->branch ? -1 : 1;
}

const size_t *report_largest(const double *figure, size_t count, size_t most, struct arena *arena, size_t *ret_count)
{
    struct measured *measured = arena_array(arena, count, sizeof *measured);
    size_t *largest = arena_array(arena, count, sizeof *largest);
    size_t known = 0;
    for (size_t i = 0; i < count; i++) {
        if (!isnan(figure[i])) {
            measured[known++] = (struct measured){i, figure[i]};
        }
    }
    qsort(measured, known, sizeof *measured, largest_first);
    for (*ret_count = 0; *ret_count < known && *ret_count < most; (*ret_count)++) {
        largest[*ret_count] = measured[*ret_count].branch;
    }
    return largest;
}

bool report_has_points(const struct check_answer *check, size_t branch)
{
    const struct branch_assessment *result = &check->assessment->branches[branch];
    return check->house->branches[branch].outlets.count > 0 && result->loads != NULL &&
           result->verdict != VERDICT_EMPTY;
}

size_t report_points_take(struct report_points *points, const struct wire_branch *wire, size_t most)
{
    const size_t room = most - points->listed;
    const size_t taken = wire->outlet_count < room ? wire->outlet_count : room;
    points->listed += taken;
    points->branches_left += taken == 0;
    points->left += wire->outlet_count - taken;
    if (taken < wire->outlet_count) {
        points->most_left_percent = fmax(points->most_left_percent, wiring_worst_drop_percent(&wire->wiring));
    }
    return taken;
}

struct report_assumed report_assumed(const struct check_answer *check)
{
    const struct section *section = &sections[KIND_BRANCH];
    const struct key *method = section_key(section, "method");
    struct report_assumed assumed = {0};
    for (size_t i = 0; i < check->house->branch_count; i++) {
        const struct branch *branch = &check->house->branches[i];
        const bool wired = branch->wire.conductor != NULL;
        assumed.no_wire += !wired;
        assumed.no_length += wired && !check->assessment->branches[i].wire_known;
        assumed.no_method += wired && !key_is_given(section, method, branch);
    }
    for (size_t i = 0; i < check->house->appliance_count; i++) {
        assumed.spread += check->bill->appliances[i].spread_over_day;
        assumed.unused += check->bill->appliances[i].kwh_year <= 0;
    }
    return assumed;
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
