/* The answer of `wire` in words and as JSON; its rows: wire_rows.c. */
#include "ampsum/show_check.h"
#include "ampsum/show_wire.h"

#include <math.h>
#include <string.h>

#include "ampsum/quantity.h"

/* ------------------------------------------------------------------ studies ------------------------------- */

static void write_breaks(const struct wire_answer *answer, const struct page *page, struct text *text)
{
    const struct wire_branch *ring = &answer->branches[0];
    struct text line = {0};
    text_add_char(text, '\n');
    show_table_text(&show_break_rows, answer, answer->break_count, page, text);
    for (size_t i = 0; i < answer->break_count; i++) {
        const struct wire_break *made = &answer->breaks[i];
        if (made->over) {
            show_say(page, 0, 0, text,
                     "[6] warning: broken between %s and %s, one side of the ring carries %.2g A (planning %.2g A); "
                     "the wire's ampacity is %.2g A",
                     made->from, made->to, made->current_a, made->planning_a, made->ampacity_a);
        }
    }
    text_say(&line, "Whole ring: worst drop %.2g %%, largest current %.2g A.", ring->drop_percent, ring->current_a);
    if (answer->worst_break != NULL) {
        text_say(&line, " Worst break: between %s and %s, drop %.2g %%.", answer->worst_break->from,
                 answer->worst_break->to, answer->worst_break->drop_percent);
    }
    show_line(page, 0, 0, &line, text);
    show_wrap(page, 0, "A ring with a break goes on working and nobody notices: it has to be found by testing.", text);
}

static void write_start(const struct wire_answer *answer, const struct page *page, struct text *text)
{
    text_add_char(text, '\n');
    show_table_text(&show_start_rows, answer, answer->start_count, page, text);
    show_say(page, 0, 0, text,
             "%s starts at %.2g times its running current, power factor %.2g (common practice); its rotor at rest "
             "counts as a constant impedance.",
             answer->starting->id, answer->starting->start_factor, answer->start_power_factor);
    if (isfinite(answer->starting_a)) {
        show_say(page, 0, 0, text, "Current leaving the panel: %.2g A running, %.2g A while it starts.",
                 answer->running_a, answer->starting_a);
    } else {
        show_wrap(page, 0, "[16] danger: while it starts this wire cannot feed what else is on.", text);
    }
    show_wrap(page, 0,
              "The dip counts from the running voltage; a lamp of constant resistance loses power with the square of "
              "the voltage.",
              text);
}

static const char used_up_text[] = "nothing is left of it, the feeder alone uses it up";

static bool is_used_up(const struct wire_branch *wire)
{
    return wire->allowed_percent <= 0;
}

/* What the advisory limit leaves for the branch: `3 %`. */
static void add_allowed(const struct wire_branch *wire, struct text *text)
{
    if (is_used_up(wire)) {
        text_add(text, used_up_text);
    } else {
        text_say(text, "%.2g %%", wire->allowed_percent);
    }
}

static const char licensed_line[] =
    "Which conductor goes in is for a licensed electrician and the local code to say: this compares published figures, "
    "and knows nothing of smallest sizes, grouping or hot places.";

static void write_sizes(const struct wire_answer *answer, const struct page *page, struct text *text)
{
    const struct wire_branch *wire = &answer->branches[0];
    struct text line = {0};
    text_add_char(text, '\n');
    show_table_text(&show_size_rows, answer, answer->size_count, page, text);
    text_add(&line, "Advisory limit on the branch's drop here: ");
    add_allowed(wire, &line);
    text_say(&line, ". Breaker %.1g A. ", wire->branch->breaker_a);
    if (answer->first_size != NULL) {
        text_printf(&line, "First size inside all of these figures: %s %s.", answer->first_size->size,
                    answer->first_size->metal);
    } else {
        text_add(&line, "No listed size is inside all of these figures.");
    }
    show_line(page, 0, 0, &line, text);
    show_wrap(page, 0, licensed_line, text);
}

static void write_longest(const struct wire_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    text_add_char(text, '\n');
    show_table_text(&show_longest_rows, answer, answer->longest_count, page, text);
    if (is_used_up(&answer->branches[0])) {
        text_printf(&line, "Advisory limit on the branch's drop: %s, so that no length is left. ", used_up_text);
    }
    text_say(&line,
             "Along the longest path, every piece grown alike, at nominal voltage, until the drop is %.2g %%. Ampacity "
             "is not looked at here: see --size.",
             answer->branches[0].allowed_percent);
    show_line(page, 0, 0, &line, text);
    show_wrap(page, 0, licensed_line, text);
}

/* ------------------------------------------------------------------ house and branch ---------------------- */

static void write_heading(const struct wire_answer *answer, struct text *text)
{
    const struct assess_options *choice = &answer->assessment->options;
    text_printf(text, "%s: voltage in the wire, ", answer->house->name);
    text_add(text, choice->basis == BASIS_BUSIEST ? "everything on"
                   : choice->basis == BASIS_SCENE ? "scene "
                                                  : "the chosen appliances on");
    text_add(text, choice->basis == BASIS_SCENE ? answer->house->scenes[choice->scene].id : "");
    if (choice->supply_ratio < 1 || choice->supply_ratio > 1) {
        text_say(text, ", supply %.1g %% of nominal", 100 * choice->supply_ratio);
    }
    text_add(text, "\n\n");
}

#define FEEDER(member) SHOW_IN(struct wire_answer, feeders, struct wire_feeder, member)

static const struct show_column feeder_columns[] = {
    {.key = "panel", .heading = "FEEDER OF", .wrap = 20, .faces = SHOW_COMMAND, FEEDER(panel)},
    {.key = "current_a", .heading = "LARGEST LEG A", .decimals = 2, .faces = SHOW_COMMAND, FEEDER(current_a)},
    {.key = "drop_percent", .heading = "DROP %", .decimals = 2, .faces = SHOW_COMMAND, FEEDER(drop_percent)},
};

static const struct show_rows feeder_rows = SHOW_ROWS_OF(feeder_columns);

static void write_feeders(const struct wire_answer *answer, const struct page *page, struct text *text)
{
    text_add(text, answer->feeder_count > 0 ? "\n" : "");
    show_table_text(&feeder_rows, answer, answer->feeder_count, page, text);
}

static bool is_about_wire(const struct finding *finding)
{
    static const char *const ids[] = {"6", "7", "11", "16"};
    for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++) {
        if (strcmp(finding->id, ids[i]) == 0) {
            return true;
        }
    }
    return false;
}

static void write_findings(const struct wire_answer *answer, const struct page *page, struct text *text)
{
    struct text found = {0};
    for (size_t i = 0; i < answer->count; i++) {
        const struct finding_list *all = &answer->branches[i].result->findings;
        for (size_t k = 0; k < all->count; k++) {
            const struct finding_list one = {.finding = &all->finding[k], .count = 1};
            if (is_about_wire(&all->finding[k])) {
                show_findings_text(&one, answer->branches[i].branch->id, true, page, &found);
            }
        }
    }
    if (found.length > 0) {
        text_printf(text, "\nFindings\n%s", text_string(&found));
    }
    text_done(&found);
}

static void write_loss(const struct wire_answer *answer, const struct wire_branch *wire, struct text *text)
{
    const char *cost = wire->loss_cost_year;
    text_say(text, "\nLoss in the wire: %.2g W", wire->loss_w);
    if (isfinite(wire->loss_kwh_year)) {
        text_say(text, "; in a year %.2g kWh", wire->loss_kwh_year);
    }
    if (isfinite(wire->loss_kwh_year) && cost != NULL) {
        text_say(text, ", %s %s", cost, answer->house->currency);
    }
    text_add(text, "\nAdvisory limit on this branch's drop: ");
    if (isnan(wire->allowed_percent)) {
        text_say(text, "the %s rules have no rows for one\n", rules_word(answer->house->rules));
        return;
    }
    add_allowed(wire, text);
    text_add_char(text, '\n');
}

static void write_branch(const struct wire_answer *answer, bool working, const struct page *page, struct text *text)
{
    const struct wire_branch *wire = &answer->branches[0];
    const struct show_points points = {answer->house, wire};
    text_printf(text, "%s: %s\n\n", wire->branch->id, wire->branch->label);
    if (!wire->solved) {
        text_add(text, wire->known ? "The wire cannot feed this load: there is no voltage at which it could.\n"
                                   : "Wire or length is not known: nothing was solved.\n");
        return;
    }
    show_table_text(&show_point_rows, &points, wire->point_count, page, text);
    if (working) {
        text_add(text, "\nWorking\n");
        show_wire_working(answer->house, wire, text);
    }
    write_loss(answer, wire, text);
}

static void write_studies(const struct wire_answer *answer, const struct page *page, struct text *text)
{
    if (answer->break_count > 0) {
        write_breaks(answer, page, text);
    }
    if (answer->start_count > 0) {
        write_start(answer, page, text);
    }
    if (answer->sizes != NULL) {
        write_sizes(answer, page, text);
    }
    if (answer->longest != NULL) {
        write_longest(answer, page, text);
    }
}

void show_wire_text(const struct wire_answer *answer, bool of_one, bool working, const struct page *page,
                    struct text *text)
{
    write_heading(answer, text);
    if (of_one) {
        write_branch(answer, working, page, text);
        write_studies(answer, page, text);
    } else {
        show_table_text(&show_wire_rows, answer, answer->count, page, text);
        text_add(text, answer->count == 0 ? "This house has no branch.\n" : "");
    }
    write_feeders(answer, page, text);
    write_findings(answer, page, text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}

static void add_residual(struct text *text, const char *what, double value, const char *unit)
{
    text_printf(text, "  %-44s %.0e%s\n", what, value, unit);
}

void show_wire_working(const struct house *house, const struct wire_branch *wire, struct text *text)
{
    const struct wiring *wiring = &wire->wiring;
    const struct wire_solution *solution = &wiring->solution;
    const struct wire_point *worst = &wire->points[wire->worst];
    const bool feet = house_in_feet(house);
    text_printf(text, "  %-44s ", "resistance of one conductor, as warm as it runs");
    text_say(text, "%.4g ohm/%s, %d of them\n",
             feet ? wiring->ohm_per_km * M_PER_FT : wiring->ohm_per_km, /* 1000 ft as 1000 m */
             feet ? "1000 ft" : "km", wire->branch->poles == 3 ? 1 : 2);
    text_printf(text, "  %-44s %d\n", "rounds of the solver", solution->iterations);
    add_residual(text, "current law, largest error at an outlet", solution->kcl_residual_a, " A");
    add_residual(text, "power in less loads and losses, share", solution->power_residual, "");
    text_say(text, "  drop at %s, source less outlet: %.6f %%\n", worst->id, worst->drop_percent);
    text_say(text, "  drop at %s, segment by segment: %.6f %%\n", worst->id, wire->drop_by_segments_percent);
}

/* ------------------------------------------------------------------ programs ------------------------------ */

static const struct show_column answer_columns[] = {
    {SHOW_OBJECT(show_supply_v_rows), SHOW_POINTED(struct wire_answer, assessment, struct assessment)},
    {.key = "branches", SHOW_LIST(show_wire_rows, struct wire_answer, count)},
    {.key = "feeders", SHOW_LIST(feeder_rows, struct wire_answer, feeder_count)},
};

json_t *show_wire_json(const struct wire_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    return show_answer_json("wire", answer->house->name, &rows, answer, NULL);
}

struct table *show_wire_csv(const struct wire_answer *answer, bool of_one)
{
    if (answer->break_count > 0) {
        return show_table(&show_break_rows, SHOW_CSV, answer, answer->break_count);
    }
    if (answer->start_count > 0) {
        return show_table(&show_start_rows, SHOW_CSV, answer, answer->start_count);
    }
    if (answer->sizes != NULL) {
        return show_table(&show_size_rows, SHOW_CSV, answer, answer->size_count);
    }
    if (answer->longest != NULL) {
        return show_table(&show_longest_rows, SHOW_CSV, answer, answer->longest_count);
    }
    if (of_one) {
        const struct show_points points = {answer->house, &answer->branches[0]};
        return show_table(&show_point_rows, SHOW_CSV, &points, points.wire->point_count);
    }
    return show_table(&show_wire_rows, SHOW_CSV, answer, answer->count);
}
