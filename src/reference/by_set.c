/* What the rule sets are told apart by, in words made of their rows: `us ft; iec, uk m`. */
#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "same.h"

/* The IDs of the sets that say the same as set `first`. */
static void add_ids(struct text *text, const struct text *said, size_t first)
{
    bool any = false;
    for (size_t i = first; i < ref_rule_set_count; i++) {
        if (same(text_string(&said[i]), text_string(&said[first]))) {
            text_printf(text, "%s%s", any ? ", " : "", ref_rule_set_rows[i].id);
            any = true;
        }
    }
}

static bool stands_before(const struct text *said, size_t index)
{
    bool before = false;
    for (size_t i = 0; i < index; i++) {
        before = before || same(text_string(&said[i]), text_string(&said[index]));
    }
    return before;
}

/* `lines`: each group a line of its own, with a colon behind its sets. */
static void add_groups(struct text *text, const struct text *said, bool all, bool lines)
{
    size_t written = 0;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        if (said[i].length > 0 && !stands_before(said, i)) {
            text_add(text, written++ == 0 ? "" : lines ? "\n" : "; ");
            if (!all) {
                add_ids(text, said, i);
                text_add(text, lines ? ": " : " ");
            }
            text_add(text, text_string(&said[i]));
        }
    }
}

static void by_set(struct text *text, reference_set_says *says, const void *context, const char *otherwise, bool lines)
{
    struct text *said = memory_resize(NULL, ref_rule_set_count, sizeof *said);
    size_t groups = 0;
    size_t silent = 0;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        said[i] = (struct text){0};
        says(&ref_rule_set_rows[i], context, &said[i]);
        silent += said[i].length == 0;
        groups += said[i].length > 0 && !stands_before(said, i);
    }
    add_groups(text, said, groups < 2 && silent == 0, lines);
    if (silent > 0 && otherwise != NULL) {
        text_printf(text, "%s%s", groups > 0 ? "; otherwise " : "", otherwise);
    }
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        text_done(&said[i]);
    }
    free(said);
}

void reference_by_set(struct text *text, reference_set_says *says, const void *context, const char *otherwise)
{
    by_set(text, says, context, otherwise, false);
}

/* ---- what stands in braces */

static void says_paper(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    text_add(text, set->paper);
}

static void says_length(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    text_add(text, set->length_unit);
}

static void says_area(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    text_add(text, set->area_unit);
}

static void says_currency(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    text_add(text, set->currency);
}

static void says_frequency(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    text_printf(text, "%ld Hz", (long)set->frequency_hz);
}

/* Of the system that is usual there. */
static void says_voltage(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    const char *system = reference_choice_usual(set->id, "system");
    const double usual_v = system == NULL ? NAN : reference_usual_voltage_v(set->id, system);
    if (isfinite(usual_v)) {
        text_add_number(text, usual_v);
        text_add(text, " V");
    }
}

/* Places for plugs of an outlet, where there is more than one. */
static void says_contacts(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    const double contacts = reference_rule_value("usual-contacts", set->id);
    const double breaker_a = reference_rule_value("usual-contacts-breaker", set->id);
    if (contacts > 1) {
        text_add_number(text, contacts);
        text_add(text, isfinite(breaker_a) ? " on a branch to " : "");
        if (isfinite(breaker_a)) {
            text_add_number(text, breaker_a);
            text_add(text, " A");
        }
    }
}

static void says_spaces(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    text_add(text,
             reference_finds(set->spaces, "two-columns") ? "odd ones left and even ones right" : "in running order");
}

/* The methods of a dwelling's demand. */
static void says_methods(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    const struct ref_choice *row = NULL;
    for (size_t i = 0; (row = reference_choice(set->id, "demand", i)) != NULL; i++) {
        text_printf(text, "%s%s", i == 0 ? "" : ", ", row->word);
    }
}

/* The longest of the averages that a meter's maximum may be made of. */
static void says_interval(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    const double hours = reference_rule_value("measured-interval", set->id);
    if (isfinite(hours)) {
        text_add_number(text, 60 * hours);
        text_add(text, " minutes");
    }
}

/* How a dwelling's demand counts what stands in a house. */
static void says_demand(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)context;
    text_add(text, set->demand_counts == NULL ? "" : set->demand_counts);
}

static const struct {
    const char *name;
    reference_set_says *says;
    const char *otherwise;
    bool lines;
} fills[] = {
    {"by-paper", says_paper, NULL, false},      {"by-length", says_length, NULL, false},
    {"by-area", says_area, NULL, false},        {"by-currency", says_currency, NULL, false},
    {"by-voltage", says_voltage, NULL, false},  {"by-frequency", says_frequency, NULL, false},
    {"by-contacts", says_contacts, "1", false}, {"by-spaces", says_spaces, NULL, false},
    {"by-methods", says_methods, NULL, false},  {"by-interval", says_interval, NULL, false},
    {"by-demand", says_demand, NULL, true},
};

bool reference_fill_by_set(struct text *text, const char *name)
{
    if (same(name, "first-set")) {
        text_add(text, ref_rule_set_rows[0].id);
        return true;
    }
    for (size_t i = 0; same(name, "sets") && i < ref_rule_set_count; i++) {
        text_printf(text, "%s%s", i == 0 ? "" : "|", ref_rule_set_rows[i].id);
    }
    for (size_t i = 0; i < sizeof fills / sizeof fills[0]; i++) {
        if (same(name, fills[i].name)) {
            by_set(text, fills[i].says, NULL, fills[i].otherwise, fills[i].lines);
            return true;
        }
    }
    return same(name, "sets");
}

/* ---- which sets know something, where not all of them do */

bool reference_key_is_partial(const char *key)
{
    bool all = true;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        all = all && reference_key_known(ref_rule_set_rows[i].id, key);
    }
    return !all;
}

void reference_key_knowing(struct text *text, const char *key, const char *word)
{
    bool any = false;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        const char *id = ref_rule_set_rows[i].id;
        if (word == NULL ? reference_key_known(id, key) : reference_choice_known(id, key, word)) {
            text_printf(text, "%s%s", any ? ", " : "", id);
            any = true;
        }
    }
}
