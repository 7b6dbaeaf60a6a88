/* Slips as the first generator's sheets were marked by them: one of them, the prefix, moved points. */
#ifndef AMPSUM_LESSON_SLIPS_FIRST_H
#define AMPSUM_LESSON_SLIPS_FIRST_H

#include "ampsum/mark.h"
#include "ampsum/written.h"

/*
 * The one slip that leads from the true numbers, or from the student's own, to what is written; SLIP_NONE where none
 * or more than one does.
 */
enum slip first_slip_of(const struct lesson_question *question, size_t index, const mpq_srcptr *own,
                        const struct answer *answer, const mpq_t written);

/*
 * True where the written number is the value, exactly or rounded rightly to as many figures as are asked for (or to
 * more, where more are written).
 */
bool first_agrees(const struct answer *answer, const mpq_t written, const mpq_t value, unsigned figures);

#endif
