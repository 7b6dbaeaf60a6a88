/* `ampsum-draw lesson-paper FOLDER a4|letter [together]`: called by `ampsum lesson --pdf`. */
#include <stdio.h>
#include <string.h>

#include "lesson_paper.h"

/* Tells what was in the way, or characters without a picture, and frees the error; the exit status. */
static int end(bool ok, size_t unknown, struct error *error)
{
    if (!ok) {
        fprintf(stderr, "ampsum: %s\n", error_message(error));
    } else if (unknown > 0) {
        fprintf(stderr, "ampsum: %zu characters have no picture in the fonts at hand (fonts-dejavu-core has most)\n",
                unknown);
    }
    error_done(error);
    return ok ? 0 : 2;
}

int lesson_paper_main(int argc, char **argv)
{
    struct error error = {0};
    size_t unknown = 0;
    const bool together = argc == 5 && strcmp(argv[4], "together") == 0;
    if (argc != 4 && !together) {
        fprintf(stderr, "ampsum-draw: lesson-paper: expected FOLDER and a4 or letter\n");
        return 2;
    }
    const enum print_paper paper = strcmp(argv[3], "letter") == 0 ? PRINT_LETTER : PRINT_A4;
    bool ok = lesson_paper(argv[2], paper, together, &unknown, &error);
    return end(ok, unknown, &error);
}
