/* The answer of `meter`: rows by hour, day and month, its JSON, and the sentences of the terminal. */
#include "ampsum/show_meter.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { UWH_PER_KWH = METER_UWH_PER_WH * 1000, S_PER_HOUR = 3600 };

static void add_date(const struct meter_date *date, bool with_day, struct text *text)
{
    text_printf(text, "%04d-%02d", date->year, date->month);
    if (with_day) {
        text_printf(text, "-%02d", date->day);
    }
}

static const struct meter_answer *of(const void *answer)
{
    return answer;
}

/* ------------------------------------------------------------------ rows by hour of the day --------------- */

static void get_hour(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    cell->figure = (double)row;
}

#define HOUR(member) SHOW_EACH_IN(struct meter_answer, hours, struct day_explained, member)

static const struct show_column hour_columns[] = {
    {.key = "hour", .heading = "HOUR", .kind = SHOW_FIGURE, .faces = SHOW_COMMAND, .get = get_hour},
    {.key = "covered_h", .faces = SHOW_JSON, HOUR(covered_h)},
    {.key = "metered_kwh", .heading = "METERED KWH", .decimals = 2, .faces = SHOW_COMMAND, HOUR(metered_kwh)},
    {.key = "modelled_kwh", .heading = "LISTED KWH", .decimals = 2, .faces = SHOW_COMMAND, HOUR(modelled_kwh)},
    {.key = "explained_percent", .heading = "SHARE %", .faces = SHOW_COMMAND, HOUR(explained_percent)},
    {.key = "to_add_w", .heading = "TO ADD W", .faces = SHOW_COMMAND, HOUR(to_add_w)},
    {.key = "covered_h", .faces = SHOW_CSV, HOUR(covered_h)},
};

/* ------------------------------------------------------------------ rows by day and month ----------------- */

static void set_date(const struct meter_total *total, bool with_day, struct show_cell *cell)
{
    add_date(&total->date, with_day, show_made(cell));
    show_made_done(cell);
}

static void get_date(const void *answer, size_t row, struct show_cell *cell)
{
    set_date(&of(answer)->days[row], true, cell);
}

static void get_month(const void *answer, size_t row, struct show_cell *cell)
{
    set_date(&of(answer)->months[row], false, cell);
}

/* A figure of days or months on every face of the command. */
#define TOTAL(KEY, HEADING, DECIMALS, PER, ARRAY, FIELD)                                                               \
    {                                                                                                                  \
        .key = (KEY), .heading = (HEADING), .decimals = (DECIMALS), .per = (PER), .faces = SHOW_COMMAND,               \
        SHOW_IN(struct meter_answer, ARRAY, struct meter_total, FIELD)                                                 \
    }

static const struct show_column day_columns[] = {
    {.key = "date", .heading = "DAY", .faces = SHOW_COMMAND, .get = get_date},
    TOTAL("kwh", "KWH", 3, UWH_PER_KWH, days, energy_uwh),
    TOTAL("covered_h", "HOURS METERED", 2, S_PER_HOUR, days, covered_s),
    TOTAL("length_h", "HOURS OF DAY", 0, S_PER_HOUR, days, length_s),
};

static const struct show_column month_columns[] = {
    {.key = "month", .heading = "MONTH", .faces = SHOW_COMMAND, .get = get_month},
    TOTAL("kwh", "KWH", 3, UWH_PER_KWH, months, energy_uwh),
    TOTAL("covered_h", "HOURS METERED", 2, S_PER_HOUR, months, covered_s),
};

static const struct show_rows rows[METER_KINDS] = {
    [METER_BY_HOUR] = SHOW_ROWS_OF(hour_columns),
    [METER_BY_DAY] = SHOW_ROWS_OF(day_columns),
    [METER_BY_MONTH] = SHOW_ROWS_OF(month_columns),
};

const struct show_rows *show_meter_rows(const struct meter_answer *answer, enum meter_by by, size_t *ret_count)
{
    *ret_count = by == METER_BY_HOUR ? METER_HOURS : by == METER_BY_DAY ? answer->day_count : answer->month_count;
    return &rows[by];
}

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static void set_moment(int64_t start_s, int32_t offset_s, struct show_cell *cell)
{
    struct text *text = show_made(cell);
    struct meter_date date = meter_local(start_s, offset_s);
    int minutes = abs(offset_s) / 60;
    add_date(&date, true, text);
    text_printf(text, "T%02d:%02d:%02d%c%02d:%02d", date.second / 3600, date.second / 60 % 60, date.second % 60,
                offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
    show_made_done(cell);
}

static void get_start(const void *answer, size_t row, struct show_cell *cell)
{
    set_moment(of(answer)->readings[row].start_s, of(answer)->readings[row].utc_offset_s, cell);
}

static void get_end(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    set_moment(of(answer)->end_s, of(answer)->end_offset_s, cell);
}

static void get_minutes(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    cell->figure = meter_demand_minutes[row];
}

static void get_demand_at(const void *answer, size_t row, struct show_cell *cell)
{
    const struct meter_figures *figures = &of(answer)->figures;
    if (isfinite(figures->demand_w[row])) {
        set_moment(figures->demand_start_s[row], figures->demand_offset_s[row], cell);
    }
}

#define FIGURE(member) .faces = SHOW_JSON, SHOW_FIELD(struct meter_answer, figures.member)
#define EACH_FIGURE(array_) .faces = SHOW_JSON, SHOW_EACH(struct meter_answer, figures.array_)

static const struct show_column demand_columns[] = {
    {.key = "minutes", .kind = SHOW_FIGURE, .faces = SHOW_JSON, .get = get_minutes},
    {.key = "demand_w", EACH_FIGURE(demand_w)},
    {.key = "at", .faces = SHOW_JSON, .get = get_demand_at},
};
static const struct show_column share_columns[] = {
    {.key = "time_percent", EACH_FIGURE(share_percent)},
    {.key = "power_w", EACH_FIGURE(share_w)},
};
static const struct show_rows demand_rows = SHOW_ROWS_OF(demand_columns);
static const struct show_rows share_rows = SHOW_ROWS_OF(share_columns);

static const struct show_column answer_columns[] = {
    {.key = "readings", .faces = SHOW_JSON, SHOW_FIELD(struct meter_answer, count)},
    {.key = "start", .faces = SHOW_JSON, .get = get_start},
    {.key = "end", .faces = SHOW_JSON, .get = get_end},
    {.key = "kwh", .per = UWH_PER_KWH, FIGURE(energy_uwh)},
    {.key = "covered_h", .per = S_PER_HOUR, FIGURE(covered_s)},
    {.key = "mean_w", FIGURE(mean_w)},
    {.key = "base_w", FIGURE(base_w)},
    {.key = "maximum_demand", SHOW_ARRAY(demand_rows, METER_DEMANDS)},
    {.key = "load_duration", SHOW_ARRAY(share_rows, METER_SHARES)},
    {.key = "explained_percent", .faces = SHOW_JSON, SHOW_FIELD(struct meter_answer, all.explained_percent)},
    {.key = "hours", SHOW_ARRAY(rows[METER_BY_HOUR], METER_HOURS)},
    {.key = "days", SHOW_LIST(rows[METER_BY_DAY], struct meter_answer, day_count)},
    {.key = "months", SHOW_LIST(rows[METER_BY_MONTH], struct meter_answer, month_count)},
};

json_t *show_meter_json(const struct meter_answer *answer)
{
    static const struct show_rows of_answer = SHOW_ROWS_OF(answer_columns);
    return show_answer_json("meter", answer->house->name, &of_answer, answer, NULL);
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
    text_fixed(text, "\nEnergy: ", (double)figures->energy_uwh / UWH_PER_KWH, 3, " kWh in ");
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
