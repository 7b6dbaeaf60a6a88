/* The best sets found so far, and the list that a search hands out. Inside the combos library only. */
#ifndef AMPSUM_COMBOS_BEST_H
#define AMPSUM_COMBOS_BEST_H

#include "combos_marks.h"
#include "combos_plan.h"

enum { LIST_MOST = 1000000 }; /* sets in one list */

struct candidate {
    uint64_t key;
    size_t part_count;
    struct combos_part *parts; /* in file order */
};

/* Keeps the best `most` of what is offered: larger key first, then file order. */
struct best {
    bool marked; /* sets are marks; of what is below only what binds and the numbers of parts */
    struct set_marks marks;
    size_t most;
    size_t stride; /* parts that a set can have */
    struct candidate *found;
    size_t found_count;
    size_t held; /* entries of `found`, each with room for its parts */
    size_t room; /* candidates held before the worst are dropped */
    bool full;   /* `most` are known: the worst of them binds */
    uint64_t worst_key;
    struct combos_part *worst;
    size_t worst_count;
    struct arena *arena; /* of the parts */
};

/* `problem` whose sets may be kept as marks where it is of few loads; NULL: they can't. */
void best_init(struct best *best, const struct combos_problem *problem, size_t most, size_t stride);
void best_done(struct best *best);

/* Offers the parts, with one unit of `lead` more unless that is NO_LEAD. */
void best_offer(struct best *best, uint64_t key, const struct combos_part *parts, size_t part_count, uint32_t lead);

/* Drops all but the best `most`, and puts them in order; returns how many there are. */
size_t best_keep(struct best *best);

/* The parts of the set at a place of that order, in file order, and how many there are; good until the next call. */
const struct combos_part *best_set(struct best *best, size_t place, size_t *ret_count);

/*
 * True where no set of the chosen parts, the system's lead and r units from item i on stands before the worst in file
 * order: not even the r units that are first in the file, whatever they weigh. `scratch`: twice as many parts as loads.
 */
bool best_too_late(const struct best *best, const struct system *system, const struct combos_part *chosen,
                   size_t chosen_count, size_t i, uint64_t r, struct combos_part *scratch);

/* Adds a set to the list, with its units and planning current. */
void list_add(struct combos_list *list, const struct combos_problem *problem, const struct combos_part *parts,
              size_t part_count);

#endif
