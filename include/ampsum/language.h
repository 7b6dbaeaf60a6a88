/*
 * What people read in a language of their own: schema/language/LL.ini, a row for each sentence, its places in braces.
 * C code holds keys; a sentence is found by its key alone.
 * Checked: tests/unit/test_language.c, src/tools/language_embed.c (each language has every sentence, with the same
 * places).
 */
#ifndef AMPSUM_LANGUAGE_H
#define AMPSUM_LANGUAGE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#include "ampsum/text.h"

enum { LANGUAGE_ENGLISH = 0 };

/* Languages are numbers from 0, English the first; their codes "en", "de". language_find: -1 where there is none. */
size_t language_count(void);
const char *language_code(int language);
int language_find(const char *code);

/*
 * Appends the sentence of that key. Then follow names of places and what fills them, both const char *, ended by NULL:
 * say(text, language, "figure.beside", "parts", "R1 and R2", (const char *)NULL). A key that is not there asserts.
 */
void say(struct text *text, int language, const char *key, ...) __attribute__((sentinel));

/* The same of a list of places. */
void say_list(struct text *text, int language, const char *key, va_list places);

/* The sentence of that key with its places unfilled; lives for ever. */
const char *say_plain(int language, const char *key);

/* The row of that key with its places unfilled: "in {0}, out {1}"; what is no key is the form itself: "R = V / I". */
const char *say_form(int language, const char *form);

/*
 * Appends a message: a key with the names that fill its places {1}, {2} behind it, "asked.current-in-1 R1". What begins
 * with no key, such as the name of a load, is appended as it is, and false given.
 */
bool say_message(struct text *text, int language, const char *message);

/* How numbers and letters are written. */
struct writing {
    char decimal; /* '.' or ',' */
    bool grouped; /* narrow no-break spaces from 10,000 on */
    char voltage; /* 'V' or 'U' */
    bool signs;   /* the ohm's Greek letter */
};

/* As it is taught where that language is spoken. */
struct writing language_writing(int language);

/* Appends a line as it was made (points, the letter V, "ohm") in that writing. */
void language_write(struct text *text, const struct writing *writing, const char *line);

#endif
