/*
 * A growing text buffer, so that no name is ever cut. Also the spelling of numbers, free of the locale.
 */
#ifndef AMPSUM_TEXT_H
#define AMPSUM_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

struct text {
    char *bytes; /* NUL-ended once anything was added; NULL before */
    size_t length;
    size_t capacity;
};

/* Frees the bytes; the text is empty afterwards, as `(struct text){0}` is. NULL allowed. */
void text_done(struct text *text);

/* The content as a string, never NULL ("" when empty). Valid until the next change. */
const char *text_string(const struct text *text);

/* Empty again; the room stays. */
void text_clear(struct text *text);

/*
 * Add to the end: a string, `length` bytes of one, a byte, or what a format of printf gives. Nothing is cut; out of
 * memory, or a format that printf refuses, ends the program (memory_fail). What is added may not lie in the text
 * itself. Numbers follow LC_NUMERIC, which ampsum never sets. Checked: tests/unit/test_base.c.
 */
void text_add(struct text *text, const char *string);
/* With its first letter as a capital, where that is one of a-z: for words that begin a sentence. */
void text_add_capital(struct text *text, const char *string);
void text_add_length(struct text *text, const char *bytes, size_t length);
void text_add_char(struct text *text, char c);
void text_printf(struct text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* As text_printf, for a function that has taken a list of arguments itself; the caller starts and ends the list. */
void text_printf_list(struct text *text, const char *format, va_list arguments) __attribute__((format(printf, 2, 0)));

/*
 * A stranger's string as part of a message: at most 60 bytes of it (then `...`), with every control character and every
 * byte that is no UTF-8 spelled \xNN, so that it can't drive a terminal.
 */
void text_add_shown(struct text *text, const char *string);

/* A word as a shell takes it: in quotes where it holds more than plain characters (` ' ` becomes `'\'' `). */
void text_add_shell(struct text *text, const char *word);

/* The same of any length and with its line breaks: words that came from a stranger stand in it somewhere. */
void text_add_harmless(struct text *text, const char *string);

/*
 * The shortest decimal that reads back as exactly `value` (at most 17 significant digits), plain where the exponent is
 * small (1500, 0.05), with an exponent otherwise (1e+21). Finite values only (asserts).
 */
void text_add_number(struct text *text, double value);

/*
 * `value` rounded half-up in decimal to `decimals` places, with trailing zeros kept: 7.25, 1 -> "7.3". A negative zero
 * prints as 0. For what people read.
 */
void text_add_fixed(struct text *text, double value, int decimals);

/* As text_add_fixed, but trailing zeros (and a bare point) are dropped: 12.50 -> "12.5", 3.00 -> "3". */
void text_add_rounded(struct text *text, double value, int decimals);

/* The same two within a sentence: what stands before the number, and behind it. */
void text_fixed(struct text *text, const char *before, double value, int decimals, const char *after);
void text_rounded(struct text *text, const char *before, double value, int decimals, const char *after);

/*
 * A sentence with its figures, as a printf that knows these conversions alone (another one asserts; the compiler checks
 * the arguments): %s (NULL gives nothing), %zu, %d, %u, %%, and of a double %.1f as text_add_fixed and %.1g as
 * text_add_rounded write it with that many decimals (%g: with 3), `-` where it is not finite. The list's `add` adds
 * the strings: text_add, or what escapes them. Checked: tests/unit/test_base.c, html_format.c.
 */
void text_say(struct text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
void text_say_list(struct text *text, void (*add)(struct text *text, const char *string), const char *format,
                   va_list arguments) __attribute__((format(printf, 3, 0)));

struct arena;

/* What the text holds as a string in the arena; the text is freed and empty then. */
char *arena_text(struct arena *arena, struct text *text);

/* A copy of the line at `*at`, which moves behind it; NULL at the end of the string. */
const char *arena_line(struct arena *arena, const char **at);

/* A string in the arena, made as text_printf does. Checked: tests/unit/test_base.c. */
char *arena_printf(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
