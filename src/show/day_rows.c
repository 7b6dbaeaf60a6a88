/* The answer of `day` as rows and as JSON. */
#include <math.h>

#include "ampsum/html.h"
#include "ampsum/show_day.h"
#include "ampsum/values.h"
#include "day_words.h"

/* ------------------------------------------------------------------ stretches ----------------------------- */

static const struct day_row *course_of(const void *answer, size_t row)
{
    return &((const struct day_row *)answer)[row];
}

static const void *stretch_at(const void *answer, size_t row)
{
    return course_of(answer, row)->stretch;
}

static const void *course_view_at(const void *answer, size_t row)
{
    return course_of(answer, row)->view;
}

static void get_leg(const void *answer, size_t row, struct show_cell *cell)
{
    const char *leg = course_of(answer, row)->view->leg;
    cell->words = leg == NULL ? "" : leg;
}

static void get_day(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = day_word(course_of(answer, row)->view->series.day.weekday);
}

static void get_month(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = month_word(course_of(answer, row)->view->series.day.month);
}

static void set_time(int minute, struct show_cell *cell)
{
    clock_add(show_made(cell), minute);
    show_made_done(cell);
}

static void get_start(const void *answer, size_t row, struct show_cell *cell)
{
    set_time(course_of(answer, row)->stretch->start_min, cell);
}

static void get_end(const void *answer, size_t row, struct show_cell *cell)
{
    set_time(course_of(answer, row)->stretch->end_min, cell);
}

#define STRETCH(member) .at = stretch_at, SHOW_FIELD(struct day_stretch, member)
#define COURSE(member) .at = course_view_at, SHOW_FIELD(struct day_view, member)

static const struct show_column course_columns[] = {
    {.key = "id", .faces = SHOW_CSV, COURSE(id)},
    {.key = "leg", .faces = SHOW_CSV, .get = get_leg},
    {.key = "day", .faces = SHOW_CSV, .get = get_day},
    {.key = "month", .faces = SHOW_CSV, .get = get_month},
    {.key = "start", .title = "From", .weight = 20, .faces = SHOW_DATA | SHOW_PRINT, .get = get_start},
    {.key = "end", .title = "To", .weight = 20, .faces = SHOW_DATA | SHOW_PRINT, .get = get_end},
    {SHOW_NAMED("current_a", NULL, "Current", "A"), .decimals = 2, .weight = 20, .faces = SHOW_DATA | SHOW_PRINT,
     STRETCH(current_a)},
    {SHOW_NAMED("planning_a", NULL, "Planning", "A"), .decimals = 2, .weight = 20, .faces = SHOW_DATA | SHOW_PRINT,
     STRETCH(planning_a)},
    {.key = "rating_a", .faces = SHOW_CSV, COURSE(series.rating_a)},
};

const struct show_rows show_course_rows = SHOW_ROWS_OF(course_columns);

/* ------------------------------------------------------------------ views --------------------------------- */

static const struct day_view *view_of(const void *answer, size_t row)
{
    return &((const struct day_answer *)answer)->views[row];
}

static const void *busiest_at(const void *answer, size_t row)
{
    const struct day_series *series = &view_of(answer, row)->series;
    return &series->stretches[series->busiest];
}

static void get_id(const void *answer, size_t row, struct show_cell *cell)
{
    const struct day_view *view = view_of(answer, row);
    text_printf(show_made(cell), "%s%s%s", view->id, view->leg != NULL ? " leg " : "",
                view->leg != NULL ? view->leg : "");
    show_made_done(cell);
}

static void get_where(const void *answer, size_t row, struct show_cell *cell)
{
    const struct day_view *view = view_of(answer, row);
    text_printf(show_made(cell), "%s%s%s", view->label, view->leg != NULL ? ", leg " : "",
                view->leg != NULL ? view->leg : "");
    show_made_done(cell);
}

/* The day of that branch or panel alone. */
static void link_view(const void *answer, size_t row, struct text *url)
{
    const struct day_question *question = ((const struct day_answer *)answer)->question;
    text_add(url, "/cost/day?of=");
    html_query(url, view_of(answer, row)->id);
    text_printf(url, "&day=%s&month=%s&on-date=%s", question->day, question->month, question->date);
}

/* `Mon 06:50, Jan`, when the busiest stretch begins, `any time` without times; false where nothing draws a current. */
static bool add_when(const struct day_view *view, struct text *text)
{
    const struct day_series *series = &view->series;
    const struct day_stretch *busiest = &series->stretches[series->busiest];
    if (!(busiest->planning_a > 0)) {
        return false;
    }
    if (!view->timed) {
        text_add(text, "any time");
        return true;
    }
    text_printf(text, "%.3s ", day_name(series->day.weekday));
    if (series->stretch_count == 1) {
        text_add(text, "all day");
    } else {
        clock_add(text, busiest->start_min);
    }
    text_printf(text, ", %.3s", month_name(series->day.month));
    return true;
}

/* In words: `Monday in January, 06:50`. */
static void get_when_words(const void *answer, size_t row, struct show_cell *cell)
{
    const struct day_view *view = view_of(answer, row);
    if (view->series.stretches[view->series.busiest].planning_a > 0) {
        day_add_when(view, show_made(cell));
        show_made_done(cell);
    }
}

static void get_when(const void *answer, size_t row, struct show_cell *cell)
{
    if (add_when(view_of(answer, row), show_made(cell))) {
        show_made_done(cell);
    }
}

static void head_near(const void *answer, struct text *text)
{
    text_rounded(text, "H > ", ((const struct day_answer *)answer)->near_percent, 1, "%");
}

static void get_near_hours(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = view_of(answer, row)->series.over_share_min / 60.0;
}

static void get_over_hours(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = view_of(answer, row)->series.over_rating_min / 60.0;
}

/* What was left out of the odds may be what counts: 0 % would be wrong then. */
static void get_odds(const void *answer, size_t row, struct show_cell *cell)
{
    const struct day_view *view = view_of(answer, row);
    if (view->chance_known) {
        day_percent(show_made(cell), (struct chance_bounds){view->chance.worst.upper, view->chance.worst.upper});
        show_made_done(cell);
    }
}

static void get_not_exceeded(const void *answer, size_t row, struct show_cell *cell)
{
    const struct day_view *view = view_of(answer, row);
    cell->figure = view->chance_known ? view->chance.current_99_a.upper : (double)NAN;
}

/* ------------------------------------------------------------------ parts of JSON ------------------------- */

/* Appliances of a list, by their IDs. */
struct listed {
    const struct house *house;
    const struct index_list *list;
};

static void get_listed(const void *answer, size_t row, struct show_cell *cell)
{
    const struct listed *listed = answer;
    cell->words = listed->house->appliances[listed->list->index[row]].id;
}

static json_t *ids_json(const void *answer, const struct index_list *list)
{
    static const struct show_column columns[] = {{.faces = SHOW_JSON, .get = get_listed}};
    static const struct show_rows rows = SHOW_ROWS_OF(columns);
    const struct listed listed = {((const struct day_answer *)answer)->house, list};
    return show_json_array(&rows, &listed, list->count);
}

static void get_left_out(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = ids_json(answer, &view_of(answer, row)->left_out);
}

static const void *chance_at(const void *answer, size_t row)
{
    return &view_of(answer, row)->chance;
}

static void get_worst_at(const void *answer, size_t row, struct show_cell *cell)
{
    set_time(view_of(answer, row)->chance.worst_min, cell);
}

#define BOUND(member) .faces = SHOW_JSON, SHOW_FIELD(struct chance_bounds, member)

static const struct show_column bounds_columns[] = {{.key = "lower", BOUND(lower)}, {.key = "upper", BOUND(upper)}};
static const struct show_rows bounds_rows = SHOW_ROWS_OF(bounds_columns);

#define CHANCE(member) .faces = SHOW_JSON, .at = chance_at, SHOW_FIELD(struct chance_figures, member)
#define BOUNDS(member) SHOW_OBJECT(bounds_rows), .at = chance_at, SHOW_WITHIN(struct chance_figures, member)

static const struct show_column chance_columns[] = {
    {.key = "grid_a", CHANCE(grid_a)},
    {.key = "worst_at", .faces = SHOW_JSON, .get = get_worst_at},
    {.key = "worst_minute", BOUNDS(worst)},
    {.key = "share_of_time", BOUNDS(time)},
    {.key = "some_time_at_least", CHANCE(worst.lower)},
    {.key = "some_time_at_most", CHANCE(some_time_most)},
    {.key = "current_95_a", BOUNDS(current_95_a)},
    {.key = "current_99_a", BOUNDS(current_99_a)},
    {.key = "left_out", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_left_out},
};

static void get_chance(const void *answer, size_t row, struct show_cell *cell)
{
    static const struct show_rows rows = SHOW_ROWS_OF(chance_columns);
    cell->part = show_json(&rows, answer, row);
}

/* As a stretch of the course, with what is on. */
static void get_busiest(const void *answer, size_t row, struct show_cell *cell)
{
    const struct day_view *view = view_of(answer, row);
    cell->part = show_json(&show_course_rows, &view->rows[view->series.busiest], 0);
    json_object_set_new(cell->part, "on", ids_json(answer, &view->on));
}

static void get_stretches(const void *answer, size_t row, struct show_cell *cell)
{
    const struct day_view *view = view_of(answer, row);
    cell->part = show_json_array(&show_course_rows, view->rows, view->series.stretch_count);
}

/* ------------------------------------------------------------------ views: their columns ------------------ */

enum { SHOW_SEEN = SHOW_TERMINAL | SHOW_PAGE };

static bool has_legs(const void *answer)
{
    return view_of(answer, 0)->leg != NULL;
}

static void get_day_of_view(const void *answer, size_t row, struct show_cell *cell)
{
    get_day(view_of(answer, row)->rows, 0, cell);
}

static void get_month_of_view(const void *answer, size_t row, struct show_cell *cell)
{
    get_month(view_of(answer, row)->rows, 0, cell);
}

#define VIEW(member) SHOW_IN(struct day_answer, views, struct day_view, member)
#define BUSIEST(member) .at = busiest_at, SHOW_FIELD(struct day_stretch, member)

static const struct show_column day_columns[] = {
    {.key = "id", .faces = SHOW_JSON, VIEW(id)},
    {.key = "leg", .faces = SHOW_JSON, .asked = has_legs, VIEW(leg)},
    {.key = "day", .faces = SHOW_JSON, .get = get_day_of_view},
    {.key = "month", .faces = SHOW_JSON, .get = get_month_of_view},
    {.heading = "WHERE", .faces = SHOW_TERMINAL, .get = get_id},
    {.title = "Where", .faces = SHOW_PAGE, .link = link_view, .get = get_where},
    {.heading = "BUSIEST", .faces = SHOW_TERMINAL, .get = get_when},
    {.title = "Busiest", .faces = SHOW_PAGE, .get = get_when_words},
    {.heading = "PLAN A", .title = "Planning", .unit = "A", .decimals = 2, .faces = SHOW_SEEN, BUSIEST(planning_a)},
    {SHOW_NAMED("rating_a", "RATING", "Rating", "A"), .decimals = 1, .faces = SHOW_SEEN | SHOW_JSON,
     VIEW(series.rating_a)},
    {.key = "busiest", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_busiest},
    {.key = "over_80_percent_h",
     .head = head_near,
     .kind = SHOW_FIGURE,
     .decimals = 1,
     .faces = SHOW_TERMINAL | SHOW_JSON,
     .get = get_near_hours},
    {SHOW_NAMED("over_rating_h", "H OVER", "Hours over", NULL), .kind = SHOW_FIGURE, .decimals = 1,
     .faces = SHOW_SEEN | SHOW_JSON, .get = get_over_hours},
    {.heading = "ODDS", .title = "Odds", .right = true, .faces = SHOW_SEEN, .get = get_odds},
    {.heading = "99% A", .kind = SHOW_FIGURE, .decimals = 2, .faces = SHOW_TERMINAL, .get = get_not_exceeded},
    {.key = "energy_kwh", .faces = SHOW_JSON, VIEW(energy_kwh)},
    {.key = "chance", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_chance},
    {.key = "stretches", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_stretches},
};

const struct show_rows show_day_rows = SHOW_ROWS_OF(day_columns);

/* ------------------------------------------------------------------ JSON ---------------------------------- */

/* The views of branches, which stand before those of panels, or these. */
static json_t *views_json(const struct day_answer *answer, bool panels)
{
    struct day_answer part = *answer;
    size_t branches = 0;
    while (branches < answer->count && answer->views[branches].leg == NULL) {
        branches++;
    }
    part.views += panels ? branches : 0;
    part.count = panels ? answer->count - branches : branches;
    return part.count == 0 ? json_array() : show_json_array(&show_day_rows, &part, part.count);
}

static void get_branches(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = views_json(answer, false);
}

static void get_panels(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = views_json(answer, true);
}

static const struct show_column answer_columns[] = {
    {.key = "branches", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_branches},
    {.key = "panels", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_panels},
};

json_t *show_day_json(const struct day_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    static const char *const more[] = {
        "The odds take appliances as independent of one another; meals and cold evenings bring loads together, so the "
        "true chance may be higher.",
        NULL};
    return show_answer_json("day", answer->house->name, &rows, answer, more);
}
