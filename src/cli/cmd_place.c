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
    "have room for it whatever else is on come first, then those that take it only if other loads stay off while it "
    "runs "
    "(never a refrigerator, medical equipment, a pump of a sump or of heating); among them by verdict, then headroom "
    "with "
    "everything on, then voltage drop.",
    NULL};

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
static const char *refuse(const struct house *house, size_t branch, const struct freetext *load, bool *ret_voltage)
{
    const struct branch *what = &house->branches[branch];
    *ret_voltage = what->voltage_v != house->voltage_v && !freetext_says(load, "rated_voltage");
    if (what->poles == 3) {
        *ret_voltage = !freetext_says(load, "rated_voltage");
        return "a three-phase branch";
    }
    return *ret_voltage
               ? "another voltage than the plain outlets have; state the load's own (', 240 V') where it is made "
                 "for it"
               : NULL;
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
        struct fit fit = {.branch_before = i, .branch = i, .appliance = NO_INDEX, .class = FIT_NO};
        fit.reason = refuse(house, i, &places->load, &fit.other_voltage);
        places->candidates[places->count++] = (struct candidate){.branch = i, .outlet = outlet, .fit = fit};
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
        if (candidate->fit.reason == NULL) {
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

/* IDs and names of what must be off. */
static void list_off(struct candidate *candidate, const struct house *house)
{
    enum { NAMED_MOST = 5 };
    const struct index_list *loads = &house->branches[candidate->branch].appliances;
    size_t off_count = 0;
    for (size_t i = 0; i < loads->count; i++) {
        if (candidate->fit.off[i]) {
            const struct appliance *appliance = &house->appliances[loads->index[i]];
            text_add(&candidate->off, candidate->off.length > 0 ? "," : "");
            decide_id(appliance, appliance->count, &candidate->off);
            if (off_count++ < NAMED_MOST) {
                text_add(&candidate->off_names, candidate->off_names.length > 0 ? ", " : "");
                decide_name(appliance, appliance->count, &candidate->off_names);
            }
        }
    }
    if (off_count > NAMED_MOST) {
        text_printf(&candidate->off_names, " and %zu more (all: --format json)", off_count - NAMED_MOST);
    }
}

static void add_time(struct text *text, int start_min, int end_min)
{
    text_add(text, text->length > 0 ? ", " : "");
    clock_add_span(text, start_min, end_min);
}

static void find_not_at(struct places *places, struct candidate *candidate)
{
    bool over[MINUTES_IN_DAY];
    decide_not_at(places->house, candidate->branch, candidate->fit.appliance, places->assessment->factors, over);
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

/* The fits of those that were tried, one after the other. */
static void judge_tried(struct places *places)
{
    struct arena *arena = places->invocation->arena;
    struct fit *fits = arena_array(arena, places->count, sizeof *fits);
    size_t count = 0;
    for (size_t i = 0; i < places->count; i++) {
        struct candidate *candidate = &places->candidates[i];
        if (candidate->fit.reason == NULL) {
            candidate->fit.appliance = house_find(places->house, KIND_APPLIANCE, candidate->id);
            fits[count++] = candidate->fit;
        }
    }
    fits_judge(places->before, places->assessment, arena, fits, count);
    count = 0;
    for (size_t i = 0; i < places->count; i++) {
        if (places->candidates[i].fit.reason == NULL) {
            places->candidates[i].fit = fits[count++];
        }
    }
}

static void judge(struct places *places)
{
    judge_tried(places);
    for (size_t i = 0; i < places->count; i++) {
        struct candidate *candidate = &places->candidates[i];
        const struct fit *fit = &candidate->fit;
        bool meant = fit->appliance != NO_INDEX && !fit->other_voltage && !fit->no_plug;
        candidate->result = meant ? &places->assessment->branches[candidate->branch] : NULL;
        if (fit->class == FIT_ONLY_IF) {
            list_off(candidate, places->house);
        }
        if (candidate->result != NULL && fit->class != FIT_ROOM) {
            find_not_at(places, candidate);
        }
        places->fits += fit->class == FIT_ROOM;
        places->only_if += fit->class == FIT_ONLY_IF;
    }
}

/* By class, those with figures first; then verdict, headroom with everything on, drop (unknown last), file order. */
static int candidate_order(const void *left, const void *right)
{
    const struct candidate *a = left;
    const struct candidate *b = right;
    if (a->fit.class != b->fit.class) {
        return a->fit.class < b->fit.class ? -1 : 1;
    }
    if ((a->result != NULL) != (b->result != NULL)) {
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
    assess_free(places->before);
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
        places.before = assess_house(house, &choice);
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
