/* Any bytes as the content of a form: refused, or pairs of plain text that can be looked for; never a crash. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "form.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena *arena = arena_new();
    const char *bytes = arena_copy_length(arena, size == 0 ? "" : (const char *)data, size);
    struct form form = {0};
    if (form_read(&form, bytes, size, arena)) {
        if (form.count > FORM_FIELDS_MOST) {
            abort();
        }
        for (size_t i = 0; i < form.count && i < 64; i++) {
            if (!form_has(&form, form.field[i].name) || form_value(&form, form.field[i].name) == NULL ||
                strchr(form.field[i].value, '\x1B') != NULL) {
                abort();
            }
        }
    }
    form_done(&form);
    arena_free(arena);
    return 0;
}
