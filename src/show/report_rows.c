/* The report's own tables: panels, numbers of findings, notes. */
#include <math.h>

#include "ampsum/plain_words.h"
#include "ampsum/reference.h"
#include "ampsum/show_report.h"

/* ---- panels */

static const void *panel_at(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->house->panels[row];
}

static const void *result_at(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->assessment->panels[row];
}

static void get_name(const void *answer, size_t row, struct show_cell *cell)
{
    const struct panel *panel = panel_at(answer, row);
    cell->words = panel->name != NULL ? panel->name : panel->id;
}

/* Whether some panel has that leg, or one behind it. */
static bool has_leg(const void *answer, unsigned leg)
{
    const struct house *house = ((const struct check_answer *)answer)->house;
    bool has = false;
    for (size_t i = 0; i < house->panel_count; i++) {
        has = has || house->panels[i].legs >> leg != 0;
    }
    return has;
}

static bool has_b(const void *answer)
{
    return has_leg(answer, 1);
}

static bool has_c(const void *answer)
{
    return has_leg(answer, 2);
}

static void get_leg(const void *answer, size_t row, unsigned leg, struct show_cell *cell)
{
    const struct panel *panel = panel_at(answer, row);
    const struct panel_assessment *result = result_at(answer, row);
    cell->figure = (panel->legs >> leg & 1U) != 0 ? result->all.leg_current_a[leg] : (double)NAN;
}

static void get_a(const void *answer, size_t row, struct show_cell *cell)
{
    get_leg(answer, row, 0, cell);
}

static void get_b(const void *answer, size_t row, struct show_cell *cell)
{
    get_leg(answer, row, 1, cell);
}

static void get_c(const void *answer, size_t row, struct show_cell *cell)
{
    get_leg(answer, row, 2, cell);
}

#define RESULT(member) .at = result_at, SHOW_FIELD(struct panel_assessment, member)
#define FIGURE(title_, unit_, weight_, decimals_)                                                                      \
    .title = (title_), .unit = (unit_), .weight = (weight_), .decimals = (decimals_), .faces = SHOW_PAPER

static const struct show_column panel_columns[] = {
    {.title = "Panel", .faces = SHOW_PAPER, .weight = 26, .get = get_name},
    {FIGURE("Breaker", "A", 11, 0), .at = panel_at, SHOW_FIELD(struct panel, breaker_a)},
    {FIGURE("Leg A", "A", 11, 1), .kind = SHOW_FIGURE, .get = get_a},
    {FIGURE("Leg B", "A", 11, 1), .kind = SHOW_FIGURE, .asked = has_b, .get = get_b},
    {FIGURE("Leg C", "A", 11, 1), .kind = SHOW_FIGURE, .asked = has_c, .get = get_c},
    {FIGURE("Neutral", "A", 11, 1), RESULT(all.neutral_a)},
    {FIGURE("Demand by rules", "A", 14, 1), RESULT(demand_a)},
    {FIGURE("Feeder drop", "%", 12, 2), RESULT(feeder_drop_percent)},
};
const struct show_rows show_report_panel_rows = SHOW_ROWS_OF(panel_columns);

/* ---- findings */

void show_found_where(const struct found_where *where, struct text *text)
{
    text_printf(text, "%s%s", where->panel ? "panel " : "", where->name);
}

static const struct finding *finding_of(const void *answer, size_t row)
{
    return ((const struct found *)answer)[row].finding;
}

static const void *finding_at(const void *answer, size_t row)
{
    return finding_of(answer, row);
}

static void get_number(const void *answer, size_t row, struct show_cell *cell)
{
    const struct finding *finding = finding_of(answer, row);
    text_printf(show_made(cell), "[%s] %s", finding->id, show_severity(finding->severity));
    show_made_done(cell);
}

static void get_compares(const void *answer, size_t row, struct show_cell *cell)
{
    const struct ref_finding *what = finding_of(answer, row)->row;
    text_printf(show_made(cell), "%s: %s", what->title, what->compares);
    show_made_done(cell);
}

static void get_where(const void *answer, size_t row, struct show_cell *cell)
{
    show_found_where(&((const struct found *)answer)[row].where, show_made(cell));
    show_made_done(cell);
}

static void get_note(const void *answer, size_t row, struct show_cell *cell)
{
    const struct finding *finding = finding_of(answer, row);
    text_printf(show_made(cell), "%s [%s]", finding->text, finding->id);
    plain_paper(&cell->made);
    show_made_done(cell);
}

static const struct show_column number_columns[] = {
    {.title = "Finding", .faces = SHOW_PAPER, .weight = 20, .get = get_number},
    {.title = "What is held against what", .faces = SHOW_PAPER, .weight = 46, .get = get_compares},
    {.title = "Source", .faces = SHOW_PAPER, .weight = 46, .at = finding_at, SHOW_FIELD(struct finding, source)},
};
const struct show_rows show_report_number_rows = SHOW_ROWS_OF(number_columns);

static const struct show_column note_columns[] = {
    {.title = "Where", .faces = SHOW_PAPER, .weight = 30, .get = get_where},
    {.title = "Note", .faces = SHOW_PAPER, .weight = 84, .get = get_note},
};
const struct show_rows show_report_note_rows = SHOW_ROWS_OF(note_columns);
