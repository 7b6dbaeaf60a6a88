/* Findings 5, 6, 7 and 16: what the wire says. */
#include <math.h>
#include <string.h>

#include "ampsum/keys.h"
#include "assess_wire.h"
#include "findings.h"

static bool takes_column(const struct house *house)
{
    return reference_finds(house_rule_set(house)->ampacity, "terminal-column");
}

/* By terminals: column and ambient factor by the size of the circuit. */
static struct wire_limit column_limit(const struct house *house, struct wire wire, double breaker_a)
{
    const char *rules = rules_word(house->rules);
    struct wire_limit limit = {NAN, NAN, NAN, NULL, false};
    bool large = exceeds(breaker_a, reference_rule_value("insulation-temperature-limit", rules));
    int column_c = (int)reference_rule_value(large ? "insulation-temperature-large" : "insulation-temperature", rules);
    const char *size = wire.conductor->size;
    const char *metal = wire.conductor->metal;
    limit.ampacity_a = reference_ampacity_us_a(size, metal, column_c, NULL) *
                       reference_ambient_factor(rules, column_c, house->ambient_c, NULL);
    limit.what = large ? "75 °C column" : "60 °C column";
    const struct ref_small_conductor *small = reference_small_conductor(rules, size, metal);
    limit.small_limit_a = small == NULL ? NAN : small->breaker_a;
    return limit;
}

/* By installation method; a cable in the ground takes no air correction. */
static struct wire_limit method_limit(const struct house *house, struct wire wire, int method, bool method_given,
                                      int poles)
{
    struct wire_limit limit = {NAN, NAN, NAN, NULL, !method_given};
    const char *rules = rules_word(house->rules);
    struct reference_ampacity row = reference_ampacity_iec(rules, wire.conductor->size, wire.conductor->metal, "pvc",
                                                           method_word(method), poles == 3 ? 3 : 2);
    double factor =
        method == METHOD_D ? 1 : reference_ambient_factor(rules, row.insulation_temp_c, house->ambient_c, NULL);
    limit.ampacity_a = row.ampacity_a * factor;
    limit.what = row.table == NULL ? "" : row.table;
    return limit;
}

struct wire_limit wire_limit_of(const struct house *house, struct wire wire, int method, bool method_given, int poles,
                                double breaker_a)
{
    struct wire_limit limit = {NAN, NAN, NAN, NULL, false};
    if (wire.conductor == NULL) {
        return limit;
    }
    limit = takes_column(house) ? column_limit(house, wire, breaker_a)
                                : method_limit(house, wire, method, method_given, poles);
    if (isfinite(limit.ampacity_a)) {
        limit.next_size_a = reference_next_standard_size_a(rules_word(house->rules), limit.ampacity_a, NULL);
    }
    return limit;
}

/* How the ampacity was found, for the text of a finding. */
static const char *limit_text(const struct finder *finder, const struct house *house, const struct wire_limit *limit,
                              struct wire wire, int method)
{
    struct text text = {0};
    text_printf(&text, "%s %s", wire.conductor->size, wire.conductor->metal);
    if (takes_column(house)) {
        text_printf(&text, ", %s", limit->what);
    } else {
        text_printf(&text, ", method %s%s", method_word(method), limit->assumed_method ? " assumed" : "");
    }
    text_printf(&text, ", %s °C: %s A", figure(finder, house->ambient_c), figure(finder, limit->ampacity_a));
    return finder_keep(finder, &text);
}

/* Finding 5, in one of its variants, with the figures that it always has. */
static void add_breaker_wire(const struct finder *finder, struct subject subject, const char *variant, double breaker_a,
                             double ampacity_a, double largest_a, const char *text)
{
    finding_add(finder, "5", variant, subject,
                FIGURES(NUMBER("breaker_a", breaker_a), NUMBER("ampacity_a", ampacity_a), NUMBER("limit_a", largest_a)),
                "%s", text);
}

/* 5 where no table has the wire. */
static void add_no_table(const struct finder *finder, struct subject subject, double breaker_a, struct wire wire,
                         const char *what)
{
    finding_add(
        finder, "5", "no-table", subject,
        FIGURES(NUMBER("breaker_a", breaker_a), NUMBER("ampacity_a", (double)NAN), NUMBER("limit_a", (double)NAN)),
        "%s%s %s stands in no ampacity table of these rules for this use: it was not compared", what,
        wire.conductor->size, wire.conductor->metal);
}

/*
 * 5, for a breaker and its wire, wherever they are: the small-conductor limit, then the ampacity; one standard size
 * above the ampacity is a note where the rule set accepts it.
 */
static void compare_breaker(const struct finder *finder, struct subject subject, double breaker_a,
                            const struct wire_limit *limit, const char *wire_text)
{
    const bool next_size_rule = reference_rule_set(finder->rules)->next_size != 0;
    const double sized_a = next_size_rule ? limit->next_size_a : limit->ampacity_a;
    const double largest_a = fmin(sized_a, limit->small_limit_a);
    struct text text = {0};
    if (exceeds(breaker_a, limit->small_limit_a)) {
        text_printf(&text, "the breaker is rated %s A; this small wire allows at most %s A (%s)",
                    figure(finder, breaker_a), figure(finder, limit->small_limit_a), wire_text);
        add_breaker_wire(finder, subject, "", breaker_a, limit->ampacity_a, largest_a, text_string(&text));
    } else if (exceeds(breaker_a, limit->ampacity_a)) {
        const bool next_size = next_size_rule && !exceeds(breaker_a, limit->next_size_a);
        text_printf(&text, "the breaker is rated %s A; the wire carries %s A (%s)", figure(finder, breaker_a),
                    figure(finder, limit->ampacity_a), wire_text);
        add_breaker_wire(finder, subject, next_size ? "next-size" : "", breaker_a, limit->ampacity_a, largest_a,
                         text_string(&text));
    }
    text_done(&text);
}

/* 5 for a ring that the rule set knows: the device at most the rule's, the cable at least the rule's ampacity. */
static void compare_ring(struct branch_case *branch_case, const struct wire_limit *limit, const char *wire_text)
{
    const struct finder *finder = &branch_case->finder;
    const double breaker_a = branch_case->branch->breaker_a;
    const double device_a = reference_rule_value("ring-device", branch_case->rules);
    const double ampacity_a = reference_rule_value("ring-ampacity", branch_case->rules);
    if (exceeds(breaker_a, device_a) || exceeds(ampacity_a, limit->ampacity_a)) {
        struct text text = {0};
        text_printf(&text,
                    "ring with a %s A device and a cable of %s A (%s); the rule: device at most %s A, cable at least "
                    "%s A",
                    figure(finder, breaker_a), figure(finder, limit->ampacity_a), wire_text, figure(finder, device_a),
                    figure(finder, ampacity_a));
        add_breaker_wire(finder, about_branch(branch_case), "ring", breaker_a, limit->ampacity_a, device_a,
                         text_string(&text));
        text_done(&text);
    }
}

static bool method_is_given(const struct branch *branch)
{
    const struct section *section = &sections[KIND_BRANCH];
    return key_is_given(section, section_key(section, "method"), branch);
}

static struct wire_limit branch_limit(const struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    return wire_limit_of(branch_case->house, branch->wire, branch->method, method_is_given(branch), branch->poles,
                         branch->breaker_a);
}

/* 5: breaker larger than the wire allows. */
void check_breaker_wire(struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    const struct finder *finder = &branch_case->finder;
    /* A breaker of motors alone protects against a short circuit; finding 19 holds it against their plates. */
    if (branch->wire.conductor == NULL || branch_motors_alone(branch_case->index, branch_case->assessment->factors)) {
        return;
    }
    struct wire_limit limit = branch_limit(branch_case);
    if (isnan(limit.ampacity_a)) {
        add_no_table(finder, about_branch(branch_case), branch->breaker_a, branch->wire, "");
        return;
    }
    const char *wire_text = limit_text(finder, branch_case->house, &limit, branch->wire, branch->method);
    if (branch->layout == LAYOUT_RING && !isnan(reference_rule_value("ring-device", branch_case->rules))) {
        compare_ring(branch_case, &limit, wire_text);
        return;
    }
    compare_breaker(finder, about_branch(branch_case), branch->breaker_a, &limit, wire_text);
}

/* 5 for a feeder. */
void check_feeder_wire(struct panel_case *panel_case)
{
    const struct panel *panel = panel_case->panel;
    const struct finder *finder = &panel_case->finder;
    if (panel->wire.conductor == NULL) {
        return;
    }
    const struct section *section = &sections[KIND_PANEL];
    bool method_given = key_is_given(section, section_key(section, "method"), panel);
    struct wire_limit limit =
        wire_limit_of(panel_case->house, panel->wire, panel->method, method_given, panel->poles, panel->breaker_a);
    if (isnan(limit.ampacity_a)) {
        add_no_table(finder, about_panel(panel_case), panel->breaker_a, panel->wire, "the feeder's ");
        return;
    }
    compare_breaker(finder, about_panel(panel_case), panel->breaker_a, &limit,
                    limit_text(finder, panel_case->house, &limit, panel->wire, panel->method));
}

/*
 * Planning current that the wire has to carry: the branch's; in a ring the share of the more loaded side, as solved, so
 * that an even ring counts half of it. NAN where a ring could not be solved.
 */
static double wire_planning_a(const struct branch_case *branch_case)
{
    const struct branch_assessment *result = branch_case->result;
    bool other = branch_case->assessment->options.basis != BASIS_BUSIEST;
    const struct branch_figures *figures = other ? &result->other : &result->all;
    if (branch_case->branch->layout != LAYOUT_RING) {
        return figures->wire_a;
    }
    return figures->current_a > 0 ? figures->wire_a * result->segment_current_a / figures->current_a : NAN;
}

/* What of it remains without the plates' rounding: in a ring, and beside a motor's extra, in proportion. */
static double wire_rounded_a(const struct branch_case *branch_case, double wire_a)
{
    const bool all = branch_case->assessment->options.basis == BASIS_BUSIEST;
    const struct branch_figures *figures = all ? &branch_case->result->all : &branch_case->result->other;
    const double rounded_a = all ? rounded_planning_a(branch_case, branch_case->loads) : rounded_other_a(branch_case);
    return wire_a * rounded_a / figures->planning_a;
}

/* 6: planning current over the wire's ampacity. */
void check_load_wire(struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    const struct finder *finder = &branch_case->finder;
    if (branch->wire.conductor == NULL) {
        return;
    }
    struct wire_limit limit = branch_limit(branch_case);
    double planning_a = wire_planning_a(branch_case);
    if (exceeds(planning_a, limit.ampacity_a)) {
        const double rounded_a = wire_rounded_a(branch_case, planning_a);
        const bool hair = !exceeds(rounded_a, limit.ampacity_a);
        finding_add(finder, "6", hair ? "rounding" : "", about_branch(branch_case),
                    FIGURES(NUMBER("current_a", planning_a), NUMBER("limit_a", limit.ampacity_a),
                            NUMBER("rounded_a", rounded_a), WORD("reading", NULL)),
                    "planning current %s A%s is over the wire's %s A (%s)%s", figure(finder, planning_a),
                    branch->layout == LAYOUT_RING ? " on one side of the ring" : "", figure(finder, limit.ampacity_a),
                    limit_text(finder, branch_case->house, &limit, branch->wire, branch->method),
                    rounding_text(finder, hair));
    }
}

static void add_drop(struct branch_case *branch_case, double drop_percent, double limit_percent, const char *what)
{
    const struct finder *finder = &branch_case->finder;
    finding_add(finder, "7", "", about_branch(branch_case),
                FIGURES(NUMBER("drop_percent", drop_percent), NUMBER("limit_percent", limit_percent)),
                "voltage drop %s %% %s; advisory limit %s %%", figure(finder, drop_percent), what,
                figure(finder, limit_percent));
}

/* 7: voltage drop above the advisory limit. */
void check_drop(struct branch_case *branch_case)
{
    double drop_percent = branch_case->result->drop_percent;
    if (isnan(drop_percent)) {
        return;
    }
    double total_percent = drop_percent + feeders_drop_percent(branch_case->assessment, branch_case->branch->panel);
    const char *rules = branch_case->rules;
    if (reference_finds(house_rule_set(branch_case->house)->drop_limit, "by-use")) {
        double limit_percent = reference_rule_value(
            branch_is_lighting(branch_case->house, branch_case->index) ? "voltage-drop-lighting" : "voltage-drop-other",
            rules);
        if (exceeds(total_percent, limit_percent)) {
            add_drop(branch_case, total_percent, limit_percent, "from the service to the worst outlet");
        }
        return;
    }
    if (exceeds(drop_percent, reference_rule_value("voltage-drop-branch", rules))) {
        add_drop(branch_case, drop_percent, reference_rule_value("voltage-drop-branch", rules), "along the branch");
    } else if (exceeds(total_percent, reference_rule_value("voltage-drop-total", rules))) {
        add_drop(branch_case, total_percent, reference_rule_value("voltage-drop-total", rules),
                 "along feeder and branch");
    }
}

/* 16: the wire cannot feed the load. */
void check_operating_point(struct branch_case *branch_case)
{
    if (branch_case->result->wire_known && !branch_case->result->wire_solved) {
        finding_add(&branch_case->finder, "16", "", about_branch(branch_case), NO_FIGURES,
                    "no voltage exists at which this wire could feed this load: check length, size and loads");
    }
}
