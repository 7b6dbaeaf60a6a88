/* Preferred numbers of resistors. */
#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "same.h"

const char *const *reference_preferred(const char *series, struct arena *arena, size_t *ret_count)
{
    const char **values = arena_array(arena, ref_preferred_number_count, sizeof *values);
    *ret_count = 0;
    for (size_t i = 0; i < ref_preferred_number_count; i++) {
        if (same(ref_preferred_number_rows[i].series, series)) {
            values[(*ret_count)++] = ref_preferred_number_rows[i].value;
        }
    }
    return values;
}
