#include <csv.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"
#include "csv_columns.h"

enum { ROW_BYTES_MOST = 1 << 16, DAY_SECONDS = 86400 };

/* A row being gathered, and what holds for the whole file. */
struct csv_state {
    struct reading_file *file;
    struct csv_parser parser;
    struct csv_row row;
    struct csv_columns columns;
    bool have_columns;
    size_t row_bytes;         /* since the row began */
    unsigned long line;       /* being fed */
    unsigned long row_breaks; /* line breaks inside the row's quoted fields */
    unsigned long last_line;  /* of the last row */
    int zone_known;           /* option --zone read: 1 */
    int32_t zone_offset_s;
    int32_t offset_least_s;
    int32_t offset_most_s;
    bool stamps_zoned;
    size_t without_value;
    unsigned long net_line; /* of the first value below zero, where options.net lets it stand */
    int decimals_least;     /* of all rows before the last: a last row with fewer may be cut off */
    int last_decimals;
    char separator;
    char decimal;             /* the sign of the first value that has one; 0: none yet */
    unsigned long comma_line; /* of the first decimal comma */
    bool comma_sure;          /* some comma can't part thousands: not three digits behind it, or a 0 alone before */
    bool failed;
};

static char detect_separator(const char *bytes);
static bool feed(struct csv_state *state);
static bool csv_end(struct csv_state *state);
static bool set_durations(struct csv_state *state);
static void note_reading(struct csv_state *state, int64_t step_s);
static int64_t commonest_step_s(const struct reading_file *file);

static void field_read(void *bytes, size_t length, void *context);
static void row_read(int end, void *context);

bool csv_read(struct reading_file *file)
{
    struct csv_state state = {.file = file, .line = 1, .decimals_least = 99, .last_decimals = 99};
    if (file->options->zone != NULL) {
        if (!meter_zone_read(file->options->zone, &state.zone_offset_s)) {
            return meter_file_fault(file, 0, "--zone %s: not a zone; write it like +02:00, -05:00 or Z",
                                    file->options->zone);
        }
        state.zone_known = 1;
    }
    if (csv_init(&state.parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        memory_fail();
    }
    state.separator = detect_separator(file->chunk);
    csv_set_delim(&state.parser, (unsigned char)state.separator);
    bool ok = feed(&state) && csv_end(&state) && set_durations(&state);
    if (ok) {
        note_reading(&state, commonest_step_s(file));
    }
    csv_free(&state.parser);
    csv_row_done(&state.row);
    csv_columns_done(&state.columns);
    return ok;
}

/* The one of comma, semicolon and tab that stands most often in the first line, outside quotes. */
static char detect_separator(const char *bytes)
{
    static const char separators[] = ",;\t";
    size_t counts[3] = {0};
    bool quoted = false;
    for (; *bytes != '\0' && (quoted || (*bytes != '\n' && *bytes != '\r')); bytes++) {
        const char *found = strchr(separators, *bytes);
        quoted = quoted != (*bytes == '"');
        if (!quoted && found != NULL) {
            counts[found - separators]++;
        }
    }
    size_t best = counts[1] > counts[0] ? 1 : 0;
    best = counts[2] > counts[best] ? 2 : best;
    return separators[best];
}

/* One piece, at most one line, to libcsv, which counts no lines itself. */
static bool feed_piece(struct csv_state *state, const char *bytes, size_t length)
{
    state->row_bytes += length;
    if (state->row_bytes > ROW_BYTES_MOST) {
        return meter_file_fault(state->file, state->line, "a row of more than %d bytes", ROW_BYTES_MOST);
    }
    if (memchr(bytes, '\0', length) != NULL) {
        return meter_file_fault(state->file, state->line, "a NUL byte; this is no CSV text");
    }
    size_t used = csv_parse(&state->parser, bytes, length, field_read, row_read, state);
    if (state->failed) {
        return false;
    }
    if (used != length) {
        if (csv_error(&state->parser) == CSV_ENOMEM) {
            memory_fail();
        }
        return meter_file_fault(state->file, state->line,
                                "a quote in the wrong place; a quote inside quotes is doubled");
    }
    return true;
}

static bool feed(struct csv_state *state)
{
    struct reading_file *file = state->file;
    const char *bytes = file->chunk;
    if (strncmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        bytes += 3;
    }
    do {
        const char *end = file->chunk + file->chunk_length;
        while (bytes < end) {
            const char *line_end = memchr(bytes, '\n', (size_t)(end - bytes));
            const char *piece_end = line_end == NULL ? end : line_end + 1;
            if (!feed_piece(state, bytes, (size_t)(piece_end - bytes))) {
                return false;
            }
            state->line += line_end != NULL;
            bytes = piece_end;
        }
        bytes = file->chunk;
    } while (meter_file_next_chunk(file));
    return !error_is_set(file->error);
}

static bool csv_end(struct csv_state *state)
{
    size_t rows_before = state->file->raw_count;
    int decimals_before = state->decimals_least;
    bool row_open = state->row.count > 0 || state->row_bytes > 0;
    if (csv_fini(&state->parser, field_read, row_read, state) != 0) {
        return meter_file_fault(state->file, state->line, "the file ends inside quotes: cut off?");
    }
    if (state->failed) {
        return false;
    }
    if (state->decimal == ',' && !state->comma_sure) {
        return meter_file_fault(
            state->file, state->comma_line,
            "commas with three digits behind each: decimals or thousands? write a point, like 0.25");
    }
    if (!state->have_columns) {
        return meter_file_fault(state->file, 0, "empty; expected a header that names the columns, then rows");
    }
    if (row_open && state->file->raw_count > rows_before) {
        if (state->last_decimals < decimals_before && rows_before > 0) {
            return meter_file_fault(state->file, state->last_line,
                                    "the last line has no line end and fewer decimals than the rest: cut off?");
        }
        meter_file_note(state->file, "the last line has no line end");
    }
    return true;
}

static void field_read(void *bytes, size_t length, void *context)
{
    struct csv_state *state = context;
    for (size_t i = 0; i < length; i++) {
        state->row_breaks += ((const char *)bytes)[i] == '\n';
    }
    csv_row_add(&state->row, bytes == NULL ? "" : bytes, length);
}

static void header_row(struct csv_state *state, unsigned long line)
{
    state->failed = !csv_columns_find(&state->columns, &state->row, state->file, line);
    state->have_columns = true;
}

static bool read_start(struct csv_state *state, unsigned long line, struct raw *raw)
{
    struct text stamp = {0};
    text_add(&stamp, csv_row_field(&state->row, state->columns.time));
    if (state->columns.date != NO_COLUMN) {
        struct text both = {0};
        text_printf(&both, "%s %s", csv_row_field(&state->row, state->columns.date), text_string(&stamp));
        text_done(&stamp);
        stamp = both;
    }
    int64_t local_s = 0;
    bool zoned = false;
    int32_t offset_s = state->zone_offset_s;
    const char *fault = NULL;
    bool ok = stamp_read(text_string(&stamp), &local_s, &zoned, &offset_s, &fault);
    if (!ok) {
        struct text shown = {0};
        text_add_shown(&shown, text_string(&stamp));
        meter_file_fault(state->file, line, "time '%s': %s", text_string(&shown), fault);
        text_done(&shown);
    } else if (!zoned && state->zone_known == 0) {
        ok = meter_file_fault(
            state->file, line,
            "time without a zone; give --zone +02:00 (the meter's offset from UTC) or write it in the stamp");
    }
    text_done(&stamp);
    raw->start_s = local_s - offset_s;
    raw->utc_offset_s = offset_s;
    bool first = state->file->raw_count == 0;
    state->offset_least_s = first || offset_s < state->offset_least_s ? offset_s : state->offset_least_s;
    state->offset_most_s = first || offset_s > state->offset_most_s ? offset_s : state->offset_most_s;
    state->stamps_zoned = state->stamps_zoned || zoned;
    return ok;
}

static int decimals_of(const char *cell)
{
    const char *point = strchr(cell, '.');
    return point == NULL ? 0 : (int)strspn(point + 1, "0123456789");
}

/*
 * Between semicolons the decimal sign may be a comma, as in files of a house where it is; one sign for the whole file.
 * The number with a point, in `ret_plain`.
 */
static bool plain_number(struct csv_state *state, unsigned long line, const char *cell, size_t length,
                         struct text *ret_plain)
{
    const char *comma = memchr(cell, ',', length);
    const bool points = memchr(cell, '.', length) != NULL;
    text_add_length(ret_plain, cell, length);
    if (state->separator != ';' || (comma == NULL && !points)) {
        return true;
    }
    const char sign = comma != NULL ? ',' : '.';
    if ((comma != NULL && points) || (state->decimal != '\0' && state->decimal != sign)) {
        struct text shown = {0};
        text_add_shown(&shown, cell);
        meter_file_fault(state->file, line, "value '%s': points and commas in one file; which is the decimal sign?",
                         text_string(&shown));
        text_done(&shown);
        return false;
    }
    if (comma != NULL) {
        const size_t before = (size_t)(comma - cell);
        const size_t behind = length - before - 1;
        state->comma_line = state->decimal == '\0' ? line : state->comma_line;
        state->comma_sure = state->comma_sure || behind != 3 || (before == 1 && cell[0] == '0');
        ret_plain->bytes[before] = '.';
    }
    state->decimal = sign;
    return true;
}

static bool read_value(struct csv_state *state, unsigned long line, struct raw *raw)
{
    const char *cell = csv_row_field(&state->row, state->columns.value);
    size_t length = strcspn(cell, " kKwW");
    const char *unit = cell + length + strspn(cell + length, " ");
    if (!csv_columns_unit(&state->columns, unit, state->file, line)) {
        return false;
    }
    const char *fault = NULL;
    const bool is_net = state->file->options->net && cell[0] == '-';
    cell += is_net ? 1 : 0;
    length -= is_net ? 1 : 0;
    struct text plain = {0};
    bool good = plain_number(state, line, cell, length, &plain);
    if (good &&
        !decimal_scaled(text_string(&plain), length, csv_unit_power(state->columns.unit), &raw->energy_uwh, &fault)) {
        struct text shown = {0};
        text_add_shown(&shown, cell);
        good = meter_file_fault(state->file, line, "value '%s': %s", text_string(&shown), fault);
        text_done(&shown);
    }
    if (good && is_net && raw->energy_uwh > 0) {
        raw->energy_uwh = 0;
        state->net_line = state->file->set->net_count++ == 0 ? line : state->net_line;
    }
    state->decimals_least = state->last_decimals < state->decimals_least ? state->last_decimals : state->decimals_least;
    state->last_decimals = decimals_of(text_string(&plain));
    text_done(&plain);
    return good;
}

static bool data_row(struct csv_state *state, unsigned long line)
{
    const struct csv_columns *columns = &state->columns;
    if (state->row.count != columns->count) {
        return meter_file_fault(state->file, line, "%zu field%s where the header has %zu%s", state->row.count,
                                state->row.count == 1 ? "" : "s", columns->count,
                                state->row.count > columns->count ? ": a decimal comma? write a point, like 0.25"
                                                                  : ": cut off?");
    }
    struct raw raw = {.line = line};
    if (!read_start(state, line, &raw)) {
        return false;
    }
    if (*csv_row_field(&state->row, columns->value) == '\0') {
        state->without_value++;
        return true;
    }
    return read_value(state, line, &raw) && meter_file_add(state->file, &raw);
}

static void row_read(int end, void *context)
{
    (void)end;
    struct csv_state *state = context;
    unsigned long line = state->line - state->row_breaks;
    if (!state->failed && state->row.count > 0) {
        state->last_line = line;
        if (!state->have_columns) {
            header_row(state, line);
        } else {
            state->failed = !data_row(state, line);
        }
    }
    csv_row_clear(&state->row);
    state->row_bytes = 0;
    state->row_breaks = 0;
}

static int compare_steps(const void *a, const void *b)
{
    int64_t i = *(const int64_t *)a;
    int64_t j = *(const int64_t *)b;
    return i < j ? -1 : i > j;
}

/* Of the times between neighbouring starts the one that stands most often; 0 with one start. Sorts the readings. */
static int64_t commonest_step_s(const struct reading_file *file)
{
    int64_t *steps = memory_resize(NULL, file->raw_count, sizeof *steps);
    size_t count = 0;
    for (size_t i = 1; i < file->raw_count; i++) {
        int64_t step_s = file->raws[i].start_s - file->raws[i - 1].start_s;
        if (step_s > 0) {
            steps[count++] = step_s;
        }
    }
    qsort(steps, count, sizeof *steps, compare_steps);
    int64_t best_s = 0;
    size_t best_count = 0;
    for (size_t i = 0, end; i < count; i = end) {
        end = i + 1;
        while (end < count && steps[end] == steps[i]) {
            end++;
        }
        if (end - i > best_count) {
            best_count = end - i;
            best_s = steps[i];
        }
    }
    free(steps);
    return best_s;
}

/* To the next start, at most the step; a whole day stays a day where the clock changes in it. */
static int64_t duration_s(const struct raw *raw, const struct raw *next, int64_t step_s)
{
    if (next == NULL) {
        return step_s;
    }
    int64_t apart_s = next->start_s - raw->start_s;
    int64_t apart_local_s = apart_s + next->utc_offset_s - raw->utc_offset_s;
    bool days = step_s % DAY_SECONDS == 0 && apart_local_s == step_s;
    return days || apart_s < step_s ? apart_s : step_s;
}

/* Microwatts over a time to microwatt-hours, rounded half-up. */
static int64_t energy_from_power(int64_t power_uw, int64_t seconds)
{
    return power_uw / 3600 * seconds + (power_uw % 3600 * seconds + 1800) / 3600;
}

static bool set_durations(struct csv_state *state)
{
    struct reading_file *file = state->file;
    if (file->raw_count < 2) {
        return meter_file_fault(file, 0, "%s; two at least are needed to tell how long an interval is",
                                file->raw_count == 0 ? "no readings" : "one reading alone");
    }
    if (file->set->net_count == file->raw_count) {
        return meter_file_fault(file, state->net_line,
                                "every value is below zero: what was fed back, not what was drawn");
    }
    meter_raws_sort(file->raws, file->raw_count);
    int64_t step_s = commonest_step_s(file);
    if (step_s == 0 || step_s > 32L * DAY_SECONDS) {
        return meter_file_fault(file, 0, "the intervals are %s", step_s == 0 ? "of no length" : "longer than a month");
    }
    bool power = csv_unit_is_power(state->columns.unit);
    for (size_t i = 0; i < file->raw_count;) {
        size_t next = i + 1;
        while (next < file->raw_count && file->raws[next].start_s == file->raws[i].start_s) {
            next++;
        }
        int64_t seconds = duration_s(&file->raws[i], next < file->raw_count ? &file->raws[next] : NULL, step_s);
        for (; i < next; i++) {
            file->raws[i].duration_s = (int32_t)seconds;
            if (power) {
                file->raws[i].energy_uwh = energy_from_power(file->raws[i].energy_uwh, seconds);
            }
        }
    }
    return true;
}

static void write_zone(struct text *text, int32_t offset_s)
{
    int32_t minutes = (offset_s < 0 ? -offset_s : offset_s) / 60;
    text_printf(text, "%c%02d:%02d", offset_s < 0 ? '-' : '+', (int)(minutes / 60), (int)(minutes % 60));
}

static void note_reading(struct csv_state *state, int64_t step_s)
{
    struct text zone = {0};
    write_zone(&zone, state->offset_least_s);
    if (state->offset_most_s != state->offset_least_s) {
        text_add(&zone, " to ");
        write_zone(&zone, state->offset_most_s);
    }
    const struct csv_columns *columns = &state->columns;
    meter_file_note(state->file,
                    "%s between columns; starts in '%s%s%s', %s in '%s' (%s); zone %s (%s); commonest step %lld s",
                    state->separator == ','   ? "commas"
                    : state->separator == ';' ? "semicolons"
                                              : "tabs",
                    columns->date == NO_COLUMN ? "" : csv_row_field(&columns->header, columns->date),
                    columns->date == NO_COLUMN ? "" : "' and '", csv_row_field(&columns->header, columns->time),
                    csv_unit_is_power(columns->unit) ? "power" : "energy",
                    csv_row_field(&columns->header, columns->value), csv_unit_word(columns->unit), text_string(&zone),
                    state->stamps_zoned ? "from the stamps" : "given", (long long)step_s);
    if (state->decimal == ',') {
        meter_file_note(state->file, "commas taken for decimal signs");
    }
    if (state->without_value > 0) {
        meter_file_note(state->file, "%zu row%s without a value left out", state->without_value,
                        state->without_value == 1 ? "" : "s");
    }
    text_done(&zone);
}
