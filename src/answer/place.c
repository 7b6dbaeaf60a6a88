#include "ampsum/answer_place.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/answer_check.h"
#include "ampsum/decide.h"
#include "ampsum/housefile.h"

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

static void find_rows(struct place_answer *answer, const struct house *house)
{
    answer->rows = arena_array(answer->arena, house->branch_count, sizeof *answer->rows);
    for (size_t i = 0; i < house->branch_count; i++) {
        const char *outlet = outlet_in_room(house, i, answer->room);
        if (answer->room != NO_INDEX && outlet == NULL &&
            !house_branch_serves_room(house, i, answer->room, answer->arena)) {
            continue;
        }
        struct place_row *row = &answer->rows[answer->count++];
        *row = (struct place_row){.index = i, .outlet = outlet};
        row->fit = (struct fit){.branch_before = i, .branch = i, .appliance = NO_INDEX, .class = FIT_NO};
        row->fit.reason = refuse(house, i, &answer->load, &row->fit.other_voltage);
    }
}

/*
 * The house with the load on every branch at once: branches do not change each other's figures. The new loads are the
 * last of its appliances, in the order of the rows.
 */
static bool build_with_load(struct place_answer *answer, const struct house *house, struct error *error)
{
    struct document *document = house_document(house, "place");
    const char *room = answer->room == NO_INDEX ? NULL : house->rooms[answer->room].id;
    struct freetext_place *tried = arena_array(answer->arena, answer->count, sizeof *tried);
    size_t count = 0;
    for (size_t i = 0; i < answer->count; i++) {
        const struct place_row *row = &answer->rows[i];
        if (row->fit.reason == NULL) {
            const bool plugged = row->outlet != NULL;
            tried[count++] = (struct freetext_place){.branch = plugged ? NULL : house->branches[row->index].id,
                                                     .outlet = row->outlet,
                                                     .room = plugged ? NULL : room};
        }
    }
    const bool good =
        freetext_add_each(document, &answer->load, tried, count, error) && house_build(document, &answer->house, error);
    document_free(document);
    return good;
}

static void list_off(struct place_answer *answer, struct place_row *row)
{
    const struct index_list *loads = &row->branch->appliances;
    row->off = arena_array(answer->arena, loads->count, sizeof *row->off);
    for (size_t i = 0; i < loads->count; i++) {
        if (row->fit.off[i]) {
            row->off[row->off_count++] = &answer->house->appliances[loads->index[i]];
        }
    }
}

static void list_not_at(struct place_answer *answer, struct place_row *row)
{
    bool over[MINUTES_IN_DAY];
    decide_not_at(answer->house, row->index, row->fit.appliance, answer->after->factors, over);
    size_t count = over[0];
    for (int minute = 1; minute < MINUTES_IN_DAY; minute++) {
        count += over[minute] && !over[minute - 1];
    }
    row->not_at = arena_array(answer->arena, count, sizeof *row->not_at);
    for (int start = 0; start < MINUTES_IN_DAY; start++) {
        int end = start;
        while (end < MINUTES_IN_DAY && over[end]) {
            end++;
        }
        if (end > start) {
            row->not_at[row->not_at_count++] = (struct place_span){start, end};
            row->never = end - start == MINUTES_IN_DAY;
            start = end;
        }
    }
}

/* The fits of those that were tried, one after the other; `first`: the first of the new loads. */
static void judge_tried(struct place_answer *answer, size_t first)
{
    struct fit *fits = arena_array(answer->arena, answer->count, sizeof *fits);
    size_t count = 0;
    for (size_t i = 0; i < answer->count; i++) {
        struct place_row *row = &answer->rows[i];
        if (row->fit.reason == NULL) {
            row->fit.appliance = first + count;
            fits[count++] = row->fit;
        }
    }
    fits_judge(answer->before, answer->after, answer->arena, fits, count);
    count = 0;
    for (size_t i = 0; i < answer->count; i++) {
        if (answer->rows[i].fit.reason == NULL) {
            answer->rows[i].fit = fits[count++];
        }
    }
}

static void judge_row(struct place_answer *answer, struct place_row *row)
{
    const struct fit *fit = &row->fit;
    row->branch = &answer->house->branches[row->index];
    row->has_room = fit->class == FIT_ROOM;
    row->full_panel = check_full_panel(answer->before, row->index);
    if (fit->appliance != NO_INDEX && !fit->other_voltage && !fit->no_plug) {
        row->result = &answer->after->branches[row->index];
    }
    if (fit->class == FIT_ONLY_IF) {
        list_off(answer, row);
    }
    if (row->result != NULL && !row->has_room) {
        list_not_at(answer, row);
    }
    answer->room_count += row->has_room;
    answer->only_if_count += fit->class == FIT_ONLY_IF;
}

/* Less first; NAN where either is not known, which both orders of it are. */
static int order_of(double a, double b)
{
    return a < b ? -1 : a > b;
}

/* By class, those with figures first; then verdict, headroom with everything on, drop (unknown last), file order. */
static int row_order(const void *left, const void *right)
{
    const struct place_row *a = left;
    const struct place_row *b = right;
    int order = order_of(a->fit.class, b->fit.class);
    order = order != 0 ? order : order_of(a->result == NULL, b->result == NULL);
    if (order == 0 && a->result != NULL) {
        order = order_of(a->result->verdict, b->result->verdict);
        order = order != 0 ? order : order_of(b->result->all.headroom_a, a->result->all.headroom_a);
        const double drop_a = isnan(a->result->drop_percent) ? INFINITY : a->result->drop_percent;
        const double drop_b = isnan(b->result->drop_percent) ? INFINITY : b->result->drop_percent;
        order = order != 0 ? order : order_of(drop_a, drop_b);
    }
    return order != 0 ? order : order_of((double)a->index, (double)b->index);
}

static bool has_water(const struct house *house, size_t branch, struct arena *arena)
{
    const struct index_list rooms = house_branch_serves(house, branch, arena);
    for (size_t i = 0; i < rooms.count; i++) {
        const int kind = house->rooms[rooms.index[i]].kind;
        if (kind == ROOM_BATH || kind == ROOM_OUTDOORS || kind == ROOM_POOL) {
            return true;
        }
    }
    return false;
}

static void find_cases(struct place_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        const struct fit *fit = &answer->rows[i].fit;
        answer->by_water = answer->by_water ||
                           (fit->class != FIT_NO && has_water(answer->house, answer->rows[i].index, answer->arena));
        answer->feeds = answer->feeds ||
                        (fit->appliance != NO_INDEX && !appliance_is_load(&answer->house->appliances[fit->appliance]));
        answer->medical =
            answer->medical || (fit->appliance != NO_INDEX &&
                                decide_is_medical(answer->house, &answer->house->appliances[fit->appliance]));
    }
}

static void judge(struct place_answer *answer, const struct house *house)
{
    const struct assess_options choice = {.wires = true};
    answer->before = assess_house(house, &choice);
    answer->after = assess_house(answer->house, &choice);
    judge_tried(answer, house->appliance_count);
    for (size_t i = 0; i < answer->count; i++) {
        judge_row(answer, &answer->rows[i]);
    }
    qsort(answer->rows, answer->count, sizeof *answer->rows, row_order);
    find_cases(answer);
}

bool answer_place(const struct house *house, const struct place_question *question, struct place_answer *ret_answer,
                  struct error *error)
{
    *ret_answer = (struct place_answer){.room = question->room, .arena = arena_new()};
    if (!freetext_read(ret_answer->arena, question->load, house->rules, &ret_answer->load, error)) {
        return false;
    }
    find_rows(ret_answer, house);
    if (!build_with_load(ret_answer, house, error)) {
        return false;
    }
    judge(ret_answer, house);
    return true;
}

size_t place_takers(const struct place_answer *answer)
{
    return answer->room_count + answer->only_if_count;
}

const struct place_row *place_best(const struct place_answer *answer)
{
    return place_takers(answer) > 0 ? &answer->rows[0] : NULL;
}

bool answer_place_elsewhere(const struct house *house, const struct place_question *question,
                            const struct place_answer *answer, struct place_answer *ret_answer)
{
    const struct place_question everywhere = {question->load, NO_INDEX};
    struct error unused = {0};
    *ret_answer = (struct place_answer){0};
    const bool none = answer->room != NO_INDEX && place_best(answer) == NULL;
    const bool asked = none && answer_place(house, &everywhere, ret_answer, &unused);
    error_done(&unused);
    return asked;
}

void place_answer_done(struct place_answer *answer)
{
    assess_free(answer->before);
    assess_free(answer->after);
    house_free(answer->house);
    arena_free(answer->arena);
    *answer = (struct place_answer){0};
}
