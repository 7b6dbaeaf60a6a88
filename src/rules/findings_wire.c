/* Findings 5, 6, 7 and 16: what the wire says. */
#include <math.h>

#include "assess_wire.h"
#include "findings.h"
#include "lay.h"

/* How an ampacity was found, for the text of a finding. Of two readings it says which. */
static const char *wire_text(const struct finder *finder, const struct wire_run *run, const struct wire_limit *limit,
                             const struct wire_reading *reading)
{
    const char *taken = limit->one ? "" : reading == &limit->lenient ? "at best " : "at worst ";
    const bool named =
        !limit->one || run->cable != CABLE_NOT_SAID; /* two kinds that come out alike: neither was said */
    struct text text = {0};
    text_printf(&text, "%s %s", run->wire.conductor->size, run->wire.conductor->metal);
    if (reading->cable != NULL) {
        text_printf(&text, ", %s%s, ends for %s °C", taken, named ? reading->cable->name : "whatever its kind",
                    figure(finder, reading->terminals_c));
        if (run->grouped > 1) {
            text_printf(&text, ", %d circuits together", run->grouped);
        }
        text_printf(&text, ", %s °C", figure(finder, run->ambient_c));
    } else {
        method_text(finder, run, reading, &text);
    }
    text_printf(&text, ": carries %s A", figure(finder, reading->ampacity_a));
    return finder_keep(finder, &text);
}

/* `reading` of the figures: by which reading a limit is passed. */
static const char *reading_word(const struct wire_limit *limit, bool both)
{
    if (!limit->read) {
        return NULL;
    }
    return limit->one ? "given" : both ? "both" : "strict";
}

const char *device_word(int trip)
{
    const bool is_fuse = trip == TRIP_FUSE || trip == TRIP_BS3036 || trip == TRIP_BS88 || trip == TRIP_GG;
    return is_fuse ? "fuse" : "breaker";
}

static const char settles[] = "; the keys `cable` and `terminals` settle it";

/* Finding 5, in one of its variants, with the figures that it always has. */
void add_breaker_wire(const struct finder *finder, struct subject subject, const char *variant, double breaker_a,
                      const struct wire_reading *reading, double limit_a, const char *word, const char *text)
{
    finding_add(finder, "5", variant, subject,
                FIGURES(NUMBER("breaker_a", breaker_a), NUMBER("ampacity_a", reading->ampacity_a),
                        NUMBER("limit_a", limit_a), WORD("reading", word)),
                "%s", text);
}

/* 5 where no table has the wire. */
static void add_no_table(const struct finder *finder, struct subject subject, const struct wire_run *run,
                         const struct wire_limit *limit, const char *what)
{
    const char *text = "";
    struct text line = {0};
    text_printf(
        &line,
        "%s%s %s at %s °C stands in no ampacity table of these rules %s: breaker and load were not compared with "
        "the wire",
        what, run->wire.conductor->size, run->wire.conductor->metal, figure(finder, run->ambient_c),
        limit->strict.missing != NULL ? limit->strict.missing : "for this use");
    text = finder_keep(finder, &line);
    const struct wire_reading nothing = {.ampacity_a = NAN};
    add_breaker_wire(finder, subject, "no-table", run->breaker_a, &nothing, NAN, reading_word(limit, true), text);
}

/* 5 where the breaker is above what every reading allows, or only the strict one's. */
static void add_too_large(const struct finder *finder, struct subject subject, const struct wire_run *run,
                          const struct wire_limit *limit, bool both)
{
    const struct wire_reading *reading = both ? &limit->lenient : &limit->strict;
    struct text text = {0};
    text_printf(&text, "the %s is rated %s A; ", device_word(run->trip), figure(finder, run->breaker_a));
    if (both && reading->largest_a <= 0) {
        text_printf(&text, "no size that is made is small enough for this wire (%s)",
                    wire_text(finder, run, limit, reading));
    } else if (both) {
        text_printf(&text, "this wire allows at most %s A (%s)",
                    figure_beside(finder, reading->largest_a, run->breaker_a), wire_text(finder, run, limit, reading));
    } else {
        text_printf(&text,
                    "if the wire is %s with ends for %s °C it allows at most %s A (%s), if it and both ends are "
                    "marked for %s °C up to %s A%s",
                    reading->cable->name, figure(finder, reading->terminals_c), figure(finder, reading->largest_a),
                    wire_text(finder, run, limit, reading), figure(finder, limit->lenient.terminals_c),
                    figure(finder, limit->lenient.largest_a), settles);
    }
    const bool unsure = both && !exceeds(run->breaker_a, reading->sure_largest_a);
    text_add(&text, unsure ? "; one of the figures behind this limit was not found in print: have it looked up" : "");
    const char *line = finder_keep(finder, &text);
    add_breaker_wire(finder, subject,
                     unsure ? "memory"
                     : both ? ""
                            : "strict",
                     run->breaker_a, reading, reading->largest_a, reading_word(limit, both), line);
}

/* A fuse that its wire allows, close to the most: nine tenths, as it opens late. */
static bool is_near_fuse(const struct finder *finder, const struct wire_run *run, const struct wire_limit *limit)
{
    const struct ref_fuse *fuse = reference_fuse(finder->rules, trip_word(run->trip));
    return fuse != NULL && exceeds(run->breaker_a, fuse->note_share * limit->strict.ampacity_a);
}

static void add_near_fuse(const struct finder *finder, struct subject subject, const struct wire_run *run,
                          const struct wire_limit *limit)
{
    const struct ref_fuse *fuse = reference_fuse(finder->rules, trip_word(run->trip));
    struct text text = {0};
    text_printf(&text, "the %s is rated %s A; the most that leaves no doubt for this wire is %s A (%s)", fuse->name,
                figure(finder, run->breaker_a), figure(finder, fuse->note_share * limit->strict.ampacity_a),
                wire_text(finder, run, limit, &limit->strict));
    const char *line = finder_keep(finder, &text);
    add_breaker_wire(finder, subject, "fuse-near", run->breaker_a, &limit->strict, limit->strict.largest_a, NULL, line);
}

/* 5, for a breaker and its wire, wherever they are. One standard size above the ampacity is a note. */
static void compare_breaker(const struct finder *finder, struct subject subject, const struct wire_run *run,
                            const struct wire_limit *limit)
{
    if (exceeds(run->breaker_a, limit->lenient.largest_a) && exceeds(run->breaker_a, limit->strict.largest_a)) {
        add_too_large(finder, subject, run, limit, true);
    } else if (exceeds(run->breaker_a, limit->strict.largest_a)) {
        add_too_large(finder, subject, run, limit, false);
    } else if (is_near_fuse(finder, run, limit)) {
        add_near_fuse(finder, subject, run, limit);
    } else if (exceeds(run->breaker_a, limit->strict.ampacity_a)) {
        struct text text = {0};
        text_printf(&text, "the %s is rated %s A, the next standard size (%s)", device_word(run->trip),
                    figure(finder, run->breaker_a), wire_text(finder, run, limit, &limit->strict));
        const char *line = finder_keep(finder, &text);
        add_breaker_wire(finder, subject, "next-size", run->breaker_a, &limit->strict, limit->strict.largest_a,
                         reading_word(limit, exceeds(run->breaker_a, limit->lenient.ampacity_a)), line);
    }
}

/* No table, or no factor, for one of the readings: nothing is compared. */
static bool is_unknown(const struct wire_limit *limit)
{
    return isnan(limit->strict.ampacity_a) || isnan(limit->lenient.ampacity_a);
}

/* 5: breaker larger than the wire allows. */
void check_breaker_wire(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    const struct branch *branch = branch_case->branch;
    if (branch->wire.conductor == NULL) {
        return;
    }
    case_wire(branch_case);
    const struct wire_run *run = &branch_case->run;
    const struct wire_limit *limit = &branch_case->limit;
    if (is_unknown(limit)) {
        add_no_table(finder, about_branch(branch_case), run, limit, "");
    } else if (ring_is_ruled(branch_case)) {
        check_ring_wire(branch_case, run, &limit->strict, wire_text(finder, run, limit, &limit->strict));
    } else if (!branch_motors_alone(branch_case->index, branch_case->assessment->factors)) {
        /* A breaker of motors alone is held against their plates: finding 19. */
        compare_breaker(finder, about_branch(branch_case), run, limit);
    }
    note_assumed_method(branch_case, run, &limit->strict);
}

/* What a wire has to carry. */
struct carried {
    double planning_a; /* held against the ends, uncorrected */
    double plain_a;    /* without the factor for hours, held against the ampacity */
    double rounded_a;  /* planning_a less what plates may hide */
    bool motors_alone; /* held against the ampacity alone */
    const char *what;
};

/* How a load stands to a reading's limits: what was held against what. */
struct passed {
    double current_a;
    double limit_a;
    double rounded_a;
    bool over;
    bool hair; /* over by no more than plates may hide */
};

static struct passed passed_of(const struct wire_reading *reading, const struct carried *carried)
{
    const bool ends = !carried->motors_alone && exceeds(carried->planning_a, reading->terminal_a);
    const double plain_a = carried->motors_alone ? carried->planning_a : carried->plain_a;
    struct passed passed = {.current_a = ends ? carried->planning_a : plain_a,
                            .limit_a = ends ? reading->terminal_a : reading->ampacity_a};
    passed.rounded_a = passed.current_a * carried->rounded_a / carried->planning_a;
    passed.over = exceeds(passed.current_a, passed.limit_a);
    passed.hair = passed.over && !exceeds(passed.rounded_a, passed.limit_a);
    return passed;
}

/* Motors' and cooling units' own current over every reading's ampacity: the wire is too thin, whatever it is. */
static bool overloads_motors(const struct wire_limit *limit, const struct carried *carried)
{
    return carried->motors_alone && exceeds(carried->plain_a, limit->lenient.ampacity_a) &&
           exceeds(carried->plain_a, limit->strict.ampacity_a);
}

/* 6, wherever the wire is: over every reading's limit, or over the strict one's alone. */
static void compare_load(const struct finder *finder, struct subject subject, const struct wire_run *run,
                         const struct wire_limit *limit, const struct carried *carried)
{
    const struct passed lenient = passed_of(&limit->lenient, carried);
    const struct passed strict = passed_of(&limit->strict, carried);
    if (!lenient.over && !strict.over) {
        return;
    }
    /* Where only the plates' rounding passes the lenient limit, the strict one says more. */
    const bool both = lenient.over && (!lenient.hair || strict.hair || !strict.over);
    const struct passed passed = both ? lenient : strict;
    const char *variant = both ? overloads_motors(limit, carried) ? "motors" : "" : "strict";
    finding_add(finder, "6", passed.hair ? "rounding" : variant, subject,
                FIGURES(NUMBER("current_a", passed.current_a), NUMBER("limit_a", passed.limit_a),
                        NUMBER("rounded_a", passed.rounded_a), WORD("reading", reading_word(limit, both))),
                "%s %s A is over the wire's %s A (%s)%s%s", carried->what,
                figure_beside(finder, passed.current_a, passed.limit_a), figure(finder, passed.limit_a),
                wire_text(finder, run, limit, both ? &limit->lenient : &limit->strict),
                rounding_text(finder, passed.hair), both || finder->no_texts ? "" : settles);
}

/* 5 and 6 for a feeder. */
void check_feeder_wire(struct panel_case *panel_case)
{
    const struct finder *finder = &panel_case->finder;
    const struct panel *panel = panel_case->panel;
    if (panel->wire.conductor == NULL) {
        return;
    }
    const struct wire_run run = wire_run_of_panel(panel_case->house, panel_case->index);
    const struct wire_limit limit = wire_limit_of(panel_case->house, &run);
    if (is_unknown(&limit)) {
        add_no_table(finder, about_panel(panel_case), &run, &limit, "the feeder's ");
        return;
    }
    compare_breaker(finder, about_panel(panel_case), &run, &limit);
    const struct carried carried = {.planning_a = panel_case->result->demand_a,
                                    .plain_a = panel_case->result->demand_a,
                                    .rounded_a = panel_case->result->demand_a,
                                    .what = "the feeder's demand"};
    compare_load(finder, about_panel(panel_case), &run, &limit, &carried);
}

/* The branch's load without the factor for hours. */
static double plain_a(const struct branch_case *branch_case, const struct load *loads, double planning_a)
{
    double less_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const double factor =
            appliance_continuous_factor(branch_case->house, loads[i].appliance, branch_case->assessment->factors);
        less_a += loads[i].counted ? loads[i].planning_a * (1 - 1 / factor) : 0;
    }
    return planning_a - less_a;
}

/*
 * What the branch's wire has to carry; in a ring the share of the more loaded side, as solved, so that an even ring
 * counts half of it. NAN where a ring could not be solved.
 */
static struct carried carried_by(const struct branch_case *branch_case, const struct load *loads)
{
    const struct branch_assessment *result = branch_case->result;
    const bool all = branch_case->assessment->options.basis == BASIS_BUSIEST;
    const struct branch_figures *figures = all ? &result->all : &result->other;
    const bool ring = branch_case->branch->layout == LAYOUT_RING;
    const double side = !ring ? 1 : figures->current_a > 0 ? result->segment_current_a / figures->current_a : NAN;
    const bool alone = branch_motors_alone(branch_case->index, branch_case->assessment->factors);
    const double planning_a = alone ? figures->wire_a : figures->planning_a;
    return (struct carried){
        .planning_a = side * planning_a,
        .plain_a = side * plain_a(branch_case, loads, figures->planning_a),
        .rounded_a = side * planning_a * rounded_planning_a(branch_case, loads) / figures->planning_a,
        .motors_alone = alone,
        .what = ring ? "planning current on one side of the ring," : "planning current",
    };
}

/* 6: what the wire must carry over its ampacity, or over what its ends allow. */
void check_load_wire(struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    if (branch->wire.conductor == NULL || branch->appliances.count == 0) {
        return;
    }
    case_wire(branch_case);
    if (is_unknown(&branch_case->limit)) {
        return;
    }
    const bool busiest = branch_case->assessment->options.basis == BASIS_BUSIEST;
    const struct carried carried = carried_by(branch_case, busiest ? branch_case->loads : branch_case->other);
    compare_load(&branch_case->finder, about_branch(branch_case), &branch_case->run, &branch_case->limit, &carried);
}

static void add_drop(const struct finder *finder, struct subject subject, double drop_percent, double limit_percent,
                     const char *what)
{
    finding_add(finder, "7", "", subject,
                FIGURES(NUMBER("drop_percent", drop_percent), NUMBER("limit_percent", limit_percent)),
                "voltage drop %s %% %s; advisory limit %s %%", figure_beside(finder, drop_percent, limit_percent), what,
                figure(finder, limit_percent));
}

/* The advisory limit from the service to an outlet, which a feeder may use up alone; NAN: the rules have none. */
static double whole_drop_limit(const struct house *house)
{
    const char *limit = house_rule_set(house)->drop_limit;
    return limit == NULL
               ? (double)NAN
               : reference_rule_value(reference_finds(limit, "by-use") ? "voltage-drop-other" : "voltage-drop-total",
                                      rules_word(house->rules));
}

/* 7, of a panel: its feeders alone drop more than is advised to the farthest outlet. Once, not with each branch. */
void check_feeder_drop(struct panel_case *panel_case)
{
    const double limit_percent = whole_drop_limit(panel_case->house);
    const double drop_percent = feeders_drop_percent(panel_case->assessment, panel_case->index);
    const bool before = panel_case->index != 0 &&
                        exceeds(feeders_drop_percent(panel_case->assessment, panel_case->panel->from), limit_percent);
    if (!isnan(limit_percent) && exceeds(drop_percent, limit_percent) && !before) {
        add_drop(&panel_case->finder, about_panel(panel_case), drop_percent, limit_percent,
                 "along the feeder, with nothing left for its branches");
    }
}

/* 7: voltage drop above the advisory limit. What nothing hangs on has none of its own. */
void check_drop(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    const struct subject subject = about_branch(branch_case);
    double drop_percent = branch_case->result->drop_percent;
    if (isnan(drop_percent) || !(branch_case->result->all.current_a > 0) ||
        house_rule_set(branch_case->house)->drop_limit == NULL) {
        return;
    }
    double total_percent = drop_percent + feeders_drop_percent(branch_case->assessment, branch_case->branch->panel);
    const char *rules = branch_case->rules;
    if (reference_finds(house_rule_set(branch_case->house)->drop_limit, "by-use")) {
        double limit_percent = reference_rule_value(
            branch_is_lighting(branch_case->house, branch_case->index) ? "voltage-drop-lighting" : "voltage-drop-other",
            rules);
        if (exceeds(total_percent, limit_percent)) {
            add_drop(finder, subject, total_percent, limit_percent, "from the service to the worst outlet");
        }
        return;
    }
    if (exceeds(drop_percent, reference_rule_value("voltage-drop-branch", rules))) {
        add_drop(finder, subject, drop_percent, reference_rule_value("voltage-drop-branch", rules), "along the branch");
    } else if (exceeds(total_percent, reference_rule_value("voltage-drop-total", rules))) {
        add_drop(finder, subject, total_percent, reference_rule_value("voltage-drop-total", rules),
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
