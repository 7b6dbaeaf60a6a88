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

const struct show_rows show_course_rows = {course_columns, sizeof course_columns / sizeof course_columns[0]};

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

enum { SHOW_SEEN = SHOW_TERMINAL | SHOW_PAGE };

#define VIEW(member) SHOW_IN(struct day_answer, views, struct day_view, member)
#define BUSIEST(member) .at = busiest_at, SHOW_FIELD(struct day_stretch, member)

static const struct show_column day_columns[] = {
    {.heading = "WHERE", .faces = SHOW_TERMINAL, .get = get_id},
    {.title = "Where", .faces = SHOW_PAGE, .link = link_view, .get = get_where},
    {.heading = "BUSIEST", .faces = SHOW_TERMINAL, .get = get_when},
    {.title = "Busiest", .faces = SHOW_PAGE, .get = get_when_words},
    {.heading = "PLAN A", .title = "Planning", .unit = "A", .decimals = 2, .faces = SHOW_SEEN, BUSIEST(planning_a)},
    {.heading = "RATING", .title = "Rating", .unit = "A", .decimals = 1, .faces = SHOW_SEEN, VIEW(series.rating_a)},
    {.head = head_near, .kind = SHOW_FIGURE, .decimals = 1, .faces = SHOW_TERMINAL, .get = get_near_hours},
    {SHOW_NAMED(NULL, "H OVER", "Hours over", NULL), .kind = SHOW_FIGURE, .decimals = 1, .faces = SHOW_SEEN,
     .get = get_over_hours},
    {.heading = "ODDS", .title = "Odds", .right = true, .faces = SHOW_SEEN, .get = get_odds},
    {.heading = "99% A", .kind = SHOW_FIGURE, .decimals = 2, .faces = SHOW_TERMINAL, .get = get_not_exceeded},
};

const struct show_rows show_day_rows = {day_columns, sizeof day_columns / sizeof day_columns[0]};

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static json_t *time_json(int minute)
{
    struct text text = {0};
    clock_add(&text, minute);
    json_t *time = json_text(text_string(&text));
    text_done(&text);
    return time;
}

static json_t *bounds_json(struct chance_bounds bounds)
{
    json_t *object = json_object();
    json_object_set_new(object, "lower", json_figure(bounds.lower));
    json_object_set_new(object, "upper", json_figure(bounds.upper));
    return object;
}

static json_t *ids_json(const struct house *house, const struct index_list *list)
{
    json_t *array = json_array();
    for (size_t i = 0; i < list->count; i++) {
        json_array_append_new(array, json_text(house->appliances[list->index[i]].id));
    }
    return array;
}

static json_t *chance_json(const struct house *house, const struct day_view *view)
{
    const struct chance_figures *chance = &view->chance;
    json_t *object = json_object();
    json_object_set_new(object, "grid_a", json_figure(chance->grid_a));
    json_object_set_new(object, "worst_at", time_json(chance->worst_min));
    json_object_set_new(object, "worst_minute", bounds_json(chance->worst));
    json_object_set_new(object, "share_of_time", bounds_json(chance->time));
    json_object_set_new(object, "some_time_at_least", json_figure(chance->worst.lower));
    json_object_set_new(object, "some_time_at_most", json_figure(chance->some_time_most));
    json_object_set_new(object, "current_95_a", bounds_json(chance->current_95_a));
    json_object_set_new(object, "current_99_a", bounds_json(chance->current_99_a));
    json_object_set_new(object, "left_out", ids_json(house, &view->left_out));
    return object;
}

static json_t *busiest_json(const struct house *house, const struct day_view *view)
{
    const struct day_row row = {view, &view->series.stretches[view->series.busiest]};
    json_t *object = show_json(&show_course_rows, &row, 0);
    json_object_set_new(object, "on", ids_json(house, &view->on));
    return object;
}

/* `rows`: the view's stretches. */
static json_t *view_json(const struct house *house, const struct day_view *view, const struct day_row *rows)
{
    const struct day_series *series = &view->series;
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(view->id));
    if (view->leg != NULL) {
        json_object_set_new(object, "leg", json_text(view->leg));
    }
    json_object_set_new(object, "day", json_text(day_word(series->day.weekday)));
    json_object_set_new(object, "month", json_text(month_word(series->day.month)));
    json_object_set_new(object, "rating_a", json_figure(series->rating_a));
    json_object_set_new(object, "busiest", busiest_json(house, view));
    json_object_set_new(object, "over_80_percent_h", json_figure(series->over_share_min / 60.0));
    json_object_set_new(object, "over_rating_h", json_figure(series->over_rating_min / 60.0));
    json_object_set_new(object, "energy_kwh", json_figure(view->energy_kwh));
    json_object_set_new(object, "chance", chance_json(house, view));
    json_object_set_new(object, "stretches", show_json_array(&show_course_rows, rows, series->stretch_count));
    return object;
}

json_t *show_day_json(const struct day_answer *answer)
{
    static const char *const more[] = {
        "The odds take appliances as independent of one another; meals and cold evenings bring loads together, so the "
        "true chance may be higher.",
        NULL};
    json_t *json = json_answer("day", answer->house->name);
    json_t *branches = json_array();
    json_t *panels = json_array();
    const struct day_row *rows = answer->rows;
    for (size_t i = 0; i < answer->count; i++) {
        const struct day_view *view = &answer->views[i];
        json_array_append_new(view->leg == NULL ? branches : panels, view_json(answer->house, view, rows));
        rows += view->series.stretch_count;
    }
    json_object_set_new(json, "branches", branches);
    json_object_set_new(json, "panels", panels);
    json_cautions(json, more);
    return json;
}
