/* `ampsum-draw lesson-feedback FOLDER a4|letter`: each feedback-*.txt as PDF. Called by `ampsum mark --feedback`. */
#include "lesson_feedback.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "lesson_book.h"

static const double space_pt = 3; /* of a blank at a line's start */

/* The first line is the title; a line without blanks in front opens a section; the rest hangs below it. */
static void add_line(struct book *book, const char *line, bool first)
{
    const size_t blanks = strspn(line, " ");
    const char *font = first ? "Sans Bold 14" : blanks == 0 ? "Sans Bold 10" : "Sans 9";
    if (line[blanks] == '\0') {
        book->y_pt += 2 * BOOK_GAP_PT;
        return;
    }
    const double keep_pt = blanks <= 3 ? 3 * book_measure_pt(book, "Sans 9", "x", 0) : 0;
    book_paragraph(book,
                   first         ? "H1"
                   : blanks == 0 ? "H2"
                                 : "P",
                   font, line + blanks, space_pt * (double)blanks, keep_pt);
}

static bool write_pdf(const char *folder, const char *name, enum paper paper, int *unknown)
{
    struct text from = {0};
    struct text path = {0};
    struct text beside = {0};
    struct book book;
    text_printf(&from, "%s/%s", folder, name);
    text_printf(&path, "%.*spdf", (int)(from.length - strlen("txt")), text_string(&from));
    text_printf(&beside, "%s.part", text_string(&path));
    FILE *file = fopen(text_string(&from), "r");
    bool ok = book_open(&book, text_string(&beside), paper, "Feedback") && file != NULL;
    char *line = NULL;
    size_t capacity = 0;
    for (bool first = true; ok && getline(&line, &capacity, file) > 0; first = false) {
        line[strcspn(line, "\n")] = '\0';
        if (first) {
            text_printf(&book.footer, "%s   ampsum", line);
        }
        add_line(&book, line, first);
    }
    free(line);
    if (file != NULL) {
        fclose(file);
    }
    ok = book_close(&book) && ok && rename(text_string(&beside), text_string(&path)) == 0;
    if (!ok) {
        fprintf(stderr, "ampsum: %s: cannot write\n", text_string(&path));
        unlink(text_string(&beside));
    }
    *unknown += book.unknown;
    text_done(&from);
    text_done(&path);
    text_done(&beside);
    return ok;
}

static int is_feedback(const struct dirent *entry)
{
    const size_t length = strlen(entry->d_name);
    return strncmp(entry->d_name, "feedback-", 9) == 0 && length > 4 && strcmp(entry->d_name + length - 4, ".txt") == 0;
}

int lesson_feedback_main(int argc, char **argv)
{
    int unknown = 0;
    struct dirent **names = NULL;
    if (argc != 4) {
        fprintf(stderr, "ampsum-draw: lesson-feedback: expected FOLDER and a4 or letter\n");
        return 2;
    }
    const enum paper paper = strcmp(argv[3], "letter") == 0 ? PAPER_LETTER : PAPER_A4;
    const int count = scandir(argv[2], &names, is_feedback, alphasort);
    bool ok = count >= 0;
    for (int i = 0; i < count; i++) {
        ok = ok && write_pdf(argv[2], names[i]->d_name, paper, &unknown);
        free(names[i]);
    }
    free(names);
    if (unknown > 0) {
        fprintf(stderr, "ampsum: %d characters have no picture in the fonts at hand (fonts-dejavu-core has most)\n",
                unknown);
    }
    return ok ? 0 : 2;
}
