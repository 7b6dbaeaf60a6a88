/* Several files as one ZIP archive, stored as they are (APPNOTE.TXT of PKWARE, version 2.0; method 0). */
#ifndef AMPSUM_SERVE_ZIP_H
#define AMPSUM_SERVE_ZIP_H

#include <stddef.h>

#include "ampsum/text.h"

/* An archive that is being written: files first, then the list of them. */
struct zip {
    struct text list;
    size_t count;
};

/*
 * Appends a file to the archive in `bytes`. `name` is at most 65,535 bytes of ASCII; archive and file stay below 4 GiB.
 * The same files give the same bytes: each is dated 1 January 1980, the first day that the format knows.
 */
void zip_add(struct zip *zip, struct text *bytes, const char *name, const struct text *file);

/* Appends the list of files, which ends the archive; frees what `zip` holds. At most 65,535 files. */
void zip_end(struct zip *zip, struct text *bytes);

#endif
