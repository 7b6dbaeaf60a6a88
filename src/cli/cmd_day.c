#include <math.h>
#include <string.h>

#include "ampsum/values.h"
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

static void write_series(struct invocation *invocation, const struct day_view *views, size_t count);
static void write_summary(struct invocation *invocation, const struct day_view *views, size_t count);

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
    show_cautions_text(&invocation->page, NULL, text);
    if (count > 0) {
        write_next(invocation, views, single);
    }
}

/* What the operand asks for: a branch, a panel, or all; NULL with the error set. */
static struct day_view *collect(struct invocation *invocation, size_t *ret_count)
{
    const struct day_words words = {option_value(invocation, "day"), option_value(invocation, "month"),
                                    option_value(invocation, "on-date")};
    const char *id = invocation->operand_count > 0 ? invocation->operands[0] : NULL;
    struct day_choice choice;
    struct day_view *views = NULL;
    if (!day_choice_read(&words, "--", &choice, &invocation->error)) {
        return NULL;
    }
    if (!day_views(invocation->house, id, &choice, invocation->arena, &views, ret_count)) {
        find_id(invocation, KIND_BRANCH, id); /* says so, with the nearest */
        return NULL;
    }
    return views;
}

static int run(struct invocation *invocation)
{
    size_t count = 0;
    if (!invocation_house(invocation, 1) || !invocation_operands(invocation, 0, 1)) {
        return 2;
    }
    struct day_view *views = collect(invocation, &count);
    if (views == NULL) {
        return 2;
    }
    if (invocation->format == FORMAT_JSON) {
        json_write(show_day_json(invocation->house, views, count), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        write_series(invocation, views, count);
    } else {
        write_text(invocation, views, count);
    }
    return 0;
}

static void add_time(struct table *table, int minute)
{
    struct text text = {0};
    clock_add(&text, minute);
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

static void add_summary_row(struct table *table, const struct house *house, const struct day_view *view)
{
    const struct day_series *series = &view->series;
    const struct day_stretch *busiest = &series->stretches[series->busiest];
    struct text text = {0};
    table_row(table);
    text_printf(&text, "%s%s%s", view->id, view->leg != NULL ? " leg " : "", view->leg != NULL ? view->leg : "");
    table_text(table, text_string(&text));
    text_clear(&text);
    table_text(table, show_day_when(house, view, &text) ? text_string(&text) : NULL);
    table_number(table, busiest->planning_a, 2);
    table_number(table, series->rating_a, 1);
    table_number(table, series->over_share_min / 60.0, 1);
    table_number(table, series->over_rating_min / 60.0, 1);
    /* what was left out of the odds may be what counts: 0 % would be wrong then */
    const bool known = show_day_chance_known(view);
    text_clear(&text);
    show_day_percent(&text, (struct chance_bounds){view->chance.worst.upper, view->chance.worst.upper});
    table_text(table, known ? text_string(&text) : NULL);
    table_number(table, known ? view->chance.current_99_a.upper : (double)NAN, 2);
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
        add_summary_row(table, invocation->house, &views[i]);
    }
    invocation_table(invocation, table);
    table_free(table);
    show_wrap(&invocation->page, 0,
              "ODDS: chance that planning current exceeds the rating, in the worst minute (- where it is not known, "
              "since loads without `use` and `hours` are left out). 99% A: not exceeded 99 % of that day.",
              &invocation->out);
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
