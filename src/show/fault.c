/* The answer of `fault` in words; its rows and its JSON: fault_rows.c. */
#include <ctype.h>
#include <math.h>

#include "ampsum/reference_fault.h"
#include "ampsum/show_fault.h"

const char *const *show_fault_notes(const struct fault_answer *answer)
{
    static const char *const untold[] = {
        "Of fuses no limit is held here: whether one opens on these currents, and how soon, is not told.", NULL};
    return answer->untold ? untold : NULL;
}

/* ------------------------------------------------------------------ words --------------------------------- */

static void add_figure(struct text *text, double value, int decimals, const char *unit)
{
    text_add_rounded(text, value, decimals);
    text_printf(text, " %s", unit);
}

void show_fault_supply(const struct fault_answer *answer, struct text *text)
{
    const struct fault_study *study = answer->study;
    if (study->by_loop) {
        text_printf(text, "Earthing %s", study->earthing == NULL ? "not given" : study->earthing->earthing);
        text_add(text, ", loop outside the house ");
        if (isfinite(study->ze_ohm)) {
            add_figure(text, study->ze_ohm, 3, "Ω");
            text_add(text, study->ze_assumed ? " (taken as usual)" : "");
        } else {
            text_add(text, "not known");
        }
        text_add(text, ", ");
    }
    text_add(text, study->by_loop ? "prospective current " : "Current available at the main panel ");
    if (isfinite(study->pscc_a)) {
        add_figure(text, study->pscc_a, 0, "A");
        text_add(text, study->pscc_assumed ? " (taken, not declared)" : "");
    } else {
        text_add(text, study->by_loop ? "not known" : "unknown: ask the utility, or say --fault-at-panel A");
    }
    text_add_char(text, '.');
}

/* `At 2 of 14 points only the residual current device opens in time, at 12 of 14 points the breaker opens at once.` */
static void add_opens(const struct fault_tally *tally, struct text *text)
{
    const struct {
        size_t count;
        const char *words;
    } rows[] = {
        {tally->opens[FAULT_OPENS_LATE], "nothing opens in time"},
        {tally->opens[FAULT_OPENS_RCD] - tally->beside_fuse, "only the residual current device opens in time"},
        {tally->beside_fuse, "the residual current device opens in time (of the fuse no time is known)"},
        {tally->opens[FAULT_OPENS_BREAKER], "the breaker opens at once"},
        {tally->opens[FAULT_OPENS_UNKNOWN], "it is not known what opens"},
    };
    const char *before = "At ";
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (rows[i].count > 0) {
            text_add(text, before);
            if (rows[i].count == tally->points) {
                text_printf(text, "all %zu", rows[i].count);
            } else {
                text_printf(text, "%zu of %zu", rows[i].count, tally->points);
            }
            text_printf(text, " %s %s", tally->points == 1 ? "point" : "points", rows[i].words);
            before = ", at ";
        }
    }
    text_add(text, ". ");
}

/* Where the current is least against the rating. */
static void add_least(const struct fault_answer *answer, const struct fault_row *row, struct text *text)
{
    const size_t outlet = row->point->outlet;
    text_printf(text, "The least current is %s", row->point->times_breaker < 1 ? "only " : "");
    text_add_rounded(text, row->point->times_breaker, row->point->times_breaker < 1 ? 2 : 1);
    text_printf(text, " times the rating of its device, on %s", answer->house->branches[row->branch].label);
    if (outlet != NO_INDEX) {
        text_printf(text, " at %s", house_row_name(answer->house, KIND_OUTLET, outlet));
    }
    text_add_char(text, '.');
}

void show_fault_plain(const struct fault_answer *answer, struct text *text)
{
    const struct fault_tally tally = fault_tally(answer);
    if (tally.least == NULL) {
        text_add(text, "Whether a device would open can't be said: ");
        text_add(text, answer->study->by_loop
                           ? "a licensed electrician measures the loop (Ze) and the fault current, or the supplier "
                             "declares them."
                           : "ask the utility for the fault current at the service, or for the size of its "
                             "transformer.");
        return;
    }
    if (answer->study->by_loop) {
        add_opens(&tally, text);
    }
    if (tally.perish > 0) {
        text_printf(text, "At %zu the wire would not endure it. ", tally.perish);
    }
    add_least(answer, tally.least, text);
    text_add(text, answer->study->by_loop ? ""
                                          : " The more, the sooner it opens; of household breakers no limit is "
                                            "published.");
}

static void write_findings(const struct fault_answer *answer, const struct page *page, struct text *text)
{
    struct text found = {0};
    for (size_t i = 0; i < answer->panel_count; i++) {
        const size_t panel = answer->panels[i];
        show_findings_text(&answer->study->panels[panel].findings, answer->house->panels[panel].id, true, page, &found);
    }
    for (size_t i = 0; i < answer->branch_count; i++) {
        const size_t branch = answer->branches[i];
        show_findings_text(&answer->study->branches[branch].findings, answer->house->branches[branch].id, true, page,
                           &found);
    }
    if (found.length > 0) {
        text_printf(text, "\nFindings\n%s", text_string(&found));
    }
    text_done(&found);
}

/* How the columns are to be read, and what the figures leave out. */
static void write_key(const struct fault_answer *answer, bool longest, const struct page *page, struct text *text)
{
    struct text line = {0};
    const struct fault_study *study = answer->study;
    if (longest) {
        text_add(&line,
                 "OPENS UP TO: the run at which the device would still open at once; of a ring all of its cable.");
    } else {
        text_add(&line,
                 "LEAST: hot wire, weakest supply, to the protective conductor: does the device open? MOST: cold "
                 "wire, strongest supply: can it break it? x RATING: the least over the device's rating. Arcs "
                 "are not in it.");
    }
    if (!study->by_loop) {
        text_add(&line,
                 " No instantaneous limit is published for household breakers: the multiple is what can be said.");
    }
    show_line(page, 0, 4, &line, text);
}

/* True where no row has a current, neither the least nor the most. */
static bool all_unknown(const struct fault_answer *answer)
{
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct fault_point *point = answer->rows[i].point;
        if (point != NULL && (isfinite(point->fault_min_a) || isfinite(point->fault_max_a))) {
            return false;
        }
    }
    return answer->row_count > 0;
}

/* Nothing is known of the supply: what to ask for, and where it is said, in place of a table of dashes. */
static void write_unknown(const struct fault_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    show_fault_plain(answer, &line);
    show_line(page, 0, 0, &line, text);
    show_wrap(
        page, 0,
        answer->study->by_loop
            ? "Then say it in the section [house]: `ze` the loop in ohm, `pscc` the fault current in A, "
              "`earthing` its kind."
            : "Then say it here, --fault-at-panel A, or in the section [house]: `pscc` the fault current in A, or "
              "`transformer` its size in kVA.",
        text);
}

static void write_table(const struct fault_answer *answer, bool longest, const struct page *page, struct text *text)
{
    struct text line = {0};
    struct table *table = longest ? show_table(&show_fault_longest_rows, SHOW_TERMINAL, answer, answer->branch_count)
                                  : show_table(&show_fault_rows, SHOW_TERMINAL, answer, answer->row_count);
    if (!longest && table_count(table) > 0) {
        show_fault_plain(answer, &line);
        show_line(page, 0, 0, &line, text);
        text_add_char(text, '\n');
    }
    table_write_terminal(table, page->width, page->utf8, text);
    text_add(text, table_count(table) == 0 ? "No branch.\n" : "\n");
    table_free(table);
    write_key(answer, longest, page, text);
}

void show_fault_text(const struct fault_answer *answer, bool longest, const struct page *page, struct text *text)
{
    struct text line = {0};
    struct text supply = {0};
    show_fault_supply(answer, &supply);
    text_printf(&line, "%s: %c%s", answer->house->name, tolower(text_string(&supply)[0]), text_string(&supply) + 1);
    show_line(page, 0, 4, &line, text);
    text_done(&supply);
    text_add_char(text, '\n');
    if (all_unknown(answer) && !(longest && fault_knows_longest(answer))) {
        write_unknown(answer, page, text);
    } else {
        write_table(answer, longest, page, text);
    }
    write_findings(answer, page, text);
}

/* ------------------------------------------------------------------ working ------------------------------- */

static void add_conductor(struct text *text, const char *sign, const struct ref_conductor *conductor, double metres,
                          double cold_c)
{
    const double milliohm_per_m = reference_resistance_ohm_per_km(conductor, cold_c);
    text_printf(text, "%s = %s: ", sign, conductor->size);
    if (isnan(milliohm_per_m)) {
        text_add(text, "no resistance is published");
        return;
    }
    text_rounded(text, "", metres, 2, " m × ");
    text_rounded(text, "", milliohm_per_m, 3, " mΩ/m = ");
    text_rounded(text, "", milliohm_per_m * metres / 1000, 4, " Ω");
}

static void write_conductors(const struct fault_answer *answer, const struct fault_row *row, const struct page *page,
                             struct text *text)
{
    const struct fault_study *study = answer->study;
    const struct ref_conductor *const pair[] = {answer->house->branches[row->branch].wire.conductor,
                                                study->branches[row->branch].protective};
    static const char *const signs[] = {"line R1", "protective conductor R2"};
    for (size_t i = 0; i < 2; i++) {
        if (pair[i] != NULL) {
            struct text line = {0};
            add_conductor(&line, signs[i], pair[i], row->point->joined_m, study->cold_c);
            show_line(page, 2, 6, &line, text);
        }
    }
}

static void write_loop(const struct fault_answer *answer, const struct fault_row *row, const struct page *page,
                       struct text *text)
{
    const struct fault_study *study = answer->study;
    const struct fault_branch *result = &study->branches[row->branch];
    const struct fault_point *point = row->point;
    struct text line = {0};
    text_rounded(&line, "Zs = Ze + ct × (R1 + R2, with the feeder's) = ", study->ze_ohm, 3, " Ω + ");
    text_rounded(&line, "", result->hot_factor, 2, " × ");
    text_rounded(&line, "", point->zs_cold_ohm - study->ze_ohm, 4, " Ω = ");
    text_rounded(&line, "", point->zs_hot_ohm, 4, " Ω");
    show_line(page, 2, 6, &line, text);
    text_rounded(&line, "I = Cmin × U0 / Zs = ", reference_rule_value("fault-voltage-least", study->rules), 2, " × ");
    text_rounded(&line, "", answer->house->voltage_v, 1, " V / ");
    text_rounded(&line, "", point->zs_hot_ohm, 4, " Ω = ");
    add_figure(&line, point->fault_min_a, 1, "A");
    show_line(page, 2, 6, &line, text);
    if (isfinite(result->zs_max_ohm)) {
        text_add(&line, "Zs at most Cmin × U0 / Ia, Ia = ");
        add_figure(&line, result->instant_a, 0, "A");
        text_rounded(&line, ": ", result->zs_max_ohm, 4, " Ω");
        show_line(page, 2, 6, &line, text);
    }
    text_done(&line);
}

static void write_available(const struct fault_answer *answer, const struct fault_row *row, const struct page *page,
                            struct text *text)
{
    const struct fault_point *point = row->point;
    const double before_a = answer->study->branches[row->branch].isc_max_a;
    struct text line = {0};
    text_add(&line, "Point to point from ");
    add_figure(&line, before_a, 0, "A");
    text_rounded(&line, ": f = L × I × legs / (C × V) = ", before_a / point->fault_max_a - 1, 3, ", I / (1 + f) = ");
    add_figure(&line, point->fault_max_a, 1, "A");
    show_line(page, 2, 6, &line, text);
    text_add(&line, "the other way, resistances added to V / I of the panel: ");
    add_figure(&line, point->second_max_a, 1, "A");
    text_add(&line,
             fault_ways_agree(answer, point) ? "; the two ways agree" : "; the two ways differ, the first is shown");
    show_line(page, 2, 6, &line, text);
}

static void write_least(const struct fault_answer *answer, const struct fault_row *row, const struct page *page,
                        struct text *text)
{
    struct text line = {0};
    text_add(&line, "least, line to protective conductor, hot: ");
    add_figure(&line, row->point->fault_min_a, 1, "A");
    text_rounded(&line, " = ", row->point->times_breaker, 1, " × ");
    add_figure(&line, answer->house->branches[row->branch].breaker_a, 0, "A");
    show_line(page, 2, 6, &line, text);
}

/* By the loop, or from the current available at the panel, of which sizes without a row know the least alone. */
static void write_point(const struct fault_answer *answer, const struct fault_row *row, const struct page *page,
                        struct text *text)
{
    const struct fault_point *point = row->point;
    write_conductors(answer, row, page, text);
    if (answer->study->by_loop ? isfinite(point->zs_hot_ohm) : isfinite(point->fault_min_a)) {
        if (answer->study->by_loop) {
            write_loop(answer, row, page, text);
            return;
        }
        if (isfinite(point->fault_max_a) && isfinite(point->second_max_a)) {
            write_available(answer, row, page, text);
        }
        write_least(answer, row, page, text);
    } else {
        text_add(text, "  the supply's part is not known: no current\n");
    }
}

void show_fault_working(const struct fault_answer *answer, const struct page *page, struct text *text)
{
    text_add(text, "\nWorking\n");
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct fault_row *row = &answer->rows[i];
        const struct branch *branch = &answer->house->branches[row->branch];
        if (row->point == NULL) {
            text_printf(text, "%s: wire or length is not known\n", branch->id);
            continue;
        }
        const size_t outlet = row->point->outlet;
        text_printf(text, "%s, %s\n", branch->id, outlet == NO_INDEX ? "end" : answer->house->outlets[outlet].id);
        write_point(answer, row, page, text);
    }
}
