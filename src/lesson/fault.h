/* Which part of a circuit is faulty, told from readings: R1 in front of a group side by side. */
#ifndef AMPSUM_LESSON_FAULT_H
#define AMPSUM_LESSON_FAULT_H

#include <stdbool.h>
#include <stddef.h>

#include <gmp.h>

/* The letters a, b, c, d of the question. */
enum lesson_fault { LESSON_FAULT_OPEN = 1, LESSON_FAULT_SHORT, LESSON_FAULT_VALUE, LESSON_FAULT_JOINT };

/*
 * Operands: the marked resistances of R1, R2 ...; V of the source, V across R1, V across the group; the currents in R2
 * and on. Sets the number of the part, or its fault; a loose joint in the line is at R1. False where all is as marked.
 */
bool lesson_fault_part(const mpq_srcptr *operands, size_t count, mpq_t ret);
bool lesson_fault_kind(const mpq_srcptr *operands, size_t count, mpq_t ret);

#endif
