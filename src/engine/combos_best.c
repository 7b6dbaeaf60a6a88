#include "combos_best.h"

#include <stdlib.h>
#include <string.h>

/* True where a set is a mark: few loads, of one unit each. */
static bool can_mark(const struct combos_problem *problem)
{
    bool single = problem != NULL && problem->load_count <= MARK_LOADS_MOST;
    for (size_t i = 0; single && i < problem->load_count; i++) {
        single = problem->loads[i].count == 1;
    }
    return single;
}

void best_init(struct best *best, const struct combos_problem *problem, size_t most, size_t stride)
{
    *best = (struct best){.most = most, .stride = stride, .room = 2 * most + 32, .arena = arena_new()};
    best->worst = arena_array(best->arena, stride, sizeof *best->worst);
    best->marked = can_mark(problem);
    set_marks_init(&best->marks, most);
}

void best_done(struct best *best)
{
    set_marks_done(&best->marks);
    free(best->found);
    arena_free(best->arena);
}

static bool comes_before(const struct candidate *a, const struct candidate *b)
{
    if (a->key != b->key) {
        return a->key > b->key;
    }
    return parts_compare(a->parts, a->part_count, b->parts, b->part_count) < 0;
}

/* Merge sort with a compare that the compiler can see: half of the time of a whole search goes here. */
static void sort_candidates(struct candidate *found, struct candidate *spare, size_t count)
{
    enum { RUN = 12 };
    if (count <= RUN) {
        for (size_t i = 1; i < count; i++) {
            struct candidate moved = found[i];
            size_t j = i;
            for (; j > 0 && comes_before(&moved, &found[j - 1]); j--) {
                found[j] = found[j - 1];
            }
            found[j] = moved;
        }
        return;
    }
    size_t middle = count / 2;
    sort_candidates(found, spare, middle);
    sort_candidates(found + middle, spare, count - middle);
    memcpy(spare, found, middle * sizeof *found);
    size_t i = 0;
    size_t j = middle;
    for (size_t k = 0; i < middle; k++) {
        bool right = j < count && comes_before(&found[j], &spare[i]);
        found[k] = right ? found[j] : spare[i];
        j += right;
        i += !right;
    }
}

static void swap_candidates(struct candidate *a, struct candidate *b)
{
    struct candidate kept = *a;
    *a = *b;
    *b = kept;
}

/* Puts what comes before the middle one of three before it, the rest behind it; returns its place. */
static size_t part_candidates(struct candidate *found, size_t count)
{
    struct candidate *last = &found[count - 1];
    struct candidate *middle = &found[count / 2];
    if (comes_before(middle, found)) {
        swap_candidates(middle, found);
    }
    if (comes_before(last, middle)) {
        swap_candidates(last, middle);
    }
    if (comes_before(middle, found)) {
        swap_candidates(middle, found);
    }
    swap_candidates(middle, last);
    size_t before = 0;
    for (size_t i = 0; i + 1 < count; i++) {
        if (comes_before(&found[i], last)) {
            swap_candidates(&found[i], &found[before++]);
        }
    }
    swap_candidates(&found[before], last);
    return before;
}

/* Puts the best `most` in front, the worst of them last, the others in no order; sorts where parting goes badly. */
static void select_candidates(struct candidate *found, struct candidate *spare, size_t count, size_t most)
{
    enum { PARTINGS_MOST = 64 };
    size_t nth = most - 1;
    for (int i = 0; i < PARTINGS_MOST && count > 1; i++) {
        size_t place = part_candidates(found, count);
        if (place == nth) {
            return;
        }
        if (place > nth) {
            count = place;
        } else {
            found += place + 1;
            count -= place + 1;
            nth -= place + 1;
        }
    }
    sort_candidates(found, spare, count);
}

/* Drops all but the best `most`, which come to be in no order. */
static void drop_others(struct best *best, struct candidate *spare)
{
    if (best->found_count < best->most || best->most == 0) {
        return;
    }
    select_candidates(best->found, spare, best->found_count, best->most);
    best->found_count = best->most;
    const struct candidate *worst = &best->found[best->most - 1];
    best->full = true;
    best->worst_key = worst->key;
    best->worst_count = worst->part_count;
    memcpy(best->worst, worst->parts, worst->part_count * sizeof *worst->parts);
}

static struct candidate *spare_new(const struct best *best)
{
    return memory_resize(NULL, best->found_count / 2 + 1, sizeof(struct candidate));
}

size_t best_keep(struct best *best)
{
    if (best->marked) {
        set_marks_keep(&best->marks);
        return best->marks.found_count;
    }
    struct candidate *spare = spare_new(best);
    drop_others(best, spare);
    sort_candidates(best->found, spare, best->found_count);
    free(spare);
    return best->found_count;
}

const struct combos_part *best_set(struct best *best, size_t place, size_t *ret_count)
{
    if (!best->marked) {
        *ret_count = best->found[place].part_count;
        return best->found[place].parts;
    }
    size_t count = 0;
    for (uint64_t loads = (uint64_t)best->marks.found[place]; loads != 0; count++) {
        const uint32_t load = (uint32_t)__builtin_clzll(loads);
        best->worst[count] = (struct combos_part){load, 1};
        loads &= ~mark_bit(load);
    }
    *ret_count = count;
    return best->worst;
}

/* One more unit of `lead` among the parts, then file order; the number of parts. */
static size_t add_lead(struct combos_part *parts, size_t count, uint32_t lead)
{
    if (lead != NO_LEAD) {
        size_t i = 0;
        while (i < count && parts[i].load != lead) {
            i++;
        }
        if (i < count) {
            parts[i].units++;
        } else {
            parts[count++] = (struct combos_part){lead, 1};
        }
    }
    parts_sort(parts, count);
    return count;
}

/* Room for as many candidates again, their parts in one block. */
static void hold_more(struct best *best)
{
    size_t more = best->held < 32 ? 32 : best->held;
    best->found = memory_resize(best->found, best->held + more, sizeof *best->found);
    struct combos_part *parts = arena_array(best->arena, more * best->stride, sizeof *parts);
    for (size_t i = 0; i < more; i++) {
        best->found[best->held++].parts = parts + i * best->stride;
    }
}

static struct candidate *next_candidate(struct best *best)
{
    if (best->found_count == best->room) {
        struct candidate *spare = spare_new(best);
        drop_others(best, spare);
        free(spare);
    }
    if (best->found_count == best->held) {
        hold_more(best);
    }
    return &best->found[best->found_count];
}

static uint64_t bits_of_set(const struct combos_part *parts, size_t part_count, uint32_t lead)
{
    uint64_t loads = lead == NO_LEAD ? 0 : mark_bit(lead);
    for (size_t i = 0; i < part_count; i++) {
        loads |= mark_bit((uint32_t)parts[i].load);
    }
    return loads;
}

void best_offer(struct best *best, uint64_t key, const struct combos_part *parts, size_t part_count, uint32_t lead)
{
    if (best->marked) {
        set_marks_offer(&best->marks, mark_of(key, bits_of_set(parts, part_count, lead)));
        best->full = best->marks.full;
        best->worst_key = (uint64_t)(best->marks.worst >> 64);
        return;
    }
    if (best->full && key < best->worst_key) {
        return;
    }
    struct candidate *candidate = next_candidate(best);
    candidate->key = key;
    memcpy(candidate->parts, parts, part_count * sizeof *parts);
    candidate->part_count = add_lead(candidate->parts, part_count, lead);
    if (best->full &&
        (key < best->worst_key || (key == best->worst_key && parts_compare(candidate->parts, candidate->part_count,
                                                                           best->worst, best->worst_count) >= 0))) {
        return;
    }
    best->found_count++;
}

static bool marks_too_late(const struct best *best, const struct system *system, const struct combos_part *chosen,
                           size_t chosen_count, size_t i, uint64_t r)
{
    uint64_t loads = bits_of_set(chosen, chosen_count, system->lead);
    for (size_t k = 0; k < system->item_count && r > 0; k++) {
        if (system->by_file[k] >= i) {
            loads |= mark_bit(system->items[system->by_file[k]].load);
            r--;
        }
    }
    return loads <= (uint64_t)best->marks.worst;
}

bool best_too_late(const struct best *best, const struct system *system, const struct combos_part *chosen,
                   size_t chosen_count, size_t i, uint64_t r, struct combos_part *scratch)
{
    if (best->marked) {
        return marks_too_late(best, system, chosen, chosen_count, i, r);
    }
    memcpy(scratch, chosen, chosen_count * sizeof *scratch);
    size_t count = add_lead(scratch, chosen_count, system->lead);
    for (size_t k = 0; k < system->item_count && r > 0; k++) {
        if (system->by_file[k] < i) {
            continue;
        }
        const struct item *item = &system->items[system->by_file[k]];
        unsigned units = item->count < r ? item->count : (unsigned)r;
        r -= units;
        if (item->load == system->lead) {
            for (size_t p = 0; p < count; p++) {
                scratch[p].units += scratch[p].load == item->load ? units : 0;
            }
        } else {
            scratch[count++] = (struct combos_part){item->load, units};
        }
    }
    parts_sort(scratch, count);
    return parts_compare(scratch, count, best->worst, best->worst_count) >= 0;
}

void list_add(struct combos_list *list, const struct combos_problem *problem, const struct combos_part *parts,
              size_t part_count)
{
    list->sets = memory_grow(list->sets, list->set_count, &list->capacity, sizeof *list->sets);
    struct combos_set *set = &list->sets[list->set_count++];
    struct combos_part *copy = arena_array(list->arena, part_count, sizeof *copy);
    if (part_count > 0) {
        memcpy(copy, parts, part_count * sizeof *copy);
    }
    *set = (struct combos_set){.parts = copy, .part_count = part_count};
    for (size_t i = 0; i < part_count; i++) {
        set->units += parts[i].units;
    }
    set->planning_a = combos_planning_a(problem, parts, part_count);
}

void combos_list_done(struct combos_list *list)
{
    if (list != NULL) {
        arena_free(list->arena);
        free(list->sets);
        *list = (struct combos_list){0};
    }
}
