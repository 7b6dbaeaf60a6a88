/* The sentences, made while building. Keys are sorted; the sentences of each language stand in their order. */
#ifndef AMPSUM_LANGUAGE_ROWS_H
#define AMPSUM_LANGUAGE_ROWS_H

#include <stddef.h>

extern const char *const language_codes[];
extern const size_t language_code_count;
extern const char *const language_keys[];
extern const size_t language_key_count;
extern const char *const *const language_sentences[];

#endif
