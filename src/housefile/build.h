/*
 * What building a house and checking it share: the document, the rows, and where each row stands in the document.
 */
#ifndef AMPSUM_BUILD_H
#define AMPSUM_BUILD_H

#include "faults.h"
#include "ids.h"

struct build {
    const struct document *document;
    struct faults *faults;
    struct house *house;
    const struct document_section **section_of[KIND_COUNT]; /* by row; NULL: the row has no section */
    size_t row_count[KIND_COUNT];
    struct ids ids[KIND_COUNT];
    unsigned *mark[KIND_COUNT]; /* by row: the list that named it last, to find a duplicate */
    unsigned mark_last;
    int *tied;                    /* by branch: what it says itself, before the set's word holds for all */
    uint64_t foreign[KIND_COUNT]; /* keys that the house's rule set does not know */
};

/* The house that the document says, or NULL; every fault goes to `faults`. The caller frees the house. */
struct house *build_house(const struct document *document, struct faults *faults);

/* Rules across keys and sections. Those on places run before house_finish takes a place from an outlet. */
void check_places(struct build *build);
void check_house(struct build *build);

/* The prices of one tariff: src/housefile/check_tariff.c. */
void check_tariff(struct build *build, size_t row);

/* True where the row's section gives the key, well or badly. */
bool row_has_key(const struct build *build, enum kind kind, size_t row, const char *key);

/* The line of a row's key, or of its header where the key is NULL or not given; 0 where there is no line. */
int row_line(const struct build *build, enum kind kind, size_t row, const char *key);

/* Adds a fault: `[branch kitchen] legs = AB: ...` at the key's line, or `[branch kitchen]: ...` at the header's. */
void row_fault(struct build *build, enum kind kind, size_t row, const char *key, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* ` at house.ini:12`, or the source alone, of a row's key, to name the other of two lines; of no source nothing. */
void add_place(const struct build *build, enum kind kind, size_t row, const char *key, struct text *text);

#endif
