/* Worksheets and keys of a lesson as documents, for paper and as HTML. */
#ifndef AMPSUM_DRAW_LESSON_DOCUMENT_H
#define AMPSUM_DRAW_LESSON_DOCUMENT_H

#include "ampsum/lesson.h"
#include "ampsum/print.h"

/* The sheets, or keys, of students first to last, each from a new page on. Free with print_free. */
struct print_document *lesson_document(const struct lesson_plan *plan, unsigned first, unsigned last, bool key,
                                       enum print_paper paper);

/* The answers alone, in tables. Free with print_free. */
struct print_document *lesson_answers_document(const struct lesson_plan *plan, enum print_paper paper);

/* One for which blocks are still to be added, in the look of worksheets: large print where the plan has it. */
struct print_document *lesson_document_new(const struct lesson_plan *plan, const char *title, enum print_paper paper);

/* The paper of the class where none is asked for: letter where its currency is the US dollar. */
enum print_paper lesson_paper_of(const struct lesson_plan *plan);

/*
 * Writes the folder (lesson_write) and, for who reads with a screen reader or large, each worksheet as one page of HTML
 * with its figures in words, over an earlier one. False with the error set.
 */
bool lesson_folder_write(const struct lesson_plan *plan, const char *folder, bool force, enum print_paper paper,
                         struct error *error);

/* Write FOLDER/NAME.ENDING over an earlier one, whole at every moment. False with the error set. */
bool lesson_write_file(const char *folder, const char *name, const char *ending, const struct text *content,
                       struct error *error);
bool lesson_write_html(const struct print_document *document, const char *folder, const char *name,
                       struct error *error);

/* `unknown`: characters for which no font had a picture are added to it. */
bool lesson_write_pdf(const struct print_document *document, const struct print_backend *backend, const char *folder,
                      const char *name, size_t *unknown, struct error *error);

#endif
