/* Decisions by hand while marking. */
#ifndef AMPSUM_LESSON_DECIDE_H
#define AMPSUM_LESSON_DECIDE_H

#include "cells.h"

void decisions_done(struct marks *marks);

/*
 * The decision on an answer, by sheet, part and written text; NULL where there is none. One on another text of that
 * part is told in a notice.
 */
const struct mark_decision *decision_of(struct marks *marks, const char *sheet, unsigned student, size_t question,
                                        const char *part, const char *written);

/* What is to be judged: what the decision reads the answer as, else what is written. */
const char *decision_answer(const struct mark_decision *decision, const char *written);

/* Changes the judgement as was decided; true where the decision says anything that can be obeyed. */
bool decision_apply(const struct mark_decision *decision, int language, struct judgement *judgement);

/* Tells of a decision on the student's part that gives it more points than it has. */
void notice_too_many_points(struct marks *marks, const struct mark_decision *decision, unsigned student, unsigned most);

/* Tells of decisions that say nothing that can be obeyed. */
void notice_odd_decisions(struct marks *marks);

#endif
