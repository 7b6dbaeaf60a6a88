/* What a wire may carry, and the largest breaker over it. Limits 2 of the contract; iec and uk by method. */
#include <math.h>
#include <string.h>

#include "ampsum/assess.h"
#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "contacts.h"
#include "lay.h"

static bool is_given(enum kind kind, const char *key, const void *row)
{
    return key_is_given(&sections[kind], section_key(&sections[kind], key), row);
}

/* Some load lies on two lines and the neutral. Limits 6: four-core cables count three loaded conductors. */
static bool loads_the_neutral(const struct house *house, const struct branch *branch)
{
    for (size_t i = 0; branch->poles == 2 && i < branch->appliances.count; i++) {
        if (house->appliances[branch->appliances.index[i]].connected == CONNECTION_2L_N) {
            return true;
        }
    }
    return false;
}

struct wire_run wire_run_of_branch(const struct house *house, size_t index)
{
    const struct branch *branch = &house->branches[index];
    return (struct wire_run){
        .wire = branch->wire,
        .breaker_a = branch->breaker_a,
        .poles = branch->poles,
        .method = branch->method,
        .method_given = is_given(KIND_BRANCH, "method", branch),
        .cable = branch->cable,
        .terminals_c = branch->terminals_c,
        .insulation = branch->insulation,
        .trip = branch->trip,
        .ambient_c = branch->ambient_c,
        .grouped = branch->grouped,
        .in_insulation_m = branch->in_insulation_m,
        .loaded_neutral = loads_the_neutral(house, branch),
        .shared_neutral = branch->neutral_set != NO_INDEX && house->system == SYSTEM_SPLIT_PHASE,
        .several_contacts = branch_contacts(house, index) > 1,
    };
}

struct wire_run wire_run_of_panel(const struct house *house, size_t index)
{
    const struct panel *panel = &house->panels[index];
    return (struct wire_run){
        .wire = panel->wire,
        .breaker_a = panel->breaker_a,
        .poles = panel->poles,
        .method = panel->method,
        .method_given = is_given(KIND_PANEL, "method", panel),
        .cable = panel->cable,
        .terminals_c = panel->terminals_c,
        .insulation = panel->insulation,
        .trip = TRIP_B,
        .ambient_c = panel->ambient_c,
        .grouped = panel->grouped,
        .in_insulation_m = panel->in_insulation_m,
    };
}

/* ------------------------------------------------------------------ by insulation and terminals ----------- */

double bundle_conductors(const struct wire_run *run)
{
    if (run->shared_neutral) {
        /* The neutral that two circuits share does not count: it carries the difference. */
        return 2 * fmax(run->grouped, 2) - 2;
    }
    return run->grouped * (run->poles == 3 ? 3 : 2);
}

double column_ampacity_a(const char *rules, const struct ref_conductor *conductor, double insulation_c,
                         double terminals_c, double ambient_c, double bundle_factor)
{
    const double insulation_a =
        reference_ampacity_us_a(rules, conductor->size, conductor->metal, (int)insulation_c, NULL) *
        reference_ambient_factor(rules, (int)insulation_c, ambient_c, NULL) * bundle_factor;
    const double terminal_a = reference_ampacity_us_a(rules, conductor->size, conductor->metal, (int)terminals_c, NULL);
    return isnan(insulation_a) || isnan(terminal_a) ? (double)NAN : fmin(insulation_a, terminal_a);
}

/* The cable that stands for one that is not named: the stricter guess by size, metal and age. */
static const char *strict_cable(const struct house *house, const struct wire_run *run)
{
    const char *rules = rules_word(house->rules);
    const struct ref_conductor *conductor = run->wire.conductor;
    const bool copper = strcmp(conductor->metal, "copper") == 0;
    const bool small_aluminium = !copper && reference_small_conductor(rules, conductor->size, conductor->metal) != NULL;
    const double area_mm2 = reference_size_area_mm2(conductor->size);
    if (small_aluminium) {
        return "nm";
    }
    if (!copper || exceeds(area_mm2, reference_rule_value("nm-largest-area", rules))) {
        return "ser";
    }
    const bool old = house->built_year > 0 && house->built_year < reference_rule_value("nm-b-year", rules);
    return old ? "nm" : "nm-b";
}

/* Terminals above the size limit are those of the large column, whatever is said. */
static double terminals_of(const struct house *house, const struct wire_run *run, double otherwise_c)
{
    const char *rules = rules_word(house->rules);
    if (exceeds(run->breaker_a, reference_rule_value("insulation-temperature-limit", rules))) {
        return reference_rule_value("insulation-temperature-large", rules);
    }
    return run->terminals_c > 0 ? run->terminals_c : otherwise_c;
}

/* A standard size that only newer editions have, where the house's is one of them; NAN: none. */
static double newer_size_a(const struct house *house)
{
    const char *rules = rules_word(house->rules);
    const struct ref_section *newer = reference_section(rules, "size-10", house->code_edition);
    return newer != NULL && newer->clause != NULL ? reference_rule_value("newer-size", rules) : (double)NAN;
}

double next_standard_size_a(const struct house *house, double current_a)
{
    const double next_a = reference_next_standard_size_a(rules_word(house->rules), current_a, NULL);
    const double newer_a = newer_size_a(house);
    return current_a <= newer_a ? fmin(next_a, newer_a) : next_a; /* NAN: neither holds */
}

double standard_size_at_most_a(const struct house *house, double limit_a)
{
    const double most_a = reference_standard_size_at_most_a(rules_word(house->rules), limit_a);
    const double newer_a = newer_size_a(house);
    return newer_a <= limit_a ? fmax(most_a, newer_a) : most_a; /* NAN: neither holds */
}

/* The largest breaker over a wire, where the next size up may be taken and where not. */
static double largest_breaker_a(const struct house *house, const struct wire_run *run, double ampacity_a)
{
    const double next_a = next_standard_size_a(house, ampacity_a);
    const double most_a = reference_rule_value("next-size-limit", rules_word(house->rules));
    const bool next_may = !run->several_contacts && !exceeds(next_a, most_a);
    return next_may ? next_a : standard_size_at_most_a(house, ampacity_a);
}

static struct wire_reading reading_of(const struct house *house, const struct wire_run *run, const char *cable,
                                      double terminals_c)
{
    const char *rules = rules_word(house->rules);
    const struct ref_conductor *conductor = run->wire.conductor;
    const struct ref_cable *row = reference_cable(rules, cable);
    const struct ref_bundle *bundle = reference_bundle(rules, NULL, (int)bundle_conductors(run));
    const double cap_c = isnan(row->cap_temp_c) ? terminals_c : fmin(row->cap_temp_c, terminals_c);
    struct wire_reading reading = {.cable = row, .terminals_c = cap_c, .small_limit_a = (double)NAN};
    reading.ampacity_a = column_ampacity_a(rules, conductor, row->insulation_temp_c, cap_c, run->ambient_c,
                                           bundle == NULL ? (double)NAN : bundle->factor);
    reading.terminal_a = reference_ampacity_us_a(rules, conductor->size, conductor->metal, (int)cap_c, NULL);
    const struct ref_small_conductor *small = reference_small_conductor(rules, conductor->size, conductor->metal);
    reading.small_limit_a = small == NULL ? (double)NAN : small->breaker_a;
    if (isfinite(reading.ampacity_a)) {
        reading.largest_a = fmin(largest_breaker_a(house, run, reading.ampacity_a), reading.small_limit_a);
    }
    /* A cap from memory makes no danger of its own: without it the best insulation and the ends count. */
    const double best_c = reference_rule_value("insulation-temperature-best", rules);
    reading.sure_a = reading.ampacity_a;
    if (!isnan(row->cap_temp_c) && reference_from_memory(row->source)) {
        reading.sure_a = column_ampacity_a(rules, conductor, best_c, terminals_c, run->ambient_c,
                                           bundle == NULL ? (double)NAN : bundle->factor);
    }
    reading.sure_largest_a = isnan(reading.sure_a)
                                 ? reading.largest_a
                                 : fmin(largest_breaker_a(house, run, reading.sure_a), reading.small_limit_a);
    return reading;
}

static bool alike(const struct wire_reading *a, const struct wire_reading *b)
{
    return a->ampacity_a == b->ampacity_a && a->largest_a == b->largest_a && a->terminal_a == b->terminal_a;
}

static struct wire_limit column_limit(const struct house *house, const struct wire_run *run)
{
    const char *rules = rules_word(house->rules);
    const bool named = run->cable != CABLE_NOT_SAID;
    const char *cable = cable_word(run->cable);
    const double low_c = reference_rule_value("insulation-temperature", rules);
    const double high_c = reference_rule_value("insulation-temperature-large", rules);
    struct wire_limit limit = {
        .strict = reading_of(house, run, named ? cable : strict_cable(house, run), terminals_of(house, run, low_c)),
        .lenient = reading_of(house, run, named ? cable : "thhn", terminals_of(house, run, high_c)),
        .read = true,
    };
    limit.one = alike(&limit.strict, &limit.lenient);
    return limit;
}

/* ------------------------------------------------------------------ by installation method ---------------- */

static struct wire_limit method_limit(const struct house *house, const struct wire_run *run)
{
    const struct wire_reading reading = method_reading(house, run);
    return (struct wire_limit){.strict = reading, .lenient = reading, .one = true};
}

struct wire_limit wire_limit_of(const struct house *house, const struct wire_run *run)
{
    if (run->wire.conductor == NULL) {
        const struct wire_reading none = {.ampacity_a = NAN, .terminal_a = NAN, .small_limit_a = NAN, .largest_a = NAN};
        return (struct wire_limit){.strict = none, .lenient = none, .one = true};
    }
    const bool columns = reference_finds(house_rule_set(house)->ampacity, "terminal-column");
    return columns ? column_limit(house, run) : method_limit(house, run);
}
