/* A house of a text in a test, by itself or by its name in a table of such. */
#ifndef AMPSUM_TESTS_READ_HOUSE_H
#define AMPSUM_TESTS_READ_HOUSE_H

#include <string.h>

#include "ampsum/housefile.h"
#include "runner.h"

struct named_house {
    const char *name;
    const char *text;
};

/* Fails the test, with the message, where the text is no house. Free with house_free. */
static inline struct house *read_text(const char *text)
{
    struct house *house = NULL;
    struct error error = {0};
    const bool good = housefile_read_house_bytes("test", text, strlen(text), &house, &error);
    ck_assert_msg(good, "%s", error_message(&error));
    error_done(&error);
    return house;
}

/* NULL where no house of the table has that name. */
static inline struct house *read_named(const struct named_house *houses, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(houses[i].name, name) == 0) {
            return read_text(houses[i].text);
        }
    }
    return NULL;
}

#endif
