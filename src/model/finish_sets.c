/* What follows from what was given, of rooms by their words, of outlets and their spurs, of branches that share a
 * neutral. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "choices.h"
#include "finish_parts.h"

/* The kind of a room that names none, by the words of its ID and name. */
void finish_rooms(struct house *house)
{
    const struct key *kind = section_key(&sections[KIND_ROOM], "kind");
    for (size_t i = 0; i < house->room_count; i++) {
        struct room *room = &house->rooms[i];
        if (!key_is_given(&sections[KIND_ROOM], kind, room)) {
            const struct ref_room_word *word = reference_room_word(room->id);
            word = word == NULL ? reference_room_word(room->name) : word;
            room->kind = word == NULL ? (int)ROOM_OTHER : choice_value(kind->choices, word->kind, ROOM_OTHER);
        }
    }
}

/* What a spur feeds is a spur. Each outlet is looked at once; a loop, which is refused later, ends a walk. */
static void finish_spurs(struct house *house)
{
    bool *seen = memory_new(house->outlet_count * sizeof *seen);
    memset(seen, 0, house->outlet_count * sizeof *seen);
    for (size_t i = 0; i < house->outlet_count; i++) {
        size_t at = i;
        while (at != NO_INDEX && !seen[at] && !house->outlets[at].is_spur) {
            seen[at] = true;
            at = house->outlets[at].from;
        }
        bool spur = at != NO_INDEX && house->outlets[at].is_spur;
        for (size_t back = i; spur && back != at; back = house->outlets[back].from) {
            house->outlets[back].is_spur = true;
        }
    }
    free(seen);
}

/* Places for plugs, and which outlets of a ring are no part of its chain. Spurs feed spurs. */
void finish_outlets(struct house *house)
{
    const char *rules = rules_word(house->rules);
    double usual = reference_rule_value("usual-contacts", rules);
    double breaker_most_a = reference_rule_value("usual-contacts-breaker", rules);
    for (size_t i = 0; i < house->outlet_count; i++) {
        struct outlet *outlet = &house->outlets[i];
        outlet->measured_at_c = isnan(outlet->measured_at_c) ? MEASURED_AT_USUAL_C : outlet->measured_at_c;
        if (outlet->branch == NO_INDEX) {
            continue;
        }
        const struct branch *branch = &house->branches[outlet->branch];
        bool several = usual > 1 && (isnan(breaker_most_a) || branch->breaker_a <= breaker_most_a);
        outlet->contacts = outlet->contacts == 0 ? (several ? (int)usual : 1) : outlet->contacts;
        outlet->is_spur = branch->layout == LAYOUT_RING && (outlet->spur != 0 || !isnan(outlet->fuse_a));
    }
    finish_spurs(house);
}

/* The first branch of the set that a branch's neutral belongs to, over what is joined so far. */
static size_t neutral_root(struct house *house, size_t branch)
{
    struct branch *branches = house->branches;
    while (branches[branch].neutral_set != branch) {
        branches[branch].neutral_set = branches[branches[branch].neutral_set].neutral_set; /* shortens the way */
        branch = branches[branch].neutral_set;
    }
    return branch;
}

static void join_neutrals(struct house *house)
{
    for (size_t i = 0; i < house->branch_count; i++) {
        size_t other = house->branches[i].shared_neutral;
        if (other == NO_INDEX || other == i) {
            continue;
        }
        size_t a = neutral_root(house, i);
        size_t b = neutral_root(house, other);
        house->branches[a > b ? a : b].neutral_set = a < b ? a : b;
    }
}

/* Branches that share one neutral become a set, known by its first; what one says of the handles holds for all. */
void finish_neutrals(struct house *house)
{
    size_t *members = memory_resize(NULL, house->branch_count, sizeof *members);
    for (size_t i = 0; i < house->branch_count; i++) {
        house->branches[i].neutral_set = i;
        members[i] = 0;
    }
    join_neutrals(house);
    for (size_t i = 0; i < house->branch_count; i++) {
        size_t root = neutral_root(house, i);
        house->branches[i].neutral_set = root;
        members[root]++;
        if (house->branches[root].tied == TIED_NOT_SAID) {
            house->branches[root].tied = house->branches[i].tied;
        }
    }
    for (size_t i = house->branch_count; i-- > 0;) {
        size_t root = house->branches[i].neutral_set;
        house->branches[i].tied = house->branches[root].tied;
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        size_t root = house->branches[i].neutral_set;
        house->branches[i].neutral_set = members[root] > 1 ? root : NO_INDEX;
    }
    free(members);
}
