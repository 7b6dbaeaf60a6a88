/* Worksheets and marks on the page: view_lesson.c. */
#ifndef AMPSUM_SERVE_LESSON_H
#define AMPSUM_SERVE_LESSON_H

#include "site.h"

struct lesson_file {
    const char *name;
    const char *type;
    const char *what; /* its key */
    bool archive;     /* of all files, else one of them */
};

extern const struct lesson_file lesson_files[]; /* ended by a NULL name */

/* Heading, words and form from which the files are made. */
void page_lesson_form(struct visit *visit);

/* Answers with the file that the query asks for; false with visit->error set or with the refusal made. */
bool send_lesson(struct visit *visit, const struct lesson_file *file);

#endif
