/* What `check` says of each branch: one row of the table below is one column on every face that it names. */
#include "ampsum/show_check.h"

/* The branch of a row: those of a face that shows the worst first stand in another order. */
static size_t index_of(const void *answer, size_t row)
{
    const size_t *order = ((const struct check_answer *)answer)->order;
    return order == NULL ? row : order[row];
}

static const struct branch_assessment *result_of(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->assessment->branches[index_of(answer, row)];
}

static const struct branch *branch_of(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->house->branches[index_of(answer, row)];
}

/* ---- where a field is */

static const void *result_at(const void *answer, size_t row)
{
    return result_of(answer, row);
}

static const void *branch_at(const void *answer, size_t row)
{
    return branch_of(answer, row);
}

static const void *panel_at(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->house->panels[branch_of(answer, row)->panel];
}

static const void *energy_at(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->bill->branches[index_of(answer, row)];
}

static const void *now_at(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->now->branches[index_of(answer, row)];
}

/* ---- what was asked */

static bool busiest(const void *answer)
{
    return ((const struct check_answer *)answer)->assessment->options.basis == BASIS_BUSIEST;
}

static bool chosen(const void *answer)
{
    return !busiest(answer);
}

static bool now(const void *answer)
{
    return ((const struct check_answer *)answer)->now != NULL;
}

/* ---- what is more than a field */

static void get_name(const void *answer, size_t row, struct show_cell *cell)
{
    show_branch_name(branch_of(answer, row), show_made(cell));
    show_made_done(cell);
}

/* As people read it, but that what has room stays `ok` for programs. */
static const char *csv_status(enum verdict verdict)
{
    return verdict == VERDICT_OK ? verdict_word(verdict) : show_verdict(verdict);
}

static const char *now_word(enum verdict verdict)
{
    return verdict == VERDICT_OVER ? "OVER" : "";
}

static SHOW_WORD_TAKE(take_verdict, enum verdict, show_verdict) static SHOW_WORD_TAKE(
    take_csv_status, enum verdict, csv_status) static SHOW_WORD_TAKE(take_now_word, enum verdict, now_word)

    /* `#######==.`: a tenth of the rating a sign, to the busiest or chosen, then to everything on; the mark of near. */
    static void get_bar(const void *answer, size_t row, struct show_cell *cell)
{
    const struct check_answer *check = answer;
    const double rating_a = branch_of(answer, row)->breaker_a;
    const double other_tenths = result_of(answer, row)->other.planning_a / rating_a * SHOW_BAR_SIGNS;
    const double all_tenths = result_of(answer, row)->all.planning_a / rating_a * SHOW_BAR_SIGNS;
    const size_t mark = (size_t)(check_near_share(check) * SHOW_BAR_SIGNS);
    struct text *bar = show_made(cell);
    for (size_t i = 0; i < SHOW_BAR_SIGNS; i++) {
        const double middle = (double)i + 0.5;
        text_add_char(bar, other_tenths >= middle ? '#' : all_tenths >= middle ? '=' : i == mark ? '|' : '.');
    }
    text_add(bar, exceeds(all_tenths, SHOW_BAR_SIGNS) || exceeds(other_tenths, SHOW_BAR_SIGNS) ? ">" : "");
    show_made_done(cell);
}

static void take_at(const struct show_column *column, const void *field, struct show_cell *cell)
{
    const struct moment *at = field;
    (void)column;
    if (at->month >= 0) {
        moment_add(show_made(cell), *at);
        show_made_done(cell);
    }
}

static void take_month(const struct show_column *column, const void *field, struct show_cell *cell)
{
    const int month = ((const struct moment *)field)->month;
    (void)column;
    cell->words = month < 0 ? NULL : month_word(month);
}

#define AT(take) .faces = SHOW_JSON, SHOW_TAKEN(struct branch_assessment, at, take)

static const struct show_column busiest_columns[] = {
    {SHOW_OBJECT(show_figure_rows), SHOW_WITHIN(struct branch_assessment, other)},
    {.key = "at", AT(take_at)},
    {.key = "month", AT(take_month)},
};
static const struct show_rows busiest_rows = SHOW_ROWS_OF(busiest_columns);

static void get_when(const void *answer, size_t row, struct show_cell *cell)
{
    const struct check_answer *check = answer;
    branch_moment_add(show_made(cell), check->house, index_of(answer, row), result_of(answer, row)->at);
    show_made_done(cell);
}

static void get_when_in_year(const void *answer, size_t row, struct show_cell *cell)
{
    const struct check_answer *check = answer;
    show_moment_in_year(check->house, index_of(answer, row), result_of(answer, row)->at, show_made(cell));
    show_made_done(cell);
}

static void get_loads(const void *answer, size_t row, struct show_cell *cell)
{
    const struct branch_answer branch = branch_answer_of(answer, index_of(answer, row));
    cell->part = show_json_array(&show_load_rows, &branch, show_load_count(&branch));
}

#define RESULT(member) .at = result_at, SHOW_FIELD(struct branch_assessment, member)
#define RESULT_AS(member, take) .at = result_at, SHOW_TAKEN(struct branch_assessment, member, take)
#define FIGURES_OF(member) .at = result_at, SHOW_OBJECT(show_figure_rows), SHOW_WITHIN(struct branch_assessment, member)
#define BRANCH(member) .at = branch_at, SHOW_FIELD(struct branch, member)
#define PANEL(member) .at = panel_at, SHOW_FIELD(struct panel, member)
#define ENERGY(member) .at = energy_at, SHOW_FIELD(struct energy_row, member)
#define NOW(member) .at = now_at, SHOW_FIELD(struct branch_assessment, member)

static const struct show_column columns[] = {
    {.title = "Branch", .faces = SHOW_PAPER, .weight = 34, .get = get_name},
    {SHOW_NAMED("status", "VERDICT", "Verdict", NULL), .faces = SHOW_TERMINAL | SHOW_PAPER, .weight = 12,
     RESULT_AS(verdict, take_verdict)},
    {.key = "status", .faces = SHOW_CSV, RESULT_AS(verdict, take_csv_status)},
    {.heading = "OF RATING", .faces = SHOW_TERMINAL, .get = get_bar},
    {.key = "id", .heading = "BRANCH", .faces = SHOW_COMMAND, BRANCH(id)},
    {.key = "label", .heading = "LABEL", .wrap = 24, .faces = SHOW_COMMAND, BRANCH(label)},
    {.key = "panel", .faces = SHOW_JSON, PANEL(id)},
    {.key = "voltage_v", .faces = SHOW_JSON, RESULT(voltage_v)},
    {SHOW_NAMED("breaker_a", "RATING", "Breaker", "A"), .faces = SHOW_EVERY, .weight = 11, BRANCH(breaker_a)},
    {.key = "poles", .faces = SHOW_JSON, BRANCH(poles)},
    {.key = "legs", .faces = SHOW_JSON, .at = branch_at, SHOW_TAKEN(struct branch, legs, show_take_legs)},
    {.key = "status", .faces = SHOW_JSON, RESULT_AS(verdict, show_take_status)},
    {.key = "all", FIGURES_OF(all)},
    {SHOW_NAMED(NULL, NULL, "On now", "A"), .live = "now", .brief = true, .decimals = 1, .faces = SHOW_PAGE,
     .asked = now, NOW(other.current_a)},
    {.title = "As switched",
     .live = "now-word",
     .brief = true,
     .faces = SHOW_PAGE,
     .asked = now,
     .at = now_at,
     SHOW_TAKEN(struct branch_assessment, verdict, take_now_word)},
    {SHOW_NAMED("all_planning_a", "ALL ON", "All on", "A"), .brief = true, .decimals = 1,
     .faces = SHOW_ROWS | SHOW_PRINT, .weight = 10, RESULT(all.planning_a)},
    {.key = "busiest", .asked = busiest, .at = result_at, SHOW_OBJECT(busiest_rows)},
    {SHOW_NAMED("busiest_planning_a", "BUSIEST", "Busiest", "A"), .decimals = 1, .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 11, .asked = busiest, RESULT(other.planning_a)},
    {.title = "When", .heading = "WHEN", .faces = SHOW_TERMINAL | SHOW_PAGE, .asked = busiest, .get = get_when},
    {.title = "When", .faces = SHOW_PAPER, .weight = 18, .asked = busiest, .get = get_when_in_year},
    {.key = "at", .faces = SHOW_CSV, .asked = busiest, RESULT_AS(at, take_at)},
    {.key = "scene", .asked = chosen, FIGURES_OF(other)},
    {SHOW_NAMED("scene_planning_a", "CHOSEN", "Chosen", "A"), .decimals = 1, .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 11, .asked = chosen, RESULT(other.planning_a)},
    {SHOW_NAMED("headroom_a", NULL, "Headroom", "A"), .decimals = 1, .faces = SHOW_CSV | SHOW_PRINT, .weight = 16,
     RESULT(all.headroom_a)},
    {.key = "trip", .faces = SHOW_DATA, RESULT(trip)},
    {SHOW_NAMED("drop_percent", NULL, "Drop", "%"), .decimals = 2, .faces = SHOW_DATA | SHOW_PAPER, .weight = 9,
     RESULT(drop_percent)},
    {SHOW_NAMED(NULL, NULL, "Drop now", "%"), .live = "drop", .decimals = 1, .faces = SHOW_PAGE, .asked = now,
     NOW(drop_percent)},
    {.key = "energy_kwh_day", .faces = SHOW_DATA, ENERGY(kwh_day)},
    {.key = "cost_day", .faces = SHOW_DATA, ENERGY(cost_day)},
    {.key = "loads", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_loads},
    {.key = "findings", .at = result_at, SHOW_FINDINGS(struct branch_assessment, findings)},
};

const struct show_rows show_check_rows = SHOW_ROWS_OF(columns);

#define FIGURE(member) .faces = SHOW_JSON, SHOW_FIELD(struct branch_figures, member)

static const struct show_column figure_columns[] = {
    {.key = "current_a", FIGURE(current_a)},
    {.key = "planning_a", FIGURE(planning_a)},
    {.key = "wire_a", FIGURE(wire_a)},
    {.key = "power_w", FIGURE(power_w)},
    {.key = "reactive_var", FIGURE(reactive_var)},
    {.key = "apparent_va", FIGURE(apparent_va)},
    {.key = "power_factor", FIGURE(power_factor)},
    {.key = "equivalent_ohm", FIGURE(equivalent_ohm)},
    {.key = "headroom_a", FIGURE(headroom_a)},
};

const struct show_rows show_figure_rows = SHOW_ROWS_OF(figure_columns);
