/* What a message of a question is in English, so that tests read as the sheet does. */
#ifndef TESTS_UNIT_SAID_H
#define TESTS_UNIT_SAID_H

#include <stdbool.h>
#include <string.h>

#include "ampsum/language.h"

static inline bool is_said(const char *message, const char *english)
{
    struct text text = {0};
    say_message(&text, LANGUAGE_ENGLISH, message);
    const bool same = strcmp(text_string(&text), english) == 0;
    text_done(&text);
    return same;
}

#endif
