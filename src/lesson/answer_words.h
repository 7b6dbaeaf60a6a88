/* Answers in words: yes and no, arrows, directions, letters, parts. */
#ifndef AMPSUM_LESSON_ANSWER_WORDS_H
#define AMPSUM_LESSON_ANSWER_WORDS_H

#include "ampsum/reading.h"

/* True where what is asked is answered in words, not by a number. */
bool answer_is_word(enum exact_quantity measure);

/* Reads the answer (plain signs) into form, value or doubt. */
void answer_words_read(const char *plain, enum exact_quantity measure, struct written *ret_written);

#endif
