/* Protection by room, cautions by case, clauses by edition. */
#include <math.h>

#include "ampsum/reference.h"
#include "same.h"

static bool room_row_fits(const struct ref_room_protection *row, const struct reference_place *place)
{
    return same(row->rules, place->rules) && same(row->kind, place->kind) && same(row->what, place->what) &&
           (same(row->room, "*") || same(row->room, place->room)) &&
           (isnan(row->most_v) || place->voltage_v <= row->most_v) &&
           (isnan(row->most_a) || place->breaker_a <= row->most_a) && place->edition >= row->from_edition &&
           (isnan(row->to_edition) || place->edition <= row->to_edition);
}

const struct ref_room_protection *reference_room_protection(const struct reference_place *place)
{
    for (size_t i = 0; i < ref_room_protection_count; i++) {
        if (room_row_fits(&ref_room_protection_rows[i], place)) {
            return &ref_room_protection_rows[i];
        }
    }
    return NULL;
}

const struct ref_section *reference_section(const char *rules, const char *rule, int edition)
{
    const struct ref_section *found = NULL;
    for (size_t i = 0; i < ref_section_count; i++) {
        const struct ref_section *row = &ref_section_rows[i];
        if (row->from_edition <= edition && same(row->rule, rule) && same(row->rules, rules) &&
            (found == NULL || row->from_edition > found->from_edition)) {
            found = row;
        }
    }
    return found;
}

const struct ref_caution *reference_caution(const char *caution, const char *rules)
{
    const struct ref_caution *common = NULL;
    for (size_t i = 0; i < ref_caution_count; i++) {
        const struct ref_caution *row = &ref_caution_rows[i];
        if (same(row->caution, caution) && same(row->rules, rules)) {
            return row;
        }
        common = same(row->caution, caution) && same(row->rules, "*") ? row : common;
    }
    return common;
}
