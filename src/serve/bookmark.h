/*
 * The address of a house from one start to the next, so that a bookmark lives: port and key in a file that only this
 * user can read, in a folder of theirs ($XDG_STATE_HOME, else ~/.local/state). Where the system has no such folder, or
 * anybody else could read or write it, nothing is kept, and each start has an address of its own.
 */
#ifndef AMPSUM_SERVE_BOOKMARK_H
#define AMPSUM_SERVE_BOOKMARK_H

#include <stdbool.h>

#include "guard.h"

struct bookmark {
    unsigned port; /* 0: none */
    char key[GUARD_SECRET_CHARS + 1];
};

enum { BOOKMARK_DAYS = 90 /* after the last start the key is forgotten */ };

/* Of the house at that path, which need not be there yet. False with ret_bookmark empty where none is kept. */
bool bookmark_read(const char *house, struct bookmark *ret_bookmark);

/* Keeps it, or with port 0 forgets it; silently nothing where it can't be kept. */
void bookmark_write(const char *house, const struct bookmark *bookmark);

#endif
