/* What judging is made of. */
#ifndef AMPSUM_LESSON_JUDGE_H
#define AMPSUM_LESSON_JUDGE_H

#include "ampsum/mark.h"
#include "ampsum/reading.h"

/*
 * True where the written number is the value: exactly, rounded to the figures written (two or more, a tie either way,
 * zeros at the end of a whole number counting or not), or off by no more than the tolerance.
 */
bool written_fits(const struct written_way *way, const mpq_t written, const mpq_t value, unsigned tolerance_ppm);

/* The same without the tolerance. */
bool written_agrees(const struct written_way *way, const mpq_t written, const mpq_t value);

/* True where it is rightly rounded to `figures`, a fraction, or exact without zeros beyond those asked for. */
bool written_figures_fit(const struct written_way *way, const mpq_t written, const mpq_t value, unsigned figures);

/* Empties it for the next answer. */
void judgement_clear(struct judgement *judgement);

/* Appends to the judgement's remark what was lost, and what would be right. `written` NULL: by the first generator. */
void judge_remark(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                  const struct written *written, struct judgement *judgement);

/* Appends what would be right, and how it is found. */
void judge_add_right(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                     struct text *text);

/* Judges the answer to a question of one quantity that is told. */
void judge_alone(const struct lesson_plan *plan, const struct lesson_question *question, const char *answer,
                 struct judgement *ret_judgement);

/* Sheets of the first generator mark as they did when they were handed out. */
void mark_question_first(const struct lesson_plan *plan, const struct lesson_question *question,
                         const char *const *answers, struct judgement *ret_judgements);

#endif
