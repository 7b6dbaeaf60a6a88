/* The plan of a set of sheets as bytes. */
#ifndef AMPSUM_LESSON_PLAN_H
#define AMPSUM_LESSON_PLAN_H

#include "ampsum/lesson.h"

/* A code of bytes by which a change shows. */
uint64_t bytes_code(const char *bytes, size_t length);

/* The same of a plan, and of one student's sheet of a plan with that code. */
uint64_t plan_code(const struct lesson_plan *plan);
uint64_t sheet_code_of(uint64_t code, unsigned student);

/* Appends sheets.json. */
void plan_write(struct text *text, const struct lesson_plan *plan, uint64_t key_code);

/* Reads it; false where it is damaged or was changed (the plan is empty then). */
bool plan_read(const char *bytes, size_t length, struct lesson_plan *ret_plan, uint64_t *ret_key_code);

#endif
