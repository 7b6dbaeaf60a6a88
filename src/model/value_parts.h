/* What values.c and values_write.c share with values_time.c (times, days, months) and values_circuit.c (wire, position,
 * blocks): the types with a grammar of their own. */
#ifndef AMPSUM_VALUE_PARTS_H
#define AMPSUM_VALUE_PARTS_H

#include <stdbool.h>

#include "ampsum/keys.h"
#include "ampsum/text.h"

bool windows_read(const char *string, struct arena *arena, struct window_list *ret_windows, struct text *fault);
void windows_write(const struct window_list *windows, const char *between, struct text *text);

/* Days or months: `word` names number 0 .. count - 1; `named` are words for several, ended by NULL. */
struct span_words {
    const char *(*word)(int number);
    int count;
    const struct {
        const char *word;
        unsigned bits;
    } named[4];
    const char *expected;
};
extern const struct span_words day_spans;
extern const struct span_words month_spans;

bool spans_read(const struct span_words *words, const char *string, unsigned *ret_bits, struct text *fault);
void spans_write(const struct span_words *words, unsigned bits, struct text *text);

/* Wire, position and blocks: src/model/values_circuit.c. */
bool wire_read(const char *string, struct wire *ret_wire, struct text *fault);
/* As a wire, copper where no metal is named, or `same`. */
bool protective_read(const char *string, struct protective *ret_protective, struct text *fault);
bool position_read(const char *string, struct arena *arena, struct position_list *ret_position, struct text *fault);
bool blocks_read(const char *string, struct arena *arena, struct block_list *ret_blocks, struct text *fault);

/* Words of the PROTECTION_ bits, in their order; blocks as a tariff writes them: src/model/values_write.c. */
enum { PROTECTION_COUNT = 3 };
extern const char *const protection_words[PROTECTION_COUNT];
void blocks_write(const struct block_list *blocks, bool is_wide, struct text *text);

#endif
