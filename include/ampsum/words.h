/*
 * Nearest known word for a mistyped one, and small helpers on words.
 *
 * Checked: tests/unit/test_base.c.
 */
#ifndef AMPSUM_WORDS_H
#define AMPSUM_WORDS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Edit distance (insert, delete, substitute, swap of neighbours each count 1; optimal string alignment).
 * Words over 64 bytes are compared by their first 64.
 */
size_t words_distance(const char *a, const char *b);

/*
 * Keeps the best of a run of candidates: call words_nearest_offer for each, then read `best` (NULL where nothing is
 * near: a distance above a third of the longer word, rounded up; a candidate that begins with the word always counts).
 */
struct words_nearest {
    const char *word;
    const char *best;
    size_t distance;
};
void words_nearest_init(struct words_nearest *nearest, const char *word);
void words_nearest_offer(struct words_nearest *nearest, const char *candidate);

/* True where the bytes are well-formed UTF-8 (no surrogates, no overlong forms, nothing above U+10FFFF). */
bool words_is_utf8(const char *bytes, size_t length);

/* True where the string holds a control character (C0, DEL, C1) or a bidirectional control (U+202A..E, U+2066..9). */
bool words_has_control(const char *string);

/* Bytes of the well-formed UTF-8 character at `string` that may be drawn or stand in markup (no control character, not
 * U+FFFE or U+FFFF), else 0. */
size_t words_drawable_bytes(const char *string);

/* Bytes that one U+FFFD stands for where there is none: the byte and what continues it. */
size_t words_undrawable_bytes(const char *string);

/* Number of columns the UTF-8 string takes on a terminal, one for each character (combining marks not looked at). */
size_t words_columns(const char *string);
size_t words_columns_of(const char *bytes, size_t length); /* the same of `length` bytes */

/* True where the string ends with `ending`. */
bool words_end_with(const char *string, const char *ending);

/* True for an ID: a-z 0-9 - only, 1 to 40 characters. */
bool words_is_id(const char *string);

#endif
