/* A folder for the files of one command, which is removed again. */
#ifndef AMPSUM_SERVE_SCRATCH_H
#define AMPSUM_SERVE_SCRATCH_H

#include <stdbool.h>

#include "ampsum/error.h"
#include "ampsum/text.h"

struct scratch {
    struct text folder; /* its path; empty: not made */
};

/* Makes the folder where TMPDIR says, for this user alone; false with the error set. */
bool scratch_make(struct scratch *scratch, struct error *error);

/* Removes the folder with the files in it, and frees. Takes one that was not made too. */
void scratch_done(struct scratch *scratch);

/* Appends the path of a file in it. */
void scratch_path(const struct scratch *scratch, const char *name, struct text *path);

/* Appends the file's bytes; false with the error set. */
bool scratch_read(const struct scratch *scratch, const char *name, struct text *bytes, struct error *error);

#endif
