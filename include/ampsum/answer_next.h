/*
 * While a house is written down line by line: what is likely to come next, and what is not known yet. Only proposals:
 * the person sees each in its field and can write another.
 *
 * Checked: tests/unit/test_answer_next.c.
 */
#ifndef AMPSUM_ANSWER_NEXT_H
#define AMPSUM_ANSWER_NEXT_H

#include "ampsum/model.h"

/* ---- the spaces of a panel */

/* The next free space: down the column where the last two branches went down it (5, 7: then 9), else the next number.
 */
int next_space(const struct house *house, size_t panel);

/* The first free space behind `space`. */
int next_space_behind(const struct house *house, size_t panel, int space);

/* The highest space that a branch takes; 0: none does. */
int highest_space(const struct house *house, size_t panel);

/*
 * The legs that a breaker in that space usually takes, of those that the panel of that ID has (NULL: the main one): a
 * single pole those of its row in turn, with one or two columns of spaces as the rule set has them; more poles the
 * first ones. `space` as typed, NULL: the next by number.
 */
unsigned next_legs(const struct house *house, const char *panel, const char *space, int poles);

/* The free spaces below the highest that is taken: their number, the first `most` of them in `ret_spaces`. */
size_t next_free(const struct house *house, size_t panel, size_t *ret_spaces, size_t most);

/* ---- the place of an appliance */

struct next_place {
    enum kind kind; /* KIND_OUTLET or KIND_BRANCH */
    size_t index;   /* NO_INDEX: none is likely */
};

/*
 * Where the last appliance of the room is; else the first branch that serves it. NO_INDEX: of those whose room is not
 * known. `arena` is for the search alone.
 */
struct next_place next_place(const struct house *house, size_t room, struct arena *arena);

/* The room of the next appliance where none was said: that of the last one; NO_INDEX: not known. */
size_t next_load_room(const struct house *house);

/* The tariff that further hours belong to: the one that prices the energy, else the last; NO_INDEX: there is none. */
size_t next_period_tariff(const struct house *house);

/* ---- what holds nothing yet */

/* How many rows of the kind were written down: the main panel is there from the start. */
size_t next_count(const struct house *house, enum kind kind);

/* The place of the first of those kinds that has none; `count` where each has some. */
size_t next_empty(const struct house *house, const enum kind *kinds, size_t count);

/* The first room without an appliance; NO_INDEX where each has one. `arena` is for the search alone. */
size_t next_room(const struct house *house, struct arena *arena);

/* ---- what is not known yet */

/* In the order of their weight. */
enum missing {
    MISSING_NAMEPLATE, /* the rating is a typical one, to the watt */
    MISSING_WIRE,
    MISSING_LENGTH, /* of a branch without outlets */
    MISSING_FEEDER, /* wire or length of a panel's feeder */
    MISSING_LOADS,  /* nothing hangs on the branch */
    MISSING_USE,
    MISSING_ROOM,
    MISSING_SPACE,
    MISSING_TARIFF,
    MISSING_FLOOR_AREA,
    MISSING_COUNT
};

/* The rows that lack it. */
struct missing_rows {
    enum kind kind;
    size_t *index; /* in the arena */
    size_t count;
};

/* Fills MISSING_COUNT entries. */
void answer_missing(const struct house *house, struct arena *arena, struct missing_rows *ret_rows);

/*
 * True where the rating is that of a row of the typical ratings which holds the appliance's name, unless it is said to
 * be the plate's or a guess.
 */
bool rating_is_typical(const struct appliance *appliance);

#endif
