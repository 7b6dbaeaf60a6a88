#include "settle_legs.h"

#include <math.h>
#include <string.h>

/* Legs that differ by less are equal to any meter in a panel. */
#define RESOLUTION_A 0.01

/* A panel on one basis: what its legs carry now, and after. */
struct balance {
    struct decide_legs legs;
    size_t *leg; /* of each branch afterwards */
    struct legs_plan plan;
    double before_a[3];
    double after_a[3];
    size_t changes;
};

static double fullest(const double *leg_a, size_t count)
{
    double most_a = 0;
    for (size_t i = 0; i < count; i++) {
        most_a = fmax(most_a, leg_a[i]);
    }
    return most_a;
}

static void carry(const struct decide_legs *legs, const size_t *leg, double *ret_leg_a)
{
    for (size_t k = 0; k < legs->leg_count; k++) {
        ret_leg_a[k] = legs->carried_a[k];
    }
    for (size_t i = 0; i < legs->branch_count; i++) {
        ret_leg_a[leg[i]] += legs->branch_a[i];
    }
}

/* The assignment with its legs named so that the fewest branches change, the fullest leg staying as it is. */
static void name_legs(struct balance *balance, struct arena *arena)
{
    static const size_t names[6][3] = {{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {2, 1, 0}, {1, 2, 0}, {2, 0, 1}};
    const struct decide_legs *legs = &balance->legs;
    size_t *found = balance->leg;
    size_t *renamed = arena_array(arena, legs->branch_count, sizeof *renamed);
    balance->leg = arena_array(arena, legs->branch_count, sizeof *balance->leg);
    balance->changes = SIZE_MAX;
    for (size_t n = 0; n < (legs->leg_count == 3 ? 6 : legs->leg_count); n++) {
        size_t changes = 0;
        double leg_a[3];
        for (size_t i = 0; i < legs->branch_count; i++) {
            renamed[i] = names[n][found[i]];
            changes += renamed[i] != legs->leg[i];
        }
        carry(legs, renamed, leg_a);
        if (changes < balance->changes && fullest(leg_a, legs->leg_count) <= balance->plan.largest_a + RESOLUTION_A) {
            balance->changes = changes;
            memcpy(balance->leg, renamed, legs->branch_count * sizeof *renamed);
        }
    }
}

static struct balance find_balance(const struct house *house, size_t panel, bool busiest,
                                   struct planning_factors factors, struct arena *arena)
{
    struct balance balance = {.legs = decide_legs(house, panel, busiest, factors, arena)};
    const struct decide_legs *legs = &balance.legs;
    balance.leg = arena_array(arena, legs->branch_count, sizeof *balance.leg);
    legs_assign(legs->branch_a, legs->branch_count, legs->carried_a, legs->leg_count, RESOLUTION_A, 0, balance.leg,
                &balance.plan);
    name_legs(&balance, arena);
    carry(legs, legs->leg, balance.before_a);
    if (fullest(balance.before_a, legs->leg_count) <= balance.plan.largest_a + RESOLUTION_A) {
        memcpy(balance.leg, legs->leg, legs->branch_count * sizeof *balance.leg);
        balance.changes = 0;
    }
    carry(legs, balance.leg, balance.after_a);
    return balance;
}

static json_t *legs_json(const struct decide_legs *legs, const double *leg_a)
{
    json_t *object = json_object();
    for (size_t k = 0; k < legs->leg_count; k++) {
        json_object_set_new(object, legs_word(legs->leg_bit[k]), json_figure(leg_a[k]));
    }
    return object;
}

static json_t *balance_json(const struct house *house, const struct balance *balance)
{
    const struct decide_legs *legs = &balance->legs;
    json_t *object = json_object();
    json_object_set_new(object, "before_planning_a", legs_json(legs, balance->before_a));
    json_object_set_new(object, "after_planning_a", legs_json(legs, balance->after_a));
    json_object_set_new(object, "proved", json_boolean(balance->plan.proved));
    json_t *changes = json_array();
    for (size_t i = 0; i < legs->branch_count; i++) {
        if (balance->leg[i] != legs->leg[i]) {
            json_t *change = json_object();
            json_object_set_new(change, "branch", json_text(house->branches[legs->branches[i]].id));
            json_object_set_new(change, "from", json_text(legs_word(legs->leg_bit[legs->leg[i]])));
            json_object_set_new(change, "to", json_text(legs_word(legs->leg_bit[balance->leg[i]])));
            json_array_append_new(changes, change);
        }
    }
    json_object_set_new(object, "changes", changes);
    return object;
}

static void write_legs(struct text *text, const struct decide_legs *legs, const double *leg_a)
{
    for (size_t k = 0; k < legs->leg_count; k++) {
        text_printf(text, "%s%s ", k > 0 ? ", " : "", legs_word(legs->leg_bit[k]));
        decide_ampere(leg_a[k], text);
    }
}

static void write_balance(struct invocation *invocation, const struct balance *balance, const char *basis)
{
    const struct house *house = invocation->house;
    const struct decide_legs *legs = &balance->legs;
    struct text line = {0};
    text_printf(&line, "%s: ", basis);
    write_legs(&line, legs, balance->before_a);
    if (balance->changes == 0) {
        text_add(&line, balance->plan.proved ? "; no other assignment is more even (proved)."
                                             : "; nothing more even was found before the search was stopped.");
    } else {
        text_add(&line, " -> ");
        write_legs(&line, legs, balance->after_a);
        text_add(&line, balance->plan.proved ? ", as even as can be (proved):" : ", the best that was found:");
    }
    decide_line(invocation, 2, 4, text_string(&line));
    text_done(&line);
    for (size_t i = 0; i < legs->branch_count; i++) {
        if (balance->leg[i] != legs->leg[i]) {
            text_printf(&invocation->out, "    %s: leg %s -> %s\n", house->branches[legs->branches[i]].id,
                        legs_word(legs->leg_bit[legs->leg[i]]), legs_word(legs->leg_bit[balance->leg[i]]));
        }
    }
}

/* One row for each branch that changes, of each panel and basis. */
static void add_rows(struct table *table, const struct house *house, size_t panel, const char *basis,
                     const struct balance *balance)
{
    const struct decide_legs *legs = &balance->legs;
    for (size_t i = 0; i < legs->branch_count; i++) {
        if (balance->leg[i] != legs->leg[i]) {
            table_row(table);
            table_text(table, house->panels[panel].id);
            table_text(table, basis);
            table_text(table, house->branches[legs->branches[i]].id);
            table_text(table, legs_word(legs->leg_bit[legs->leg[i]]));
            table_text(table, legs_word(legs->leg_bit[balance->leg[i]]));
        }
    }
}

static struct table *changes_table(void)
{
    struct table *table = table_new();
    table_column(table, "PANEL", "panel", TABLE_LEFT, 0);
    table_column(table, "BASIS", "basis", TABLE_LEFT, 0);
    table_column(table, "BRANCH", "branch", TABLE_LEFT, 0);
    table_column(table, "FROM", "from", TABLE_LEFT, 0);
    table_column(table, "TO", "to", TABLE_LEFT, 0);
    return table;
}

static json_t *panel_json(const struct house *house, size_t panel, const struct balance *all,
                          const struct balance *busiest)
{
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(house->panels[panel].id));
    json_object_set_new(object, "all", balance_json(house, all));
    json_object_set_new(object, "busiest", balance_json(house, busiest));
    return object;
}

static void write_end(struct invocation *invocation, bool any)
{
    if (!any) {
        text_add(&invocation->out, "Every panel of this house has one leg: there is nothing to balance.\n");
    }
    decide_line(invocation, 0, 0,
                "Planning currents, arithmetic sums. Which breaker sits on which leg is a licensed electrician's work: "
                "this is a list to talk over, not one to carry out.");
    text_add_char(&invocation->out, '\n');
    show_cautions_text(&invocation->page, NULL, &invocation->out);
    const char *lines[] = {"ampsum check HOUSE", "ampsum demand HOUSE", NULL};
    invocation_next(invocation, lines);
}

void settle_legs_answer(struct invocation *invocation, struct planning_factors factors)
{
    const struct house *house = invocation->house;
    struct table *table = changes_table();
    json_t *panels = json_array();
    bool any = false;
    for (size_t i = 0; i < house->panel_count; i++) {
        struct balance all = find_balance(house, i, false, factors, invocation->arena);
        struct balance busiest = find_balance(house, i, true, factors, invocation->arena);
        if (all.legs.leg_count < 2) {
            continue;
        }
        any = true;
        json_array_append_new(panels, panel_json(house, i, &all, &busiest));
        add_rows(table, house, i, "all", &all);
        add_rows(table, house, i, "busiest", &busiest);
        if (invocation->format == FORMAT_TABLE) {
            text_printf(&invocation->out, "Panel %s\n", house->panels[i].id);
            write_balance(invocation, &all, "everything on");
            write_balance(invocation, &busiest, "each branch at its busiest minute");
        }
    }
    if (invocation->format == FORMAT_CSV) {
        invocation_table(invocation, table);
    } else if (invocation->format == FORMAT_TABLE) {
        write_end(invocation, any);
    } else {
        json_t *json = json_answer("settle", house->name);
        json_object_set_new(json, "legs", json_incref(panels));
        json_cautions(json, NULL);
        json_write(json, &invocation->out);
    }
    json_decref(panels);
    table_free(table);
}
