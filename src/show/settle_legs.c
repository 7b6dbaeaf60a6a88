/* The answer of `settle --legs`: a row for each branch that changes its leg, its JSON, and sentences. */
#include "ampsum/show_combos.h"
#include "ampsum/show_settle.h"

/* ------------------------------------------------------------------ rows ---------------------------------- */

static const struct legs_change *change_of(const void *answer, size_t row)
{
    return &((const struct legs_answer *)answer)->changes[row];
}

static void get_basis(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = change_of(answer, row)->busiest ? "busiest" : "all";
}

static void get_from(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = legs_word(change_of(answer, row)->from);
}

static void get_to(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = legs_word(change_of(answer, row)->to);
}

#define PANEL(member) SHOW_VIA(struct legs_answer, changes, struct legs_change, panel, struct panel, member)
#define BRANCH(member) SHOW_VIA(struct legs_answer, changes, struct legs_change, branch, struct branch, member)

static const struct show_column columns[] = {
    {.key = "panel", .faces = SHOW_CSV, PANEL(id)},    {.key = "basis", .faces = SHOW_CSV, .get = get_basis},
    {.key = "branch", .faces = SHOW_DATA, BRANCH(id)}, {.key = "from", .faces = SHOW_DATA, .get = get_from},
    {.key = "to", .faces = SHOW_DATA, .get = get_to},
};

const struct show_rows show_legs_rows = {columns, sizeof columns / sizeof columns[0]};

/* ------------------------------------------------------------------ programs ------------------------------ */

static json_t *legs_json(const struct decide_legs *legs, const double *leg_a)
{
    json_t *object = json_object();
    for (size_t k = 0; k < legs->leg_count; k++) {
        json_object_set_new(object, legs_word(legs->leg_bit[k]), json_figure(leg_a[k]));
    }
    return object;
}

static bool is_of(const struct legs_change *change, const struct panel *panel, bool busiest)
{
    return change->panel == panel && change->busiest == busiest;
}

static json_t *balance_json(const struct legs_answer *answer, const struct panel *panel,
                            const struct legs_balance *balance, bool busiest)
{
    json_t *object = json_object();
    json_t *changes = json_array();
    for (size_t i = 0; i < answer->change_count; i++) {
        if (is_of(&answer->changes[i], panel, busiest)) {
            json_array_append_new(changes, show_json(&show_legs_rows, answer, i));
        }
    }
    json_object_set_new(object, "before_planning_a", legs_json(&balance->legs, balance->before_a));
    json_object_set_new(object, "after_planning_a", legs_json(&balance->legs, balance->after_a));
    json_object_set_new(object, "proved", json_boolean(balance->plan.proved));
    json_object_set_new(object, "changes", changes);
    return object;
}

json_t *show_settle_legs_json(const struct legs_answer *answer)
{
    json_t *json = json_answer("settle", answer->house->name);
    json_t *panels = json_array();
    for (size_t i = 0; i < answer->panel_count; i++) {
        const struct legs_panel *panel = &answer->panels[i];
        json_t *object = json_object();
        json_object_set_new(object, "id", json_text(panel->panel->id));
        json_object_set_new(object, "all", balance_json(answer, panel->panel, &panel->all, false));
        json_object_set_new(object, "busiest", balance_json(answer, panel->panel, &panel->busiest, true));
        json_array_append_new(panels, object);
    }
    json_object_set_new(json, "legs", panels);
    json_cautions(json, NULL);
    return json;
}

/* ------------------------------------------------------------------ people -------------------------------- */

static void add_legs(struct text *text, const struct decide_legs *legs, const double *leg_a)
{
    for (size_t k = 0; k < legs->leg_count; k++) {
        text_printf(text, "%s%s ", k > 0 ? ", " : "", legs_word(legs->leg_bit[k]));
        decide_ampere(leg_a[k], text);
    }
}

static void write_balance(const struct legs_answer *answer, const struct legs_panel *panel, bool busiest,
                          const struct page *page, struct text *text)
{
    const struct legs_balance *balance = busiest ? &panel->busiest : &panel->all;
    struct text line = {0};
    text_add(&line, busiest ? "each branch at its busiest minute: " : "everything on: ");
    add_legs(&line, &balance->legs, balance->before_a);
    if (balance->changes == 0) {
        text_add(&line, balance->plan.proved ? "; no other assignment is more even (proved)."
                                             : "; nothing more even was found before the search was stopped.");
    } else {
        text_add(&line, " -> ");
        add_legs(&line, &balance->legs, balance->after_a);
        text_add(&line, balance->plan.proved ? ", as even as can be (proved):" : ", the best that was found:");
    }
    show_line(page, 2, 4, &line, text);
    for (size_t i = 0; i < answer->change_count; i++) {
        const struct legs_change *change = &answer->changes[i];
        if (is_of(change, panel->panel, busiest)) {
            text_printf(text, "    %s: leg %s -> %s\n", change->branch->id, legs_word(change->from),
                        legs_word(change->to));
        }
    }
}

void show_settle_legs_text(const struct legs_answer *answer, const struct page *page, struct text *text)
{
    for (size_t i = 0; i < answer->panel_count; i++) {
        text_printf(text, "Panel %s\n", answer->panels[i].panel->id);
        write_balance(answer, &answer->panels[i], false, page, text);
        write_balance(answer, &answer->panels[i], true, page, text);
    }
    if (answer->panel_count == 0) {
        show_wrap(page, 0, "Every panel of this house has one leg: there is nothing to balance.", text);
    } else {
        show_wrap(
            page, 0,
            "Planning currents, arithmetic sums. Which breaker sits on which leg is a licensed electrician's work: "
            "this is a list to talk over, not one to carry out.",
            text);
    }
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
