#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "day_view.h"

static const char *const examples[] = {"ampsum day demo-house/us.ini", "ampsum day demo-house/us.ini workshop",
                                       "ampsum day demo-house/us.ini --day weekend --month jan", NULL};

static const struct option_spec options[] = {
    {"day", '\0', "DAY", "weekday, weekend, or mon to sun (default: the busiest day)"},
    {"month", '\0', "MONTH", "jan to dec (default: the busiest month)"},
    {"on-date", '\0', "DATE", "MM-DD in a year that begins on a Monday, or YYYY-MM-DD"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "An ID is a branch's or a panel's. Without a day each branch shows its own busiest day.",
    "CSV gives the whole course: one row for each stretch of minutes in which nothing changes.",
    NULL,
};

/* The days asked for; `fixed` where one date was given. */
struct choice {
    unsigned days;
    unsigned months;
    bool fixed;
    struct day day;
};

static bool read_choice(struct invocation *invocation, struct choice *ret_choice);
static struct day_view *collect(struct invocation *invocation, const struct choice *choice, size_t *ret_count);
static void write_series(struct invocation *invocation, const struct day_view *views, size_t count);
static void write_summary(struct invocation *invocation, const struct day_view *views, size_t count);
static void write_json(struct invocation *invocation, const struct day_view *views, size_t count);

static void write_next(struct invocation *invocation, const struct day_view *views, bool single)
{
    struct text line = {0};
    text_printf(&line, single ? "ampsum branch HOUSE %s --working" : "ampsum day HOUSE %s", views[0].id);
    const char *lines[] = {text_string(&line), "ampsum day HOUSE --day weekend --month jan", NULL};
    if (single && views[0].leg != NULL) {
        lines[0] = "ampsum check HOUSE";
    }
    invocation_next(invocation, lines);
    text_done(&line);
}

static void write_text(struct invocation *invocation, const struct day_view *views, size_t count)
{
    struct text *text = &invocation->out;
    bool single = invocation->operand_count > 0;
    for (size_t i = 0; i < count && single; i++) {
        day_view_text(invocation->house, &views[i], &invocation->page, text);
        text_add_char(text, '\n');
    }
    if (!single) {
        write_summary(invocation, views, count);
        text_add_char(text, '\n');
        day_view_left_out(invocation->house, views, invocation->house->branch_count, &invocation->page, text);
    }
    day_view_assumptions(views, count, &invocation->page, text);
    text_add_char(text, '\n');
    report_cautions_text(&invocation->page, NULL, text);
    if (count > 0) {
        write_next(invocation, views, single);
    }
}

static int run(struct invocation *invocation)
{
    struct choice choice;
    size_t count = 0;
    if (!invocation_house(invocation, 1) || !invocation_operands(invocation, 0, 1) ||
        !read_choice(invocation, &choice)) {
        return 2;
    }
    struct day_view *views = collect(invocation, &choice, &count);
    if (views == NULL) {
        return 2;
    }
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, views, count);
    } else if (invocation->format == FORMAT_CSV) {
        write_series(invocation, views, count);
    } else {
        write_text(invocation, views, count);
    }
    return 0;
}

static bool read_day(struct invocation *invocation, struct choice *choice)
{
    const char *word = option_value(invocation, "day");
    if (word == NULL) {
        return true;
    }
    if (strcmp(word, "weekday") == 0 || strcmp(word, "weekend") == 0) {
        choice->days = strcmp(word, "weekday") == 0 ? DAYS_WEEKDAYS : DAYS_WEEKEND;
        return true;
    }
    for (int day = 0; day < 7; day++) {
        if (strcmp(word, day_word(day)) == 0) {
            choice->days = 1U << day;
            return true;
        }
    }
    error_set(&invocation->error, ERROR_INPUT, "--day %s: expected weekday, weekend or mon to sun", word);
    return false;
}

static bool read_month(struct invocation *invocation, struct choice *choice)
{
    const char *word = option_value(invocation, "month");
    for (int month = 0; word != NULL && month < MONTHS_IN_YEAR; month++) {
        if (strcmp(word, month_word(month)) == 0) {
            choice->months = 1U << month;
            return true;
        }
    }
    if (word != NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--month %s: expected jan to dec", word);
    }
    return word == NULL;
}

static bool read_choice(struct invocation *invocation, struct choice *ret_choice)
{
    *ret_choice = (struct choice){.days = DAYS_ALL, .months = MONTHS_ALL};
    const char *date = option_value(invocation, "on-date");
    if (date == NULL) {
        return read_day(invocation, ret_choice) && read_month(invocation, ret_choice);
    }
    if (option_given(invocation, "day") || option_given(invocation, "month")) {
        error_set(&invocation->error, ERROR_INPUT, "--on-date stands alone: it fixes the day and the month");
        return false;
    }
    ret_choice->fixed = true;
    if (!day_from_text(date, &ret_choice->day)) {
        error_set(&invocation->error, ERROR_INPUT, "--on-date %s: expected a date, MM-DD or YYYY-MM-DD", date);
        return false;
    }
    return true;
}

static void fill_view(struct invocation *invocation, const struct choice *choice, struct day_view *view)
{
    const struct house *house = invocation->house;
    struct planning_factors factors = rules_factors(house->rules);
    struct day day =
        choice->fixed ? choice->day : day_busiest(house, view->scope, choice->days, choice->months, factors);
    double near_share = reference_rule_value("near-share", rules_word(house->rules)) / 100;
    day_course(house, view->scope, day, factors, near_share, invocation->arena, &view->series);
    day_odds(house, view->scope, day, factors, invocation->arena, NULL, &view->chance, &view->left_out);
}

static size_t add_branch(struct invocation *invocation, const struct choice *choice, size_t branch,
                         struct day_view *view)
{
    const struct branch *row = &invocation->house->branches[branch];
    *view = (struct day_view){
        .scope = {.branch = branch, .panel = NO_INDEX}, .id = row->id, .label = row->label, .leg = NULL};
    fill_view(invocation, choice, view);
    return 1;
}

static size_t add_panel(struct invocation *invocation, const struct choice *choice, size_t panel,
                        struct day_view *views)
{
    static const char *const legs[] = {"A", "B", "C"};
    const struct panel *row = &invocation->house->panels[panel];
    size_t count = 0;
    for (int leg = 0; leg < 3; leg++) {
        if ((row->legs >> leg & 1U) != 0) {
            views[count] = (struct day_view){.scope = {.branch = NO_INDEX, .panel = panel, .leg = leg},
                                             .id = row->id,
                                             .label = row->name != NULL ? row->name : row->id,
                                             .leg = legs[leg]};
            fill_view(invocation, choice, &views[count]);
            count++;
        }
    }
    return count;
}

/* A branch's ID or, where no branch has it, a panel's. */
static struct day_view *collect_one(struct invocation *invocation, const struct choice *choice, size_t *ret_count)
{
    const char *id = invocation->operands[0];
    struct day_view *views = arena_array(invocation->arena, 3, sizeof *views);
    size_t branch = house_find(invocation->house, KIND_BRANCH, id);
    size_t panel = house_find(invocation->house, KIND_PANEL, id);
    if (branch == NO_INDEX && panel == NO_INDEX) {
        find_id(invocation, KIND_BRANCH, id); /* says so, with the nearest */
        return NULL;
    }
    *ret_count = branch != NO_INDEX ? add_branch(invocation, choice, branch, views)
                                    : add_panel(invocation, choice, panel, views);
    return views;
}

static struct day_view *collect(struct invocation *invocation, const struct choice *choice, size_t *ret_count)
{
    const struct house *house = invocation->house;
    if (invocation->operand_count > 0) {
        return collect_one(invocation, choice, ret_count);
    }
    struct day_view *views =
        arena_array(invocation->arena, house->branch_count + 3 * house->panel_count, sizeof *views);
    for (size_t i = 0; i < house->branch_count; i++) {
        *ret_count += add_branch(invocation, choice, i, views + *ret_count);
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        *ret_count += add_panel(invocation, choice, i, views + *ret_count);
    }
    return views;
}

static void add_time(struct table *table, int minute)
{
    struct text text = {0};
    day_view_minute(&text, minute);
    table_text(table, text_string(&text));
    text_done(&text);
}

static void write_series(struct invocation *invocation, const struct day_view *views, size_t count)
{
    struct table *table = table_new();
    static const char *const names[] = {"id",  "leg",       "day",        "month",   "start",
                                        "end", "current_a", "planning_a", "rating_a"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        table_column(table, NULL, names[i], TABLE_LEFT, 0);
    }
    for (size_t i = 0; i < count; i++) {
        const struct day_series *series = &views[i].series;
        for (size_t j = 0; j < series->stretch_count; j++) {
            table_row(table);
            table_text(table, views[i].id);
            table_text(table, views[i].leg != NULL ? views[i].leg : "");
            table_text(table, day_word(series->day.weekday));
            table_text(table, month_word(series->day.month));
            add_time(table, series->stretches[j].start_min);
            add_time(table, series->stretches[j].end_min);
            table_number(table, series->stretches[j].current_a, 2);
            table_number(table, series->stretches[j].planning_a, 2);
            table_number(table, series->rating_a, 1);
        }
    }
    invocation_table(invocation, table);
    table_free(table);
}

static void add_summary_row(struct table *table, const struct day_view *view)
{
    const struct day_series *series = &view->series;
    const struct day_stretch *busiest = &series->stretches[series->busiest];
    struct text text = {0};
    table_row(table);
    text_printf(&text, "%s%s%s", view->id, view->leg != NULL ? " leg " : "", view->leg != NULL ? view->leg : "");
    table_text(table, text_string(&text));
    text_clear(&text);
    text_printf(&text, "%s %s ", day_word(series->day.weekday), month_word(series->day.month));
    day_view_minute(&text, busiest->start_min);
    table_text(table, busiest->planning_a > 0 ? text_string(&text) : "-");
    table_number(table, busiest->planning_a, 2);
    table_number(table, series->rating_a, 1);
    table_number(table, series->over_share_min / 60.0, 1);
    table_number(table, series->over_rating_min / 60.0, 1);
    /* what was left out of the odds may be all there is: no chance was worked out then, and 0 % would be wrong */
    const bool no_odds =
        view->left_out.count > 0 && !(view->chance.current_99_a.upper > 0) && !(view->chance.worst.upper > 0);
    text_clear(&text);
    day_view_percent(&text, (struct chance_bounds){view->chance.worst.upper, view->chance.worst.upper});
    table_text(table, no_odds ? "-" : text_string(&text));
    table_number(table, no_odds ? (double)NAN : view->chance.current_99_a.upper, 2);
    text_done(&text);
}

static void write_summary(struct invocation *invocation, const struct day_view *views, size_t count)
{
    struct table *table = table_new();
    table_column(table, "WHERE", "id", TABLE_LEFT, 0);
    table_column(table, "BUSIEST", "at", TABLE_LEFT, 0);
    table_column(table, "PLAN A", "planning_a", TABLE_RIGHT, 0);
    table_column(table, "RATING", "rating_a", TABLE_RIGHT, 0);
    table_column(table, "H > 80%", "over_80_percent_h", TABLE_RIGHT, 0);
    table_column(table, "H OVER", "over_rating_h", TABLE_RIGHT, 0);
    table_column(table, "ODDS", "chance_percent", TABLE_RIGHT, 0);
    table_column(table, "99% A", "current_99_a", TABLE_RIGHT, 0);
    for (size_t i = 0; i < count; i++) {
        add_summary_row(table, &views[i]);
    }
    invocation_table(invocation, table);
    table_free(table);
    report_wrap(&invocation->page, 0,
                "ODDS: chance that planning current exceeds the rating, in the worst minute (- where no appliance has "
                "`use` or `hours`). 99% A: not exceeded 99 % of that day.",
                &invocation->out);
}

static void write_json(struct invocation *invocation, const struct day_view *views, size_t count)
{
    json_t *answer = json_answer("day", invocation->house->name);
    json_t *branches = json_array();
    json_t *panels = json_array();
    for (size_t i = 0; i < count; i++) {
        json_array_append_new(views[i].leg == NULL ? branches : panels, day_view_json(invocation->house, &views[i]));
    }
    json_object_set_new(answer, "branches", branches);
    json_object_set_new(answer, "panels", panels);
    static const char *const more[] = {
        "The odds take appliances as independent of one another; meals and cold evenings bring loads together, so the "
        "true chance may be higher.",
        NULL};
    json_cautions(answer, more);
    json_write(answer, &invocation->out);
}

const struct command command_day = {
    .name = "day",
    .operands = "[HOUSE] [ID]",
    .summary = "current on each branch over a day, busiest minute, chance of overload",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
