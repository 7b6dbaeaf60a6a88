/* Feedback as documents, and its files. */
#ifndef AMPSUM_DRAW_LESSON_FEEDBACK_H
#define AMPSUM_DRAW_LESSON_FEEDBACK_H

#include "ampsum/feedback.h"
#include "ampsum/print.h"

/* A student's page: on paper line by line, on a screen a table for each question. Free with print_free. */
struct print_document *feedback_document(const struct feedback *feedback, const struct lesson_plan *plan,
                                         enum print_paper paper);

/* The class on paper. Free with print_free. */
struct print_document *feedback_class_document(const struct feedback_class *class, const struct lesson_plan *plan,
                                               enum print_paper paper);

struct feedback_files {
    const char *folder;
    enum print_paper paper;
    const struct print_backend *backend; /* NULL: no PDF */
    size_t *unknown;                     /* characters for which no font had a picture are counted here */
};

/*
 * Writes text, HTML and PDF of each student who handed in, and text and PDF of the class, over those of an earlier
 * marking. The folder is made where it is missing. False with the error set.
 */
bool feedback_write(const struct marks *marks, const struct lesson_plan *plan, const struct feedback_files *files,
                    struct error *error);

#endif
