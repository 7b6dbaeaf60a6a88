/* What the page of a new appliance answers, in sentences: where it could go, and what it would do there. */
#ifndef AMPSUM_SERVE_APPLIANCE_H
#define AMPSUM_SERVE_APPLIANCE_H

#include "ampsum/answer_place.h"
#include "ampsum/answer_try.h"
#include "site.h"

/* Why there is no answer: each line of visit->error once, without the name of what was asked. */
void appliance_error(struct visit *visit);

void appliance_places(struct visit *visit, const struct place_answer *answer);
void appliance_trial(struct visit *visit, const struct try_answer *answer);

/* What was taken of a load where nothing was said: its rating, and how long it runs, where that counts. */
void appliance_notes(struct visit *visit, const struct freetext *load);

#endif
