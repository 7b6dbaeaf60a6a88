/* Any words as a load (`Kettle, 2 kW, 07:00-07:10`): an error with a sentence or pairs that can be built or refused.
 * Their length picks the rule set, so that a run reads them once. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/freetext.h"
#include "ampsum/housefile.h"
#include "ampsum/reference.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char plain_house[] = "[house]\nname = H\nrules = us\nmain_breaker = 100\n\n"
                                  "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\n\n";

static void add(const struct freetext *load)
{
    struct document *document = NULL;
    struct house *house = NULL;
    struct error error = {0};
    const char *id = NULL;
    if (!housefile_read_bytes("fuzz", plain_house, strlen(plain_house), &document, &error)) {
        abort();
    }
    if (freetext_add(document, load, "b", NULL, NULL, &id, &error) && house_build(document, &house, &error)) {
        if (house_find(house, KIND_APPLIANCE, id) == NO_INDEX) {
            abort();
        }
        house_free(house);
    } else if (error.message.length == 0) {
        abort(); /* refused without a word */
    }
    document_free(document);
    error_done(&error);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena *arena = arena_new();
    const char *words = arena_copy_length(arena, size == 0 ? "" : (const char *)data, size);
    struct freetext load = {0};
    struct error error = {0};
    if (freetext_read(arena, words, RULES_FIRST + (int)(size % (ref_rule_set_count - RULES_FIRST)), &load, &error)) {
        add(&load);
    } else if (error.message.length == 0) {
        abort();
    }
    error_done(&error);
    arena_free(arena);
    return 0;
}
