/*
 * What a student wrote, read as people write: numbers with decimal points or commas, groups of three, fractions, powers
 * of ten, units in words and signs of four languages, remarks; yes and no, arrows, directions, letters. Nothing is ever
 * worked out. What can be meant in two ways is given in both; what cannot be read is a doubt with its reason, never a
 * 0: a person decides. Contract, circuits.md, C2. Checked: tests/unit/test_expect.c, tests/lessons/spellings.tsv.
 */
#ifndef AMPSUM_READING_H
#define AMPSUM_READING_H

#include "ampsum/written.h"

/* Who writes, and what is asked. */
struct written_context {
    enum exact_quantity measure;
    char decimal_sign; /* of the class: '.' or ','; either is read, this one decides about 2.880 */
};

/* One way to read the digits. */
struct written_way {
    mpq_t number; /* without the unit */
    unsigned figures_least;
    unsigned figures_most; /* 1500 has two to four */
    bool fraction;         /* rounding is no question */
    const char *doubt;     /* where only this way would be right, a person decides, for this reason; NULL: none */
};

enum { WRITTEN_WAYS_MOST = 2 };

struct written {
    enum answer_form form;                     /* ANSWER_REFUSED: a doubt */
    struct written_way way[WRITTEN_WAYS_MOST]; /* in the order in which they are tried */
    size_t way_count;
    bool has_unit;
    enum exact_quantity quantity; /* of the unit */
    mpq_t factor;                 /* of the unit, to the unit of its quantity */
    bool mega;                    /* MA, MV, MW: often meant as milli */
    const char *currencies;       /* codes that fit the money sign, blank between; NULL: any */
    char code[4];                 /* where currencies is a code that no list holds */
    int value;       /* of a word: yes 1, no 0; rises 1, falls -1, stays 0; in 1, out 0; letter or number */
    bool query;      /* a question mark stood behind it */
    const char *why; /* of a doubt, its key; NULL else */
};

void written_init(struct written *written);
void written_done(struct written *written);

/* Reads the string into an initialised struct, which may be used again. */
void written_read(const char *string, const struct written_context *context, struct written *ret_written);

/* Appends how `way` was read, in plain signs: "12.5 A". */
void written_show(const struct written *written, size_t way, struct text *text);

#endif
