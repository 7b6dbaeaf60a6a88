/* What was read from answer files, before it is judged. */
#ifndef AMPSUM_LESSON_CELLS_H
#define AMPSUM_LESSON_CELLS_H

#include "ampsum/mark.h"

/* One answer as it stands in a file. */
struct mark_cell {
    unsigned student;
    size_t question; /* from 0 */
    char *part;
    char *answer;
    char *file;
    size_t row;
    size_t order; /* of reading */
    bool used;
};

/* Notes an answer. The strings are copied. */
void marks_cell(struct marks *marks, unsigned student, size_t question, const char *part, const char *answer,
                const char *file, size_t row);

/* Notes a word on a row. */
void marks_notice(struct marks *marks, const char *file, size_t row, const char *word);

#endif
