/* Named values that came with a request: the query of its address, or the body of a form. */
#ifndef AMPSUM_SERVE_FORM_H
#define AMPSUM_SERVE_FORM_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/text.h"

struct field {
    const char *name;
    const char *value; /* one line */
    const char *lines; /* as it came, with its line breaks and tabs */
};

struct form {
    struct field *field;
    size_t count;
    size_t capacity;
};

/* A form of ours has fewer; so that looking through them for each of them stays quick. */
enum { FORM_FIELDS_MOST = 4096 };

/* Adds a pair; the strings are not copied. form_done frees the list. */
void form_add(struct form *form, const char *name, const char *value);
void form_done(struct form *form);

/*
 * Reads `a=1&b=two+words` (application/x-www-form-urlencoded) with strings in `arena`. False where an escape is broken,
 * a name or value holds a NUL byte, another control character than a line break, or is no UTF-8, or where there are
 * more than FORM_FIELDS_MOST.
 */
bool form_read(struct form *form, const char *bytes, size_t length, struct arena *arena);

/* True for a text that a form may bring: well-formed UTF-8 without control characters, `length` bytes long. */
bool form_text_is_plain(const char *string, size_t length);

/* The first value of that name without leading blanks (form_read has cut the others), "" where there is none. */
const char *form_value(const struct form *form, const char *name);

/* The same; NULL where it is not there or empty. */
const char *form_given(const struct form *form, const char *name);

/* All values of that name that are more than blanks, in the arena. */
const char *const *form_all(const struct form *form, const char *name, struct arena *arena, size_t *ret_count);

/* The first value of that name as it came: several lines. */
const char *form_lines(const struct form *form, const char *name);

/* True where a value of that name is there. */
bool form_has(const struct form *form, const char *name);

/* Appends the pairs as the query of an address: `a=1&b=two%20words`. */
void form_query(const struct form *form, struct text *query);

#endif
