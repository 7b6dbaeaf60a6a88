#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/freetext.h"
#include "ampsum/housefile.h"
#include "ampsum/values.h"
#include "decide_view.h"
#include "place_view.h"

static const char *const examples[] = {"ampsum place demo-house/us.ini 'Heater, 1500 W' --room bedroom",
                                       "ampsum place demo-house/uk.ini kettle", NULL};

static const struct option_spec options[] = {
    {"room", '\0', "ID", "only branches that have an outlet in this room or serve it"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "LOAD is written as you would say it: 'Heater, 1500 W', '3x LED lamp 9 W', 'pump 1/2 hp', 'kettle'. Branches that "
    "could take it come first: by verdict, then headroom with everything on, then voltage drop.",
    NULL};

static const char voltage_finding[] = "8";

/* The first outlet of the branch in the room. */
static const char *outlet_in_room(const struct house *house, size_t branch, size_t room)
{
    const struct index_list *outlets = &house->branches[branch].outlets;
    for (size_t i = 0; i < outlets->count && room != NO_INDEX; i++) {
        if (house->outlets[outlets->index[i]].room == room) {
            return house->outlets[outlets->index[i]].id;
        }
    }
    return NULL;
}

static bool serves(const struct house *house, size_t branch, size_t room, struct arena *arena)
{
    struct index_list rooms = house_branch_serves(house, branch, arena);
    for (size_t i = 0; i < rooms.count; i++) {
        if (rooms.index[i] == room) {
            return true;
        }
    }
    return false;
}

/* Why the branch is not even tried; NULL where it is. */
static const char *refuse(const struct house *house, size_t branch, const struct freetext *load)
{
    const struct branch *what = &house->branches[branch];
    if (what->poles == 3) {
        return "a three-phase branch";
    }
    if (!decide_takes_plugs(house, branch)) {
        return decide_kept_for(what, 1, false);
    }
    if (what->voltage_v != house->voltage_v && !freetext_says(load, "rated_voltage")) {
        return "another voltage than the plain outlets have; state the load's own (', 240 V') where it is made for it";
    }
    return NULL;
}

static void find_candidates(struct places *places, const struct house *house)
{
    struct arena *arena = places->invocation->arena;
    places->candidates = arena_array(arena, house->branch_count, sizeof *places->candidates);
    for (size_t i = 0; i < house->branch_count; i++) {
        const char *outlet = outlet_in_room(house, i, places->room);
        if (places->room != NO_INDEX && outlet == NULL && !serves(house, i, places->room, arena)) {
            continue;
        }
        places->candidates[places->count++] = (struct candidate){
            .branch = i, .appliance = NO_INDEX, .outlet = outlet, .refusal = refuse(house, i, &places->load)};
    }
}

/* The house with the load on every branch at once: branches do not change each other's figures. */
static bool build_with_load(struct places *places, const struct house *house)
{
    struct error *error = &places->invocation->error;
    struct document *document = house_document(house, "place");
    const char *room = places->room == NO_INDEX ? NULL : house->rooms[places->room].id;
    bool good = true;
    for (size_t i = 0; i < places->count && good; i++) {
        struct candidate *candidate = &places->candidates[i];
        if (candidate->refusal == NULL) {
            bool plugged = candidate->outlet != NULL;
            good = freetext_add(document, &places->load, plugged ? NULL : house->branches[candidate->branch].id,
                                candidate->outlet, plugged ? NULL : room, &candidate->id, error);
            candidate->id = good ? arena_copy(places->invocation->arena, candidate->id) : NULL;
        }
    }
    good = good && house_build(document, &places->house, error);
    document_free(document);
    return good;
}

/* IDs and names of what is on beside the load when everything is, but not in the largest set that may stay on. */
static void find_off(struct candidate *candidate, const struct house *house, const struct combos_problem *problem,
                     const struct combos_list *beside, size_t own)
{
    enum { NAMED_MOST = 5 };
    const struct branch *branch = &house->branches[candidate->branch];
    size_t off_count = 0;
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct combos_set *stay = &beside->sets[0];
        unsigned units = i == own ? 0 : problem->loads[i].count;
        for (size_t k = 0; k < stay->part_count; k++) {
            units -= stay->parts[k].load == i ? stay->parts[k].units : 0;
        }
        if (units > 0) {
            const struct appliance *appliance = &house->appliances[branch->appliances.index[i]];
            text_add(&candidate->off, candidate->off.length > 0 ? "," : "");
            decide_id(appliance, units, &candidate->off);
            if (off_count++ < NAMED_MOST) {
                text_add(&candidate->off_names, candidate->off_names.length > 0 ? ", " : "");
                decide_name(appliance, units, &candidate->off_names);
            }
        }
    }
    if (off_count > NAMED_MOST) {
        text_printf(&candidate->off_names, " and %zu more (all: --format json)", off_count - NAMED_MOST);
    }
}

/* Members of one group are not on together anyway: only one of each stands against the load. */
static void find_what_is_off(struct places *places, struct candidate *candidate)
{
    const struct house *house = places->house;
    const struct index_list *appliances = &house->branches[candidate->branch].appliances;
    struct combos_problem problem =
        decide_combos(house, candidate->branch, places->assessment->factors, places->invocation->arena);
    size_t own = 0;
    while (appliances->index[own] != candidate->appliance) {
        own++;
    }
    struct combos_list beside;
    combos_beside(&problem, (struct combos_part){own, problem.loads[own].count}, 1, &beside);
    if (beside.set_count > 0) {
        find_off(candidate, house, &problem, &beside, own);
    }
    combos_list_done(&beside);
}

static void add_time(struct text *text, int start_min, int end_min)
{
    text_add(text, text->length > 0 ? ", " : "");
    clock_add_span(text, start_min, end_min);
}

static void find_not_at(struct places *places, struct candidate *candidate)
{
    bool over[MINUTES_IN_DAY];
    decide_not_at(places->house, candidate->branch, candidate->appliance, places->assessment->factors, over);
    for (int start = 0; start < MINUTES_IN_DAY; start++) {
        int end = start;
        while (end < MINUTES_IN_DAY && over[end]) {
            end++;
        }
        if (end > start) {
            add_time(&candidate->not_at, start, end);
            start = end;
        }
    }
}

/* The danger that stands against the branch, as a reason. */
static const char *danger_of(const struct branch_assessment *result)
{
    for (size_t i = 0; i < result->findings.count; i++) {
        const struct finding *finding = &result->findings.finding[i];
        if (finding->severity == SEVERITY_DANGER || strcmp(finding->id, voltage_finding) == 0) {
            return finding->text;
        }
    }
    return NULL;
}

static void judge(struct places *places)
{
    for (size_t i = 0; i < places->count; i++) {
        struct candidate *candidate = &places->candidates[i];
        if (candidate->refusal != NULL) {
            continue;
        }
        candidate->appliance = house_find(places->house, KIND_APPLIANCE, candidate->id);
        candidate->result = &places->assessment->branches[candidate->branch];
        candidate->refusal = danger_of(candidate->result);
        if (candidate->refusal == NULL && candidate->result->verdict == VERDICT_OVER) {
            candidate->refusal = "over at its busiest minute";
        }
        if (exceeds(candidate->result->all.planning_a, places->house->branches[candidate->branch].breaker_a)) {
            find_what_is_off(places, candidate);
            find_not_at(places, candidate);
        }
        places->fits += candidate->refusal == NULL;
    }
}

/* Those that could take it first: verdict, headroom with everything on, drop (unknown last), file order. */
static int candidate_order(const void *left, const void *right)
{
    const struct candidate *a = left;
    const struct candidate *b = right;
    if ((a->refusal == NULL) != (b->refusal == NULL)) {
        return a->refusal == NULL ? -1 : 1;
    }
    if ((a->result == NULL) != (b->result == NULL)) {
        return a->result != NULL ? -1 : 1;
    }
    if (a->result != NULL && a->result->verdict != b->result->verdict) {
        return a->result->verdict < b->result->verdict ? -1 : 1;
    }
    if (a->result != NULL && a->result->all.headroom_a != b->result->all.headroom_a) {
        return a->result->all.headroom_a > b->result->all.headroom_a ? -1 : 1;
    }
    double a_percent = a->result == NULL || isnan(a->result->drop_percent) ? INFINITY : a->result->drop_percent;
    double b_percent = b->result == NULL || isnan(b->result->drop_percent) ? INFINITY : b->result->drop_percent;
    if (a_percent != b_percent) {
        return a_percent < b_percent ? -1 : 1;
    }
    return a->branch < b->branch ? -1 : a->branch > b->branch;
}

static void places_done(struct places *places)
{
    for (size_t i = 0; i < places->count; i++) {
        text_done(&places->candidates[i].not_at);
        text_done(&places->candidates[i].off);
        text_done(&places->candidates[i].off_names);
    }
    assess_free(places->assessment);
    house_free(places->house);
}

static int run(struct invocation *invocation)
{
    struct places places = {.invocation = invocation, .room = NO_INDEX};
    if (!invocation_house(invocation, 1) || !invocation_operands(invocation, 1, 1)) {
        return 2;
    }
    const struct house *house = invocation->house;
    const char *room = option_value(invocation, "room");
    places.room = room == NULL ? NO_INDEX : find_id(invocation, KIND_ROOM, room);
    if ((room != NULL && places.room == NO_INDEX) ||
        !freetext_read(invocation->arena, invocation->operands[0], house->rules, &places.load, &invocation->error)) {
        return 2;
    }
    find_candidates(&places, house);
    bool good = build_with_load(&places, house);
    if (good) {
        struct assess_options choice = {.wires = true};
        places.assessment = assess_house(places.house, &choice);
        judge(&places);
        qsort(places.candidates, places.count, sizeof *places.candidates, candidate_order);
        places_write(&places);
    }
    places_done(&places);
    return good ? 0 : 2;
}

const struct command command_place = {
    .name = "place",
    .operands = "[HOUSE] LOAD",
    .summary = "every branch that could take a load, best first, and why the others can't",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
