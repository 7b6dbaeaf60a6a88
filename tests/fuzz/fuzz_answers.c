/*
 * Any bytes as a student's answer file: each row is marked or told, whoever is marked has every part, no part has more
 * points than it can have; never a crash.
 */
#include <stdint.h>
#include <stdlib.h>

#include "ampsum/mark.h"

enum { STUDENTS = 2 };

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* One lesson for all inputs: making its questions is not what is tried here. */
static const struct lesson_plan *lesson(void)
{
    static enum lesson_kind kinds[] = {LESSON_UNEQUAL, LESSON_TRIP, LESSON_WIRE};
    static struct lesson_plan plan = {.seed = 5, .level = 1, .students = STUDENTS, .kinds = kinds, .question_count = 3};
    if (plan.currency == NULL) {
        lesson_plan_plain(&plan);
    }
    return &plan;
}

static void check(const struct marks *marks)
{
    for (size_t i = 0; i < marks->row_count; i++) {
        if (marks->rows[i].judgement.points > marks->rows[i].judgement.points_most) {
            abort();
        }
    }
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        if (student->student < 1 || student->student > STUDENTS || student->row_count != marks->students[0].row_count) {
            abort();
        }
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct marks marks = {0};
    marks_take(&marks, lesson(), "answers.csv", (const char *)data, size);
    marks_finish(&marks, lesson());
    check(&marks);
    marks_done(&marks);
    return 0;
}
