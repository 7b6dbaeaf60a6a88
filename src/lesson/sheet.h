/* One student's texts, made together so that each question is made once; and reading of whole files. */
#ifndef AMPSUM_LESSON_SHEET_H
#define AMPSUM_LESSON_SHEET_H

#include "ampsum/lesson.h"

/* Appends worksheet, key and answer rows of a student whose sheet has the code `sheet`; any of them may be NULL. */
void lesson_student_texts(const struct lesson_plan *plan, unsigned student, const char *sheet, struct text *worksheet,
                          struct text *key, struct text *answers);

/* Appends the headings of answers-wide.csv, and a student's row with its cells left empty. */
void wide_heading(struct text *text, const struct lesson_plan *plan);
void wide_row(struct text *text, const struct lesson_plan *plan, unsigned student, const char *sheet);

/* Appends the bytes of a file of at most `most` bytes. */
bool read_bytes(const char *path, size_t most, struct text *ret_bytes, struct error *error);

/* Writes a file of the folder beside its place and renames it, so that nobody reads half a file. */
bool write_file(const char *folder, const char *name, const struct text *content, struct error *error);

/* A number for a place of a sentence. */
struct count_word {
    char digits[24]; /* of 64 bits, at most 20 */
};
const char *count_word(struct count_word *word, size_t count);

#endif
