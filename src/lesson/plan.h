/* The plan of a set of sheets as bytes. */
#ifndef AMPSUM_LESSON_PLAN_H
#define AMPSUM_LESSON_PLAN_H

#include "ampsum/lesson.h"

/* A code of bytes by which a change shows. */
uint64_t bytes_code(const char *bytes, size_t length);

/* Of the plan as sheets.json holds it, without the sheets' own codes. */
uint64_t plan_code(const struct lesson_plan *plan);

/* The codes of all sheets, students entries; freed by the caller. */
char (*sheet_codes(const struct lesson_plan *plan))[LESSON_CODE_SIZE];

/* Adds a branch of the house to the plan, and a load to a branch; the strings are copied. */
struct lesson_branch *plan_branch(struct lesson_plan *plan, size_t *capacity, const char *label, unsigned breaker_a);
void plan_load(struct lesson_branch *branch, size_t *capacity, const char *name, unsigned power_w,
               unsigned minutes_day);

/* Appends sheets.json. `codes`: of the sheets. */
void plan_write(struct text *text, const struct lesson_plan *plan, char (*codes)[LESSON_CODE_SIZE], uint64_t key_code);

/*
 * Reads it. False, with an error that begins with `path`, where it is damaged, was changed, or was made by a generator
 * that is not known here (the plan is empty then).
 */
bool plan_read(const char *path, const char *bytes, size_t length, struct lesson_plan *ret_plan, uint64_t *ret_key_code,
               struct error *error);

#endif
