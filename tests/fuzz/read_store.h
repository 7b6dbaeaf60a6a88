/* What the targets of databases ask of one that opened: the house or an error that says why, and the journal. */
#ifndef AMPSUM_FUZZ_READ_STORE_H
#define AMPSUM_FUZZ_READ_STORE_H

#include <stdlib.h>

#include "ampsum/store.h"

static void read_all(struct store *store)
{
    struct error error = {0};
    struct house *house = NULL;
    if (store_read_house(store, &house, &error)) {
        house_free(house);
    } else if (error.code != ERROR_STORE || error.message.length == 0) {
        abort();
    }
    error_done(&error);
    struct arena *arena = arena_new();
    struct journal_entry *entries = NULL;
    size_t count = 0;
    store_journal(store, arena, &entries, &count, NULL);
    arena_free(arena);
}

#endif
