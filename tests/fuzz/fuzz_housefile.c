/* Any bytes as a house file: an error or a house, never a crash; and a house is written so that it reads back. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void write_house(const struct house *house, struct text *text)
{
    struct document *document = house_document(house, "fuzz");
    document_write(document, text);
    document_free(document);
}

static void check_fixed_point(const struct house *house)
{
    struct text first = {0};
    struct text second = {0};
    struct house *again = NULL;
    struct error error = {0};
    write_house(house, &first);
    if (!housefile_read_house_bytes("fuzz", text_string(&first), first.length, &again, &error)) {
        fprintf(stderr, "what was written is refused: %s\n%s", error_message(&error), text_string(&first));
        abort();
    }
    write_house(again, &second);
    if (strcmp(text_string(&first), text_string(&second)) != 0) {
        fprintf(stderr, "no fixed point:\n%s---\n%s", text_string(&first), text_string(&second));
        abort();
    }
    house_free(again);
    text_done(&first);
    text_done(&second);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct house *house = NULL;
    struct error error = {0};
    if (housefile_read_house_bytes("fuzz", (const char *)data, size, &house, &error)) {
        check_fixed_point(house);
        house_free(house);
    } else if (error.message.length == 0) {
        abort(); /* refused without a word */
    }
    error_done(&error);
    return 0;
}
