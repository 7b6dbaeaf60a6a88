/*
 * The faults of one input, kept in line order: the first HOUSEFILE_FAULTS_MOST of them, and how many more there are.
 */
#ifndef AMPSUM_FAULTS_H
#define AMPSUM_FAULTS_H

#include <stdarg.h>

#include "ampsum/housefile.h"
#include "ampsum/words.h"

/* Where a fault is: in a section; at a key of it, which need not be there; with the value as it stands, where it is. */
struct fault_place {
    const char *section; /* NULL: in none */
    const char *id;
    const char *key;   /* NULL: the section itself */
    const char *value; /* NULL: the key is not there */
};

struct fault {
    int line; /* 0: none */
    char *message;
    const char *section; /* the rest as struct error_fault has it */
    const char *key;
    char *id;
    char *value;
    size_t reason_at; /* where in the message the reason begins */
};

struct faults {
    const char *source;
    struct fault kept[HOUSEFILE_FAULTS_MOST];
    size_t kept_count;
    size_t count;
    size_t nearest_budget; /* words that may still be compared, so that a file of a million faults stays quick */
};

void faults_init(struct faults *faults, const char *source);
void faults_done(struct faults *faults);

/* False where a fault of that line would not be kept: nothing need be spelled out. */
bool faults_want(const struct faults *faults, int line);

/* Counts a fault of a line (0: of no line); `format` is what is wrong and what was expected. */
void faults_add(struct faults *faults, int line, const char *format, ...) __attribute__((format(printf, 3, 4)));

/* The same of a place, which stands in front: `[branch kitchen] legs = AB: ...`, or `[branch kitchen]: ...`. */
void faults_add_at(struct faults *faults, int line, const struct fault_place *place, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
void faults_add_list(struct faults *faults, int line, const struct fault_place *place, const char *format,
                     va_list arguments) __attribute__((format(printf, 4, 0)));

/* Sets `error` to all of them, a line each, with their places; true where there are none. */
bool faults_report(const struct faults *faults, struct error *error);

/* Offers a candidate for the nearest word as long as the budget lasts. */
void faults_offer(struct faults *faults, struct words_nearest *nearest, const char *candidate);

/* `[branch kitchen]`. */
void add_header(struct text *text, const char *word, const char *id);

#endif
