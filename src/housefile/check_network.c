#include "check_network.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------ loops ---------------------------------------- */

/* Follows `from` from each row; a row met twice in one walk closes a loop, which is reported once. */
static void find_loops(struct build *build, enum kind kind, size_t count,
                       size_t (*from_of)(const struct house *, size_t))
{
    size_t *walk_of = memory_resize(NULL, count, sizeof *walk_of); /* 0: not met yet */
    memset(walk_of, 0, count * sizeof *walk_of);
    for (size_t start = 0; start < count; start++) {
        size_t row = start;
        while (row != NO_INDEX && walk_of[row] == 0) {
            walk_of[row] = start + 1;
            row = from_of(build->house, row);
        }
        if (row != NO_INDEX && walk_of[row] == start + 1) {
            row_fault(build, kind, row, "from", "a loop: %s feeds itself, expected a way to the panel",
                      house_row_id(build->house, kind, row));
        }
    }
    free(walk_of);
}

static size_t panel_from(const struct house *house, size_t row)
{
    return row == 0 ? NO_INDEX : house->panels[row].from;
}

static size_t outlet_from(const struct house *house, size_t row)
{
    return house->outlets[row].from;
}

void check_panel_loops(struct build *build, size_t row)
{
    (void)row;
    const struct house *house = build->house;
    find_loops(build, KIND_PANEL, house->panel_count, panel_from);
    for (size_t i = 1; i < house->panel_count; i++) {
        const size_t from = house->panels[i].from;
        if (panel_depth(house, i) > PANELS_DEEP_MOST && from != NO_INDEX &&
            panel_depth(house, from) == PANELS_DEEP_MOST) {
            row_fault(build, KIND_PANEL, i, "from",
                      "more than %d panels behind one another, expected at most that many", PANELS_DEEP_MOST);
        }
    }
}

void check_outlet_loops(struct build *build, size_t row)
{
    (void)row;
    find_loops(build, KIND_OUTLET, build->house->outlet_count, outlet_from);
}

/* ------------------------------------------------------------------ rings ---------------------------------------- */

static void check_return(struct build *build, size_t row)
{
    const struct branch *branch = &build->house->branches[row];
    if (branch->return_m == 0) {
        row_fault(build, KIND_BRANCH, row, "return", "no length, expected one above 0 in a ring");
    } else if (isnan(branch->return_m) && !row_has_key(build, KIND_BRANCH, row, "return")) {
        row_fault(build, KIND_BRANCH, row, "return",
                  "return is missing, expected the length of cable from the last outlet "
                  "of the ring back to the panel");
    }
}

/* What a ring's outlet comes from, with the panel as a place of its own, to find two that come from one place. */
static int compare_sources(const void *a, const void *b)
{
    const size_t *left = a;
    const size_t *right = b;
    if (left[0] != right[0]) {
        return left[0] < right[0] ? -1 : 1;
    }
    return left[1] < right[1] ? -1 : left[1] > right[1];
}

static void check_chain(struct build *build, const struct branch *branch)
{
    const struct house *house = build->house;
    size_t count = 0;
    size_t(*sources)[2] = memory_resize(NULL, branch->outlets.count, sizeof *sources);
    for (size_t i = 0; i < branch->outlets.count; i++) {
        const struct outlet *outlet = &house->outlets[branch->outlets.index[i]];
        if (!outlet->is_spur) {
            sources[count][0] = outlet->from;
            sources[count++][1] = branch->outlets.index[i];
        }
    }
    qsort(sources, count, sizeof *sources, compare_sources);
    for (size_t i = 1; i < count; i++) {
        if (sources[i][0] == sources[i - 1][0]) {
            const char *source = sources[i][0] == NO_INDEX ? "the panel" : house->outlets[sources[i][0]].id;
            row_fault(build, KIND_OUTLET, sources[i][1], "from",
                      "the ring %s forks: %s comes from %s already, expected one chain", branch->id,
                      house->outlets[sources[i - 1][1]].id, source);
        }
    }
    free(sources);
}

static size_t count_chain(const struct house *house, const struct branch *branch)
{
    size_t count = 0;
    for (size_t i = 0; i < branch->outlets.count; i++) {
        count += !house->outlets[branch->outlets.index[i]].is_spur;
    }
    return count;
}

static void check_ring(struct build *build, size_t row)
{
    const struct branch *branch = &build->house->branches[row];
    check_return(build, row);
    if (count_chain(build->house, branch) == 0) {
        row_fault(build, KIND_BRANCH, row, "layout", "a ring without outlets, expected outlets in one chain");
        return;
    }
    check_chain(build, branch);
    for (size_t i = 0; i < branch->outlets.count; i++) {
        size_t outlet = branch->outlets.index[i];
        if (build->house->outlets[outlet].run_m == 0 && !build->house->outlets[outlet].is_spur) {
            row_fault(build, KIND_OUTLET, outlet, "run", "no length, expected one above 0 in a ring");
        }
    }
}

void check_layout(struct build *build, size_t row)
{
    const struct branch *branch = &build->house->branches[row];
    if (branch->layout == LAYOUT_RING) {
        check_ring(build, row);
    } else if (row_has_key(build, KIND_BRANCH, row, "return")) {
        row_fault(build, KIND_BRANCH, row, "return", "on a radial branch, expected layout = ring or no return");
    }
}

/* ------------------------------------------------------------------ outlets -------------------------------------- */

void check_outlet(struct build *build, size_t row)
{
    const struct house *house = build->house;
    const struct outlet *outlet = &house->outlets[row];
    if (outlet->branch == NO_INDEX) {
        return;
    }
    const struct branch *branch = &house->branches[outlet->branch];
    size_t other = outlet->from != NO_INDEX ? house->outlets[outlet->from].branch : NO_INDEX;
    if (other != NO_INDEX && other != outlet->branch) {
        row_fault(build, KIND_OUTLET, row, "from", "%s is on branch %s, expected an outlet of %s or panel",
                  house->outlets[outlet->from].id, house->branches[other].id, branch->id);
    }
    if (branch->wire.conductor != NULL && isnan(outlet->run_m) && !row_has_key(build, KIND_OUTLET, row, "run")) {
        row_fault(build, KIND_OUTLET, row, "run",
                  "run is missing, expected the length of cable to it, since branch %s has wire", branch->id);
    }
}
