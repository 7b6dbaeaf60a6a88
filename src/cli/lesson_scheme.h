/* The options by which answers count, of `lesson` and `mark`. */
#ifndef AMPSUM_CLI_LESSON_SCHEME_H
#define AMPSUM_CLI_LESSON_SCHEME_H

#include "ampsum/lesson.h"
#include "cli.h"

/* Their rows for an option table. */
#define LESSON_SCHEME_OPTIONS                                                                                          \
    {"points", '\0', "NAME=N,...", "points for value, unit, figures, prefix, yesno, choice, arrow, way, part"},        \
        {"tolerance", '\0', "P%", "so far off a number is still right (1%)"},                                          \
        {"figures", '\0', "2..10", "significant figures asked for (by level; 3)"},                                     \
    {                                                                                                                  \
        "language", '\0', "en|de|es|fr", "of the class: en writes a decimal point, the others a comma (en)"            \
    }

/* Reads what is given into the scheme; the rest stays. `ret_given`: any of them was. */
bool lesson_scheme_read(struct invocation *invocation, struct lesson_scheme *scheme, bool *ret_given);

#endif
