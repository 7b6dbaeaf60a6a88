/*
 * What a question is about, as people write it: an ID, `kettle,lamp*2`, a scene, a supply voltage. One reader for
 * command line and page.
 *
 * Errors are ERROR_INPUT with a sentence that names what was written and what is expected.
 * Checked: tests/unit/test_answer.c; tests/golden/command-line.
 */
#ifndef AMPSUM_ANSWER_CHOICE_H
#define AMPSUM_ANSWER_CHOICE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/assess.h"
#include "ampsum/error.h"
#include "ampsum/model.h"

/* A word and what it is said of: an option of the command line, a field of a form. */
struct choice_said {
    const char *name;
    const char *value;
};

/*
 * The row with that ID; NO_INDEX where there is none, with the error set, which names the ID of what is called so, the
 * nearest one, or those there are.
 */
size_t choice_find(const struct house *house, enum kind kind, const char *id, struct error *error);

/* Appends the first IDs of a kind, parted by commas, and how many more there are. */
void choice_list_ids(const struct house *house, enum kind kind, struct text *text);

/*
 * `kettle,lamp*2`: sets the units that are on by appliance (`on`: appliance_count entries, 0 where not listed yet). An
 * appliance without a number is on with all its units. `what` stands before a message (`--on`). False with the error
 * set where an entry is empty, unknown, given twice, or asks for more units than there are.
 */
bool choice_read_on(const struct house *house, const char *what, const char *list, unsigned *on, struct error *error);

/* The units that a scene has on, as the choice of an assessment; units in `arena`. False as choice_find. */
bool choice_read_scene(const struct house *house, const char *id, struct arena *arena, struct assess_options *choice,
                       struct error *error);

/* The ends of the published band of the supply voltage under the house's rules, over nominal. */
double supply_low_ratio(const struct house *house);
double supply_high_ratio(const struct house *house);

/* Supply voltage over nominal: `low`, `high`, or volts line to neutral. False with the error set; `what` as above. */
bool choice_read_supply(const struct house *house, const char *what, const char *value, double *ret_ratio,
                        struct error *error);

#endif
