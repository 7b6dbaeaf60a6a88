/* Making one question: the generators' tools. */
#ifndef AMPSUM_LESSON_QUESTION_H
#define AMPSUM_LESSON_QUESTION_H

#include "ampsum/lesson.h"

enum { LOADS_MOST = 6 };

/* One attempt at a question. */
struct builder {
    uint64_t state; /* of the generator of numbers */
    const struct lesson_plan *plan;
    struct lesson_question *question;
    unsigned attempt;
    bool wants_own; /* the loads are to be the house's */
    bool kilo;      /* the resistors are in kilohms, where the kind takes that */
    bool ok;        /* everything so far is presentable */
};

/* Whole numbers from a fixed algorithm (splitmix64), alike on every machine. */
uint64_t next_number(uint64_t *state);
unsigned pick(struct builder *builder, unsigned count);

/* Adds a given quantity numerator/denominator; its index. */
size_t give(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
            unsigned long numerator, unsigned long denominator);

/* Adds a given quantity with a value that was worked out already. */
size_t give_value(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
                  const mpq_t value);

/* Adds a quantity found by a step from earlier ones, and works it out; builder->ok turns false where it is not
 * presentable. */
size_t find(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
            enum step_kind kind, const size_t *operands, size_t count);
size_t find_two(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
                enum step_kind kind, size_t first, size_t second);

/* The sheet asks for it. */
void ask(struct builder *builder, size_t index, const char *asked);

/* find_two and ask in one. */
size_t find_asked(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
                  enum step_kind kind, size_t first, size_t second, const char *asked);

/* Adds a quantity that the key alone knows. */
size_t hide(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
            const mpq_t value);

/* One more of the things between which one chooses; the text to write it into. */
struct text *choice(struct builder *builder);

/* A second way to the quantity.  */
void other_way(struct builder *builder, size_t index, enum step_kind kind, const size_t *operands, size_t count);

/* Where it could be measured. */
void probe(struct builder *builder, size_t index, enum probe_kind kind, size_t state, size_t element);

/* A slip that takes quantity `taken` where `meant` belongs. The first generator's sheets know none beyond its own. */
void swap(struct builder *builder, enum slip slip, size_t meant, size_t taken);

/* Adds an element to the circuit of a state; its index there. */
size_t element(struct builder *builder, size_t state, enum element_kind kind, size_t from, size_t to, size_t quantity);

/* True for sheets of the third generator and on: any path, networks. */
bool is_of_networks(const struct builder *builder);

/* True for sheets of the fourth generator and on: the house's own load where many alike ones are asked for. */
bool is_of_own(const struct builder *builder);

/* One row for each kind of question. */
struct kind_row {
    const char *word;
    const char *opening;      /* of the story at level 1 */
    const char *even_opening; /* at levels 2 and 4 where it differs, else NULL */
    void (*build)(struct builder *builder);
};
extern const struct kind_row kind_rows[LESSON_KIND_COUNT];

#endif
