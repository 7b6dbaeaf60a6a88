/* The marks of a class as tables and as JSON. */
#ifndef AMPSUM_CLI_MARK_VIEW_H
#define AMPSUM_CLI_MARK_VIEW_H

#include "ampsum/mark.h"
#include "cli.h"

/* Each for people and for CSV, by the column's two names; freed by the caller. */
struct table *mark_students_table(const struct marks *marks, const struct lesson_plan *plan);
struct table *mark_summary_table(const struct marks *marks);
struct table *mark_slips_table(const struct marks *marks);
struct table *mark_answers_table(const struct marks *marks, const struct lesson_plan *plan);

/* The whole answer. */
void mark_json(struct invocation *invocation, const struct marks *marks, const struct lesson_plan *plan,
               bool key_changed);

/* The keys value, unit and figures, slip and remark of a judgement. */
void mark_judgement_json(json_t *object, const struct judgement *judgement);

/* "38", or "38 to 42" where answers are still to be decided. */
void mark_add_span(struct text *text, const struct mark_student *student);

#endif
