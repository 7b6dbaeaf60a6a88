/*
 * One row for each key of the house file. Reader, writer, database, edit commands and manual all walk these tables:
 * a new key is one row in src/model/keys.c, one field in model.h and one numbered step in schema/steps.
 *
 * Checked: tests/unit/test_model.c; tests/unit/test_store.c holds that each key has its column.
 */
#ifndef AMPSUM_KEYS_H
#define AMPSUM_KEYS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/model.h"
#include "ampsum/text.h"

enum key_type {                     /* field in the row struct                 column in the database */
                KEY_TEXT,           /* const char *                            TEXT */
                KEY_QUANTITY,       /* double, in `unit`                       REAL */
                KEY_RATIO,          /* double                                  REAL */
                KEY_HORSEPOWER,     /* double, hp; a fraction is allowed       REAL */
                KEY_WHOLE,          /* unsigned or int                         INTEGER */
                KEY_CHOICE,         /* int, value of the chosen word           TEXT, the word */
                KEY_REFERENCE,      /* size_t, row of kind `target`            INTEGER, the target's n */
                KEY_REFERENCE_LIST, /* struct index_list                       rows of a child table */
                KEY_WINDOWS,        /* struct window_list                      TEXT, as in the house file */
                KEY_DAYS,           /* unsigned, DAYS_ bits                    INTEGER */
                KEY_MONTHS,         /* unsigned, bits                          INTEGER */
                KEY_WIRE,           /* struct wire                             TEXT, `12 AWG copper` */
                KEY_POSITION,       /* struct position_list                    TEXT, `5,7` */
                KEY_LEGS,           /* unsigned, LEG_ bits                     TEXT, `AB` */
                KEY_PROTECTION,     /* unsigned, PROTECTION_ bits              TEXT, `gfci, afci` */
                KEY_DECIMAL,        /* const char *, canonical decimal text    TEXT */
                KEY_BLOCKS,         /* struct block_list                       TEXT, as in the house file */
                KEY_SCENE,          /* struct scene_list                       rows of a child table */
                KEY_CURRENCY,       /* const char *, ISO 4217 code             TEXT */
                KEY_PROTECTIVE,     /* struct protective                       TEXT, `1.5 mm2 copper` or `same` */
};

enum dimension {
    DIMENSION_NONE,
    DIMENSION_CURRENT,     /* A */
    DIMENSION_VOLTAGE,     /* V */
    DIMENSION_POWER,       /* W */
    DIMENSION_APPARENT,    /* VA */
    DIMENSION_RESISTANCE,  /* ohm */
    DIMENSION_LENGTH,      /* m inside; ft is the key's own unit under us rules, m otherwise */
    DIMENSION_FLOOR_AREA,  /* m2 inside; ft2 under us rules, m2 otherwise */
    DIMENSION_TIME,        /* s inside; h is the key's own unit */
    DIMENSION_PERCENT,     /* % */
    DIMENSION_TEMPERATURE, /* degree C */
    DIMENSION_FREQUENCY,   /* Hz */
    DIMENSION_ENERGY,      /* kWh */
    DIMENSION_TRANSFORMER, /* kVA */
};

enum key_flag {
    KEY_REQUIRED = 1,
    KEY_ABOVE_ZERO = 2,   /* a quantity that may not be 0 */
    KEY_SIGNED = 4,       /* a leading minus is allowed */
    KEY_OR_PANEL = 8,     /* a reference for which the word `panel` stands for no row */
    KEY_OR_UNKNOWN = 16,  /* a quantity above 0 for which the word `unknown` is kept as 0 */
    KEY_WITH_TRIP = 32,   /* a current that may carry a tripping characteristic, `B16`, for the key `trip` beside it */
    KEY_OF_MAIN = 64,     /* [panel main] takes it */
    KEY_RULE_WORDS = 128, /* a choice of which each rule set knows some words: rows of ref_choice */
};

struct choice {
    const char *word;
    int value;
};

struct key {
    const char *name;   /* in the house file */
    const char *column; /* in the database, NULL where it is a child table */
    enum key_type type;
    enum dimension dimension;
    size_t offset; /* of the field in the row struct */
    unsigned flags;
    double least; /* smallest and largest value, inner unit; both 0: no bound of its own */
    double most;
    const struct choice *choices; /* KEY_CHOICE: ended by a NULL word; NULL: the rule sets. Walk them by key_choice */
    enum kind target;             /* KEY_REFERENCE, KEY_REFERENCE_LIST */
    const char *unit;             /* of a bare number without a dimension, for messages; NULL: none */
    const char *fallback;         /* the default where no rule set has a usual word, as reference_fill takes it */
    const char *meaning;          /* one line; likewise. Read both by the functions below */
};

struct section {
    enum kind kind;
    const char *word;    /* `branch` */
    const char *meaning; /* for the manual, one line */
    bool takes_id;
    const struct key *keys;
    size_t key_count; /* at most 64 */
};

/* The section table, KIND_COUNT rows, in the order of enum kind. */
extern const struct section sections[KIND_COUNT];

/* The key of that name in a section, NULL where there is none. */
const struct key *section_key(const struct section *section, const char *name);

/* The section of that word, NULL where there is none. */
const struct section *section_named(const char *word);

/* The `given` bit of a key, and whether row `row` (of the section's struct) was given it. */
uint64_t key_bit(const struct section *section, const struct key *key);
bool key_is_given(const struct section *section, const struct key *key, const void *row);

/* The word of a choice, "" where no word has that value. */
const char *choice_word(const struct choice *choices, int value);

/* Choice `index` of a key of type KEY_CHOICE, in the order of the messages; word NULL past the last. */
struct choice key_choice(const struct key *key, size_t index);

/* The word of a key's choice, "" where no word has that value. */
const char *key_choice_word(const struct key *key, int value);

/* What a key of choices is taken for under a rule set where a house says nothing: rows of ref_choice; -1: no word. */
int key_usual_choice(const struct key *key, int rules);

/*
 * For people: what a key means, with the rule sets before it that know it where not all do (`iec, uk: ...`); its
 * default under a rule set or under each (`rules` NULL: `us inverse-time; iec, uk B`), false where it has none; and
 * the sets that know a choice, where not all do that know the key. Each appends.
 */
void key_meaning(const struct key *key, struct text *text);
bool key_fallback(const struct key *key, const char *rules, struct text *text);
void key_choice_sets(const struct key *key, size_t index, struct text *text);

/* Whether a rule set knows the key at all: ref_key, or words of it in ref_choice; a key in neither is known to all. */
bool key_known(const struct key *key, int rules);

/* Whether a rule set knows that choice of a key of KEY_RULE_WORDS: rows of ref_choice. */
bool key_choice_allowed(const struct key *key, int rules, int value);

#endif
