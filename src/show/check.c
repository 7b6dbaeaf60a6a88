/* The answer of `check` in words; as JSON: check_json.c; its rows: check_rows.c. */

#include "ampsum/arena.h"
#include "ampsum/cautions.h"
#include "ampsum/reference.h"
#include "ampsum/service.h"
#include "ampsum/show_check.h"
#include "ampsum/words.h"

/* Is the supply another than the nominal voltage? */
static bool supply_differs(const void *assessment)
{
    const double ratio = ((const struct assessment *)assessment)->options.supply_ratio;
    return ratio > 0 && ratio != 1;
}

static double supply_v(const struct assessment *assessment)
{
    return assessment->house->voltage_v * assessment->options.supply_ratio;
}

static void get_supply_v(const void *assessment, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->figure = supply_v(assessment);
}

static const struct show_column supply_v_columns[] = {
    {.key = "supply_v", .kind = SHOW_FIGURE, .faces = SHOW_JSON, .asked = supply_differs, .get = get_supply_v},
};

const struct show_rows show_supply_v_rows = SHOW_ROWS_OF(supply_v_columns);

static void write_heading(const struct assessment *assessment, const struct page *page, struct text *text)
{
    const struct house *house = assessment->house;
    struct text line = {0};
    text_printf(&line, "%s: ", house->name);
    show_house(house, &line);
    if (supply_differs(assessment)) {
        text_say(&line, "; supply %.1g V line to neutral", supply_v(assessment));
    }
    show_line(page, 0, 0, &line, text);
    reference_missing_add(&line, rules_word(house->rules));
    show_line(page, 0, 0, &line, text);
}

/* `; panel cabin above its breaker` in the line of verdicts, which are of branches; of the house by its demand alone.
 */
static void add_full_panels(const struct check_answer *answer, struct text *line)
{
    for (size_t i = 0; i < answer->house->panel_count && line->length > 0; i++) {
        if (check_panel_need(answer->assessment, i) == CHECK_PANEL_OVER) {
            text_printf(line,
                        i == 0 ? "; the house above its %s by the published methods" : "; panel %s above its breaker",
                        i == 0 ? main_device_word(answer->house) : answer->house->panels[i].id);
        }
    }
}

static void write_verdicts(const struct check_answer *answer, const struct page *page, struct text *text)
{
    static const char *const words[] = {"empty", "with room", "near", "at risk", "over"};
    struct text line = {0};
    bool first = true;
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (answer->verdicts[verdict] > 0) {
            text_printf(&line, "%s%zu %s", first ? "" : ", ", answer->verdicts[verdict], words[verdict]);
            first = false;
        }
    }
    add_full_panels(answer, &line);
    text_add(&line, first ? "No branches yet: a house file takes [branch ID] sections, a house database "
                            "`ampsum add "
                          : ".");
    if (first) {
        text_printf(&line, "%s branch ID key=value`.", show_house_word(page));
    }
    show_line(page, 0, 0, &line, text);
}

void show_legend(const struct check_answer *answer, const char *danger, struct text *text)
{
    const double near_percent = reference_rule_value("near-share", rules_word(answer->house->rules));
    const bool busiest = answer->assessment->options.basis == BASIS_BUSIEST;
    text_say(text,
             "Amperes are planning currents, after the rules' factors. OVER: %s, or a danger %s. AT RISK: more with "
             "everything on. near: over %.1g %% with everything on. room: less.",
             busiest ? "more than the breaker at the busiest minute of the week"
                     : "what was chosen is more than the breaker",
             danger, near_percent);
}

static void write_legend(const struct check_answer *answer, bool bars, const struct page *page, struct text *text)
{
    struct text line = {0};
    show_legend(answer, "below", &line);
    if (bars && answer->house->branch_count > 0) {
        const bool busiest = answer->assessment->options.basis == BASIS_BUSIEST;
        text_printf(&line, " OF RATING: # %s, = with everything on, | where near begins, > beyond the rating.",
                    busiest ? "at the busiest minute" : "as chosen");
    }
    show_line(page, 0, 0, &line, text);
}

/* `demand 84.0 A by the method for existing dwellings (220.83)`; a feeder's by the usual method. */
static void add_demand(const struct check_demand *demand, double current_a, struct text *text)
{
    text_say(text, "%.1f A by %s (%s)", current_a, demand->name, demand->clause);
}

/* What the panel draws at the most by the published method: of a house that stands by the method for such first. */
static void add_panel_demand(const struct check_answer *answer, size_t panel, struct text *text)
{
    if (answer->demand.name == NULL) {
        return;
    }
    text_add(text, "demand ");
    if (panel == 0 && answer->existing.name != NULL) {
        add_demand(&answer->existing, answer->existing.current_a, text);
        text_printf(text, ", since it was built in %d, ", answer->house->built_year);
    }
    add_demand(&answer->demand, panel == 0 ? answer->demand.current_a : answer->assessment->panels[panel].demand_a,
               text);
    text_add(text, "; ");
}

static void write_panels(const struct check_answer *answer, const struct page *page, struct text *text)
{
    const struct assessment *assessment = answer->assessment;
    for (size_t i = 0; i < assessment->house->panel_count; i++) {
        const struct panel *panel = &assessment->house->panels[i];
        const struct panel_figures *figures = &assessment->panels[i].all;
        struct text line = {0};
        text_printf(&line, "Panel %s: ", panel->id);
        add_panel_demand(answer, i, &line);
        text_printf(&line, "current with everything on%s: ", supply_differs(assessment) ? ", at nominal voltage" : "");
        for (size_t leg = 0; leg < 3; leg++) {
            if ((panel->legs & (1u << leg)) != 0) {
                text_say(&line, "leg %s %.1f A, ", legs_word(1u << leg), figures->leg_current_a[leg]);
            }
        }
        text_say(&line, "neutral %.1f A; %s %.1g A.", figures->neutral_a,
                 i == 0 ? main_device_word(assessment->house) : "breaker", panel->breaker_a);
        show_line(page, 0, 2, &line, text);
    }
}

/* All findings in full, or one line a fact; returns how many notes stand nowhere then. */
static size_t write_list(const struct finding_list *list, const char *where, bool full, const struct page *page,
                         struct text *text)
{
    if (full) {
        show_findings_text(list, where, true, page, text);
    }
    return full ? 0 : show_facts_text(list, where, page, text);
}

/* The worst branches first, then the panels. */
static void write_findings(const struct check_answer *answer, bool full, const struct page *page, struct text *text)
{
    const struct assessment *assessment = answer->assessment;
    const struct house *house = assessment->house;
    const size_t serious = assess_count(assessment, SEVERITY_DANGER) + assess_count(assessment, SEVERITY_WARNING);
    struct arena *arena = arena_new();
    const size_t *order = check_worst_first(answer, arena);
    const bool any = serious + (full ? assess_count(assessment, SEVERITY_NOTE) : 0) > 0;
    size_t notes = 0;
    text_add(text, any ? "\nWhat exceeds what\n" : "");
    for (size_t i = 0; i < house->branch_count; i++) {
        notes += write_list(&assessment->branches[order[i]].findings, house->branches[order[i]].id, full, page, text);
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        struct text where = {0};
        text_printf(&where, "panel %s", house->panels[i].id);
        notes += write_list(&assessment->panels[i].findings, text_string(&where), full, page, text);
        text_done(&where);
    }
    if (notes > 0) {
        text_printf(text, "%s%zu %s: in full with --notes\n", any ? "  " : "\n", notes, notes == 1 ? "note" : "notes");
    }
    arena_free(arena);
}

/* `0.4 A of its 20 A is left`, or `Nothing of its 20 A is left`. */
static void add_left(const struct check_answer *answer, size_t branch, struct text *text)
{
    const double left_a = check_left_a(answer, branch);
    if (left_a > 0) {
        text_say(text, "%.1f A", left_a);
    } else {
        text_add(text, "Nothing");
    }
    text_say(text, " of its %.1g A is left", answer->house->branches[branch].breaker_a);
}

void show_check_left(const struct check_answer *answer, size_t branch, struct text *text)
{
    const enum verdict verdict = answer->assessment->branches[branch].verdict;
    if (verdict == VERDICT_NEAR || verdict == VERDICT_OK) {
        add_left(answer, branch, text);
        text_add(text, verdict != VERDICT_NEAR             ? "."
                       : check_takes_plugs(answer, branch) ? ": ask before plugging in more."
                                                           : ": ask before wiring more to it.");
    } else if (verdict == VERDICT_EMPTY) {
        text_add(text, "Nothing is connected here.");
    }
}

/* A line and the command that says more, on a line of its own where both do not fit: it is to be copied whole. */
static void write_with_command(struct text *line, struct text *command, const struct page *page, struct text *text)
{
    const bool fits = words_columns(text_string(line)) + words_columns(text_string(command)) + 3 <= page->width;
    text_add(text, "  ");
    show_wrap(page, 10, text_string(line), text);
    if (fits) {
        text->bytes[text->length - 1] = ' '; /* the end of the line */
        text_add(text, text_string(command));
    } else {
        text_printf(text, "          %s", text_string(command));
    }
    text_add_char(text, '\n');
    text_done(line);
    text_done(command);
}

/* What helps on a branch that is over or at risk. */
static const char *remedy(const struct check_answer *answer, size_t branch)
{
    const bool over = answer->assessment->branches[branch].verdict == VERDICT_OVER;
    switch (check_cause_of(answer, branch)) {
    case CHECK_TOGETHER:
        return check_danger_besides(answer, branch)
                   ? "not all together, and another danger besides for a licensed electrician; which loads:"
                   : "not all together; which of them:";
    case CHECK_ALONE:
        return "its one load is too much for it; why:";
    case CHECK_OTHERWISE:
        break;
    }
    return over ? "whatever is on; ask a licensed electrician; more of it:" : "ask a licensed electrician; why:";
}

/* Over or at risk: by what hangs there together, or by something else, which a sum does not change. */
static void write_too_much(const struct check_answer *answer, size_t branch, const struct page *page, struct text *text)
{
    const char *id = answer->house->branches[branch].id;
    const bool together = check_cause_of(answer, branch) == CHECK_TOGETHER;
    struct text line = {0};
    struct text command = {0};
    text_printf(&line, "%s %s: %s", show_verdict(answer->assessment->branches[branch].verdict), id,
                remedy(answer, branch));
    text_printf(&command, "ampsum %s %s %s", together ? "combos" : "branch", show_house_word(page), id);
    write_with_command(&line, &command, page, text);
}

/* What to do on one branch, on a terminal; nothing where there is nothing to do. */
static void write_to_do(const struct check_answer *answer, size_t branch, const struct page *page, struct text *text)
{
    const enum verdict verdict = answer->assessment->branches[branch].verdict;
    struct text line = {0};
    if (verdict >= VERDICT_AT_RISK) {
        write_too_much(answer, branch, page, text);
    } else if (verdict == VERDICT_NEAR) {
        text_printf(&line, "%s %s: ", show_verdict(verdict), answer->house->branches[branch].id);
        show_check_left(answer, branch, &line);
        show_line(page, 2, 10, &line, text);
    }
}

/* The command that finds moves for all of them. */
static void write_moves(const struct page *page, struct text *text)
{
    struct text line = {0};
    struct text command = {0};
    text_add(&line, "What could move:");
    text_printf(&command, "ampsum settle %s", show_house_word(page));
    write_with_command(&line, &command, page, text);
}

const char *show_check_besides(const struct check_answer *answer, size_t branch)
{
    return check_danger_besides(answer, branch)
               ? " Another danger besides, which less load does not end: ask a licensed electrician."
               : "";
}

void show_check_panel(const struct check_answer *answer, size_t panel, struct text *text)
{
    const struct panel *what = &answer->house->panels[panel];
    switch (check_panel_need(answer->assessment, panel)) {
    case CHECK_PANEL_NOTHING:
        return;
    case CHECK_PANEL_LOOK:
        text_printf(text, "Panel %s: its %s is for a licensed electrician to look at.", what->id,
                    panel == 0 ? main_device_word(answer->house) : "feeder");
        return;
    case CHECK_PANEL_OVER:
        break;
    }
    if (panel == 0) {
        text_printf(text,
                    "Panel %s: by every published method that applies the house is more than its %s carries; the "
                    "meter's highest demand tells more, and a licensed electrician.",
                    what->id, main_device_word(answer->house));
    } else {
        text_say(text,
                 "Panel %s: its branches together are more than its %.1g A breaker, whatever each has left; fewer of "
                 "them at once, and ask a licensed electrician.",
                 what->id, what->breaker_a);
    }
}

static void write_panel_needs(const struct check_answer *answer, const struct page *page, struct text *text)
{
    for (size_t i = 0; i < answer->house->panel_count; i++) {
        struct text line = {0};
        show_check_panel(answer, i, &line);
        show_line(page, 2, 10, &line, text);
    }
}

/* `6.6 A` of those with room whose panels have it too, or of those in a panel that is full. */
static void write_room(const struct check_answer *answer, const size_t *order, bool full, const struct page *page,
                       struct text *text)
{
    struct text line = {0};
    for (size_t i = 0; i < answer->house->branch_count; i++) {
        const size_t panel = check_full_panel(answer->assessment, order[i]);
        const bool is_full = panel != NO_INDEX && panel != 0;
        if (answer->assessment->branches[order[i]].verdict == VERDICT_OK && is_full == full) {
            text_add(&line, line.length > 0 ? ", "
                            : full          ? "room on the branch, none in its panel: "
                                            : "room is left on ");
            text_say(&line, "%s %.1f A", answer->house->branches[order[i]].id, check_left_a(answer, order[i]));
        }
    }
    text_add(&line, line.length > 0 ? "." : "");
    show_line(page, 2, 10, &line, text);
}

static void write_left(const struct check_answer *answer, const struct page *page, struct text *text)
{
    struct arena *arena = arena_new();
    const size_t *order = check_worst_first(answer, arena);
    const size_t grave = answer->verdicts[VERDICT_OVER] + answer->verdicts[VERDICT_AT_RISK];
    text_add(text, answer->house->branch_count > 0 ? "\nWhat to do, and what is left with everything on\n" : "");
    for (size_t i = 0; i < grave; i++) {
        write_to_do(answer, order[i], page, text);
    }
    if (check_may_move(answer)) {
        write_moves(page, text);
    }
    write_panel_needs(answer, page, text);
    for (size_t i = grave; i < answer->house->branch_count; i++) {
        write_to_do(answer, order[i], page, text);
    }
    write_room(answer, order, false, page, text);
    write_room(answer, order, true, page, text);
    arena_free(arena);
}

static void write_said(const struct said *said, const struct page *page, struct text *text)
{
    text_add(text, said->count > 0 ? "\nTaken, since the house does not say\n" : "");
    for (size_t i = 0; i < said->count; i++) {
        text_add(text, "  ");
        show_wrap(page, 2, said->line[i], text);
    }
}

/* Energy and cost of the answer's bill, as a sentence. */
static void show_check_energy(const struct check_answer *answer, struct text *text)
{
    const struct energy_bill *bill = answer->bill;
    text_say(text, "Energy: %.1f kWh a day on average over the year", bill->kwh_day);
    if (bill->cost_day != NULL) {
        text_say(text, ", %s %s a day, %s %s a year, standing charge and tax included", bill->cost_day,
                 answer->house->currency, bill->cost_year, answer->house->currency);
    } else {
        text_add(text, "; no tariff, so no price");
    }
    text_add_char(text, '.');
}

static void write_energy(const struct check_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    show_check_energy(answer, &line);
    show_line(page, 0, 2, &line, text);
}

/* The worst branches first. */
static void write_rows(const struct check_answer *answer, const struct page *page, struct text *text)
{
    struct arena *arena = arena_new();
    struct check_answer ranked = *answer;
    ranked.order = check_worst_first(answer, arena);
    show_table_text(&show_check_rows, &ranked, answer->house->branch_count, page, text);
    arena_free(arena);
}

void show_check_text(const struct check_answer *answer, const struct page *page, bool summary, bool notes,
                     struct text *text)
{
    write_heading(answer->assessment, page, text);
    write_verdicts(answer, page, text);
    text_add_char(text, '\n');
    if (!summary && answer->house->branch_count > 0) {
        write_rows(answer, page, text);
        text_add_char(text, '\n');
    }
    write_legend(answer, !summary, page, text);
    if (!summary) {
        write_findings(answer, notes, page, text);
        write_left(answer, page, text);
        write_said(&answer->assessment->said, page, text);
    }
    text_add_char(text, '\n');
    write_panels(answer, page, text);
    if (!summary) {
        write_energy(answer, page, text);
    }
    text_add_char(text, '\n');
    const char *cautions[CAUTIONS_MOST + 1];
    cautions_of(answer->assessment, NO_INDEX, cautions);
    show_cautions_text(page, cautions, text);
}
