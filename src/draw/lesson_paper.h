/* Worksheets and key of a lesson as PDF. */
#ifndef AMPSUM_DRAW_LESSON_PAPER_H
#define AMPSUM_DRAW_LESSON_PAPER_H

#include <stdbool.h>

#include "ampsum/lesson.h"
#include "ampsum/print.h"

/*
 * Reads FOLDER/sheets.json and writes FOLDER/worksheet-NN.pdf for each student, or `together` all of them in
 * FOLDER/worksheets.pdf, FOLDER/key.pdf and FOLDER/key-short.pdf, each beside its place and renamed.
 * `ret_unknown_glyphs`: characters for which no font had a picture. False with the error set where the folder cannot be
 * read or written.
 */
bool lesson_paper(const char *folder, enum print_paper paper, bool together, size_t *ret_unknown_glyphs,
                  struct error *error);

/* The second program's command `lesson-paper FOLDER a4|letter [together]` (words from argv[1]); its exit status. */
int lesson_paper_main(int argc, char **argv);

#endif
