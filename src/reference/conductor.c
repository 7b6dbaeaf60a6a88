/* Conductors: sizes by name, neighbours of a size that is not listed, resistance at a temperature. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ordered.h"
#include "same.h"

#define MM_PER_IN 25.4 /* exact, by definition */
#define PI 3.14159265358979323846

enum series { SERIES_AWG, SERIES_KCMIL, SERIES_MM2 };

struct size {
    enum series series;
    double value; /* gauge (1/0 is 0, 4/0 is -3), thousand circular mil, or mm2 */
};

enum { SIZE_ROOM = 48 }; /* a size as the tables write it: a number of at most 17 digits and a unit */

/* Reads digits with an optional part after the point; returns what follows, NULL where there is no number. */
static const char *read_decimal(const char *text, double *ret_value)
{
    size_t digits = strspn(text, "0123456789");
    size_t length = digits;
    if (text[length] == '.') {
        length += 1 + strspn(text + length + 1, "0123456789");
    }
    double value = 0;
    double place = 1;
    for (size_t i = 0; i < length; i++) {
        if (text[i] != '.') {
            value = value * 10 + (text[i] - '0');
            place *= i > digits ? 10 : 1;
        }
    }
    *ret_value = value / place;
    return digits > 0 && length <= 17 ? text + length : NULL;
}

/* Turns "1/0" into gauge 0, "4/0" into -3; leaves other numbers alone. Returns what follows. */
static const char *read_aught(const char *rest, double *value)
{
    if (strncmp(rest, "/0", 2) == 0) {
        *value = 1 - *value;
        return rest + 2;
    }
    return rest;
}

static bool read_size(const char *text, struct size *ret_size)
{
    static const struct {
        const char *unit;
        enum series series;
    } units[] = {{"AWG", SERIES_AWG}, {"kcmil", SERIES_KCMIL}, {"mm2", SERIES_MM2}, {"mm\u00b2", SERIES_MM2}};
    double value = 0;
    const char *number_end = read_decimal(text, &value);
    if (number_end == NULL) {
        return false;
    }
    const char *rest = read_aught(number_end, &value);
    bool aught = rest != number_end;
    rest += strspn(rest, " ");
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (same(rest, units[i].unit)) {
            *ret_size = (struct size){units[i].series, value};
            bool gauge = value >= -3 && value <= 40 && value == floor(value);
            return units[i].series == SERIES_AWG ? gauge : !aught && value > 0;
        }
    }
    return false;
}

/* Writes a size as the tables write it. */
static void write_size(struct size size, char ret_text[SIZE_ROOM])
{
    if (size.series == SERIES_AWG && size.value < 1) {
        snprintf(ret_text, SIZE_ROOM, "%.0f/0 AWG", 1 - size.value);
    } else {
        snprintf(ret_text, SIZE_ROOM, "%.15g %s", size.value,
                 size.series == SERIES_AWG     ? "AWG"
                 : size.series == SERIES_KCMIL ? "kcmil"
                                               : "mm2");
    }
}

/* A size as the tables write it, of one metal; *ret_listed tells whether any metal has that size. */
static const struct ref_conductor *find_listed(const char *size, const char *metal, bool *ret_listed)
{
    const struct ordered order = ORDERED(ref_conductor, size);
    size_t at = ordered_from(&order, size);
    *ret_listed = ordered_is(&order, at, size);
    for (; ordered_is(&order, at, size); at++) {
        const struct ref_conductor *row = &ref_conductor_rows[order.rows[at]];
        if (same(row->metal, metal)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_conductor *reference_conductor(const char *size, const char *metal)
{
    struct size parsed;
    char written[SIZE_ROOM];
    bool listed = false;
    const struct ref_conductor *row = find_listed(size, metal, &listed);
    if (listed || !read_size(size, &parsed)) { /* mostly it is written as the tables write it */
        return row;
    }
    write_size(parsed, written);
    return find_listed(written, metal, &listed);
}

double reference_size_area_mm2(const char *size)
{
    struct size parsed;
    if (!read_size(size, &parsed)) {
        return NAN;
    }
    if (parsed.series == SERIES_MM2) {
        return parsed.value;
    }
    /* AWG: 0.005 inch at gauge 36, 92 times that 39 steps up; kcmil: a circle's diameter in mil, squared */
    double diameter_in =
        parsed.series == SERIES_AWG ? 0.005 * pow(92.0, (36 - parsed.value) / 39) : 0.001 * sqrt(1000 * parsed.value);
    double diameter_mm = diameter_in * MM_PER_IN;
    return PI / 4 * diameter_mm * diameter_mm;
}

bool reference_conductor_neighbours(const char *size, const char *metal, const struct ref_conductor **ret_smaller,
                                    const struct ref_conductor **ret_larger)
{
    struct size parsed;
    *ret_smaller = NULL;
    *ret_larger = NULL;
    if (!read_size(size, &parsed)) {
        return false;
    }
    const struct ref_conductor *own = reference_conductor(size, metal);
    double area_mm2 = own != NULL ? own->area_mm2 : reference_size_area_mm2(size);
    for (size_t i = 0; i < ref_conductor_count; i++) {
        const struct ref_conductor *row = &ref_conductor_rows[i];
        bool row_is_mm2 = isnan(row->area_cmil);
        if (!same(row->metal, metal) || row_is_mm2 != (parsed.series == SERIES_MM2)) {
            continue;
        }
        if (row->area_mm2 < area_mm2 && (*ret_smaller == NULL || row->area_mm2 > (*ret_smaller)->area_mm2)) {
            *ret_smaller = row;
        } else if (row->area_mm2 > area_mm2 && (*ret_larger == NULL || row->area_mm2 < (*ret_larger)->area_mm2)) {
            *ret_larger = row;
        }
    }
    return true;
}

double reference_resistance_ohm_per_km(const struct ref_conductor *conductor, double temp_c)
{
    double at_temp = 1 + conductor->alpha_per_k * (temp_c - 20);
    double at_reference = 1 + conductor->alpha_per_k * (conductor->reference_temp_c - 20);
    return conductor->resistance_ohm_per_km * (at_temp / at_reference);
}

double reference_operating_temp_c(const char *rules)
{
    return reference_rule_value("operating-temperature", rules);
}
