#include "match.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

/* IDs of a kind in a hash table with open places, at most half full. */
struct ids {
    size_t *index; /* NO_INDEX: free */
    size_t size;   /* a power of two */
};

static size_t hash_of(const char *id)
{
    size_t hash = 2166136261U; /* FNV-1a */
    for (const char *byte = id; *byte != '\0'; byte++) {
        hash = (hash ^ (unsigned char)*byte) * 16777619U;
    }
    return hash ^ hash >> 15;
}

static void ids_make(struct ids *ids, const struct house *house, enum kind kind, size_t count)
{
    ids->size = 16;
    while (ids->size < 2 * count) {
        ids->size *= 2;
    }
    ids->index = memory_resize(NULL, ids->size, sizeof *ids->index);
    memset(ids->index, 0xFF, ids->size * sizeof *ids->index); /* NO_INDEX */
    for (size_t i = 0; i < count; i++) {
        size_t place = hash_of(house_row_id(house, kind, i)) & (ids->size - 1);
        while (ids->index[place] != NO_INDEX) {
            place = (place + 1) & (ids->size - 1);
        }
        ids->index[place] = i;
    }
}

static size_t ids_find(const struct ids *ids, const struct house *house, enum kind kind, const char *id)
{
    size_t place = hash_of(id) & (ids->size - 1);
    while (ids->index[place] != NO_INDEX && strcmp(house_row_id(house, kind, ids->index[place]), id) != 0) {
        place = (place + 1) & (ids->size - 1);
    }
    return ids->index[place];
}

static void match_make(struct match *match, enum kind kind, const struct house *before, const struct house *after)
{
    size_t before_count = 0;
    size_t after_count = 0;
    house_rows(before, kind, &before_count);
    house_rows(after, kind, &after_count);
    match->before = memory_resize(NULL, after_count, sizeof *match->before);
    match->kept = memory_resize(NULL, before_count, sizeof *match->kept);
    memset(match->kept, 0, before_count * sizeof *match->kept);
    struct ids ids = {0};
    size_t next = 0; /* where the order is the same, the row that follows is the one */
    for (size_t i = 0; i < after_count; i++) {
        const char *id = house_row_id(after, kind, i);
        size_t found = next;
        if (next >= before_count || strcmp(house_row_id(before, kind, next), id) != 0) {
            if (ids.index == NULL) {
                ids_make(&ids, before, kind, before_count);
            }
            found = ids_find(&ids, before, kind, id);
        }
        match->before[i] = found;
        if (found != NO_INDEX) {
            match->kept[found] = true;
            next = found + 1;
        }
    }
    free(ids.index);
}

void matches_make(struct match matches[KIND_COUNT], const struct house *before, const struct house *after)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        match_make(&matches[kind], (enum kind)kind, before, after);
    }
}

void matches_done(struct match matches[KIND_COUNT])
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        free(matches[kind].before);
        free(matches[kind].kept);
    }
}
