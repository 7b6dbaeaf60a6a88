/* Naming a likely slip by the number that it leads to. */
#ifndef AMPSUM_LESSON_SLIPS_H
#define AMPSUM_LESSON_SLIPS_H

#include "judge.h"

struct slip_finding {
    enum slip slip;
    bool by_swap; /* one quantity taken for another: what follows from that is the same slip */
};

/*
 * The one slip that leads from the true numbers, or from the student's own, to what is written; SLIP_NONE where none
 * or more than one does. A slip of the step itself goes before the number of another part, and both before a prefix.
 */
void slip_of(const struct lesson_question *question, size_t index, const mpq_srcptr *own, const struct written_way *way,
             const mpq_t written, struct slip_finding *ret);

/* The slip behind a wrong word: what stays was changed, in for out. */
enum slip slip_of_word(const struct lesson_question *question, size_t index, int written);

/* True where the last place was cut off and not rounded. */
bool slip_is_cut(const struct written_way *way, const mpq_t written, const mpq_t value, unsigned figures);

#endif
