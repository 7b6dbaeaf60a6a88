/*
 * A line of a house as people typed it into the fields of a form, put into a document key by key. What is said is
 * turned into the words of a house file (ampsum/typed.h); the document is checked when the house is built.
 *
 * Checked: tests/unit/test_typed_line.c.
 */
#ifndef AMPSUM_TYPED_LINE_H
#define AMPSUM_TYPED_LINE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/error.h"
#include "ampsum/housefile.h"

/* A field and what was typed into it, "" for nothing. */
struct typed_pair {
    const char
        *key; /* of the house file; of an appliance also `rating`, its `unit`, and `at` (`outlet:ID`, `branch:ID`) */
    const char *typed;
};

struct typed_line {
    enum kind kind;
    const char *id; /* of its section; "" of the house */
    bool is_new;    /* an empty field says nothing; else it takes the key out, so that its default holds */
    const struct typed_pair *pairs; /* the fields that were asked, in the order in which they are put */
    size_t count;
    const struct house *house; /* as it is; NULL: the line is that of a house still to be made */
};

/*
 * What a new line is called, for the journal and for its ID: a load without its rating, a period by its hours, an
 * outlet without a name by its branch and a number. In `arena`, or as typed.
 */
const char *typed_line_name(const struct typed_line *line, struct arena *arena);

/*
 * Puts the line into the section of its ID, which is there. An appliance's rating goes under the key of its unit, a
 * typical one is taken where none was typed; a breaker's poles follow from its spaces. False with the error set; its
 * fault names the section and the field.
 */
bool typed_line_put(const struct typed_line *line, struct document *document, struct arena *arena, struct error *error);

/* Number and unit of the rating that an appliance's section has (NULL: no section); left as they are where it has none.
 */
void typed_line_rating(const struct document_section *section, struct arena *arena, const char **ret_number,
                       const char **ret_unit);

#endif
