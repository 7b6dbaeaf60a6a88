/*
 * The answer of `place` as rows and sentences (ampsum/answer_place.h). Computes nothing.
 *
 * Checked: tests/golden/place-demo, place-class, place-crowd, place-and-settle.
 */
#ifndef AMPSUM_SHOW_PLACE_H
#define AMPSUM_SHOW_PLACE_H

#include "ampsum/answer_place.h"
#include "ampsum/asked.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each branch that was looked at. */
extern const struct show_rows show_place_rows;

/* The whole answer; takes nothing. For people with what was taken of their words. */
json_t *show_place_json(const struct place_answer *answer);
void show_place_text(const struct place_answer *answer, const struct place_answer *everywhere,
                     const struct asked *asked, const struct page *page, struct text *text);

/* The line that sums up where nothing has room, or where something has only while others stay off; NULL otherwise. */
const char *show_place_conclusion(const struct place_answer *answer);

/* The answer to "may this run here?": a word, the branch that is named, and the rest. */
struct place_sentence {
    const char *word;            /* `Yes`, `Yes, if Kettle stays off while it runs`, `No, not in Loft` */
    const char *before;          /* between the word and the branch: `: then `, `. Try ` */
    const struct place_row *row; /* the branch; NULL: none is named */
    const char *after;           /* ` has room for Heater, 1500 W.` and what a typical figure was counted */
};

/*
 * `everywhere`: the answer for the whole house, asked where the room has none; else NULL. `shown`: the load as it was
 * said. The strings are in `arena`.
 */
struct place_sentence show_place_sentence(const struct place_answer *answer, const struct place_answer *everywhere,
                                          const char *shown, struct arena *arena);

/* What a load brings on a page or terminal where nothing was said of how long it runs, and that counts; `how`: what to
 * say then. Appends the sentence; nothing where there is none. */
void show_running_time(const struct freetext *load, int rules, const char *how, struct text *text);

/* What was taken for granted of a load on a terminal, that too. */
void show_load_notes(const struct freetext *load, int rules, const struct page *page, struct text *text);

#endif
