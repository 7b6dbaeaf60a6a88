/*
 * The views for a class (class, circuit, worksheets, marks) in the class's language: sentences of schema/language,
 * numbers as it writes them. The language comes with the address or the form, `language=de`, and goes on with links
 * and fields; no cookie keeps it. Every other view is in English.
 *
 * Checked: tests/page/languages.mjs.
 */
#ifndef AMPSUM_SERVE_SPEAK_H
#define AMPSUM_SERVE_SPEAK_H

#include "ampsum/language.h"
#include "input.h"
#include "site.h"

/* Takes the visit's language from the field `language` of the form; English where it holds none or no known one. */
void page_language(struct visit *visit, const struct form *form);

/* A sentence of schema/language without places; it lives for ever. */
const char *page_word(const struct visit *visit, const char *key);

/*
 * The sentence of a key with what fills its places, as `say` (whose NULL at the end is written here): added to the page
 * as text; added as it is, where what fills the places is markup (the sentence itself has no letter of it); in the
 * visit's arena.
 */
#define page_say(visit, ...) page_say_places(visit, __VA_ARGS__, (const char *)NULL)
#define page_say_marked(visit, ...) page_say_marked_places(visit, __VA_ARGS__, (const char *)NULL)
#define page_said(visit, ...) page_said_places(visit, __VA_ARGS__, (const char *)NULL)

void page_say_places(struct visit *visit, const char *key, ...) __attribute__((sentinel));
void page_say_marked_places(struct visit *visit, const char *key, ...) __attribute__((sentinel));
const char *page_said_places(struct visit *visit, const char *key, ...) __attribute__((sentinel));

/* A number with so many decimals, at most so many where `rounded`, as the language writes it, in the arena. */
const char *page_figure(struct visit *visit, double value, int decimals);
const char *page_rounded(struct visit *visit, double value);
const char *page_count(struct visit *visit, size_t count);

/* Appends `string` as the language writes its numbers. */
void page_written(struct visit *visit, const char *string);

/* What a link to another of these views carries on: "?language=de", or "&language=de"; "" in English. */
const char *page_carried(const struct visit *visit, bool first);

/* The same as a hidden field. */
void page_carry(struct visit *visit);

/* Links to this view in each language, with all else that was asked. */
void page_languages(struct visit *visit);

/* A choice of the languages, each by its own name, called as the key says. */
void page_language_choice(struct visit *visit, const char *key);

#endif
