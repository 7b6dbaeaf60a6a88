/* The answer of `meter`: rows by hour, day and month, its JSON, and the sentences of the terminal. */
#include "ampsum/show_meter.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static double kwh(int64_t energy_uwh)
{
    return (double)energy_uwh / METER_UWH_PER_WH / 1000;
}

static void add_date(const struct meter_date *date, bool with_day, struct text *text)
{
    text_printf(text, "%04d-%02d", date->year, date->month);
    if (with_day) {
        text_printf(text, "-%02d", date->day);
    }
}

/* ------------------------------------------------------------------ rows by hour of the day --------------- */

static const void *hour_at(const void *answer, size_t row)
{
    return &((const struct meter_answer *)answer)->hours[row];
}

static void get_hour(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    cell->figure = (double)row;
}

enum { SHOW_ALL = SHOW_ROWS | SHOW_JSON };

#define HOUR(KEY, HEADING, DECIMALS)                                                                                   \
    {                                                                                                                  \
        .key = #KEY, .heading = (HEADING), .decimals = (DECIMALS), .faces = SHOW_ALL, .at = hour_at,                   \
        SHOW_FIELD(struct day_explained, KEY)                                                                          \
    }

#define HOUR_OF(member) .at = hour_at, SHOW_FIELD(struct day_explained, member)

static const struct show_column hour_columns[] = {
    {.key = "hour", .heading = "HOUR", .kind = SHOW_FIGURE, .faces = SHOW_ALL, .get = get_hour},
    {.key = "covered_h", .faces = SHOW_JSON, HOUR_OF(covered_h)},
    HOUR(metered_kwh, "METERED KWH", 2),
    HOUR(modelled_kwh, "LISTED KWH", 2),
    HOUR(explained_percent, "SHARE %", 0),
    HOUR(to_add_w, "TO ADD W", 0),
    {.key = "covered_h", .faces = SHOW_CSV, HOUR_OF(covered_h)},
};

/* ------------------------------------------------------------------ rows by day and month ----------------- */

static const struct meter_total *day_of(const void *answer, size_t row)
{
    return &((const struct meter_answer *)answer)->days[row];
}

static const struct meter_total *month_of(const void *answer, size_t row)
{
    return &((const struct meter_answer *)answer)->months[row];
}

static void set_date(const struct meter_total *total, bool with_day, struct show_cell *cell)
{
    add_date(&total->date, with_day, show_made(cell));
    show_made_done(cell);
}

static void get_date(const void *answer, size_t row, struct show_cell *cell)
{
    set_date(day_of(answer, row), true, cell);
}

static void get_month(const void *answer, size_t row, struct show_cell *cell)
{
    set_date(month_of(answer, row), false, cell);
}

static void get_day_kwh(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = kwh(day_of(answer, row)->energy_uwh);
}

static void get_month_kwh(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = kwh(month_of(answer, row)->energy_uwh);
}

static void get_day_covered(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = (double)day_of(answer, row)->covered_s / 3600;
}

static void get_month_covered(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = (double)month_of(answer, row)->covered_s / 3600;
}

static void get_day_length(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = (double)day_of(answer, row)->length_s / 3600;
}

#define TOTAL(KEY, HEADING, DECIMALS, GET)                                                                             \
    {                                                                                                                  \
        .key = (KEY), .heading = (HEADING), .kind = SHOW_FIGURE, .decimals = (DECIMALS), .faces = SHOW_ALL,            \
        .get = (GET)                                                                                                   \
    }

static const struct show_column day_columns[] = {
    {.key = "date", .heading = "DAY", .faces = SHOW_ALL, .get = get_date},
    TOTAL("kwh", "KWH", 3, get_day_kwh),
    TOTAL("covered_h", "HOURS METERED", 2, get_day_covered),
    TOTAL("length_h", "HOURS OF DAY", 0, get_day_length),
};

static const struct show_column month_columns[] = {
    {.key = "month", .heading = "MONTH", .faces = SHOW_ALL, .get = get_month},
    TOTAL("kwh", "KWH", 3, get_month_kwh),
    TOTAL("covered_h", "HOURS METERED", 2, get_month_covered),
};

static const struct show_rows rows[METER_KINDS] = {
    [METER_BY_HOUR] = {hour_columns, sizeof hour_columns / sizeof hour_columns[0]},
    [METER_BY_DAY] = {day_columns, sizeof day_columns / sizeof day_columns[0]},
    [METER_BY_MONTH] = {month_columns, sizeof month_columns / sizeof month_columns[0]},
};

const struct show_rows *show_meter_rows(const struct meter_answer *answer, enum meter_by by, size_t *ret_count)
{
    *ret_count = by == METER_BY_HOUR ? METER_HOURS : by == METER_BY_DAY ? answer->day_count : answer->month_count;
    return &rows[by];
}

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static json_t *moment_json(int64_t start_s, int32_t offset_s)
{
    struct text text = {0};
    struct meter_date date = meter_local(start_s, offset_s);
    int minutes = abs(offset_s) / 60;
    add_date(&date, true, &text);
    text_printf(&text, "T%02d:%02d:%02d%c%02d:%02d", date.second / 3600, date.second / 60 % 60, date.second % 60,
                offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
    json_t *moment = json_text(text_string(&text));
    text_done(&text);
    return moment;
}

static json_t *rows_json(const struct meter_answer *answer, enum meter_by by)
{
    size_t count = 0;
    const struct show_rows *by_rows = show_meter_rows(answer, by, &count);
    return show_json_array(by_rows, answer, count);
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

json_t *show_meter_json(const struct meter_answer *answer)
{
    const struct meter_figures *figures = &answer->figures;
    const struct meter_reading *first = &answer->readings[0];
    json_t *json = json_answer("meter", answer->house->name);
    json_object_set_new(json, "readings", json_integer((json_int_t)answer->count));
    json_object_set_new(json, "start", moment_json(first->start_s, first->utc_offset_s));
    json_object_set_new(json, "end", moment_json(answer->end_s, answer->end_offset_s));
    json_object_set_new(json, "kwh", json_figure(kwh(figures->energy_uwh)));
    json_object_set_new(json, "covered_h", json_figure((double)figures->covered_s / 3600));
    json_object_set_new(json, "mean_w", json_figure(figures->mean_w));
    json_object_set_new(json, "base_w", json_figure(figures->base_w));
    json_object_set_new(json, "maximum_demand", demand_json(figures));
    json_object_set_new(json, "load_duration", durations_json(figures));
    json_object_set_new(json, "explained_percent", json_figure(answer->all.explained_percent));
    json_object_set_new(json, "hours", rows_json(answer, METER_BY_HOUR));
    json_object_set_new(json, "days", rows_json(answer, METER_BY_DAY));
    json_object_set_new(json, "months", rows_json(answer, METER_BY_MONTH));
    json_cautions(json, NULL);
    return json;
}

/* ------------------------------------------------------------------ people -------------------------------- */

static void add_moment(int64_t start_s, int32_t offset_s, struct text *text)
{
    struct meter_date date = meter_local(start_s, offset_s);
    add_date(&date, true, text);
    text_printf(text, " %02d:%02d", date.second / 3600, date.second / 60 % 60);
}

static void write_demand(const struct meter_figures *figures, struct text *text)
{
    text_add(text, "Maximum demand:\n");
    for (size_t i = 0; i < METER_DEMANDS; i++) {
        text_printf(text, "  %2d min  ", meter_demand_minutes[i]);
        if (!isfinite(figures->demand_w[i])) {
            text_add(text, "- (the readings are too long, or do not add up to it)\n");
            continue;
        }
        text_fixed(text, "", figures->demand_w[i] / 1000, 3, " kW from ");
        add_moment(figures->demand_start_s[i], figures->demand_offset_s[i], text);
        text_add_char(text, '\n');
    }
}

static void write_durations(const struct meter_figures *figures, struct text *text)
{
    text_add(text, "Load reached or exceeded (mean of a reading):\n");
    for (size_t i = 0; i < METER_SHARES; i++) {
        text_printf(text, "  %3g %%  ", figures->share_percent[i]);
        text_add_fixed(text, figures->share_w[i], 0);
        text_add(text, i == 0 ? " W (the most)\n" : i + 1 == METER_SHARES ? " W (the least)\n" : " W\n");
    }
}

static void write_explained(const struct meter_answer *answer, const struct page *page, struct text *text)
{
    const double lack_w = answer->hours[answer->lack].to_add_w;
    const double excess_w = answer->hours[answer->excess].to_add_w;
    struct text line = {0};
    if (isfinite(answer->all.explained_percent)) {
        text_fixed(&line, "The listed appliances explain ", answer->all.explained_percent, 0,
                   " % of the metered energy.");
    } else {
        text_add(&line, "The meter saw no energy.");
    }
    if (lack_w >= 0.5) {
        text_printf(&line, " Most is missing from %02d:00 to %02d:00, where ", answer->lack, answer->lack + 1);
        text_fixed(&line, "", lack_w, 0, " W on average would have to be added.");
    }
    if (excess_w <= -0.5) {
        text_printf(&line, " From %02d:00 to %02d:00 the list draws ", answer->excess, answer->excess + 1);
        text_add_fixed(&line, -excess_w, 0);
        text_add(&line, " W more than the meter saw: look at `hours`, `duty` and the windows there.");
    }
    show_line(page, 0, 2, &line, text);
}

static void write_head(const struct meter_answer *answer, struct text *text)
{
    const struct meter_figures *figures = &answer->figures;
    text_printf(text, "%zu readings, ", answer->count);
    add_moment(answer->readings[0].start_s, answer->readings[0].utc_offset_s, text);
    text_add(text, " to ");
    add_moment(answer->end_s, answer->end_offset_s, text);
    text_fixed(text, "\nEnergy: ", kwh(figures->energy_uwh), 3, " kWh in ");
    text_fixed(text, "", (double)figures->covered_s / 3600, 1, " h metered; mean ");
    text_fixed(text, "", figures->mean_w, 0, " W\nBase load (median 02:00-04:00): ");
    if (isfinite(figures->base_w)) {
        text_fixed(text, "", figures->base_w, 0, " W\n");
    } else {
        text_add(text, "- (no reading lies within that time)\n");
    }
}

void show_meter_notes(const char *notes, const struct page *page, struct text *text)
{
    struct text line = {0};
    for (const char *at = notes; *at != '\0';) {
        const size_t length = strcspn(at, "\n");
        text_clear(&line);
        text_add_length(&line, at, length);
        show_wrap(page, 2, text_string(&line), text);
        at += length + (at[length] == '\n');
    }
    text_done(&line);
}

void show_meter_text(const struct meter_answer *answer, const char *notes, enum meter_by by, const struct page *page,
                     struct text *text)
{
    size_t count = 0;
    const struct show_rows *by_rows = show_meter_rows(answer, by, &count);
    show_meter_notes(notes, page, text);
    write_head(answer, text);
    write_demand(&answer->figures, text);
    write_durations(&answer->figures, text);
    text_add_char(text, '\n');
    show_table_text(by_rows, answer, count, page, text);
    text_add_char(text, '\n');
    write_explained(answer, page, text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
