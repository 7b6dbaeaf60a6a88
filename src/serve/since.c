/*
 * Which state of the house a form had seen, and what was done since. The changes that stand are a stack: others are put
 * on it and taken from it. A state is the stack's height and a hash of it, with hashes of the few states below: so what
 * both states share is found even where the numbers of changes taken back were given out again.
 */
#include <stdlib.h>
#include <string.h>

#include "ampsum/store.h"
#include "site.h"

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

/* The command without the folders of the house's path: the person knows where it is. */
static void add_command(struct visit *visit, const char *command)
{
    const char *path = visit->site->path;
    const char *name = strrchr(path, '/');
    const char *found = name == NULL ? NULL : strstr(command, path);
    if (found == NULL) {
        page_add(visit, "<small><code>%s</code></small>", command);
        return;
    }
    page_add(visit, "<small><code>%s%s%s</code></small>",
             arena_copy_length(visit->arena, command, (size_t)(found - command)), name + 1, found + strlen(path));
}

void page_change(struct visit *visit, const struct journal_entry *entry, const char *how)
{
    /* 2026-01-31T18:30:00Z, as the store checks it */
    const char *day = arena_copy_length(visit->arena, entry->time, strcspn(entry->time, "T"));
    const char *clock = entry->time + strlen(day) + (entry->time[strlen(day)] == 'T');
    page_add(visit, "<li>%s %s UTC%s: ", day, arena_copy_length(visit->arena, clock, strcspn(clock, "Z")), how);
    const char *at = entry->changes;
    for (const char *line = NULL; (line = arena_line(visit->arena, &at)) != NULL;) {
        page_add(visit, "<strong>%s</strong><br>", line);
    }
    add_command(visit, entry->command);
    page_add(visit, "</li>");
}

/* True where the journal still names what was seen, taken back since: it does so until another change is made. */
static bool is_named(const struct stack *stack, const char *seen)
{
    const size_t height = seen_height(seen);
    const char *hash = strchr(seen, '-');
    return height <= stack->count && hash != NULL && strtoull(hash + 1, NULL, 16) == stack->hash[height];
}

/* The changes that were seen and don't stand any more. */
static void add_taken_back(struct visit *visit, const struct stack *stack, const char *seen, size_t shared)
{
    const size_t seen_count = seen_height(seen);
    const bool named = is_named(stack, seen);
    for (size_t i = seen_count; named && i-- > shared;) {
        page_change(visit, &stack->entries[i], " (taken back)");
    }
    if (!named && seen_count > shared) {
        page_add(visit, "<li>%zu %s that you had seen %s taken back.</li>", seen_count - shared,
                 seen_count - shared == 1 ? "change" : "changes", seen_count - shared == 1 ? "was" : "were");
    }
}

void page_since(struct visit *visit, struct store *store)
{
    struct stack stack;
    struct error error = {0};
    const char *seen = form_value(&visit->body, "seen");
    size_t shared = 0;
    if (!read_stack(store, visit->arena, &stack, &error)) {
        page_add(visit, "<p>What was done can't be read now: %s</p>", error_message(&error));
        error_done(&error);
        return;
    }
    page_add(visit, "<ul class=\"changes\">");
    if (find_shared(&stack, seen, &shared)) {
        add_taken_back(visit, &stack, seen, shared);
    } else {
        page_add(visit, "<li>Much was changed or taken back. These changes stand now:</li>");
    }
    for (size_t i = shared; i < stack.standing; i++) {
        page_change(visit, &stack.entries[i], "");
    }
    page_add(visit, "</ul>");
}
