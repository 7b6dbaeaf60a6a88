#include "try_view.h"

#include <math.h>
#include <string.h>

#include "ampsum/cautions.h"
#include "ampsum/decide.h"
#include "ampsum/fit.h"
#include "ampsum/show_check.h"

/* The loads that came to a branch, each judged there. */
struct arrivals {
    struct fit *fits;
    size_t count;
};

struct side {
    const struct house *house;
    struct arrivals arrivals; /* of the side after */
    struct assessment *assessment;
    struct energy_bill bill;
};

/* Turns appliances of a list on or off by ID; IDs that this side does not have are passed over. */
static void switch_listed(const struct house *house, const char *list, bool on, unsigned *units)
{
    for (size_t i = 0; i < house->appliance_count; i++) {
        const char *id = house->appliances[i].id;
        for (const char *at = list; *at != '\0';) {
            at += strspn(at, ", ");
            size_t length = strcspn(at, ",* ");
            if (strlen(id) == length && length > 0 && strncmp(at, id, length) == 0) {
                long count = at[length] == '*' ? strtol(at + length + 1, NULL, 10) : 0;
                bool counted = count >= 1 && count <= (long)house->appliances[i].count;
                units[i] = !on ? 0 : counted ? (unsigned)count : house->appliances[i].count;
            }
            at += strcspn(at, ",");
        }
    }
}

static void choose_basis(struct invocation *invocation, const struct house *house, struct assess_options *choice)
{
    const char *scene = option_value(invocation, "scene");
    const char *on = option_value(invocation, "on");
    const char *off = option_value(invocation, "off");
    if (scene == NULL && on == NULL && off == NULL) {
        return;
    }
    unsigned *units = arena_array(invocation->arena, house->appliance_count, sizeof *units);
    size_t index = scene == NULL ? NO_INDEX : house_find(house, KIND_SCENE, scene);
    if (index != NO_INDEX) {
        scene_units_on(house, &house->scenes[index], units);
    } else if (on == NULL) {
        for (size_t i = 0; i < house->appliance_count; i++) {
            units[i] = house->appliances[i].count;
        }
    }
    switch_listed(house, on == NULL ? "" : on, true, units);
    switch_listed(house, off == NULL ? "" : off, false, units);
    choice->basis = index != NO_INDEX && on == NULL && off == NULL ? BASIS_SCENE : BASIS_SET;
    choice->scene = index;
    choice->on = units;
}

static struct side assess_side(struct invocation *invocation, const struct house *house)
{
    struct side side = {.house = house};
    struct assess_options choice = {.wires = true};
    choose_basis(invocation, house, &choice);
    side.assessment = assess_house(house, &choice);
    invocation_bill(invocation, house, house->tariff, ENERGY_BRANCHES, &side.bill);
    return side;
}

static bool differs(double a, double b)
{
    return !(fabs(a - b) <= 1e-9 * fmax(1, fmax(fabs(a), fabs(b))));
}

/* A pair of rows of the two sides, NO_INDEX where one is missing. */
struct pair {
    size_t before;
    size_t after;
};

/* True where `list` has a finding that `other` lacks, or has with another severity. */
static bool finds_otherwise(const struct finding_list *list, const struct finding_list *other)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *same = finding_find(other, &list->finding[i]);
        if (same == NULL || same->severity != list->finding[i].severity) {
            return true;
        }
    }
    return false;
}

static bool branch_changed(const struct side *before, const struct side *after, struct pair pair)
{
    if (pair.before == NO_INDEX || pair.after == NO_INDEX) {
        return true;
    }
    const struct branch_assessment *a = &before->assessment->branches[pair.before];
    const struct branch_assessment *b = &after->assessment->branches[pair.after];
    bool drop = isnan(a->drop_percent) != isnan(b->drop_percent) ||
                (!isnan(a->drop_percent) && differs(a->drop_percent, b->drop_percent));
    return a->verdict != b->verdict || differs(a->all.planning_a, b->all.planning_a) ||
           differs(a->all.current_a, b->all.current_a) || differs(a->other.planning_a, b->other.planning_a) || drop ||
           finds_otherwise(&a->findings, &b->findings) || finds_otherwise(&b->findings, &a->findings);
}

static const struct branch_assessment *branch_side(const struct side *side, size_t index)
{
    return index == NO_INDEX ? NULL : &side->assessment->branches[index];
}

static bool is_other_voltage(const struct arrivals *arrivals, size_t branch)
{
    for (size_t i = 0; i < arrivals->count; i++) {
        if (arrivals->fits[i].branch == branch && arrivals->fits[i].other_voltage) {
            return true;
        }
    }
    return false;
}

static struct table *branches_table(const struct side *before, const struct side *after, const struct pair *pairs,
                                    size_t count)
{
    struct table *table = table_new();
    table_column(table, "BRANCH", "id", TABLE_LEFT, 0);
    table_column(table, "BREAKER", "breaker_a", TABLE_RIGHT, 0);
    table_column(table, "BEFORE", "before_status", TABLE_LEFT, 0);
    table_column(table, "ALL ON", "before_all_planning_a", TABLE_RIGHT, 0);
    table_column(table, "BUSIEST", "before_planning_a", TABLE_RIGHT, 0);
    table_column(table, "AFTER", "after_status", TABLE_LEFT, 0);
    table_column(table, "ALL ON", "after_all_planning_a", TABLE_RIGHT, 0);
    table_column(table, "BUSIEST", "after_planning_a", TABLE_RIGHT, 0);
    for (size_t i = 0; i < count; i++) {
        const struct branch_assessment *a = branch_side(before, pairs[i].before);
        const struct branch_assessment *b = branch_side(after, pairs[i].after);
        const struct branch *branch =
            b != NULL ? &after->house->branches[pairs[i].after] : &before->house->branches[pairs[i].before];
        table_row(table);
        table_text(table, branch->id);
        table_number(table, branch->breaker_a, 0);
        table_text(table, a == NULL ? NULL : verdict_word(a->verdict));
        table_number(table, a == NULL ? NAN : a->all.planning_a, 1);
        table_number(table, a == NULL ? NAN : a->other.planning_a, 1);
        const bool voltage = b != NULL && is_other_voltage(&after->arrivals, pairs[i].after);
        const bool shown = b != NULL && !voltage;
        table_text(table, shown ? verdict_word(b->verdict) : NULL);
        table_number(table, shown ? b->all.planning_a : (double)NAN, 1);
        table_number(table, shown ? b->other.planning_a : (double)NAN, 1);
    }
    return table;
}

/* What the two sides found that the other did not, or not as gravely: for people, and as data. */
struct comparison {
    const struct page *page;
    struct text text;
    json_t *added;
    json_t *gone;
    json_t *changed; /* on both sides, with another severity */
};

static void write_change(struct comparison *comparison, const char *what, const char *where,
                         const struct finding *finding)
{
    struct text line = {0};
    text_printf(&line, "%s %s: %s: %s [%s]", what, severity_word(finding->severity), where, finding->text, finding->id);
    text_add(&comparison->text, "  ");
    show_wrap(comparison->page, 4, text_string(&line), &comparison->text);
    text_done(&line);
}

/* A finding as data, with the branch or panel in whose list it stands. */
static json_t *change_json(const char *id, const struct finding *finding)
{
    json_t *object = show_finding_json(finding);
    json_object_set_new(object, "where", json_text(id));
    return object;
}

static void compare_severity(struct comparison *comparison, const char *where, const char *id,
                             const struct finding *before, const struct finding *after)
{
    if (before->severity == after->severity) {
        return;
    }
    struct text what = {0};
    text_printf(&what, "was %s, now", severity_word(before->severity));
    write_change(comparison, text_string(&what), where, after);
    text_done(&what);
    json_t *object = change_json(id, after);
    json_object_set_new(object, "severity_before", json_text(severity_word(before->severity)));
    json_array_append_new(comparison->changed, object);
}

/* The findings of a branch or panel before and after; a side that has none such is NULL. `id`: of branch or panel. */
static void compare_lists(struct comparison *comparison, const char *where, const char *id,
                          const struct finding_list *before, const struct finding_list *after)
{
    for (size_t i = 0; after != NULL && i < after->count; i++) {
        const struct finding *was = finding_find(before, &after->finding[i]);
        if (was != NULL) {
            compare_severity(comparison, where, id, was, &after->finding[i]);
        } else {
            write_change(comparison, "new", where, &after->finding[i]);
            json_array_append_new(comparison->added, change_json(id, &after->finding[i]));
        }
    }
    for (size_t i = 0; before != NULL && i < before->count; i++) {
        if (finding_find(after, &before->finding[i]) == NULL) {
            write_change(comparison, "gone", where, &before->finding[i]);
            json_array_append_new(comparison->gone, change_json(id, &before->finding[i]));
        }
    }
}

static size_t pair_branches(const struct side *before, const struct side *after, struct pair *pairs)
{
    size_t count = 0;
    for (size_t i = 0; i < after->house->branch_count; i++) {
        struct pair pair = {house_find(before->house, KIND_BRANCH, after->house->branches[i].id), i};
        if (branch_changed(before, after, pair)) {
            pairs[count++] = pair;
        }
    }
    for (size_t i = 0; i < before->house->branch_count; i++) {
        if (house_find(after->house, KIND_BRANCH, before->house->branches[i].id) == NO_INDEX) {
            pairs[count++] = (struct pair){i, NO_INDEX};
        }
    }
    return count;
}

static void compare_panels(struct comparison *comparison, const struct side *before, const struct side *after)
{
    struct text where = {0};
    for (size_t i = 0; i < after->house->panel_count; i++) {
        const char *id = after->house->panels[i].id;
        const size_t other = house_find(before->house, KIND_PANEL, id);
        text_clear(&where);
        text_printf(&where, "panel %s", id);
        compare_lists(comparison, text_string(&where), id,
                      other == NO_INDEX ? NULL : &before->assessment->panels[other].findings,
                      &after->assessment->panels[i].findings);
    }
    for (size_t i = 0; i < before->house->panel_count; i++) {
        const char *id = before->house->panels[i].id;
        if (house_find(after->house, KIND_PANEL, id) == NO_INDEX) {
            text_clear(&where);
            text_printf(&where, "panel %s", id);
            compare_lists(comparison, text_string(&where), id, &before->assessment->panels[i].findings, NULL);
        }
    }
    text_done(&where);
}

static void compare_findings(struct comparison *comparison, const struct side *before, const struct side *after,
                             const struct pair *pairs, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct branch_assessment *a = branch_side(before, pairs[i].before);
        const struct branch_assessment *b = branch_side(after, pairs[i].after);
        const char *id =
            b != NULL ? after->house->branches[pairs[i].after].id : before->house->branches[pairs[i].before].id;
        compare_lists(comparison, id, id, a == NULL ? NULL : &a->findings, b == NULL ? NULL : &b->findings);
    }
    compare_panels(comparison, before, after);
}

static void write_panels(const struct side *before, const struct side *after, struct text *text)
{
    for (size_t i = 0; i < after->house->panel_count; i++) {
        const struct panel *panel = &after->house->panels[i];
        size_t other = house_find(before->house, KIND_PANEL, panel->id);
        if (other == NO_INDEX) {
            continue;
        }
        for (size_t leg = 0; leg < 3; leg++) {
            double a = before->assessment->panels[other].all.leg_current_a[leg];
            double b = after->assessment->panels[i].all.leg_current_a[leg];
            if ((panel->legs & (1u << leg)) != 0 && differs(a, b)) {
                text_printf(text, "  panel %s, leg %s, everything on: ", panel->id, legs_word(1u << leg));
                text_add_fixed(text, a, 1);
                text_add(text, " A -> ");
                text_add_fixed(text, b, 1);
                text_add(text, " A\n");
            }
        }
    }
}

static void write_cost(const struct side *before, const struct side *after, struct text *text)
{
    text_add(text, "  a day: ");
    text_add_fixed(text, before->bill.kwh_day, 2);
    text_add(text, " -> ");
    text_add_fixed(text, after->bill.kwh_day, 2);
    text_add(text, " kWh");
    if (before->bill.cost_day != NULL && after->bill.cost_day != NULL) {
        const char *currency = after->house->currency;
        text_printf(text, ", %s -> %s %s; a year: %s -> %s %s", before->bill.cost_day, after->bill.cost_day, currency,
                    before->bill.cost_year, after->bill.cost_year, currency);
    }
    text_add_char(text, '\n');
}

static bool has_arrived(const struct house *before, const struct house *after, size_t index)
{
    const struct appliance *appliance = &after->appliances[index];
    const size_t other = house_find(before, KIND_APPLIANCE, appliance->id);
    return other == NO_INDEX ||
           strcmp(before->branches[before->appliances[other].branch].id, after->branches[appliance->branch].id) != 0;
}

/* With everything on, whatever scene was asked for. */
static struct arrivals judge_arrivals(struct invocation *invocation, const struct side *before,
                                      const struct side *after)
{
    const struct house *house = after->house;
    struct arrivals arrivals = {.fits = arena_array(invocation->arena, house->appliance_count, sizeof(struct fit))};
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (has_arrived(before->house, house, i)) {
            const size_t branch = house->appliances[i].branch;
            arrivals.fits[arrivals.count++] =
                (struct fit){.branch_before = house_find(before->house, KIND_BRANCH, house->branches[branch].id),
                             .branch = branch,
                             .appliance = i};
        }
    }
    if (arrivals.count > 0) {
        struct assess_options choice = {.wires = true};
        struct assessment *plain_before = assess_house(before->house, &choice);
        struct assessment *plain_after = assess_house(house, &choice);
        fits_judge(plain_before, plain_after, invocation->arena, arrivals.fits, arrivals.count);
        for (size_t i = 0; i < arrivals.count; i++) { /* the assessments go, the reasons stay */
            arrivals.fits[i].reason = arena_copy(invocation->arena, arrivals.fits[i].reason);
        }
        assess_free(plain_before);
        assess_free(plain_after);
    }
    return arrivals;
}

/* The worst of what came to a branch (NO_INDEX: to any); NULL where nothing did. */
static const struct fit *worst_fit(const struct arrivals *arrivals, size_t branch)
{
    const struct fit *worst = NULL;
    for (size_t i = 0; i < arrivals->count; i++) {
        const struct fit *fit = &arrivals->fits[i];
        if ((branch == NO_INDEX || fit->branch == branch) && (worst == NULL || fit->class > worst->class)) {
            worst = fit;
        }
    }
    return worst;
}

static void add_off(const struct house *house, const struct fit *fit, struct text *line)
{
    const struct index_list *loads = &house->branches[fit->branch].appliances;
    bool first = true;
    for (size_t i = 0; i < loads->count; i++) {
        if (fit->off[i]) {
            text_add(line, first ? "" : ", ");
            text_add(line, house->appliances[loads->index[i]].name);
            first = false;
        }
    }
}

/* Whether each load that came has room where it is now. */
static void write_arrivals(const struct house *house, const struct arrivals *arrivals, const struct page *page,
                           struct text *text)
{
    for (size_t i = 0; i < arrivals->count; i++) {
        const struct fit *fit = &arrivals->fits[i];
        struct text line = {0};
        text_printf(&line, "%s on %s: ", house->appliances[fit->appliance].name, house->branches[fit->branch].id);
        if (fit->class == FIT_ROOM) {
            text_add(&line, "room for it");
        } else if (fit->class == FIT_ONLY_IF) {
            text_add(&line, "only if these stay off while it runs: ");
            add_off(house, fit, &line);
        } else {
            text_printf(&line, "no, %s", fit->reason);
        }
        text_add_char(&line, '.');
        show_wrap(page, 2, text_string(&line), text);
        text_done(&line);
    }
}

/* New loads that the energy leaves out. */
static void write_energy_left_out(const struct side *before, const struct side *after, const struct page *page,
                                  struct text *text)
{
    for (size_t i = 0; i < after->house->appliance_count; i++) {
        const struct appliance *appliance = &after->house->appliances[i];
        if (house_find(before->house, KIND_APPLIANCE, appliance->id) == NO_INDEX && !(appliance->on_time_s > 0)) {
            struct text line = {0};
            text_printf(&line, "%s: its hours of use are not known, so its energy is left out.", appliance->name);
            text_add(text, "  ");
            show_wrap(page, 4, text_string(&line), text);
            text_done(&line);
        }
    }
}

static json_t *side_json(const struct side *side, size_t index)
{
    const struct check_answer check = {.house = side->house, .assessment = side->assessment, .bill = &side->bill};
    return index == NO_INDEX ? json_null() : show_json(&show_check_rows, &check, index);
}

static json_t *energy_json(const struct energy_bill *bill)
{
    json_t *object = json_object();
    json_object_set_new(object, "kwh_day", json_figure(bill->kwh_day));
    json_object_set_new(object, "cost_day", json_text(bill->cost_day));
    json_object_set_new(object, "cost_year", json_text(bill->cost_year));
    return object;
}

/* Class and fits of the load that came; null where none did. */
static void set_fit(json_t *object, const struct fit *fit)
{
    json_object_set_new(object, "class", fit == NULL ? json_null() : json_text(fit_class_word(fit->class)));
    json_object_set_new(object, "fits", fit == NULL ? json_null() : json_boolean(fit->class == FIT_ROOM));
}

/* A load made for another voltage: no status and no current of its branch means anything. */
static void forget_currents(json_t *branch)
{
    static const char *const bases[] = {"all", "busiest", "scene"};
    static const char *const keys[] = {"current_a", "planning_a", "wire_a", "headroom_a"};
    json_object_set_new(branch, "status", json_null());
    for (size_t i = 0; i < sizeof bases / sizeof bases[0]; i++) {
        json_t *basis = json_object_get(branch, bases[i]);
        for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
            if (json_object_get(basis, keys[k]) != NULL) {
                json_object_set_new(basis, keys[k], json_null());
            }
        }
    }
}

static void write_json(struct invocation *invocation, const struct side *before, const struct side *after,
                       const struct pair *pairs, size_t count, const struct comparison *comparison, bool kept)
{
    json_t *answer = json_answer("try", after->house->name);
    json_object_set_new(answer, "status", json_text(verdict_word(after->assessment->status)));
    json_object_set_new(answer, "status_before", json_text(verdict_word(before->assessment->status)));
    json_object_set_new(answer, "kept", json_boolean(kept));
    set_fit(answer, worst_fit(&after->arrivals, NO_INDEX));
    json_t *branches = json_array();
    for (size_t i = 0; i < count; i++) {
        json_t *object = json_object();
        json_object_set_new(object, "before", side_json(before, pairs[i].before));
        const bool voltage = pairs[i].after != NO_INDEX && is_other_voltage(&after->arrivals, pairs[i].after);
        json_t *then = side_json(after, pairs[i].after);
        json_object_set_new(object, "after", then);
        if (voltage) {
            forget_currents(then);
        }
        set_fit(object, pairs[i].after == NO_INDEX ? NULL : worst_fit(&after->arrivals, pairs[i].after));
        json_array_append_new(branches, object);
    }
    json_object_set_new(answer, "branches", branches);
    json_object_set(answer, "new_findings", comparison->added);
    json_object_set(answer, "gone_findings", comparison->gone);
    json_object_set(answer, "changed_findings", comparison->changed);
    json_t *energy = json_object();
    json_object_set_new(energy, "before", energy_json(&before->bill));
    json_object_set_new(energy, "after", energy_json(&after->bill));
    json_object_set_new(energy, "currency", json_text(after->house->currency));
    json_object_set_new(answer, "energy", energy);
    const char *cautions[CAUTIONS_MOST + 1];
    cautions_of(after->assessment, NO_INDEX, cautions);
    json_cautions(answer, cautions);
    json_write(answer, &invocation->out);
}

/* Which branches are over after it, and which of them were before. */
static void write_over(const struct side *before, const struct side *after, const struct page *page, struct text *text)
{
    struct text line = {0};
    for (size_t i = 0; i < after->house->branch_count; i++) {
        const char *id = after->house->branches[i].id;
        if (after->assessment->branches[i].verdict == VERDICT_OVER) {
            const size_t other = house_find(before->house, KIND_BRANCH, id);
            const bool already = other != NO_INDEX && before->assessment->branches[other].verdict == VERDICT_OVER;
            text_printf(&line, "%s%s%s", line.length == 0 ? "Over after it: " : ", ", id,
                        already ? " (as before)" : "");
        }
    }
    text_printf(&line, "%s Run fewer of these at once, move a plug-in appliance, or ask a licensed electrician.",
                line.length == 0 ? "Over after it." : ".");
    show_wrap(page, 0, text_string(&line), text);
    text_add_char(text, '\n');
    text_done(&line);
}

static void write_text(struct invocation *invocation, const struct side *before, const struct side *after,
                       struct table *table, const struct text *findings, const struct text *what, bool kept)
{
    struct text *text = &invocation->out;
    text_add(text, text_string(what));
    if (table_count(table) == 0) {
        text_add(text, "No branch changes.\n");
    } else {
        table_write_terminal(table, invocation->page.width, invocation->page.utf8, text);
    }
    write_arrivals(after->house, &after->arrivals, &invocation->page, text);
    text_add_char(text, '\n');
    if (findings->length > 0) {
        text_printf(text, "Findings\n%s\n", text_string(findings));
    }
    text_add(text, "Panels and energy\n");
    write_panels(before, after, text);
    write_cost(before, after, text);
    write_energy_left_out(before, after, &invocation->page, text);
    text_add_char(text, '\n');
    if (after->assessment->status == VERDICT_OVER) {
        write_over(before, after, &invocation->page, text);
    }
    const char *cautions[CAUTIONS_MOST + 1];
    cautions_of(after->assessment, NO_INDEX, cautions);
    show_cautions_text(&invocation->page, cautions, text);
    const char *const stored[] = {"ampsum check HOUSE", "ampsum undo HOUSE", NULL};
    const char *const tried[] = {"the same with --keep stores it in a house database", "ampsum settle HOUSE", NULL};
    invocation_next(invocation, kept ? stored : tried);
}

int try_compare(struct invocation *invocation, const struct house *before_house, const struct house *after_house,
                const struct text *what, bool kept)
{
    struct side before = assess_side(invocation, before_house);
    struct side after = assess_side(invocation, after_house);
    struct pair *pairs =
        arena_array(invocation->arena, before_house->branch_count + after_house->branch_count, sizeof *pairs);
    after.arrivals = judge_arrivals(invocation, &before, &after);
    size_t count = pair_branches(&before, &after, pairs);
    struct comparison comparison = {&invocation->page, {0}, json_array(), json_array(), json_array()};
    compare_findings(&comparison, &before, &after, pairs, count);
    struct table *table = branches_table(&before, &after, pairs, count);
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, &before, &after, pairs, count, &comparison, kept);
    } else if (invocation->format == FORMAT_CSV) {
        table_write_csv(table, &invocation->out);
    } else {
        write_text(invocation, &before, &after, table, &comparison.text, what, kept);
    }
    int status = after.assessment->status == VERDICT_OVER ? 1 : 0;
    table_free(table);
    json_decref(comparison.added);
    json_decref(comparison.gone);
    json_decref(comparison.changed);
    text_done(&comparison.text);
    assess_free(before.assessment);
    assess_free(after.assessment);
    return status;
}
