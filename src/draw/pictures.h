/* What the pictures share. */
#ifndef AMPSUM_DRAW_PICTURES_H
#define AMPSUM_DRAW_PICTURES_H

#include "ampsum/pictures.h"

extern const struct canvas_pen pen_thin;
extern const struct canvas_pen pen_line;

/* A new title or description in the arena; empties the text. */
const char *picture_string(struct arena *arena, struct text *text);

/* The same with its figures as the language writes them. */
const char *picture_written(struct arena *arena, int language, struct text *text);

/* The sentence of that key with what fills its places: a name and its words each, then NULL (ampsum/language.h). */
const char *picture_say(struct arena *arena, int language, const char *key, ...) __attribute__((sentinel));

/* `16.3 A`, one decimal below 100. */
void add_ampere(struct text *text, double current_a);

/* "2 OVER, 1 near", the gravest first, of how many have which verdict; nothing before where there are none. */
void add_verdicts(struct text *text, const char *before, const size_t *counts);

#endif
