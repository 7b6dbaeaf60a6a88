/* What a wire carries as it lies, by installation method (limits 5 and 6): table times factors. */
#include "lay.h"

#include <math.h>

#include "ampsum/reference.h"

static bool in_ground(int method)
{
    return method == METHOD_D || method == METHOD_D2;
}

static double factor_or_one(double factor)
{
    return isnan(factor) ? 1 : factor;
}

/*
 * The factors of the place: air takes the ambient's and that of thermal insulation, ground its own temperature's and
 * the soil's; both the bundle's. The first without a published figure is named in `missing`.
 */
static double place_factor(const struct house *house, const struct wire_run *run, int insulation_temp_c,
                           struct wire_reading *reading)
{
    const char *rules = rules_word(house->rules);
    const char *method = method_word(run->method);
    const struct ref_bundle *bundle = reference_bundle(rules, method, run->grouped);
    reading->bundle_factor = bundle != NULL ? bundle->factor : NAN;
    reading->missing = bundle == NULL ? "for so many circuits together" : NULL;
    if (in_ground(run->method)) {
        reading->ground_c = house->ground_c;
        reading->ground_factor = reference_ground_factor(rules, insulation_temp_c, house->ground_c, NULL);
        reading->soil_factor = reference_soil_factor(rules, method, house->soil_km_per_w);
        reading->missing = isnan(reading->ground_factor) ? "for ground so warm" : reading->missing;
        reading->missing = isnan(reading->soil_factor) ? "for soil so dry" : reading->missing;
    } else {
        reading->ambient_factor = reference_ambient_factor(rules, insulation_temp_c, run->ambient_c, NULL);
        reading->insulation_factor = reference_in_insulation_factor(rules, method, run->in_insulation_m);
        reading->missing = isnan(reading->ambient_factor) ? "for an ambient so warm" : reading->missing;
    }
    if (reading->missing != NULL) {
        return NAN;
    }
    return reading->bundle_factor * factor_or_one(reading->ground_factor) * factor_or_one(reading->soil_factor) *
           factor_or_one(reading->ambient_factor) * factor_or_one(reading->insulation_factor);
}

/* What the household ends of an XLPE cable allow: the PVC table's figure, alone; NAN: no cap. */
static double terminal_cap_a(const char *rules, const struct wire_run *run, int insulation_temp_c, int loaded)
{
    const struct ref_conductor *conductor = run->wire.conductor;
    return run->terminals_c >= insulation_temp_c
               ? NAN
               : reference_ampacity_iec(rules, conductor->size, conductor->metal, insulation_word(INSULATION_PVC),
                                        method_word(run->method), loaded)
                     .ampacity_a;
}

struct wire_reading method_reading(const struct house *house, const struct wire_run *run)
{
    const char *rules = rules_word(house->rules);
    const struct ref_conductor *conductor = run->wire.conductor;
    const int loaded = run->poles == 3 || run->loaded_neutral ? 3 : 2;
    const struct reference_ampacity row = reference_ampacity_iec(
        rules, conductor->size, conductor->metal, insulation_word(run->insulation), method_word(run->method), loaded);
    const struct ref_fuse *fuse = reference_fuse(rules, trip_word(run->trip));
    struct wire_reading reading = {.ampacity_a = NAN,
                                   .terminal_a = NAN,
                                   .largest_a = NAN,
                                   .sure_a = NAN,
                                   .sure_largest_a = NAN,
                                   .small_limit_a = NAN,
                                   .flat_twin = row.flat_twin,
                                   .ambient_factor = NAN,
                                   .ground_c = NAN,
                                   .ground_factor = NAN,
                                   .soil_factor = NAN,
                                   .bundle_factor = NAN,
                                   .insulation_factor = NAN};
    if (isnan(row.ampacity_a)) {
        reading.missing = "for this use";
        return reading;
    }
    reading.ampacity_a = row.ampacity_a * place_factor(house, run, row.insulation_temp_c, &reading);
    const double sure = reference_in_insulation_sure(rules, method_word(run->method), run->in_insulation_m);
    reading.sure_a =
        isnan(reading.insulation_factor) ? reading.ampacity_a : reading.ampacity_a / reading.insulation_factor * sure;
    if (run->insulation == INSULATION_XLPE && !row.flat_twin) {
        const double cap_a = terminal_cap_a(rules, run, row.insulation_temp_c, loaded);
        reading.capped = reading.ampacity_a > cap_a;
        reading.ampacity_a = reading.capped ? cap_a : reading.ampacity_a;
        reading.sure_a = isnan(cap_a) ? reading.sure_a : fmin(reading.sure_a, cap_a);
    }
    const double share = fuse != NULL ? fuse->most_share : 1;
    reading.largest_a = share * reading.ampacity_a;
    reading.sure_largest_a = share * reading.sure_a;
    return reading;
}

/* One factor, where it changes anything. */
static void add_factor(const struct finder *finder, struct text *text, double factor, const char *why)
{
    if (!isnan(factor) && (factor < 1 || factor > 1)) {
        text_printf(text, ", %s \u00d7 %s", why, figure(finder, factor));
    }
}

static void add_surroundings(const struct finder *finder, const struct wire_run *run,
                             const struct wire_reading *reading, struct text *text)
{
    if (in_ground(run->method)) {
        text_printf(text, ", ground %s \u00b0C", figure(finder, reading->ground_c));
        add_factor(finder, text, reading->ground_factor, "its factor");
        add_factor(finder, text, reading->soil_factor, "soil");
    } else {
        text_printf(text, ", %s \u00b0C", figure(finder, run->ambient_c));
    }
    if (run->grouped > 1) {
        text_printf(text, ", %d circuits together \u00d7 %s", run->grouped, figure(finder, reading->bundle_factor));
    }
    add_factor(finder, text, reading->insulation_factor, "in thermal insulation");
}

void method_text(const struct finder *finder, const struct wire_run *run, const struct wire_reading *reading,
                 struct text *text)
{
    text_printf(text, ", method %s%s", method_word(run->method), !run->method_given ? " assumed" : "");
    if (run->insulation == INSULATION_XLPE) {
        text_add(text, reading->flat_twin ? ", table of PVC"
                       : reading->capped  ? ", XLPE, ends of 70 \u00b0C"
                                          : ", XLPE");
    }
    add_surroundings(finder, run, reading, text);
}
