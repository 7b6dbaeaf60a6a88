/*
 * Which state of the house a form had seen, and what was done since. The changes that stand are a stack: others are put
 * on it and taken from it. A state is the stack's height and a hash of it, with hashes of the few states below: so what
 * both states share is found even where the numbers of changes taken back were given out again.
 */
#include <stdlib.h>
#include <string.h>

#include "ampsum/store.h"

enum { STATES_BELOW = 8 };

/* FNV-1a; only tells states apart, keeps nothing secret. */
static uint64_t hash_string(uint64_t hash, const char *string)
{
    for (const char *at = string == NULL ? "" : string;; at++) {
        hash = (hash ^ (unsigned char)*at) * UINT64_C(1099511628211);
        if (*at == '\0') {
            return hash;
        }
    }
}

/* The journal with the hash of each height: hash[i] is that of the first i changes, taken back ones last. */
struct stack {
    struct journal_entry *entries;
    size_t count;
    size_t standing;
    uint64_t *hash; /* count + 1 */
};

static bool read_stack(struct store *store, struct arena *arena, struct stack *stack, struct error *error)
{
    uint64_t origin = 0;
    if (!store_journal(store, arena, &stack->entries, &stack->count, error) || !store_origin(store, &origin, error)) {
        return false;
    }
    stack->standing = 0;
    stack->hash = arena_array(arena, stack->count + 1, sizeof *stack->hash);
    stack->hash[0] = origin; /* another file put in this one's place shares no state with it */
    for (size_t i = 0; i < stack->count; i++) {
        const struct journal_entry *entry = &stack->entries[i];
        uint64_t hash = hash_string(stack->hash[i], entry->time);
        hash = hash_string(hash, entry->command);
        stack->hash[i + 1] = hash_string(hash, entry->changes);
        stack->standing += !entry->undone;
    }
    return true;
}

/* `HEIGHT-HASH-HASH...`: of this height, then of those below, each shorter by one change. */
bool store_seen(struct store *store, struct arena *arena, const char **ret_seen, struct error *error)
{
    struct stack stack;
    if (!read_stack(store, arena, &stack, error)) {
        return false;
    }
    struct text seen = {0};
    text_printf(&seen, "%zu", stack.standing);
    for (size_t below = 0; below <= STATES_BELOW && below <= stack.standing; below++) {
        text_printf(&seen, "-%016llx", (unsigned long long)stack.hash[stack.standing - below]);
    }
    *ret_seen = arena_text(arena, &seen);
    return true;
}

/* The height of the state seen. */
static size_t seen_height(const char *seen)
{
    return strtoul(seen, NULL, 10);
}

/* How many changes that stand now stood already in the state seen; false where it can't be told. */
static bool find_shared(const struct stack *stack, const char *seen, size_t *ret_shared)
{
    char *at = NULL;
    const unsigned long height = strtoul(seen, &at, 10);
    for (size_t below = 0; *at == '-' && below <= height; below++) {
        const uint64_t hash = strtoull(at + 1, &at, 16);
        const size_t shared = height - below;
        if (shared <= stack->standing && stack->hash[shared] == hash) {
            *ret_shared = shared;
            return true;
        }
    }
    return false;
}

/* True where the journal still names what was seen, taken back since: it does so until another change is made. */
static bool is_named(const struct stack *stack, const char *seen)
{
    const size_t height = seen_height(seen);
    const char *hash = strchr(seen, '-');
    return height <= stack->count && hash != NULL && strtoull(hash + 1, NULL, 16) == stack->hash[height];
}

bool store_since(struct store *store, const char *seen, struct arena *arena, struct journal_since *ret_since,
                 struct error *error)
{
    struct stack stack;
    size_t shared = 0;
    *ret_since = (struct journal_since){0};
    if (!read_stack(store, arena, &stack, error)) {
        return false;
    }
    ret_since->known = find_shared(&stack, seen, &shared);
    ret_since->made = stack.entries + shared;
    ret_since->made_count = stack.standing - shared;
    if (ret_since->known) {
        ret_since->gone_count = seen_height(seen) - shared;
        ret_since->gone = is_named(&stack, seen) ? stack.entries + shared : NULL;
    }
    return true;
}
