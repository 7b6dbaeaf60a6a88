#include "try_view.h"

#include <math.h>
#include <string.h>

#include "ampsum/decide.h"

struct side {
    const struct house *house;
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
           a->findings.count != b->findings.count;
}

static const struct branch_assessment *branch_side(const struct side *side, size_t index)
{
    return index == NO_INDEX ? NULL : &side->assessment->branches[index];
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
        table_text(table, b == NULL ? NULL : verdict_word(b->verdict));
        table_number(table, b == NULL ? NAN : b->all.planning_a, 1);
        table_number(table, b == NULL ? NAN : b->other.planning_a, 1);
    }
    return table;
}

/* Same finding: number and text up to its first digit (the numbers in it may move). */
static bool same_finding(const struct finding *a, const struct finding *b)
{
    size_t length = strcspn(a->text, "0123456789");
    return a->number == b->number && a->severity == b->severity && strncmp(a->text, b->text, length) == 0;
}

static bool has_finding(const struct finding_list *list, const struct finding *finding)
{
    for (size_t i = 0; list != NULL && i < list->count; i++) {
        if (same_finding(&list->finding[i], finding)) {
            return true;
        }
    }
    return false;
}

/* Findings of `list` that `other` lacks, each given to both outputs. */
static void list_missing(const struct finding_list *list, const struct finding_list *other, const char *kind,
                         const char *where, const char *what, const struct page *page, struct text *text, json_t *array)
{
    for (size_t i = 0; list != NULL && i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        if (has_finding(other, finding)) {
            continue;
        }
        struct text line = {0};
        text_printf(&line, "%s %s: %s%s: %s [%d]", what, severity_word(finding->severity), kind, where, finding->text,
                    finding->number);
        text_add(text, "  ");
        show_wrap(page, 4, text_string(&line), text);
        text_done(&line);
        json_t *object = json_object();
        json_object_set_new(object, "where", json_text(where));
        json_object_set_new(object, "id", json_sprintf("%d", finding->number));
        json_object_set_new(object, "severity", json_text(severity_word(finding->severity)));
        json_object_set_new(object, "text", json_text(finding->text));
        json_array_append_new(array, object);
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

static void compare_findings(const struct side *before, const struct side *after, const struct pair *pairs,
                             size_t count, const struct page *page, struct text *text, json_t *added, json_t *gone)
{
    for (size_t i = 0; i < count; i++) {
        const struct branch_assessment *a = branch_side(before, pairs[i].before);
        const struct branch_assessment *b = branch_side(after, pairs[i].after);
        const char *id =
            b != NULL ? after->house->branches[pairs[i].after].id : before->house->branches[pairs[i].before].id;
        list_missing(b == NULL ? NULL : &b->findings, a == NULL ? NULL : &a->findings, "", id, "new", page, text,
                     added);
        list_missing(a == NULL ? NULL : &a->findings, b == NULL ? NULL : &b->findings, "", id, "gone", page, text,
                     gone);
    }
    for (size_t i = 0; i < after->house->panel_count; i++) {
        const char *id = after->house->panels[i].id;
        size_t other = house_find(before->house, KIND_PANEL, id);
        const struct finding_list *a = other == NO_INDEX ? NULL : &before->assessment->panels[other].findings;
        list_missing(&after->assessment->panels[i].findings, a, "panel ", id, "new", page, text, added);
        list_missing(a, &after->assessment->panels[i].findings, "panel ", id, "gone", page, text, gone);
    }
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

/* New or moved loads on a branch whose purpose is another. */
static void write_kept_for(const struct side *before, const struct side *after, const struct page *page,
                           struct text *text)
{
    for (size_t i = 0; i < after->house->appliance_count; i++) {
        const struct appliance *appliance = &after->house->appliances[i];
        const struct branch *branch = &after->house->branches[appliance->branch];
        const size_t other = house_find(before->house, KIND_APPLIANCE, appliance->id);
        const bool stays = other != NO_INDEX &&
                           strcmp(before->house->branches[before->house->appliances[other].branch].id, branch->id) == 0;
        const char *kept =
            decide_kept_for(branch, branch->appliances.count - 1, appliance->category == CATEGORY_LIGHTING);
        if (!stays && kept != NULL) {
            struct text line = {0};
            text_printf(&line, "%s is %s; %s would be another load on it.", branch->id, kept, appliance->name);
            show_wrap(page, 2, text_string(&line), text);
            text_done(&line);
        }
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
    return index == NO_INDEX ? json_null() : show_branch_json(side->assessment, &side->bill, index);
}

static json_t *energy_json(const struct energy_bill *bill)
{
    json_t *object = json_object();
    json_object_set_new(object, "kwh_day", json_figure(bill->kwh_day));
    json_object_set_new(object, "cost_day", json_text(bill->cost_day));
    json_object_set_new(object, "cost_year", json_text(bill->cost_year));
    return object;
}

static void write_json(struct invocation *invocation, const struct side *before, const struct side *after,
                       const struct pair *pairs, size_t count, json_t *added, json_t *gone, bool kept)
{
    json_t *answer = json_answer("try", after->house->name);
    json_object_set_new(answer, "status", json_text(verdict_word(after->assessment->status)));
    json_object_set_new(answer, "status_before", json_text(verdict_word(before->assessment->status)));
    json_object_set_new(answer, "kept", json_boolean(kept));
    json_t *branches = json_array();
    for (size_t i = 0; i < count; i++) {
        json_t *object = json_object();
        json_object_set_new(object, "before", side_json(before, pairs[i].before));
        json_object_set_new(object, "after", side_json(after, pairs[i].after));
        json_array_append_new(branches, object);
    }
    json_object_set_new(answer, "branches", branches);
    json_object_set(answer, "new_findings", added);
    json_object_set(answer, "gone_findings", gone);
    json_t *energy = json_object();
    json_object_set_new(energy, "before", energy_json(&before->bill));
    json_object_set_new(energy, "after", energy_json(&after->bill));
    json_object_set_new(energy, "currency", json_text(after->house->currency));
    json_object_set_new(answer, "energy", energy);
    json_cautions(answer, NULL);
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
    write_kept_for(before, after, &invocation->page, text);
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
    show_cautions_text(&invocation->page, NULL, text);
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
    size_t count = pair_branches(&before, &after, pairs);
    struct text findings = {0};
    json_t *added = json_array();
    json_t *gone = json_array();
    compare_findings(&before, &after, pairs, count, &invocation->page, &findings, added, gone);
    struct table *table = branches_table(&before, &after, pairs, count);
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, &before, &after, pairs, count, added, gone, kept);
    } else if (invocation->format == FORMAT_CSV) {
        table_write_csv(table, &invocation->out);
    } else {
        write_text(invocation, &before, &after, table, &findings, what, kept);
    }
    int status = after.assessment->status == VERDICT_OVER ? 1 : 0;
    table_free(table);
    json_decref(added);
    json_decref(gone);
    text_done(&findings);
    assess_free(before.assessment);
    assess_free(after.assessment);
    return status;
}
