/*
 * Figures and findings as JSON, CSV and words. Computes nothing: what stands here was worked out by engine and rules.
 * Keys and units of the JSON: contract, outputs.md.
 *
 * Checked: tests/golden/check-rows and the goldens of each command; tests/unit/test_table.c.
 */
#ifndef AMPSUM_SHOW_H
#define AMPSUM_SHOW_H

#include <jansson.h>
#include <stdbool.h>

#include "ampsum/assess.h"
#include "ampsum/energy.h"
#include "ampsum/table.h"
#include "ampsum/text.h"

/* How a text is laid out: columns of the terminal, and whether it can show more than ASCII. */
struct page {
    size_t width;
    bool utf8;
    const char *house; /* as this run was given it, ready for a shell; NULL: not known, HOUSE stands in its place */
};

/* The house in a command that is proposed. */
const char *show_house_word(const struct page *page);

/* A JSON number in the key's unit; null where not finite. A whole number prints without a point. */
json_t *json_figure(double value);

/* A string, or null. */
json_t *json_text(const char *string);

/* Appends item `index` of something. */
typedef void show_item(const void *of, size_t index, struct text *text);

/* Items 0 to count - 1 as an array of strings; in one line with `between` between them and `last` before the last. */
json_t *json_items(show_item *item, const void *of, size_t count);
void show_items(show_item *item, const void *of, size_t count, const char *between, const char *last,
                struct text *text);

/* {"ampsum":1,"command":…,"house":…}: the head of every answer. `house` NULL: the house key is null. */
json_t *json_answer(const char *command, const char *house);

/* An array of strings; `lines` NULL-ended. */
json_t *json_lines(const char *const *lines);

/* Adds "cautions": the lines in `more` (NULL-ended, may be NULL), then those of every answer. Last key. */
void json_cautions(json_t *answer, const char *const *more);

/* Appends the JSON text, one line, and a line break. Takes the reference to `answer`. */
void json_write(json_t *answer, struct text *text);

/*
 * What every answer says, NULL-ended; and the cautions of an answer on a terminal: `more` (NULL-ended, may be NULL), of
 * the cases that hold there, then it.
 */
extern const char *const show_cautions[];
void show_cautions_text(const struct page *page, const char *const *more, struct text *text);

/* As branch_moment_add, with the month where there is a minute (`Mon 18:30, Jan`). */
void show_moment_in_year(const struct house *house, size_t branch, struct moment at, struct text *text);

/* A verdict and a severity for people: `OVER`, `AT RISK`, `near`, `ok`, `empty`; `DANGER`, `WARNING`, `note`. */
const char *show_verdict(enum verdict verdict);

/* The same within a sentence or a table of small words: `room`, `at-risk`. */
const char *show_verdict_said(enum verdict verdict);

/*
 * How soon the breaker opens, for people: data keep the word of the standard, but above the rating nobody is told that
 * nothing is expected.
 */
const char *show_trip(const char *trip, double current_a, double breaker_a);
const char *show_severity(enum severity severity);

/* `27 branches, us rules, split-phase 120/240 V, main breaker 100 A`, the main device by the rule set's name for it. */
void show_house(const struct house *house, struct text *text);

/* `2 panels, 1 room, ...`: all kinds of rows but periods. */
void show_house_counts(const struct house *house, struct text *text);

/* `Kitchen counter left (kitchen-left)`. */
void show_branch_name(const struct branch *branch, struct text *text);

/* Appends `string` broken at blanks to the page's width, further lines indented by `indent` blanks. */
void show_wrap(const struct page *page, size_t indent, const char *string, struct text *text);

/* Appends a line behind `first` blanks, wrapped likewise, and frees it; nothing where it is empty. */
void show_line(const struct page *page, size_t first, size_t indent, struct text *line, struct text *text);

/* The same of a sentence as text_say makes it. */
void show_say(const struct page *page, size_t first, size_t indent, struct text *text, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Appends `string` with what the page cannot show spelled in ASCII (degree sign, ohm, times, at most, ...). */
void show_plain(const char *string, struct text *text);

/*
 * Appends `string` with the word that begins a line in colour for a terminal: OVER and DANGER red, AT RISK and WARNING
 * yellow. The word stays, so that colour is never the only sign.
 */
void show_coloured(const char *string, struct text *text);

/* Parts that other answers share with `check`. */

json_t *show_findings_json(const struct finding_list *list);

struct fact; /* ampsum/answer_facts.h */

/* The numbers of a fact in brackets, its leader's first: ` [1 2 3 6]`. */
void show_fact_numbers(const struct fact *fact, struct text *text);

/* `1 danger, 2 warnings`, the gravest first. */
void show_finding_counts(const struct finding_list *list, struct text *text);

/* One line a fact of the list (ampsum/answer_facts.h); returns how many notes stand nowhere then. */
size_t show_facts_text(const struct finding_list *list, const char *where, const struct page *page, struct text *text);

/* Currents by leg: {"A":..,"B":..}, those of the LEG_ bits in `legs`. */
json_t *show_legs_json(unsigned legs, const double *leg_a);
void show_findings_text(const struct finding_list *list, const char *where, bool notes, const struct page *page,
                        struct text *text);

#endif
