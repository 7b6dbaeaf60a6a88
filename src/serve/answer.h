/* The answers of `place` and `try` about the load of the form, in sentences. */
#ifndef AMPSUM_SERVE_ANSWER_H
#define AMPSUM_SERVE_ANSWER_H

#include "ampsum/freetext.h"
#include "site.h"

/* A string of a JSON object, "" where there is none; a number, NAN where there is none. */
const char *json_word(const json_t *object, const char *key);
double json_double(const json_t *object, const char *key);

/* `first N, and M more`, all of them behind a summary: nothing for an empty list. */
void answer_list(struct text *html, const char *before, const char *const *items, size_t count);

/* Why a command gave no answer: each of its lines once, without the name of what was asked. */
void answer_error(struct visit *visit);

/* What `place --format json` and `try --format json` answered. */
void answer_places(struct visit *visit, const json_t *json);
void answer_trial(struct visit *visit, const json_t *json);

/* What was taken where nothing was said of how long the load runs, where that counts. */
void answer_running_time(struct visit *visit, const struct freetext *load);

#endif
