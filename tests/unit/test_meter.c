/*
 * Meter files are written here, by the published field definitions (NAESB ESPI, espi.xsd) and in our own CSV; none is
 * copied. Totals are added by hand beside each.
 */
#include "runner.h"

#include <inttypes.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ampsum/arena.h"
#include "ampsum/meter.h"

struct result {
    bool ok;
    struct meter_set set;
    struct error error;
};

/* Writes the bytes to a file of its own, reads it, removes it. `path` in messages begins with "meter-test-". */
static struct result read_bytes(const char *bytes, size_t length, const struct meter_options *options)
{
    char path[] = "meter-test-XXXXXX";
    int descriptor = mkstemp(path);
    ck_assert_int_ge(descriptor, 0);
    ck_assert_int_eq(write(descriptor, bytes, length), (ssize_t)length);
    close(descriptor);
    struct result result = {0};
    result.ok = meter_read_file(path, options, &result.set, &result.error);
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(result.ok, !error_is_set(&result.error));
    return result;
}

static struct result read_string(const char *bytes, const struct meter_options *options)
{
    return read_bytes(bytes, strlen(bytes), options);
}

static void result_done(struct result *result)
{
    meter_set_done(&result->set);
    error_done(&result->error);
}

static int64_t sum_uwh(const struct meter_set *set)
{
    int64_t sum = 0;
    for (size_t i = 0; i < set->count; i++) {
        sum += set->readings[i].energy_uwh;
    }
    return sum;
}

/* ---- CSV ---- */

static const struct {
    const char *bytes;
    const char *zone;
    size_t count;
    int64_t energy_uwh; /* by hand */
    int64_t first_start_s;
    int32_t duration_s;
} csv_rows[] = {
    /* 0.25 + 0.5 kWh; 2026-01-01T00:00Z is day 20,454 of the epoch: 20454 * 86400 = 1767225600. */
    {"start,energy_kwh\n2026-01-01T00:00Z,0.25\n2026-01-01T00:15Z,0.5\n", NULL, 2, 750000000, 1767225600, 900},
    /* byte-order mark, CRLF, quotes, blank for the T, offset: 250 + 500 Wh, an hour before UTC */
    {"\xEF\xBB\xBF\"start\",\"usage (Wh)\"\r\n\"2026-01-01 00:00+01:00\",\"250\"\r\n\"2026-01-01 00:15+01:00\",500\r\n",
     NULL, 2, 750000000, 1767222000, 900},
    /* semicolons, a column between, --zone: 1.5 kWh */
    {"time;flag;kWh\n2026-01-01T00:00:00;a;1\n2026-01-01T01:00:00;b;0.5\n", "-05:00", 2, 1500000000, 1767243600, 3600},
    /* watts over a minute: 60 W and 120 W for 60 s: 1 Wh + 2 Wh; tabs; units in the cells; not in order */
    {"timestamp\tload\n2026-01-01T00:01Z\t120 W\n2026-01-01T00:00Z\t60 W\n", NULL, 2, 3000000, 1767225600, 60},
    /* 100 W over 60 s is 1.666.. Wh: 1,666,667 microwatt-hours each, rounded half-up */
    {"time,power_w\n2026-01-01T00:00Z,100\n2026-01-01T00:01Z,100\n", NULL, 2, 3333334, 1767225600, 60},
    /* date and time apart; the same row twice counts once: 1 + 2 kWh */
    {"date,start time,kWh\n2026-01-01,00:00,1\n2026-01-01,00:30,2\n2026-01-01,00:30,2\n", "Z", 2, 3000000000,
     1767225600, 1800},
    /* ten decimals: 0.0000000005 kWh is half a microwatt-hour, rounded up */
    {"start,kWh\n2026-01-01T00:00Z,0.0000000005\n2026-01-01T00:15Z,1e-3\n", NULL, 2, 1000001, 1767225600, 900},
    /* points in dates, the day first, decimal commas between semicolons: 0.25 + 1.125 kWh, an hour before UTC */
    {"Datum;Uhrzeit;Verbrauch (kWh)\n01.01.2026;00:00;0,25\n01.01.2026;00:15;1,125\n", "+01:00", 2, 1375000000,
     1767222000, 900},
    /* the last of three-digit decimals is sure by its 0: 0.125 + 1.125 kWh; the day is the 2nd of January */
    {"Zeitstempel;kWh\n02.01.2026 00:00;0,125\n02.01.2026 00:15;1,125\n", "Z", 2, 1250000000, 1767312000, 900},
    /* whole numbers beside decimal commas */
    {"fecha;hora;consumo Wh\n2026-01-01;00:00;250\n2026-01-01;00:30;1,5\n", "Z", 2, 251500000, 1767225600, 1800},
    /* an empty value is left out */
    {"start,kWh\n2026-01-01T00:00Z,1\n2026-01-01T00:15Z,\n2026-01-01T00:30Z,1\n2026-01-01T00:45Z,1\n", NULL, 3,
     3000000000, 1767225600, 900},
};

START_TEST(csv_reads)
{
    struct meter_options options = {.zone = csv_rows[_i].zone};
    struct result result = read_string(csv_rows[_i].bytes, &options);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_uint_eq(result.set.count, csv_rows[_i].count);
    ck_assert_int_eq(sum_uwh(&result.set), csv_rows[_i].energy_uwh);
    ck_assert_int_eq(result.set.readings[0].start_s, csv_rows[_i].first_start_s);
    ck_assert_int_eq(result.set.readings[0].duration_s, csv_rows[_i].duration_s);
    ck_assert_uint_gt(result.set.notes.length, 0);
    result_done(&result);
}
END_TEST

static const struct {
    const char *bytes;
    const char *line; /* ":N: " of the message, or ": " without a line */
    const char *says;
} csv_faults[] = {
    {"start,kWh\n2026-01-01T00:00,1\n2026-01-01T00:15,1\n", ":2: ", "--zone"},
    {"start,kWh\n2026-01-01T00:00Z,1\n2026-01-01T00:00:60Z,1\n", ":3: ", "second 60"},
    {"start,kWh\n2026-01-01T00:00Z,1\n2026-01-01T00:15Z,-0.5\n", ":3: ", "below 0"},
    {"start\tkWh\n2026-01-01T00:00Z\t0,25\n2026-01-01T00:15Z\t1\n", ":2: ", "decimal comma"},
    {"start;Wh\n2026-01-01T00:00Z;1,250\n2026-01-01T00:15Z;1,000\n", ":2: ", "decimals or thousands"},
    {"start;kWh\n2026-01-01T00:00Z;0,25\n2026-01-01T00:15Z;1.5\n", ":3: ", "points and commas"},
    {"start;Wh\n2026-01-01T00:00Z;1.250,5\n2026-01-01T00:15Z;1,5\n", ":2: ", "points and commas"},
    {"start;kWh\n01.13.2026 00:00;0,25\n", ":2: ", "no such date"},
    {"start;kWh\n1.02.2026 00:00;0,25\n", ":2: ", "time stamp"},
    {"start;kWh\n01.02.26 00:00;0,25\n", ":2: ", "time stamp"},
    {"start;kWh\n01.02-2026 00:00;0,25\n", ":2: ", "time stamp"},
    {"start;kWh\n01.01.2026 00:00;0,25\n01.01.2026 00:15;0,5\n", ":2: ", "--zone"},
    {"start,kWh\n2026-01-01T00:00Z,0,25\n2026-01-01T00:15Z,1\n", ":2: ", "decimal comma"},
    {"start,use\n2026-01-01T00:00Z,1\n2026-01-01T00:15Z,1\n", ":1: ", "--value"},
    {"start,usage\n2026-01-01T00:00Z,1\n2026-01-01T00:15Z,1\n", ":2: ", "--unit"},
    {"start,kWh\n2026-01-01T00:00Z,1\n2026-01-01T00:15Z,250 Wh\n", ":3: ", "mixed units"},
    {"start,usage\n2026-01-01T00:00Z,1 kWh\n2026-01-01T00:15Z,250 W\n", ":3: ", "mixed units"},
    {"start,kWh\n2026-01-01T00:00Z,1\n2026-01-01T00:15Z,1\n2026-01-01T00:3", ":4: ", "cut off"},
    {"start,kWh\n2026-01-01T00:00Z,0.25\n2026-01-01T00:15Z,0.2", ":3: ", "cut off"},
    {"start,kWh\n2026-01-01T00:00Z,1\n\"2026-01-01T00:15", ":3: ", "quotes"},
    {"start,kWh\n2026-01-01T00:00Z,1\n2026-01-01T00:00Z,2\n2026-01-01T00:15Z,2\n", ":3: ", "same start"},
    {"start,kWh\n2026-02-29T00:00Z,1\n", ":2: ", "no such date"},
    {"start,kWh\n2026-01-01T24:00Z,1\n", ":2: ", "time of day"},
    {"start,kWh\n2026-01-01T00:00+99:00,1\n", ":2: ", "zone"},
    {"start,kWh\n01/02/2026 00:00,1\n", ":2: ", "time stamp"},
    {"start,kWh\n2026-01-01T00:00Z,1,5\n", ":2: ", "3 fields"},
    {"start,kWh\n2026-01-01T00:00Z,nan\n", ":2: ", "not a number"},
    {"start,kWh\n2026-01-01T00:00Z,1e30\n", ":2: ", "1 GWh"},
    {"2026-01-01T00:00Z,1\n", ":1: ", "no header"},
    {"start,import_kwh,export_kwh\n2026-01-01T00:00Z,1,0\n", ":1: ", "more than one"},
    {"start,kWh\n", ": ", "no readings"},
    {"start,kWh\n2026-01-01T00:00Z,1\n", ": ", "one reading"},
    {"", ": ", "empty"},
    {"start,kWh\n2026-01-01T00:00Z,\"1\"x\n", ":2: ", "quote"},
};

START_TEST(csv_fault_names_its_line)
{
    struct result result = read_string(csv_faults[_i].bytes, NULL);
    ck_assert(!result.ok);
    const char *message = error_message(&result.error);
    ck_assert_int_eq(strncmp(message, "meter-test-", 11), 0);
    const char *after = message + strlen("meter-test-XXXXXX");
    ck_assert_msg(strncmp(after, csv_faults[_i].line, strlen(csv_faults[_i].line)) == 0, "%s", message);
    ck_assert_msg(strstr(message, csv_faults[_i].says) != NULL, "%s", message);
    ck_assert_ptr_null(result.set.readings);
    result_done(&result);
}
END_TEST

START_TEST(csv_line_counts_breaks_inside_quotes)
{
    struct result result =
        read_string("start,note,kWh\n2026-01-01T00:00Z,\"two\nlines\",1\n2026-01-01T00:15Z,x,-1\n", NULL);
    ck_assert_msg(strstr(error_message(&result.error), ":4: ") != NULL, "%s", error_message(&result.error));
    result_done(&result);
}
END_TEST

START_TEST(csv_columns_can_be_named)
{
    const char *bytes = "a,b,kWh\n2026-01-01T00:00Z,250,9\n2026-01-01T00:15Z,500,9\n";
    struct meter_options options = {.time_column = "a", .value_column = "b", .unit = "Wh"};
    struct result result = read_string(bytes, &options);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_int_eq(sum_uwh(&result.set), 750000000);
    result_done(&result);
    options.value_column = "kwhs";
    result = read_string(bytes, &options);
    ck_assert_ptr_nonnull(strstr(error_message(&result.error), "nearest: 'kWh'"));
    result_done(&result);
}
END_TEST

/* Half past two is missing and a quarter-hour runs into the next: one gap of 15 min, no overlap from stamps alone. */
START_TEST(gaps_are_reported)
{
    struct result result = read_string("start,kWh\n2026-01-01T02:00Z,1\n2026-01-01T02:15Z,1\n2026-01-01T02:45Z,1\n"
                                       "2026-01-01T03:00Z,1\n",
                                       NULL);
    ck_assert_uint_eq(result.set.gap_count, 1);
    ck_assert_int_eq(result.set.gap_s, 900);
    ck_assert_ptr_nonnull(strstr(text_string(&result.set.notes), "2026-01-01 02:15"));
    result_done(&result);
}
END_TEST

/* Cut anywhere, the file is refused or gives a whole beginning of itself; it never crashes. */
START_TEST(csv_cut_anywhere_is_refused_or_a_beginning)
{
    const char *bytes = "start,kWh\n2026-01-01T00:00Z,0.25\n2026-01-01T00:15Z,0.50\n2026-01-01T00:30Z,0.75\n";
    for (size_t length = 0; length < strlen(bytes); length++) {
        struct result result = read_bytes(bytes, length, NULL);
        if (result.ok) {
            int64_t want = result.set.count == 2 ? 750000000 : 1500000000;
            ck_assert_int_eq(sum_uwh(&result.set), want);
        }
        result_done(&result);
    }
}
END_TEST

/* ---- ESPI ---- */

struct espi_file {
    struct text text;
    size_t blocks;
};

/* US Eastern: five hours behind UTC; second Sunday of March 02:00 (0x360E2000) to first of November (0xB40E2000). */
static void espi_begin(struct espi_file *file, int multiplier, int uom, int flow)
{
    text_add(&file->text, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                          "<feed xmlns=\"http://www.w3.org/2005/Atom\" xmlns:e=\"http://naesb.org/espi\">\n"
                          "<entry><link rel=\"self\" href=\"LocalTimeParameters/1\"/><content><e:LocalTimeParameters>\n"
                          "<e:dstEndRule>B40E2000</e:dstEndRule><e:dstOffset>3600</e:dstOffset>\n"
                          "<e:dstStartRule>360E2000</e:dstStartRule><e:tzOffset>-18000</e:tzOffset>\n"
                          "</e:LocalTimeParameters></content></entry>\n"
                          "<entry><link rel=\"self\" href=\"M/1\"/><link rel=\"related\" href=\"M/1/B\"/>\n"
                          "<link rel=\"related\" href=\"R/1\"/><content><e:MeterReading/></content></entry>\n");
    text_printf(&file->text,
                "<entry><link rel=\"self\" href=\"R/1\"/><content><e:ReadingType>\n"
                "<e:accumulationBehaviour>4</e:accumulationBehaviour><e:commodity>1</e:commodity>\n"
                "<e:flowDirection>%d</e:flowDirection><e:powerOfTenMultiplier>%d</e:powerOfTenMultiplier>\n"
                "<e:uom>%d</e:uom></e:ReadingType></content></entry>\n",
                flow, multiplier, uom);
}

static void espi_block_begin(struct espi_file *file, const char *up)
{
    text_printf(&file->text,
                "<entry><link rel=\"self\" href=\"%s/%zu\"/><link rel=\"up\" href=\"%s\"/><content><e:IntervalBlock>\n"
                "<e:interval><e:duration>86400</e:duration><e:start>1</e:start></e:interval>\n",
                up, ++file->blocks, up);
}

static void espi_reading(struct espi_file *file, int64_t start_s, int duration_s, int64_t value)
{
    text_printf(&file->text,
                "<e:IntervalReading><e:cost>7</e:cost><e:timePeriod><e:duration>%d</e:duration><e:start>%" PRId64
                "</e:start></e:timePeriod><e:value>%" PRId64 "</e:value></e:IntervalReading>\n",
                duration_s, start_s, value);
}

static void espi_block_end(struct espi_file *file)
{
    text_add(&file->text, "</e:IntervalBlock></content></entry>\n");
}

static struct result espi_end(struct espi_file *file, const struct meter_options *options)
{
    text_add(&file->text, "</feed>\n");
    struct result result = read_bytes(file->text.bytes, file->text.length, options);
    text_done(&file->text);
    file->blocks = 0;
    return result;
}

/*
 * March and November 2026 in US Eastern, hour by hour, one block a day. March: 31 * 24 - 1 = 743 hours from
 * 2026-03-01T05:00Z (1772341200) to 2026-04-01T04:00Z. November: 30 * 24 + 1 = 721 hours from 2026-11-01T04:00Z
 * (1793505600). The clock changes on 8 March and on 1 November. The two years before begin these months on other
 * weekdays; their changes are those of the tz database, America/New_York.
 */
static const struct {
    int64_t start_s;
    int hours;
    int month;
    int days;
    int change_day;
    int change_length_s;
} month_rows[] = {
    {1772341200, 743, 3, 31, 8, 82800},  {1793505600, 721, 11, 30, 1, 90000}, {1709269200, 743, 3, 31, 10, 82800},
    {1730433600, 721, 11, 30, 3, 90000}, {1740805200, 743, 3, 31, 9, 82800},  {1761969600, 721, 11, 30, 2, 90000},
};

START_TEST(months_around_clock_changes)
{
    struct espi_file file = {0};
    espi_begin(&file, 0, 72, 1);
    int64_t start_s = month_rows[_i].start_s;
    for (int hour = 0; hour < month_rows[_i].hours; hour += 24) {
        espi_block_begin(&file, "M/1/B");
        for (int i = hour; i < hour + 24 && i < month_rows[_i].hours; i++) {
            espi_reading(&file, start_s + i * 3600, 3600, 100 + i);
        }
        espi_block_end(&file);
    }
    struct result result = espi_end(&file, NULL);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_uint_eq(result.set.count, (size_t)month_rows[_i].hours);
    ck_assert_uint_eq(result.set.gap_count + result.set.overlap_count, 0);
    /* Sum of 100 .. 100 + n - 1 watt-hours. */
    int64_t hours = month_rows[_i].hours;
    int64_t want_uwh = (100 * hours + hours * (hours - 1) / 2) * METER_UWH_PER_WH;
    ck_assert_int_eq(sum_uwh(&result.set), want_uwh);

    size_t day_count = 0;
    struct meter_total *days = meter_days(result.set.readings, result.set.count, &day_count);
    ck_assert_uint_eq(day_count, (size_t)month_rows[_i].days);
    int64_t days_uwh = 0;
    for (size_t i = 0; i < day_count; i++) {
        ck_assert_int_eq(days[i].date.month, month_rows[_i].month);
        ck_assert_int_eq(days[i].date.day, (int)i + 1);
        int64_t length_s = (int)i + 1 == month_rows[_i].change_day ? month_rows[_i].change_length_s : 86400;
        ck_assert_int_eq(days[i].length_s, length_s);
        ck_assert_int_eq(days[i].covered_s, length_s);
        days_uwh += days[i].energy_uwh;
    }
    ck_assert_int_eq(days_uwh, want_uwh);
    ck_assert_int_eq(days[month_rows[_i].change_day - 1].date.weekday, 6); /* both are Sundays */
    free(days);

    size_t month_count = 0;
    struct meter_total *months = meter_months(result.set.readings, result.set.count, &month_count);
    ck_assert_uint_eq(month_count, 1);
    ck_assert_int_eq(months[0].energy_uwh, want_uwh);
    free(months);

    size_t hour_count = 0;
    int64_t hours_uwh = 0;
    struct meter_hour *cells = meter_hours(result.set.readings, result.set.count, &hour_count);
    ck_assert_uint_eq(hour_count, (size_t)(month_rows[_i].month == 3 ? 743 : 720));
    for (size_t i = 0; i < hour_count; i++) {
        bool repeated = month_rows[_i].month == 11 && cells[i].date.day == month_rows[_i].change_day &&
                        cells[i].date.second == 3600;
        ck_assert_int_eq(cells[i].covered_s, repeated ? 7200 : 3600);
        hours_uwh += cells[i].energy_uwh;
    }
    ck_assert_int_eq(hours_uwh, want_uwh);
    free(cells);
    result_done(&result);
}
END_TEST

/* 2 * 10^3 Wh, 15 * 10^-1 Wh, 4 * 10^-7 Wh: 0.4 microwatt-hours, rounded to none, 5 * 10^-7: to one. */
static const struct {
    int multiplier;
    int64_t value;
    int64_t want_uwh;
} multiplier_rows[] = {{3, 2, 2000000000}, {-1, 15, 1500000}, {-7, 4, 0}, {-7, 5, 1}, {0, 0, 0}};

START_TEST(multiplier_scales_the_value)
{
    struct espi_file file = {0};
    espi_begin(&file, multiplier_rows[_i].multiplier, 72, 1);
    espi_block_begin(&file, "M/1/B");
    espi_reading(&file, 1772341200, 900, multiplier_rows[_i].value);
    espi_block_end(&file);
    struct result result = espi_end(&file, NULL);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_int_eq(result.set.readings[0].energy_uwh, multiplier_rows[_i].want_uwh);
    ck_assert_int_eq(result.set.readings[0].utc_offset_s, -18000);
    result_done(&result);
}
END_TEST

static const struct {
    int uom;
    int flow;
    const char *says;
} type_rows[] = {{38, 1, "uom) 38"}, {71, 1, "uom) 71"}, {72, 19, "flowDirection 19"}, {72, 4, "flowDirection 4"}};

START_TEST(other_units_and_directions_are_named)
{
    struct espi_file file = {0};
    espi_begin(&file, 0, type_rows[_i].uom, type_rows[_i].flow);
    espi_block_begin(&file, "M/1/B");
    espi_reading(&file, 1772341200, 900, 1);
    espi_block_end(&file);
    struct result result = espi_end(&file, NULL);
    ck_assert(!result.ok);
    ck_assert_msg(strstr(error_message(&result.error), type_rows[_i].says) != NULL, "%s", error_message(&result.error));
    result_done(&result);
}
END_TEST

static void add_second_channel(struct espi_file *file, int flow)
{
    text_printf(&file->text,
                "<entry><link rel=\"self\" href=\"M/2\"/><link rel=\"related\" href=\"R/2\"/>"
                "<content><e:MeterReading/></content></entry>\n"
                "<entry><link rel=\"self\" href=\"R/2\"/><content><e:ReadingType><e:flowDirection>%d"
                "</e:flowDirection><e:uom>72</e:uom></e:ReadingType></content></entry>\n",
                flow);
    espi_block_begin(file, "M/2/B");
    espi_reading(file, 1772341200, 900, 40);
    espi_reading(file, 1772342100, 900, 2);
    espi_block_end(file);
}

static void one_channel(struct espi_file *file)
{
    espi_begin(file, 0, 72, 1);
    espi_block_begin(file, "M/1/B");
    espi_reading(file, 1772341200, 900, 7);
    espi_block_end(file);
}

START_TEST(energy_fed_back_is_kept_apart)
{
    struct espi_file file = {0};
    one_channel(&file);
    add_second_channel(&file, 19);
    struct result result = espi_end(&file, NULL);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_uint_eq(result.set.count, 1);
    ck_assert_int_eq(sum_uwh(&result.set), 7 * METER_UWH_PER_WH);
    ck_assert_uint_eq(result.set.reverse_count, 2);
    ck_assert_int_eq(result.set.reverse_uwh, 42 * METER_UWH_PER_WH);
    result_done(&result);
}
END_TEST

START_TEST(two_meters_ask_for_a_choice)
{
    for (int channel = 0; channel <= 3; channel++) {
        struct espi_file file = {0};
        one_channel(&file);
        add_second_channel(&file, 1);
        struct meter_options options = {.channel = channel};
        struct result result = espi_end(&file, &options);
        ck_assert_int_eq(result.ok, channel == 1 || channel == 2);
        if (result.ok) {
            ck_assert_int_eq(sum_uwh(&result.set), (channel == 1 ? 7 : 42) * METER_UWH_PER_WH);
        } else {
            ck_assert_ptr_nonnull(strstr(error_message(&result.error), "--channel"));
        }
        result_done(&result);
    }
}
END_TEST

/* Not in order, once twice, an overlap of 5 minutes, a gap of an hour. */
START_TEST(gaps_overlaps_and_repeats_are_counted)
{
    struct espi_file file = {0};
    espi_begin(&file, 0, 72, 1);
    espi_block_begin(&file, "M/1/B");
    espi_reading(&file, 1772346600, 900, 3);
    espi_reading(&file, 1772341200, 900, 1);
    espi_reading(&file, 1772341800, 1200, 2);
    espi_reading(&file, 1772341200, 900, 1);
    espi_block_end(&file);
    struct result result = espi_end(&file, NULL);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_uint_eq(result.set.count, 3);
    ck_assert_uint_eq(result.set.repeated, 1);
    ck_assert_uint_eq(result.set.overlap_count, 1);
    ck_assert_uint_eq(result.set.gap_count, 1);
    ck_assert_int_eq(result.set.gap_s, 3600);
    ck_assert_int_eq(sum_uwh(&result.set), 6 * METER_UWH_PER_WH);
    result_done(&result);
}
END_TEST

/* A reading of no length (a clumsy clock change at the source) joins the one before: nothing is lost. */
START_TEST(readings_of_no_length_lose_nothing)
{
    struct espi_file file = {0};
    espi_begin(&file, 0, 72, 1);
    espi_block_begin(&file, "M/1/B");
    espi_reading(&file, 1772341200, 3600, 10);
    espi_reading(&file, 1772344800, 0, 5);
    espi_reading(&file, 1772344800, 3600, 20);
    espi_block_end(&file);
    struct result result = espi_end(&file, NULL);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_uint_eq(result.set.count, 2);
    ck_assert_int_eq(sum_uwh(&result.set), 35 * METER_UWH_PER_WH);
    result_done(&result);
}
END_TEST

static const struct {
    const char *bytes;
    const char *line;
    const char *says;
} espi_faults[] = {
    /* an expansion bomb: ten of ten of ten .. */
    {"<?xml version=\"1.0\"?>\n<!DOCTYPE feed [\n<!ENTITY a \"aaaaaaaaaa\">\n<!ENTITY b "
     "\"&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;\">\n<!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;\">\n]>\n<feed>&c;</feed>\n",
     ":2: ", "DOCTYPE"},
    {"<?xml version=\"1.0\"?>\n\n<!DOCTYPE feed [<!ENTITY x SYSTEM \"file:///etc/hostname\">]>\n<feed>&x;</feed>\n",
     ":3: ", "DOCTYPE"},
    {"<!DOCTYPE feed SYSTEM \"http://localhost/feed.dtd\">\n<feed/>\n", ":1: ", "DOCTYPE"},
    {"<feed>\n&nothing;</feed>\n", ":2: ", "well-formed"},
    {"<feed xmlns=\"http://www.w3.org/2005/Atom\"/>\n", ": ", "no IntervalReading"},
    /* the right names in no namespace, or in another, are not ours */
    {"<IntervalReading><timePeriod><duration>900</duration><start>0</start></timePeriod><value>1</value>"
     "</IntervalReading>",
     ": ", "no IntervalReading"},
    {"<feed xmlns=\"http://naesb.org/espi\">\n<IntervalReading><timePeriod><start>0</start></timePeriod>"
     "<value>1</value></IntervalReading></feed>",
     ":2: ", "without start and duration"},
    {"<feed xmlns=\"http://naesb.org/espi\"><IntervalReading>\n<value>-1</value></IntervalReading></feed>",
     ":2: ", "value '-1'"},
    {"<feed xmlns=\"http://naesb.org/espi\"><IntervalReading>\n\n<value>1.5</value></IntervalReading></feed>",
     ":3: ", "whole number"},
    {"<feed xmlns=\"http://naesb.org/espi\"><IntervalBlock>\n<IntervalReading><timePeriod><duration>900</duration>"
     "<start>0</start></timePeriod><value>1</value></IntervalReading></IntervalBlock></feed>",
     ":1: ", "ReadingType"},
};

START_TEST(espi_fault_names_its_line)
{
    struct result result = read_string(espi_faults[_i].bytes, NULL);
    ck_assert(!result.ok);
    const char *message = error_message(&result.error);
    const char *after = message + strlen("meter-test-XXXXXX");
    ck_assert_msg(strncmp(after, espi_faults[_i].line, strlen(espi_faults[_i].line)) == 0, "%s", message);
    ck_assert_msg(strstr(message, espi_faults[_i].says) != NULL, "%s", message);
    result_done(&result);
}
END_TEST

START_TEST(espi_nested_too_deep_is_refused)
{
    struct text text = {0};
    for (int i = 0; i < 20000; i++) {
        text_add(&text, "<a>");
    }
    struct result result = read_bytes(text.bytes, text.length, NULL);
    ck_assert_ptr_nonnull(strstr(error_message(&result.error), "deeper than 64"));
    result_done(&result);
    text_done(&text);
}
END_TEST

START_TEST(espi_cut_anywhere_is_refused)
{
    struct espi_file file = {0};
    one_channel(&file);
    text_add(&file.text, "</feed>");
    for (size_t length = 0; length < file.text.length; length += 7) {
        struct result result = read_bytes(file.text.bytes, length, NULL);
        ck_assert(!result.ok);
        result_done(&result);
    }
    text_done(&file.text);
}
END_TEST

/* ---- figures ---- */

/* Quarter-hours of a day from local midnight: 100 Wh each, but 50 Wh from 02:00 to 04:00 and 1 kWh from 18:00 to 18:30.
 */
static size_t make_day(struct meter_reading *readings)
{
    for (int i = 0; i < 96; i++) {
        int64_t wh = i >= 8 && i < 16 ? 50 : i == 72 || i == 73 ? 1000 : 100;
        readings[i] = (struct meter_reading){.start_s = 1767222000 + i * 900,
                                             .energy_uwh = wh * METER_UWH_PER_WH,
                                             .duration_s = 900,
                                             .utc_offset_s = 3600};
    }
    return 96;
}

START_TEST(figures_by_hand)
{
    struct meter_reading readings[96];
    struct meter_figures figures;
    meter_figures(readings, make_day(readings), &figures);
    /* 86 * 100 + 8 * 50 + 2 * 1000 = 11,000 Wh; mean 11,000 / 24 W */
    ck_assert_int_eq(figures.energy_uwh, INT64_C(11000) * METER_UWH_PER_WH);
    ck_assert_double_eq_tol(figures.mean_w, 11000.0 / 24, 1e-9);
    ck_assert_double_eq_tol(figures.base_w, 200, 1e-9);
    ck_assert_double_eq_tol(figures.demand_w[0], 4000, 1e-9);
    ck_assert_double_eq_tol(figures.demand_w[1], 4000, 1e-9);
    ck_assert_double_eq_tol(figures.demand_w[2], (1000 + 1000 + 100 + 100), 1e-9);
    ck_assert_int_eq(meter_local(figures.demand_start_s[0], figures.demand_offset_s[0]).second, 18 * 3600);
    /* 4,000 W in 2 of 96 quarters (2.1 %), 200 W in the least 8 (8.3 %) */
    ck_assert_double_eq_tol(figures.share_w[0], 4000, 1e-9);
    ck_assert_double_eq_tol(figures.share_w[1], 4000, 1e-9);
    ck_assert_double_eq_tol(figures.share_w[2], 400, 1e-9);
    ck_assert_double_eq_tol(figures.share_w[METER_SHARES - 2], 400, 1e-9);
    ck_assert_double_eq_tol(figures.share_w[METER_SHARES - 1], 200, 1e-9);
}
END_TEST

START_TEST(demand_needs_whole_readings_without_a_gap)
{
    struct meter_reading readings[] = {
        {0, 900 * (int64_t)METER_UWH_PER_WH, 3600, 0},
        {7200, 100 * (int64_t)METER_UWH_PER_WH, 1800, 0},
        {9000, 100 * (int64_t)METER_UWH_PER_WH, 1800, 0},
    };
    struct meter_figures figures;
    meter_figures(readings, 3, &figures);
    ck_assert(isnan(figures.demand_w[0]));
    ck_assert_double_eq_tol(figures.demand_w[1], 200, 1e-9);
    ck_assert_double_eq_tol(figures.demand_w[2], 900, 1e-9);
}
END_TEST

/* A day of quarters from local midnight, the first of the next; the second without its first hour: 23 of 48 hours +
 * 1/4. */
START_TEST(coverage_counts_whole_days_and_what_is_missing)
{
    struct meter_reading readings[192];
    const size_t first = make_day(readings);
    const struct meter_coverage whole = meter_coverage(readings, first);
    ck_assert_double_eq_tol(whole.span_days, 1, 1e-12);
    ck_assert_uint_eq(whole.full_days, 1);
    ck_assert_double_eq(whole.missing_percent, 0);
    ck_assert_uint_eq(whole.months, 1); /* January */
    for (size_t i = 0; i < 92; i++) {
        readings[first + i] = readings[i];
        readings[first + i].start_s += 86400 + 3600;
    }
    const struct meter_coverage gap = meter_coverage(readings, first + 92);
    ck_assert_double_eq_tol(gap.span_days, 2, 1e-12);
    ck_assert_uint_eq(gap.full_days, 1);
    ck_assert_double_eq_tol(gap.missing_percent, 100.0 / 48, 1e-9);
    ck_assert_uint_eq(meter_coverage(NULL, 0).full_days, 0);
}
END_TEST

/* What is fed back is refused, unless it is asked for; then it is nothing drawn, and counted. */
START_TEST(a_net_value_below_zero_is_counted_where_it_is_asked_for)
{
    const struct meter_options net = {.net = true};
    static const char some[] = "start,kWh\n2026-01-01T00:00Z,0.5\n2026-01-01T00:15Z,-0.25\n2026-01-01T00:30Z,-0\n";
    static const char all[] = "start,kWh\n2026-01-01T00:00Z,-0.5\n2026-01-01T00:15Z,-0.25\n";
    struct result result = read_string(some, NULL);
    ck_assert(!result.ok);
    result_done(&result);
    result = read_string(some, &net);
    ck_assert_msg(result.ok, "%s", error_message(&result.error));
    ck_assert_uint_eq(result.set.count, 3);
    ck_assert_uint_eq(result.set.net_count, 1);
    ck_assert_int_eq(sum_uwh(&result.set), 500 * (int64_t)METER_UWH_PER_WH);
    result_done(&result);
    result = read_string(all, &net);
    ck_assert(!result.ok);
    ck_assert_ptr_nonnull(strstr(error_message(&result.error), ":2: every value is below zero"));
    result_done(&result);
}
END_TEST

START_TEST(no_readings_give_no_figures)
{
    struct meter_figures figures;
    meter_figures(NULL, 0, &figures);
    ck_assert(isnan(figures.mean_w) && isnan(figures.base_w) && isnan(figures.demand_w[2]));
    size_t count = 1;
    free(meter_days(NULL, 0, &count));
    ck_assert_uint_eq(count, 0);
}
END_TEST

/* A daily reading is spread over its hours without loss. */
START_TEST(hours_conserve_energy)
{
    struct meter_reading reading = {1767225600, 12345678912345, 86400, 0};
    size_t count = 0;
    struct meter_hour *hours = meter_hours(&reading, 1, &count);
    ck_assert_uint_eq(count, 24);
    int64_t sum = 0;
    for (size_t i = 0; i < count; i++) {
        ck_assert_int_eq(hours[i].date.second, (int)i * 3600);
        sum += hours[i].energy_uwh;
    }
    ck_assert_int_eq(sum, reading.energy_uwh);
    free(hours);
}
END_TEST

static const struct {
    int64_t start_s;
    int32_t offset_s;
    struct meter_date want;
} date_rows[] = {
    {0, 0, {1970, 1, 1, 3, 0}},                    /* a Thursday */
    {951782400, 0, {2000, 2, 29, 1, 0}},           /* 2000-02-29, a Tuesday */
    {1767225600, -3600, {2025, 12, 31, 2, 82800}}, /* an hour before Thursday 2026-01-01 */
    {4107542400, 0, {2100, 3, 1, 0, 0}},           /* 2100 is no leap year; a Monday */
};

START_TEST(dates_of_the_calendar)
{
    struct meter_date got = meter_local(date_rows[_i].start_s, date_rows[_i].offset_s);
    ck_assert_int_eq(got.year, date_rows[_i].want.year);
    ck_assert_int_eq(got.month, date_rows[_i].want.month);
    ck_assert_int_eq(got.day, date_rows[_i].want.day);
    ck_assert_int_eq(got.weekday, date_rows[_i].want.weekday);
    ck_assert_int_eq(got.second, date_rows[_i].want.second);
}
END_TEST

#define ROWS(table) ((int)(sizeof(table) / sizeof(table)[0]))

Suite *make_suite(void)
{
    Suite *suite = suite_create("meter");
    TCase *tcase = tcase_create("meter");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, csv_reads, 0, ROWS(csv_rows));
    tcase_add_loop_test(tcase, csv_fault_names_its_line, 0, ROWS(csv_faults));
    tcase_add_test(tcase, csv_line_counts_breaks_inside_quotes);
    tcase_add_test(tcase, csv_columns_can_be_named);
    tcase_add_test(tcase, gaps_are_reported);
    tcase_add_test(tcase, csv_cut_anywhere_is_refused_or_a_beginning);
    tcase_add_loop_test(tcase, months_around_clock_changes, 0, ROWS(month_rows));
    tcase_add_loop_test(tcase, multiplier_scales_the_value, 0, ROWS(multiplier_rows));
    tcase_add_loop_test(tcase, other_units_and_directions_are_named, 0, ROWS(type_rows));
    tcase_add_test(tcase, energy_fed_back_is_kept_apart);
    tcase_add_test(tcase, two_meters_ask_for_a_choice);
    tcase_add_test(tcase, gaps_overlaps_and_repeats_are_counted);
    tcase_add_test(tcase, readings_of_no_length_lose_nothing);
    tcase_add_loop_test(tcase, espi_fault_names_its_line, 0, ROWS(espi_faults));
    tcase_add_test(tcase, espi_nested_too_deep_is_refused);
    tcase_add_test(tcase, espi_cut_anywhere_is_refused);
    tcase_add_test(tcase, figures_by_hand);
    tcase_add_test(tcase, demand_needs_whole_readings_without_a_gap);
    tcase_add_test(tcase, coverage_counts_whole_days_and_what_is_missing);
    tcase_add_test(tcase, a_net_value_below_zero_is_counted_where_it_is_asked_for);
    tcase_add_test(tcase, no_readings_give_no_figures);
    tcase_add_test(tcase, hours_conserve_energy);
    tcase_add_loop_test(tcase, dates_of_the_calendar, 0, ROWS(date_rows));
    suite_add_tcase(suite, tcase);
    return suite;
}
