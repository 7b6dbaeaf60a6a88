/*
 * The question of `rules`: which limits, findings, tables and rule sets there are, and where each is published.
 *
 * Checked: tests/unit/test_answer_rules.c; tests/golden/typical-rules.
 */
#ifndef AMPSUM_ANSWER_RULES_H
#define AMPSUM_ANSWER_RULES_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/error.h"
#include "ampsum/reference.h"

struct rules_question {
    const char *id;    /* a finding's number or name, a rule, a table, a rule set; NULL: all of them */
    const char *rules; /* one rule set alone; NULL: all */
    bool one_set;      /* an ID without a rule set: its rows of the first set, where that has it */
};

/* A line of the answer, whichever table it comes from. The strings are those of the reference rows. */
struct rules_row {
    const char *id;
    const char *rules; /* "*": every set */
    const char *name;
    const char *severity; /* NULL: none */
    const char *clause;   /* as its table has it; NULL: none */
    const char *edition;
    const char *source;
    const struct ref_finding *finding; /* of a finding */
    const struct ref_rule *rule;       /* of a limit or factor */
    bool set;                          /* of a rule set itself */
    size_t table_rows;                 /* of a table: its rows, or those of one source */
    size_t sources;                    /* of a table: that these rows come from */
    size_t recalled;                   /* how many of them were recalled, not read; of one row 1 or 0 */
};

struct rules_answer {
    bool one;        /* an ID was asked about */
    const char *set; /* the rule set whose rows these are, where its ID was asked about; else NULL */
    struct rules_row *rows;
    size_t count;
};

/* Answers; the rows are in `arena`. False with the error set, which names the nearest, where nothing has the ID. */
bool answer_rules(const struct rules_question *question, struct arena *arena, struct rules_answer *ret_answer,
                  struct error *error);

#endif
