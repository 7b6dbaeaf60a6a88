/* What `fault` says of each point and of each branch: one row of a table below is one column on every face it names.
 */
#include <math.h>

#include "ampsum/arena.h"
#include "ampsum/reference_fault.h"
#include "ampsum/show_fault.h"

static const struct fault_answer *whole(const void *answer)
{
    return answer;
}

static const struct fault_row *row_of(const void *answer, size_t row)
{
    return &whole(answer)->rows[row];
}

static const void *branch_at(const void *answer, size_t row)
{
    return &whole(answer)->house->branches[row_of(answer, row)->branch];
}

static const char *outlet_word(const void *answer, const struct fault_point *point)
{
    return point->outlet == NO_INDEX ? "end" : whole(answer)->house->outlets[point->outlet].id;
}

static void get_outlet(const void *answer, size_t row, struct show_cell *cell)
{
    const struct fault_point *point = row_of(answer, row)->point;
    cell->words = point == NULL ? NULL : outlet_word(answer, point);
}

/* People know names. */
static void get_outlet_name(const void *answer, size_t row, struct show_cell *cell)
{
    const struct fault_point *point = row_of(answer, row)->point;
    const size_t outlet = point == NULL ? NO_INDEX : point->outlet;
    cell->words = outlet == NO_INDEX ? "end of its cable" : house_row_name(whole(answer)->house, KIND_OUTLET, outlet);
}

static void add_branch_link(const void *answer, size_t row, struct text *url)
{
    const struct branch *branch = branch_at(answer, row);
    text_printf(url, "/fault/%s", branch->id);
}

static void get_opens(const void *answer, size_t row, struct show_cell *cell)
{
    const struct fault_point *point = row_of(answer, row)->point;
    cell->words = fault_opens_word(point == NULL ? FAULT_OPENS_UNKNOWN : point->opens);
}

static void take_survives(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    const enum fault_survives survives = *(const enum fault_survives *)field;
    cell->none = survives == FAULT_SURVIVES_UNKNOWN;
    cell->flag = survives == FAULT_SURVIVES;
}

#define TO_POINT                                                                                                       \
    SHOW_ELEMENT(struct fault_answer, rows, struct fault_row), SHOW_POINTED(struct fault_row, point, struct fault_point)
#define POINT(member) TO_POINT, SHOW_FIELD(struct fault_point, member)
#define SURVIVES(take) TO_POINT, SHOW_TAKEN(struct fault_point, survives, take)

/* More than one branch is asked about. */
static bool several(const void *answer)
{
    return whole(answer)->branch_count > 1;
}

#define BRANCH(member) .at = branch_at, SHOW_FIELD(struct branch, member)

static const struct show_column columns[] = {
    {.title = "Branch", .faces = SHOW_PAPER, .weight = 20, .asked = several, BRANCH(id)},
    {.title = "Branch", .faces = SHOW_PAGE, .asked = several, .link = add_branch_link, BRANCH(label)},
    {.key = "branch", .heading = "BRANCH", .wrap = 16, .faces = SHOW_ROWS, BRANCH(id)},
    {SHOW_NAMED("outlet", "OUTLET", "Outlet", NULL), .faces = SHOW_COMMAND | SHOW_PAPER, .weight = 14,
     .get = get_outlet},
    {.title = "Outlet", .faces = SHOW_PAGE, .get = get_outlet_name},
    {.key = "zs_cold_ohm", .title = "Loop cold", .unit = "Ω", .faces = SHOW_DATA, POINT(zs_cold_ohm)},
    {SHOW_NAMED("zs_hot_ohm", "LOOP OHM", "Loop", "Ω"), .decimals = 3, .faces = SHOW_EVERY, .weight = 12,
     POINT(zs_hot_ohm)},
    {SHOW_NAMED("fault_min_a", "LEAST A", "Least", "A"), .decimals = 0, .faces = SHOW_EVERY, .weight = 12,
     POINT(fault_min_a)},
    {SHOW_NAMED("times_breaker", "x RATING", "Times", NULL), .decimals = 1, .faces = SHOW_EVERY, .weight = 10,
     POINT(times_breaker)},
    {SHOW_NAMED("fault_max_a", "MOST A", "Most", "A"), .json_before = "times_breaker", .decimals = 0,
     .faces = SHOW_EVERY, .weight = 12, POINT(fault_max_a)},
    {SHOW_NAMED("touch_v", "TOUCH V", "Touch", "V"), .decimals = 0, .faces = SHOW_EVERY, .weight = 10, POINT(touch_v)},
    {SHOW_NAMED("opens", "OPENS", "Opens", NULL), .kind = SHOW_WORDS, .faces = SHOW_EVERY, .weight = 10,
     .get = get_opens},
    {SHOW_NAMED("survives", "WIRE", "Wire", NULL), .kind = SHOW_FLAG, .faces = SHOW_EVERY, .weight = 10,
     SURVIVES(take_survives)},
};

const struct show_rows show_fault_rows = SHOW_ROWS_OF(columns);

/* ------------------------------------------------------------------ runs ---------------------------------- */

static size_t branch_index(const void *answer, size_t row)
{
    return whole(answer)->branches[row];
}

static const void *run_branch_at(const void *answer, size_t row)
{
    return &whole(answer)->house->branches[branch_index(answer, row)];
}

static const void *run_result_at(const void *answer, size_t row)
{
    return &whole(answer)->study->branches[branch_index(answer, row)];
}

static void get_device(const void *answer, size_t row, struct show_cell *cell)
{
    const struct branch *branch = run_branch_at(answer, row);
    struct text *text = show_made(cell);
    text_printf(text, "%s ", trip_word(branch->trip));
    text_add_rounded(text, branch->breaker_a, 1);
    show_made_done(cell);
}

static void get_run(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = fault_run_m(answer, branch_index(answer, row));
}

static void get_way(const void *answer, size_t row, struct show_cell *cell)
{
    const struct fault_branch *result = run_result_at(answer, row);
    cell->words = isnan(result->longest_m) ? NULL : result->conventional ? "conventional" : "loop";
}

#define RUN_BRANCH(member) .at = run_branch_at, SHOW_FIELD(struct branch, member)
#define RUN(member) .at = run_result_at, SHOW_FIELD(struct fault_branch, member)

/* As long as the study lives. */
static void get_points(const void *answer, size_t row, struct show_cell *cell)
{
    struct fault_answer own = *whole(answer);
    const size_t branch = branch_index(answer, row);
    const struct fault_branch *result = run_result_at(answer, row);
    own.rows = arena_array(own.study->arena, result->point_count, sizeof *own.rows);
    for (size_t i = 0; i < result->point_count; i++) {
        own.rows[i] = (struct fault_row){branch, &result->points[i], i == 0};
    }
    cell->part = show_json_array(&show_fault_rows, &own, result->point_count);
}

static const struct show_column longest_columns[] = {
    {.title = "Branch", .faces = SHOW_PAGE, RUN_BRANCH(label)},
    {SHOW_NAMED("branch", "BRANCH", "Branch", NULL), .faces = SHOW_ROWS | SHOW_PAPER, .wrap = 20, .weight = 24,
     RUN_BRANCH(id)},
    {.key = "id", .faces = SHOW_JSON, RUN_BRANCH(id)},
    {.key = "isc_max_a", .faces = SHOW_JSON, RUN(isc_max_a)},
    {.key = "breaking_a", .faces = SHOW_JSON, RUN(breaking_a)},
    {SHOW_NAMED("device", "DEVICE", "Device", NULL), .kind = SHOW_WORDS, .faces = SHOW_ROWS | SHOW_PRINT, .weight = 18,
     .get = get_device},
    {SHOW_NAMED("zs_max_ohm", "LOOP AT MOST OHM", "Loop at most", "Ω"), .decimals = 3, .faces = SHOW_EVERY,
     .weight = 14, RUN(zs_max_ohm)},
    {.key = "disconnect_s", .faces = SHOW_JSON, RUN(disconnect_s)},
    {SHOW_NAMED("run_m", "RUN NOW M", "Run now", "m"), .kind = SHOW_FIGURE, .decimals = 1,
     .faces = SHOW_ROWS | SHOW_PRINT, .weight = 14, .get = get_run},
    {SHOW_NAMED("longest_m", "OPENS UP TO M", "Opens up to", "m"), .decimals = 1, .faces = SHOW_EVERY, .weight = 14,
     RUN(longest_m)},
    {SHOW_NAMED("way", "BY", "By", NULL), .kind = SHOW_WORDS, .faces = SHOW_ROWS | SHOW_PRINT, .weight = 14,
     .get = get_way},
    {.key = "points", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_points},
    {.key = "findings", .at = run_result_at, SHOW_FINDINGS(struct fault_branch, findings)},
};

const struct show_rows show_fault_longest_rows = SHOW_ROWS_OF(longest_columns);

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static const void *panel_at(const void *answer, size_t row)
{
    return &whole(answer)->house->panels[whole(answer)->panels[row]];
}

static const void *panel_result_at(const void *answer, size_t row)
{
    return &whole(answer)->study->panels[whole(answer)->panels[row]];
}

static const void *earthing_at(const void *answer, size_t row)
{
    (void)row;
    return whole(answer)->study->earthing;
}

#define OF_PANEL(member) .at = panel_result_at, .faces = SHOW_JSON, SHOW_FIELD(struct fault_panel, member)
#define STUDY(member) .faces = SHOW_JSON, SHOW_TO(struct fault_answer, study, struct fault_study, member)

static const struct show_column panel_columns[] = {
    {.key = "id", .faces = SHOW_JSON, .at = panel_at, SHOW_FIELD(struct panel, id)},
    {.key = "isc_max_a", OF_PANEL(isc_max_a)},
    {.key = "breaking_a", OF_PANEL(breaking_a)},
    {.key = "findings", .at = panel_result_at, SHOW_FINDINGS(struct fault_panel, findings)},
};
static const struct show_rows panel_rows = SHOW_ROWS_OF(panel_columns);

static const struct show_column answer_columns[] = {
    {.key = "rules", STUDY(rules)},
    {.key = "earthing", .faces = SHOW_JSON, .at = earthing_at, SHOW_FIELD(struct ref_earthing, earthing)},
    {.key = "ze_ohm", STUDY(ze_ohm)},
    {.key = "ze_assumed", STUDY(ze_assumed)},
    {.key = "pscc_a", STUDY(pscc_a)},
    {.key = "pscc_assumed", STUDY(pscc_assumed)},
    {.key = "panels", SHOW_LIST(panel_rows, struct fault_answer, panel_count)},
    {.key = "branches", SHOW_LIST(show_fault_longest_rows, struct fault_answer, branch_count)},
};

json_t *show_fault_json(const struct fault_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    return show_answer_json("fault", answer->house->name, &rows, answer, show_fault_notes(answer));
}
