/* The answer of `settle --legs`: a row for each branch that changes its leg, its JSON, and sentences. */
#include "ampsum/show_settle.h"

/* ------------------------------------------------------------------ rows ---------------------------------- */

static void take_basis(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    cell->words = *(const bool *)field ? "busiest" : "all";
}

#define PANEL(member) SHOW_VIA(struct legs_answer, changes, struct legs_change, panel, struct panel, member)
#define BRANCH(member) SHOW_VIA(struct legs_answer, changes, struct legs_change, branch, struct branch, member)
#define CHANGE(member, take)                                                                                           \
    SHOW_ELEMENT(struct legs_answer, changes, struct legs_change), SHOW_TAKEN(struct legs_change, member, take)

static const struct show_column columns[] = {
    {.key = "panel", .faces = SHOW_CSV, PANEL(id)},
    {.key = "basis", .faces = SHOW_CSV, CHANGE(busiest, take_basis)},
    {.key = "branch", .faces = SHOW_DATA, BRANCH(id)},
    {.key = "from", .faces = SHOW_DATA, CHANGE(from, show_take_legs)},
    {.key = "to", .faces = SHOW_DATA, CHANGE(to, show_take_legs)},
};

const struct show_rows show_legs_rows = SHOW_ROWS_OF(columns);

/* ------------------------------------------------------------------ programs ------------------------------ */

#define LEG .faces = SHOW_JSON, .step = sizeof(unsigned), SHOW_TAKEN(struct legs_balance, legs.leg_bit, show_take_legs)
#define CARRIED(member) .faces = SHOW_JSON, SHOW_EACH(struct legs_balance, member)

static const struct show_column before_columns[] = {{LEG}, {CARRIED(before_a)}};
static const struct show_column after_columns[] = {{LEG}, {CARRIED(after_a)}};
static const struct show_rows before_rows = SHOW_ROWS_OF(before_columns);
static const struct show_rows after_rows = SHOW_ROWS_OF(after_columns);

static void get_changes(const void *balance, size_t row, struct show_cell *cell)
{
    const struct legs_answer part = {.changes = ((const struct legs_balance *)balance)->changed};
    (void)row;
    cell->part = show_json_array(&show_legs_rows, &part, ((const struct legs_balance *)balance)->changes);
}

static const struct show_column balance_columns[] = {
    {.key = "before_planning_a", SHOW_KEYED(before_rows, struct legs_balance, legs.leg_count)},
    {.key = "after_planning_a", SHOW_KEYED(after_rows, struct legs_balance, legs.leg_count)},
    {.key = "proved", .faces = SHOW_JSON, SHOW_FIELD(struct legs_balance, plan.proved)},
    {.key = "changes", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_changes},
};
static const struct show_rows balance_rows = SHOW_ROWS_OF(balance_columns);

#define BALANCE(member)                                                                                                \
    SHOW_ELEMENT(struct legs_answer, panels, struct legs_panel), SHOW_OBJECT(balance_rows),                            \
        SHOW_WITHIN(struct legs_panel, member)

static const struct show_column panel_columns[] = {
    {.key = "id", .faces = SHOW_JSON, SHOW_VIA(struct legs_answer, panels, struct legs_panel, panel, struct panel, id)},
    {.key = "all", BALANCE(all)},
    {.key = "busiest", BALANCE(busiest)},
};
static const struct show_rows panel_rows = SHOW_ROWS_OF(panel_columns);

static const struct show_column answer_columns[] = {
    {.key = "legs", SHOW_LIST(panel_rows, struct legs_answer, panel_count)},
};

json_t *show_settle_legs_json(const struct legs_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    return show_answer_json("settle", answer->house->name, &rows, answer, NULL);
}

/* ------------------------------------------------------------------ people -------------------------------- */

static void add_legs(struct text *text, const struct decide_legs *legs, const double *leg_a)
{
    for (size_t k = 0; k < legs->leg_count; k++) {
        text_say(text, "%s%s %.1f A", k > 0 ? ", " : "", legs_word(legs->leg_bit[k]), leg_a[k]);
    }
}

static void write_balance(const struct legs_balance *balance, const char *basis, const struct page *page,
                          struct text *text)
{
    struct text line = {0};
    text_add(&line, basis);
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
    for (size_t i = 0; i < balance->changes; i++) {
        const struct legs_change *change = &balance->changed[i];
        text_printf(text, "    %s: leg %s -> %s\n", change->branch->id, legs_word(change->from), legs_word(change->to));
    }
}

void show_settle_legs_text(const struct legs_answer *answer, const struct page *page, struct text *text)
{
    for (size_t i = 0; i < answer->panel_count; i++) {
        text_printf(text, "Panel %s\n", answer->panels[i].panel->id);
        write_balance(&answer->panels[i].all, "everything on: ", page, text);
        write_balance(&answer->panels[i].busiest, "each branch at its busiest minute: ", page, text);
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
