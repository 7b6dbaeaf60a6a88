#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/day.h"
#include "ampsum/demand.h"
#include "meter_common.h"

static const char *const examples[] = {"ampsum meter demo-house/us.ini --file demo-house/meter.csv",
                                       "ampsum meter demo-house/us.ini --file demo-house/meter.csv --by day", NULL};

static const struct option_spec options[] = {
    {"file", '\0', "FILE", "look at this file of readings (CSV or ESPI XML) instead of those stored"},
    {"by", '\0', "hour|day|month", "what a row is (default hour: hour of the day)"},
    OPTIONS_METER,
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Readings are stored with: ampsum import --meter FILE HOUSE",
    "Base load: median of the mean powers of the readings that start from 02:00 to 04:00.",
    "Maximum demand: the largest mean power over whole readings without a gap, from any reading's start.",
    NULL,
};

enum { HOURS = 24 };
enum row_kind { BY_HOUR, BY_DAY, BY_MONTH };

/* All that the answer is made of. */
struct view {
    struct meter_reading *readings; /* owned here where they come from the database */
    size_t count;
    struct meter_set set; /* owned here where they come from a file */
    struct meter_figures figures;
    struct meter_total *days;
    size_t day_count;
    struct meter_total *months;
    size_t month_count;
    struct day_explained hours[HOURS];
    struct day_explained all;
};

static bool read_readings(struct invocation *invocation, struct view *view);
static void work_out(const struct house *house, struct view *view);
static void view_done(struct view *view);
static struct table *rows_table(const struct view *view, enum row_kind kind);
static void write_text(struct invocation *invocation, const struct view *view, enum row_kind kind);
static void write_json(struct invocation *invocation, const struct view *view);

static bool read_kind(struct invocation *invocation, enum row_kind *ret_kind)
{
    const char *by = option_value(invocation, "by");
    if (by == NULL || strcmp(by, "hour") == 0) {
        *ret_kind = BY_HOUR;
    } else if (strcmp(by, "day") == 0) {
        *ret_kind = BY_DAY;
    } else if (strcmp(by, "month") == 0) {
        *ret_kind = BY_MONTH;
    } else {
        error_set(&invocation->error, ERROR_INPUT, "--by %s: expected hour, day or month", by);
        return false;
    }
    return true;
}

static int run(struct invocation *invocation)
{
    struct view view = {0};
    enum row_kind kind = BY_HOUR;
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) || !read_kind(invocation, &kind) ||
        !read_readings(invocation, &view)) {
        return error_exit_status(&invocation->error);
    }
    work_out(invocation->house, &view);
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, &view);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = rows_table(&view, kind);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_text(invocation, &view, kind);
    }
    view_done(&view);
    return 0;
}

static bool read_stored(struct invocation *invocation, struct view *view)
{
    if (!store_is_database(invocation->house_path)) {
        error_set(&invocation->error, ERROR_INPUT,
                  "%s: a house file holds no readings, expected --file FILE, or a house database with readings",
                  invocation->house_path);
        return false;
    }
    struct store *store = NULL;
    bool ok = store_open(invocation->house_path, STORE_READ, &store, &invocation->error) &&
              store_meter_read(store, &view->readings, &view->count, &invocation->error);
    store_close(store);
    if (ok && view->count == 0) {
        free(view->readings);
        error_set(&invocation->error, ERROR_INPUT,
                  "%s: no meter readings stored, expected some from ampsum import --meter FILE %s",
                  invocation->house_path, invocation->house_path);
        return false;
    }
    return ok;
}

static bool read_readings(struct invocation *invocation, struct view *view)
{
    const char *path = option_value(invocation, "file");
    if (path == NULL) {
        return read_stored(invocation, view);
    }
    if (!meter_from_file(invocation, path, false, &view->set)) {
        return false;
    }
    view->readings = view->set.readings;
    view->count = view->set.count;
    return true;
}

static void work_out(const struct house *house, struct view *view)
{
    meter_figures(view->readings, view->count, &view->figures);
    view->days = meter_days(view->readings, view->count, &view->day_count);
    view->months = meter_months(view->readings, view->count, &view->month_count);
    size_t hour_count = 0;
    struct meter_hour *hours = meter_hours(view->readings, view->count, &hour_count);
    day_explain(house, hours, hour_count, view->hours, &view->all);
    free(hours);
}

static void view_done(struct view *view)
{
    if (view->readings != view->set.readings) {
        free(view->readings);
    }
    meter_set_done(&view->set);
    free(view->days);
    free(view->months);
}

static double kwh(int64_t energy_uwh)
{
    return (double)energy_uwh / METER_UWH_PER_WH / 1000;
}

static void write_date(struct text *text, const struct meter_date *date, bool with_day)
{
    text_printf(text, "%04d-%02d", date->year, date->month);
    if (with_day) {
        text_printf(text, "-%02d", date->day);
    }
}

static void write_moment(struct text *text, int64_t start_s, int32_t offset_s)
{
    struct meter_date date = meter_local(start_s, offset_s);
    write_date(text, &date, true);
    text_printf(text, " %02d:%02d", date.second / 3600, date.second / 60 % 60);
}

static struct table *hours_table(const struct view *view)
{
    struct table *table = table_new();
    table_column(table, "HOUR", "hour", TABLE_RIGHT, 0);
    table_column(table, "METERED KWH", "metered_kwh", TABLE_RIGHT, 0);
    table_column(table, "LISTED KWH", "modelled_kwh", TABLE_RIGHT, 0);
    table_column(table, "SHARE %", "explained_percent", TABLE_RIGHT, 0);
    table_column(table, "TO ADD W", "to_add_w", TABLE_RIGHT, 0);
    table_column(table, NULL, "covered_h", TABLE_RIGHT, 0);
    for (int hour = 0; hour < HOURS; hour++) {
        const struct day_explained *row = &view->hours[hour];
        table_row(table);
        table_number(table, hour, 0);
        table_number(table, row->metered_kwh, 2);
        table_number(table, row->modelled_kwh, 2);
        table_number(table, row->explained_percent, 0);
        table_number(table, row->to_add_w, 0);
        table_number(table, row->covered_h, 2);
    }
    return table;
}

static struct table *totals_table(const struct meter_total *totals, size_t count, bool days)
{
    struct table *table = table_new();
    table_column(table, days ? "DAY" : "MONTH", days ? "date" : "month", TABLE_LEFT, 0);
    table_column(table, "KWH", "kwh", TABLE_RIGHT, 0);
    table_column(table, "HOURS METERED", "covered_h", TABLE_RIGHT, 0);
    table_column(table, days ? "HOURS OF DAY" : NULL, days ? "length_h" : NULL, TABLE_RIGHT, 0);
    for (size_t i = 0; i < count; i++) {
        struct text date = {0};
        write_date(&date, &totals[i].date, days);
        table_row(table);
        table_text(table, text_string(&date));
        table_number(table, kwh(totals[i].energy_uwh), 3);
        table_number(table, (double)totals[i].covered_s / 3600, 2);
        table_number(table, (double)totals[i].length_s / 3600, 0);
        text_done(&date);
    }
    return table;
}

static struct table *rows_table(const struct view *view, enum row_kind kind)
{
    switch (kind) {
    case BY_DAY:
        return totals_table(view->days, view->day_count, true);
    case BY_MONTH:
        return totals_table(view->months, view->month_count, false);
    default:
        return hours_table(view);
    }
}

static void write_demand(const struct view *view, struct text *text)
{
    const struct meter_figures *figures = &view->figures;
    text_add(text, "Maximum demand:\n");
    for (size_t i = 0; i < METER_DEMANDS; i++) {
        text_printf(text, "  %2d min  ", meter_demand_minutes[i]);
        if (!isfinite(figures->demand_w[i])) {
            text_add(text, "- (the readings are too long, or do not add up to it)\n");
            continue;
        }
        text_add_fixed(text, figures->demand_w[i] / 1000, 3);
        text_add(text, " kW from ");
        write_moment(text, figures->demand_start_s[i], figures->demand_offset_s[i]);
        text_add_char(text, '\n');
    }
}

static void write_durations(const struct view *view, struct text *text)
{
    const struct meter_figures *figures = &view->figures;
    text_add(text, "Load reached or exceeded (mean of a reading):\n");
    for (size_t i = 0; i < METER_SHARES; i++) {
        text_printf(text, "  %3g %%  ", figures->share_percent[i]);
        text_add_fixed(text, figures->share_w[i], 0);
        text_add(text, i == 0 ? " W (the most)\n" : i + 1 == METER_SHARES ? " W (the least)\n" : " W\n");
    }
}

/* The hour with the largest (sign 1) or the smallest (sign -1) lack of the list. */
static int extreme_hour(const struct view *view, int sign)
{
    int extreme = 0;
    for (int hour = 1; hour < HOURS; hour++) {
        double here_w = sign * view->hours[hour].to_add_w;
        double there_w = sign * view->hours[extreme].to_add_w;
        extreme = isfinite(here_w) && (!isfinite(there_w) || here_w > there_w) ? hour : extreme;
    }
    return extreme;
}

static void write_explained(const struct invocation *invocation, const struct view *view, struct text *text)
{
    int lack = extreme_hour(view, 1);
    int excess = extreme_hour(view, -1);
    struct text line = {0};
    if (isfinite(view->all.explained_percent)) {
        text_add(&line, "The listed appliances explain ");
        text_add_fixed(&line, view->all.explained_percent, 0);
        text_add(&line, " % of the metered energy.");
    } else {
        text_add(&line, "The meter saw no energy.");
    }
    if (view->hours[lack].to_add_w >= 0.5) {
        text_printf(&line, " Most is missing from %02d:00 to %02d:00, where ", lack, lack + 1);
        text_add_fixed(&line, view->hours[lack].to_add_w, 0);
        text_add(&line, " W on average would have to be added.");
    }
    if (view->hours[excess].to_add_w <= -0.5) {
        text_printf(&line, " From %02d:00 to %02d:00 the list draws ", excess, excess + 1);
        text_add_fixed(&line, -view->hours[excess].to_add_w, 0);
        text_add(&line, " W more than the meter saw: look at `hours`, `duty` and the windows there.");
    }
    show_wrap(&invocation->page, 2, text_string(&line), text);
    text_done(&line);
}

static void write_head(const struct view *view, struct text *text)
{
    const struct meter_figures *figures = &view->figures;
    const struct meter_reading *last = &view->readings[view->count - 1];
    text_printf(text, "%zu readings, ", view->count);
    write_moment(text, view->readings[0].start_s, view->readings[0].utc_offset_s);
    text_add(text, " to ");
    write_moment(text, last->start_s + last->duration_s, last->utc_offset_s);
    text_add(text, "\nEnergy: ");
    text_add_fixed(text, kwh(figures->energy_uwh), 3);
    text_add(text, " kWh in ");
    text_add_fixed(text, (double)figures->covered_s / 3600, 1);
    text_add(text, " h metered; mean ");
    text_add_fixed(text, figures->mean_w, 0);
    text_add(text, " W\nBase load (median 02:00-04:00): ");
    if (isfinite(figures->base_w)) {
        text_add_fixed(text, figures->base_w, 0);
        text_add(text, " W\n");
    } else {
        text_add(text, "- (no reading lies within that time)\n");
    }
}

static void write_text(struct invocation *invocation, const struct view *view, enum row_kind kind)
{
    struct text *text = &invocation->out;
    for (const char *at = text_string(&view->set.notes); *at != '\0';) {
        size_t length = strcspn(at, "\n");
        show_wrap(&invocation->page, 2, arena_copy_length(invocation->arena, at, length), text);
        at += length + (at[length] == '\n');
    }
    write_head(view, text);
    write_demand(view, text);
    write_durations(view, text);
    text_add_char(text, '\n');
    struct table *table = rows_table(view, kind);
    invocation_table(invocation, table);
    table_free(table);
    text_add_char(text, '\n');
    write_explained(invocation, view, text);
    text_add_char(text, '\n');
    show_cautions_text(&invocation->page, NULL, text);
    struct text by_day = {0};
    struct text demand = {0};
    const char *file = option_value(invocation, "file");
    text_printf(&by_day, "ampsum meter HOUSE%s%s --by day", file != NULL ? " --file " : "", file != NULL ? file : "");
    text_printf(&demand, "ampsum demand HOUSE --measured %s", file != NULL ? file : "meter");
    bool measured =
        demand_method_exists(invocation->house->rules, DEMAND_MEASURED) && isfinite(view->figures.demand_w[0]);
    const char *const next[] = {text_string(&by_day), measured ? text_string(&demand) : "ampsum cost HOUSE", NULL};
    invocation_next(invocation, next);
    text_done(&demand);
    text_done(&by_day);
}

static json_t *moment_json(int64_t start_s, int32_t offset_s)
{
    struct text text = {0};
    struct meter_date date = meter_local(start_s, offset_s);
    int minutes = abs(offset_s) / 60;
    write_date(&text, &date, true);
    text_printf(&text, "T%02d:%02d:%02d%c%02d:%02d", date.second / 3600, date.second / 60 % 60, date.second % 60,
                offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
    json_t *moment = json_text(text_string(&text));
    text_done(&text);
    return moment;
}

static json_t *totals_json(const struct meter_total *totals, size_t count, bool days)
{
    json_t *array = json_array();
    for (size_t i = 0; i < count; i++) {
        struct text date = {0};
        write_date(&date, &totals[i].date, days);
        json_t *object = json_object();
        json_object_set_new(object, days ? "date" : "month", json_text(text_string(&date)));
        json_object_set_new(object, "kwh", json_figure(kwh(totals[i].energy_uwh)));
        json_object_set_new(object, "covered_h", json_figure((double)totals[i].covered_s / 3600));
        if (days) {
            json_object_set_new(object, "length_h", json_figure((double)totals[i].length_s / 3600));
        }
        json_array_append_new(array, object);
        text_done(&date);
    }
    return array;
}

static json_t *demand_json(const struct meter_figures *figures)
{
    json_t *array = json_array();
    for (size_t i = 0; i < METER_DEMANDS; i++) {
        bool known = isfinite(figures->demand_w[i]);
        json_t *object = json_object();
        json_object_set_new(object, "minutes", json_integer(meter_demand_minutes[i]));
        json_object_set_new(object, "demand_w", json_figure(figures->demand_w[i]));
        json_object_set_new(object, "at",
                            known ? moment_json(figures->demand_start_s[i], figures->demand_offset_s[i]) : json_null());
        json_array_append_new(array, object);
    }
    return array;
}

static json_t *durations_json(const struct meter_figures *figures)
{
    json_t *array = json_array();
    for (size_t i = 0; i < METER_SHARES; i++) {
        json_t *object = json_object();
        json_object_set_new(object, "time_percent", json_figure(figures->share_percent[i]));
        json_object_set_new(object, "power_w", json_figure(figures->share_w[i]));
        json_array_append_new(array, object);
    }
    return array;
}

static json_t *hours_json(const struct view *view)
{
    json_t *array = json_array();
    for (int hour = 0; hour < HOURS; hour++) {
        const struct day_explained *row = &view->hours[hour];
        json_t *object = json_object();
        json_object_set_new(object, "hour", json_integer(hour));
        json_object_set_new(object, "covered_h", json_figure(row->covered_h));
        json_object_set_new(object, "metered_kwh", json_figure(row->metered_kwh));
        json_object_set_new(object, "modelled_kwh", json_figure(row->modelled_kwh));
        json_object_set_new(object, "explained_percent", json_figure(row->explained_percent));
        json_object_set_new(object, "to_add_w", json_figure(row->to_add_w));
        json_array_append_new(array, object);
    }
    return array;
}

static void write_json(struct invocation *invocation, const struct view *view)
{
    const struct meter_figures *figures = &view->figures;
    const struct meter_reading *last = &view->readings[view->count - 1];
    json_t *answer = json_answer("meter", invocation->house->name);
    json_object_set_new(answer, "readings", json_integer((json_int_t)view->count));
    json_object_set_new(answer, "start", moment_json(view->readings[0].start_s, view->readings[0].utc_offset_s));
    json_object_set_new(answer, "end", moment_json(last->start_s + last->duration_s, last->utc_offset_s));
    json_object_set_new(answer, "kwh", json_figure(kwh(figures->energy_uwh)));
    json_object_set_new(answer, "covered_h", json_figure((double)figures->covered_s / 3600));
    json_object_set_new(answer, "mean_w", json_figure(figures->mean_w));
    json_object_set_new(answer, "base_w", json_figure(figures->base_w));
    json_object_set_new(answer, "maximum_demand", demand_json(figures));
    json_object_set_new(answer, "load_duration", durations_json(figures));
    json_object_set_new(answer, "explained_percent", json_figure(view->all.explained_percent));
    json_object_set_new(answer, "hours", hours_json(view));
    json_object_set_new(answer, "days", totals_json(view->days, view->day_count, true));
    json_object_set_new(answer, "months", totals_json(view->months, view->month_count, false));
    json_cautions(answer, NULL);
    json_write(answer, &invocation->out);
}

const struct command command_meter = {
    .name = "meter",
    .operands = "[HOUSE]",
    .summary = "what the meter says, beside what the listed appliances explain",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
