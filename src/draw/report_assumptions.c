/* What was assumed. */
#include "ampsum/reference.h"
#include "report_parts.h"

static void item(const struct report *report, struct text *text)
{
    print_item(report->document, NULL, text_string(text));
    text_clear(text);
}

static void add_factors(const struct report *report, struct text *text)
{
    const struct planning_factors factors = report->assessment->factors;
    text_rounded(text, "Planning current: the sum of the counted loads' currents; a continuous load counts ",
                 100 * factors.continuous, 1, " %, the largest motor ");
    text_add_rounded(text, 100 * factors.largest_motor, 1);
    text_printf(text, " %% (rules %s). Of a group that is never on together only the largest counts.",
                rules_word(report->house->rules));
    item(report, text);
}

static void add_voltages(const struct report *report, struct text *text)
{
    const double ratio = report->assessment->options.supply_ratio;
    text_rounded(text, "Supply at ", 100 * (ratio == 0 ? 1 : ratio), 2, "");
    text_add(text, " % of the nominal voltage. Heaters and lamps are taken as constant resistance, motors and "
                   "electronics as constant power.");
    item(report, text);
    text_rounded(text, "Wires: resistance at ", reference_operating_temp_c(rules_word(report->house->rules)), 0, "");
    text_add(text, " \xC2\xB0"
                   "C conductor temperature, ampacity for ");
    text_add_rounded(text, report->house->ambient_c, 1);
    text_add(text, " \xC2\xB0"
                   "C surroundings; reactance is left out.");
    item(report, text);
}

/* What the rule set has no rows for, then branches that lack something for some finding. */
static void add_lacking(const struct report *report, const struct report_assumed *assumed, struct text *text)
{
    if (reference_missing_add(text, rules_word(report->house->rules))) {
        item(report, text);
    }
    if (assumed->no_wire + assumed->no_length > 0) {
        text_printf(text,
                    "Of %zu branches %zu have no wire listed and %zu no lengths: nothing was checked there that needs "
                    "them.",
                    report->house->branch_count, assumed->no_wire, assumed->no_length);
        item(report, text);
    }
    if (reference_finds(house_rule_set(report->house)->ampacity, "installation-method") && assumed->no_method > 0) {
        text_printf(text, "For %zu branches no method of installation is listed; the usual one of the rules was taken.",
                    assumed->no_method);
        item(report, text);
    }
}

/* ` 3 appliances have ...`; nothing of none. */
static void add_count(struct text *text, size_t count, const char *one, const char *many)
{
    if (count > 0) {
        text_printf(text, " %zu %s %s", count, count == 1 ? "appliance" : "appliances", count == 1 ? one : many);
    }
}

static void add_use(const struct report *report, const struct report_assumed *assumed, struct text *text)
{
    text_add(text, "The busiest minute of the week over twelve months: an appliance with windows of use counts as on "
                   "in all of them, one without at any time of its days and months.");
    item(report, text);
    text_add(text, "Energy: a year of 365 dates that begins on a Monday.");
    add_count(text, assumed->spread, "has hours without windows and is spread over the day.",
              "have hours without windows and are spread over the day.");
    add_count(text, assumed->unused, "has no time of use listed and counts as using nothing.",
              "have no time of use listed and count as using nothing.");
    item(report, text);
}

void report_part_assumptions(const struct report *report)
{
    const struct report_assumed assumed = report_assumed(report->check);
    struct text text = {0};
    report_annex(report, "What was assumed");
    add_factors(report, &text);
    add_voltages(report, &text);
    add_lacking(report, &assumed, &text);
    add_use(report, &assumed, &text);
    text_add(&text, "Ratings, wires and lengths are as the house file gives them; nothing was measured.");
    item(report, &text);
    text_done(&text);
}
