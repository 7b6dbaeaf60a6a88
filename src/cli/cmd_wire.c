#include <math.h>
#include <string.h>

#include "wire_study.h"
#include "wire_view.h"

static const char *const examples[] = {"ampsum wire demo-house/uk.ini",
                                       "ampsum wire demo-house/uk.ini ring-down --break all",
                                       "ampsum wire demo-house/us.ini bedroom --size", NULL};

static const struct option_spec options[] = {
    OPTIONS_BASIS,
    OPTION_SUPPLY,
    {"break", '\0', "OUTLET|panel|all", "a ring with the piece broken that ends at this outlet (panel: the way back)"},
    {"start", '\0', "APPLIANCE", "voltages while this motor starts, beside the running ones"},
    {"size", '\0', NULL, "drop, loss and ampacity with each listed size of this metal"},
    {"longest", '\0', NULL, "the run at which each size reaches the advisory drop"},
    {"working", '\0', NULL, "residuals of the solution, and the drop in two ways"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Everything is on, of each group the largest, unless --scene or --on says otherwise. Drop counts from the panel, "
    "in percent of nominal. The loss of a year follows `use` and `hours`: an appliance draws its mean, and what cycles "
    "is taken as cycling independently. Its money is at the branch's own mean price per kWh.",
    NULL};

/* The solution of all the branches, or of one, and what goes with it. */
struct answer {
    struct invocation *invocation;
    struct assessment *assessment;
    struct energy_bill bill;
    struct panel_figures *panels; /* on the basis looked at */
    size_t only;                  /* one branch, or NO_INDEX */
};

/* ------------------------------------------------------------------ feeders ------------------------------- */

static double feeder_percent(const struct answer *answer, size_t panel)
{
    const struct house *house = answer->invocation->house;
    return feeder_drop_percent(house, panel, &answer->panels[panel], wire_ohm_per_km(house, house->panels[panel].wire));
}

static json_t *feeders_json(const struct answer *answer)
{
    json_t *array = json_array();
    const struct house *house = answer->invocation->house;
    for (size_t panel = 1; panel < house->panel_count; panel++) {
        json_t *object = json_object();
        json_object_set_new(object, "panel", json_text(house->panels[panel].id));
        json_object_set_new(object, "current_a", json_figure(feeder_current_a(&answer->panels[panel])));
        json_object_set_new(object, "drop_percent", json_figure(feeder_percent(answer, panel)));
        json_array_append_new(array, object);
    }
    return array;
}

static void write_feeders(const struct answer *answer)
{
    struct invocation *invocation = answer->invocation;
    const struct house *house = invocation->house;
    struct table *table = table_new();
    table_column(table, "FEEDER OF", "panel", TABLE_LEFT, 20);
    table_column(table, "LARGEST LEG A", "current_a", TABLE_RIGHT, 0);
    table_column(table, "DROP %", "drop_percent", TABLE_RIGHT, 0);
    for (size_t panel = 1; panel < house->panel_count; panel++) {
        table_row(table);
        table_text(table, house->panels[panel].id);
        table_number(table, feeder_current_a(&answer->panels[panel]), 2);
        table_number(table, feeder_percent(answer, panel), 2);
    }
    if (table_count(table) > 0) {
        text_add_char(&invocation->out, '\n');
        invocation_table(invocation, table);
    }
    table_free(table);
}

/* ------------------------------------------------------------------ whole house --------------------------- */

static json_t *branch_json(const struct answer *answer, struct wire_case *wire_case)
{
    json_t *branch = wire_branch_json(wire_case);
    const double loss_kwh = wire_year_kwh(wire_case);
    json_object_set_new(branch, "loss_kwh_year", json_figure(loss_kwh));
    json_object_set_new(branch, "loss_cost_year", json_text(wire_year_cost(wire_case, &answer->bill, loss_kwh)));
    return branch;
}

/* Runs `each` on the branches asked for. */
static void for_branches(struct answer *answer, void (*each)(struct answer *, struct wire_case *, void *),
                         void *context)
{
    for (size_t i = 0; i < answer->invocation->house->branch_count; i++) {
        if (answer->only == NO_INDEX || answer->only == i) {
            struct wire_case wire_case;
            wire_case_init(&wire_case, answer->invocation, answer->assessment, i);
            each(answer, &wire_case, context);
            wire_case_done(&wire_case);
        }
    }
}

static void add_branch_json(struct answer *answer, struct wire_case *wire_case, void *context)
{
    json_array_append_new(context, branch_json(answer, wire_case));
}

static void add_branch_row(struct answer *answer, struct wire_case *wire_case, void *context)
{
    struct table *table = context;
    const struct wiring *wiring = &wire_case->wiring;
    const bool solved = wire_case->solved;
    const size_t worst = solved ? wire_worst_node(wiring) : 0;
    table_row(table);
    table_text(table, wire_case->branch->id);
    table_text(table, solved              ? wire_node_id(wiring, worst)
                      : !wire_case->known ? "wire or length unknown"
                                          : "cannot be fed");
    table_number(table, solved ? wiring_voltage_v(wiring, worst) : (double)NAN, 2);
    table_number(table, solved ? wiring_drop_percent(wiring, worst) : (double)NAN, 2);
    table_number(table, branch_drop_allowed_percent(answer->assessment, wire_case->index), 2);
    table_number(table, solved ? wiring_largest_current_a(wiring) : (double)NAN, 2);
    table_number(table, solved ? wiring_loss_w(wiring) : (double)NAN, 2);
    const double loss_kwh = wire_year_kwh(wire_case);
    const char *cost = wire_year_cost(wire_case, &answer->bill, loss_kwh);
    table_number(table, loss_kwh, 2);
    table_text(table, cost);
}

static struct table *branches_table(struct answer *answer)
{
    struct table *table = table_new();
    table_column(table, "BRANCH", "branch", TABLE_LEFT, 20);
    table_column(table, "WORST OUTLET", "worst_outlet", TABLE_LEFT, 22);
    table_column(table, "VOLT", "voltage_v", TABLE_RIGHT, 0);
    table_column(table, "DROP %", "drop_percent", TABLE_RIGHT, 0);
    table_column(table, "ADVISORY %", "advisory_percent", TABLE_RIGHT, 0);
    table_column(table, "LARGEST A", "current_a", TABLE_RIGHT, 0);
    table_column(table, "LOSS W", "loss_w", TABLE_RIGHT, 0);
    table_column(table, "KWH/YEAR", "loss_kwh_year", TABLE_RIGHT, 0);
    table_column(table, "COST/YEAR", "loss_cost_year", TABLE_RIGHT, 0);
    for_branches(answer, add_branch_row, table);
    return table;
}

/* ------------------------------------------------------------------ words --------------------------------- */

static void write_heading(const struct answer *answer)
{
    struct text *text = &answer->invocation->out;
    const struct house *house = answer->invocation->house;
    const struct assess_options *choice = &answer->assessment->options;
    text_printf(text, "%s: voltage in the wire, ", house->name);
    text_add(text, choice->basis == BASIS_BUSIEST ? "everything on"
                   : choice->basis == BASIS_SCENE ? "scene "
                                                  : "the chosen appliances on");
    text_add(text, choice->basis == BASIS_SCENE ? house->scenes[choice->scene].id : "");
    if (choice->supply_ratio < 1 || choice->supply_ratio > 1) {
        text_add(text, ", supply ");
        text_add_rounded(text, 100 * choice->supply_ratio, 1);
        text_add(text, " % of nominal");
    }
    text_add(text, "\n\n");
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

static void write_findings(const struct answer *answer)
{
    const struct house *house = answer->invocation->house;
    struct text found = {0};
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct finding_list *all = &answer->assessment->branches[i].findings;
        for (size_t k = 0; k < all->count && (answer->only == NO_INDEX || answer->only == i); k++) {
            const struct finding_list one = {.finding = &all->finding[k], .count = 1};
            if (is_about_wire(&all->finding[k])) {
                show_findings_text(&one, house->branches[i].id, true, &answer->invocation->page, &found);
            }
        }
    }
    if (found.length > 0) {
        text_printf(&answer->invocation->out, "\nFindings\n%s", text_string(&found));
    }
    text_done(&found);
}

static bool wire_is_known(const struct answer *answer, size_t branch)
{
    struct wire_case wire_case;
    wire_case_init(&wire_case, answer->invocation, answer->assessment, branch);
    const bool known = wire_case.known;
    wire_case_done(&wire_case);
    return known;
}

static void write_end(const struct answer *answer)
{
    struct invocation *invocation = answer->invocation;
    write_findings(answer);
    text_add_char(&invocation->out, '\n');
    show_cautions_text(&invocation->page, NULL, &invocation->out);
    struct text next = {0};
    size_t shown = answer->only == NO_INDEX ? 0 : answer->only;
    while (shown < invocation->house->branch_count && !wire_is_known(answer, shown)) {
        shown++;
    }
    if (shown < invocation->house->branch_count && !option_given(invocation, "size")) {
        text_printf(&next, "ampsum wire HOUSE %s --size", invocation->house->branches[shown].id);
    } else {
        text_add(&next, "ampsum check HOUSE");
    }
    const char *lines[] = {text_string(&next), "ampsum wire --help", NULL};
    invocation_next(invocation, lines);
    text_done(&next);
}

static void write_house(struct answer *answer)
{
    struct invocation *invocation = answer->invocation;
    write_heading(answer);
    struct table *table = branches_table(answer);
    invocation_table(invocation, table);
    text_add(&invocation->out, table_count(table) == 0 ? "This house has no branch.\n" : "");
    table_free(table);
    write_feeders(answer);
    write_end(answer);
}

static void write_loss(const struct answer *answer, struct wire_case *wire_case)
{
    struct text *text = &answer->invocation->out;
    text_add(text, "\nLoss in the wire: ");
    text_add_rounded(text, wiring_loss_w(&wire_case->wiring), 2);
    text_add(text, " W");
    const double loss_kwh = wire_year_kwh(wire_case);
    const char *cost = wire_year_cost(wire_case, &answer->bill, loss_kwh);
    if (isfinite(loss_kwh)) {
        text_add(text, "; in a year ");
        text_add_rounded(text, loss_kwh, 2);
        text_add(text, " kWh");
        text_printf(text, "%s%s%s%s", cost == NULL ? "" : ", ", cost == NULL ? "" : cost, cost == NULL ? "" : " ",
                    cost == NULL ? "" : answer->invocation->house->currency);
    }
    text_add(text, "\nAdvisory limit on this branch's drop: ");
    text_add_rounded(text, branch_drop_allowed_percent(answer->assessment, wire_case->index), 2);
    text_add(text, " %\n");
}

/* Each line of the notes, broken to the page. */
static void write_notes(const struct page *page, const char *notes, struct text *out)
{
    while (*notes != '\0') {
        const size_t length = strcspn(notes, "\n");
        struct text line = {0};
        text_add_length(&line, notes, length);
        show_wrap(page, 0, text_string(&line), out);
        text_done(&line);
        notes += length + (notes[length] == '\n');
    }
}

static void write_branch(struct answer *answer, struct wire_case *wire_case, const struct wire_study *studies,
                         size_t study_count)
{
    struct invocation *invocation = answer->invocation;
    write_heading(answer);
    text_printf(&invocation->out, "%s: %s\n\n", wire_case->branch->id, wire_case->branch->label);
    if (!wire_case->solved) {
        text_add(&invocation->out, wire_case->known
                                       ? "The wire cannot feed this load: there is no voltage at which it could.\n"
                                       : "Wire or length is not known: nothing was solved.\n");
    } else {
        struct table *table = wire_outlet_table(wire_case);
        invocation_table(invocation, table);
        table_free(table);
        if (option_given(invocation, "working")) {
            text_add(&invocation->out, "\nWorking\n");
            wire_working(wire_case, &invocation->out);
        }
        write_loss(answer, wire_case);
    }
    for (size_t i = 0; i < study_count; i++) {
        text_add_char(&invocation->out, '\n');
        invocation_table(invocation, studies[i].table);
        write_notes(&invocation->page, text_string(&studies[i].notes), &invocation->out);
    }
    write_feeders(answer);
    write_end(answer);
}

/* ------------------------------------------------------------------ one branch ---------------------------- */

enum { STUDIES_MOST = 4 };

/* The questions asked beside the plain solution. False with the error set. */
static bool run_studies(struct wire_case *wire_case, size_t starting, struct wire_study *studies, size_t *ret_count)
{
    struct invocation *invocation = wire_case->invocation;
    const char *broken = option_value(invocation, "break");
    const bool asked = broken != NULL || starting != NO_INDEX || option_given(invocation, "size") ||
                       option_given(invocation, "longest");
    *ret_count = 0;
    if (asked && !wire_case->known) {
        error_set(&invocation->error, ERROR_INPUT, "%s: wire or length is not known, so nothing can be solved",
                  wire_case->branch->id);
        return false;
    }
    if (broken != NULL && !wire_study_break(wire_case, broken, &studies[(*ret_count)++])) {
        *ret_count = 0;
        return false;
    }
    if (starting != NO_INDEX && !wire_study_start(wire_case, starting, &studies[(*ret_count)++])) {
        (*ret_count)--;
        return false;
    }
    if (option_given(invocation, "size")) {
        wire_study_size(wire_case, &studies[(*ret_count)++]);
    }
    if (option_given(invocation, "longest")) {
        wire_study_longest(wire_case, &studies[(*ret_count)++]);
    }
    return true;
}

static json_t *answer_json(struct answer *answer, struct wire_case *wire_case, struct wire_study *studies,
                           size_t study_count)
{
    json_t *whole = json_answer("wire", answer->invocation->house->name);
    show_supply_json(answer->assessment, whole);
    json_t *branches = json_array();
    if (wire_case == NULL) {
        for_branches(answer, add_branch_json, branches);
    } else {
        json_t *branch = branch_json(answer, wire_case);
        for (size_t i = 0; i < study_count; i++) {
            json_object_set_new(branch, studies[i].key, studies[i].rows);
            studies[i].rows = NULL;
        }
        json_array_append_new(branches, branch);
    }
    json_object_set_new(whole, "branches", branches);
    json_object_set_new(whole, "feeders", feeders_json(answer));
    json_cautions(whole, NULL);
    return whole;
}

static bool run_branch(struct answer *answer, size_t starting)
{
    struct invocation *invocation = answer->invocation;
    struct wire_case wire_case;
    struct wire_study studies[STUDIES_MOST] = {0};
    size_t count = 0;
    wire_case_init(&wire_case, invocation, answer->assessment, answer->only);
    const bool good = run_studies(&wire_case, starting, studies, &count);
    if (good && invocation->format == FORMAT_JSON) {
        json_write(answer_json(answer, &wire_case, studies, count), &invocation->out);
    } else if (good && invocation->format == FORMAT_CSV) {
        struct table *table = count > 0 ? NULL : wire_outlet_table(&wire_case);
        invocation_table(invocation, count > 0 ? studies[0].table : table);
        table_free(table);
    } else if (good) {
        write_branch(answer, &wire_case, studies, count);
    }
    for (size_t i = 0; i < count; i++) {
        wire_study_done(&studies[i]);
    }
    wire_case_done(&wire_case);
    return good;
}

static void run_house(struct answer *answer)
{
    struct invocation *invocation = answer->invocation;
    if (invocation->format == FORMAT_JSON) {
        json_write(answer_json(answer, NULL, NULL, 0), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = branches_table(answer);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_house(answer);
    }
}

/* Which branch, and which appliance starts. False with the error set. */
static bool read_operands(struct invocation *invocation, size_t *ret_branch, size_t *ret_starting)
{
    static const char *const of_one[] = {"break", "size", "longest", "working"};
    const char *start = option_value(invocation, "start");
    *ret_branch = NO_INDEX;
    *ret_starting = NO_INDEX;
    if (invocation->operand_count > 0 &&
        (*ret_branch = find_id(invocation, KIND_BRANCH, invocation->operands[0])) == NO_INDEX) {
        return false;
    }
    if (start != NULL && (*ret_starting = find_id(invocation, KIND_APPLIANCE, start)) == NO_INDEX) {
        return false;
    }
    if (*ret_starting != NO_INDEX && *ret_branch == NO_INDEX) {
        *ret_branch = invocation->house->appliances[*ret_starting].branch;
    }
    for (size_t i = 0; i < sizeof of_one / sizeof *of_one && *ret_branch == NO_INDEX; i++) {
        if (option_given(invocation, of_one[i])) {
            error_set(&invocation->error, ERROR_INPUT, "--%s: of which branch? expected: ampsum wire HOUSE ID --%s",
                      of_one[i], of_one[i]);
            return false;
        }
    }
    return true;
}

static int run(struct invocation *invocation)
{
    struct assess_options choice = {.wires = true, .loads = true};
    struct answer answer = {.invocation = invocation};
    size_t starting = NO_INDEX;
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 1) ||
        !invocation_basis(invocation, &choice) || !read_operands(invocation, &answer.only, &starting)) {
        return 2;
    }
    if (invocation_asks_band(invocation)) {
        return invocation_answer_band(invocation, &choice, answer.only) == 2 ? 2 : 0;
    }
    if (!invocation_supply(invocation, &choice.supply_ratio)) {
        return 2;
    }
    const struct house *house = invocation->house;
    invocation_bill(invocation, house, house->tariff, ENERGY_BRANCHES, &answer.bill);
    answer.assessment = assess_house(house, &choice);
    answer.panels = arena_array(invocation->arena, house->panel_count, sizeof *answer.panels);
    panels_total(house, choice.on, answer.assessment->factors, answer.panels);
    bool good = true;
    if (answer.only == NO_INDEX) {
        run_house(&answer);
    } else {
        good = run_branch(&answer, starting);
    }
    assess_free(answer.assessment);
    return good ? 0 : 2;
}

const struct command command_wire = {
    .name = "wire",
    .operands = "[HOUSE] [ID]",
    .summary = "voltage at each outlet, drop and loss along the cable",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
