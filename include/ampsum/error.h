/*
 * The first thing that went wrong, as a value. Modules fill it; only the faces (cli, serve) print it.
 *
 * Checked: tests/unit/test_base.c.
 */
#ifndef AMPSUM_ERROR_H
#define AMPSUM_ERROR_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/text.h"

enum error_code {
    ERROR_NONE = 0,
    ERROR_INPUT, /* the command line or the input is wrong: exit status 2, nothing changed */
    ERROR_STORE, /* the house database can't be read or written, or is damaged: exit status 3, nothing lost */
};

/* One thing that is wrong and where, for a face that has a place for it: no face reads that out of a sentence. */
struct error_fault {
    const char *section; /* its kind's word, of the table of sections; NULL: of no section */
    const char *key;     /* of the table of keys; NULL: of the section, or of none */
    const char *id;      /* of the section; "": it has none */
    const char *value;   /* of the key, as it stands; NULL: it is not there */
    const char *reason;  /* what is wrong and what was expected, without any of these in front */
};

struct error {
    enum error_code code;
    struct text message; /* may hold several lines (all faults of one file), no final line break */
    const char *part;    /* which member of a question it is about; lives as long as the program; NULL: not known */
    size_t place;        /* of that member, where there are several: counted from 0 */
    struct error_fault *faults; /* those of the message whose place is known, in its order */
    size_t fault_count;
    size_t fault_capacity;
    struct arena *words; /* that the faults are made of */
};

/* Frees all that it holds; `(struct error){0}` is an empty error, and so is one that was freed. */
void error_done(struct error *error);

/* Appends a copy of what is wrong and where; sets neither code nor message. Its two words must outlive the error. */
void error_add_fault(struct error *error, const struct error_fault *fault);

/* Sets code and message unless one is set already: the first fault wins. A NULL error is allowed. */
void error_set(struct error *error, enum error_code code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/*
 * The same with ERROR_INPUT, `FRONT VALUE: REASON` (VALUE NULL: none), about that part, and with a fault that holds
 * value and reason alone: a form, which has marked the part, says no more.
 */
void error_refuse(struct error *error, const char *front, const char *part, const char *value, const char *reason);

/* Says what a fault is about, where one is set and that was not yet said. */
void error_part(struct error *error, const char *part, size_t place);

/* True where something went wrong. */
bool error_is_set(const struct error *error);

/* The message, never NULL. */
const char *error_message(const struct error *error);

/* The exit status that belongs to the code: 0, 2 or 3. */
int error_exit_status(const struct error *error);

#endif
