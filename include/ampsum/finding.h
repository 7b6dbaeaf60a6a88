/*
 * A finding: what it is about, the figures that it compares, and a sentence made from them. Whoever raises findings
 * (the assessment, the demand, the fault study) makes a `struct finder` and calls finding_add; whoever shows or
 * compares them reads subject and figures, never the sentence. Definitions: contract, engineering.md sections 3 and 11.
 *
 * Severity, source and caution of each come from its row in schema/reference/020_finding.sql.
 *
 * Checked: tests/unit/test_finding.c; tests/golden/check-us, try-demo.
 */
#ifndef AMPSUM_FINDING_H
#define AMPSUM_FINDING_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/model.h"
#include "ampsum/text.h"

enum severity { SEVERITY_NOTE, SEVERITY_WARNING, SEVERITY_DANGER };

/* `danger`, `warning`, `note`. */
const char *severity_word(enum severity severity);

struct ref_finding; /* ampsum/reference.h */

/* What a finding is about: a row of the house by its kind and ID; the house itself has the ID `house`. */
struct subject {
    enum kind kind; /* KIND_HOUSE, KIND_PANEL, KIND_BRANCH, KIND_OUTLET or KIND_APPLIANCE */
    const char *id;
};

/* Which field of a figure holds it. */
enum figure_form { FIGURE_NUMBER, FIGURE_WORD, FIGURE_WORDS, FIGURE_FLAG, FIGURE_LEGS };

/* One figure that a finding compares. Its key is its name in data; the key's ending is the unit, as in current_a. */
struct finding_figure {
    const char *key;
    enum figure_form form;
    unsigned legs; /* FIGURE_LEGS: LEG_ bits */
    union {
        double number;            /* NAN: not known */
        const char *word;         /* NULL: not known */
        const char *const *words; /* ended by NULL */
        bool flag;
        const double *leg_a; /* A, B, C; those of `legs` count */
    };
};

/* For the list of figures of finding_add. */
#define NUMBER(KEY, VALUE)                                                                                             \
    {                                                                                                                  \
        .key = (KEY), .form = FIGURE_NUMBER, .number = (VALUE)                                                         \
    }
#define WORD(KEY, VALUE)                                                                                               \
    {                                                                                                                  \
        .key = (KEY), .form = FIGURE_WORD, .word = (VALUE)                                                             \
    }
#define WORDS(KEY, VALUE)                                                                                              \
    {                                                                                                                  \
        .key = (KEY), .form = FIGURE_WORDS, .words = (VALUE)                                                           \
    }
#define FLAG(KEY, VALUE)                                                                                               \
    {                                                                                                                  \
        .key = (KEY), .form = FIGURE_FLAG, .flag = (VALUE)                                                             \
    }
#define LEGS(KEY, BITS, VALUES)                                                                                        \
    {                                                                                                                  \
        .key = (KEY), .form = FIGURE_LEGS, .legs = (BITS), .leg_a = (VALUES)                                           \
    }

struct finding {
    const char *id; /* `5`, or the word of a finding that has no number */
    enum severity severity;
    struct subject subject;
    const struct finding_figure *figures; /* in the order of the outputs */
    size_t figure_count;
    const char *text;              /* made from the figures, for people alone */
    const struct ref_finding *row; /* name, clause, edition, source, caution */
    const char *source;            /* clause, edition and source in one line */
};

struct finding_list {
    struct finding *finding;
    size_t count;
    size_t capacity; /* the list's own book-keeping */
};

/* True where two findings, of one house or of two states of it, are the same: ID and subject are. */
bool finding_same(const struct finding *a, const struct finding *b);

/* The finding of `list` that is the same as `finding`, NULL where it has none. `list` NULL: none. */
const struct finding *finding_find(const struct finding_list *list, const struct finding *finding);

/* True where the list has a finding of that ID about that subject. */
bool finding_about(const struct finding_list *list, const char *id, struct subject subject);

/* Adds the findings of another list, which keep pointing to where they were made. */
void finding_list_append(struct arena *arena, struct finding_list *list, const struct finding_list *from);

/* A number among the finding's figures; NAN where it has none of that key. */
double finding_number(const struct finding *finding, const char *key);

/* Where findings go, and under which rules they are raised. */
struct finder {
    struct arena *arena; /* owns what is added */
    struct finding_list *list;
    const char *rules; /* ID of the house's rule set */
    int edition;       /* of the rules, a year; 0: they have none to choose from */
    bool no_texts;     /* without sentence and source, where only what was found is wanted */
};

/* The `figures, count` of finding_add from a list of them. */
#define FIGURES(...)                                                                                                   \
    (const struct finding_figure[]){__VA_ARGS__},                                                                      \
        sizeof((const struct finding_figure[]){__VA_ARGS__}) / sizeof(struct finding_figure)
#define NO_FIGURES NULL, 0

/*
 * Adds a finding: `id` as in the rows, `variant` "" or the case with a severity of its own, what it is about, its
 * figures (copied), and its sentence. Does nothing where the rule set has no such row.
 */
void finding_add(const struct finder *finder, const char *id, const char *variant, struct subject subject,
                 const struct finding_figure *figures, size_t figure_count, const char *format, ...)
    __attribute__((format(printf, 7, 8)));

/* A number as sentences print it: at most two decimals, no trailing zeros. In the finder's arena; "" without texts. */
const char *figure(const struct finder *finder, double value);

/* The same as it must be read beside a limit: with as many decimals as tell the two apart, two at least. */
const char *figure_beside(const struct finder *finder, double value, double limit);

/* The text in the finder's arena, freed where it was; "" without texts. */
const char *finder_keep(const struct finder *finder, struct text *text);

#endif
