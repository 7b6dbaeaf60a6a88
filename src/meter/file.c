#include <errno.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ampsum/arena.h"
#include "ampsum/place.h"
#include "parts.h"

static bool open_file(struct reading_file *file);
static bool finish(struct reading_file *file);

bool meter_read_file(const char *path, const struct meter_options *options, struct meter_set *ret_set,
                     struct error *error)
{
    static const struct meter_options none = {0};
    struct meter_set set = {0};
    struct reading_file *file = memory_new(sizeof *file);
    *file =
        (struct reading_file){.name = path, .options = options == NULL ? &none : options, .set = &set, .error = error};
    bool ok = open_file(file) && meter_file_next_chunk(file);
    if (ok) {
        size_t blank = strspn(file->chunk, " \t\r\n\xEF\xBB\xBF");
        ok = (file->chunk[blank] == '<' ? espi_read(file) : csv_read(file)) && finish(file);
    } else {
        meter_file_fault(file, 0, "empty; expected meter readings, CSV or ESPI XML"); /* unless a fault is set */
    }
    if (file->stream != NULL) {
        fclose(file->stream);
    }
    free(file->raws);
    free(file);
    if (!ok) {
        meter_set_done(&set);
        return false;
    }
    *ret_set = set;
    return true;
}

void meter_set_done(struct meter_set *set)
{
    if (set != NULL) {
        free(set->readings);
        text_done(&set->notes);
        *set = (struct meter_set){0};
    }
}

static bool open_file(struct reading_file *file)
{
    const char *why = "";
    file->stream = file_stream_to_read(file->name, &why);
    if (file->stream == NULL) {
        return meter_file_fault(file, 0, "can't be read: %s", why);
    }
    struct stat status;
    if (fstat(fileno(file->stream), &status) == 0) {
        if (S_ISDIR(status.st_mode)) {
            return meter_file_fault(file, 0, "a directory; expected a file of meter readings");
        }
        file->all_bytes = status.st_size > 0 ? (uint64_t)status.st_size : 0;
    }
    return true;
}

bool meter_file_next_chunk(struct reading_file *file)
{
    file->chunk_length = 0;
    if (file->ended) {
        return false;
    }
    file->chunk_length = fread(file->chunk, 1, sizeof file->chunk - 1, file->stream);
    file->chunk[file->chunk_length] = '\0';
    if (ferror(file->stream) != 0) {
        return meter_file_fault(file, 0, "can't be read: %s", strerror(errno));
    }
    file->ended = feof(file->stream) != 0;
    file->done_bytes += file->chunk_length;
    if (file->options->progress != NULL) {
        file->options->progress(file->options->context, file->done_bytes, file->all_bytes);
    }
    return file->chunk_length > 0;
}

bool meter_file_fault(struct reading_file *file, unsigned long line, const char *format, ...)
{
    struct text text = {0};
    va_list arguments;
    va_start(arguments, format);
    text_printf_list(&text, format, arguments);
    va_end(arguments);
    if (line > 0) {
        error_set(file->error, ERROR_INPUT, "%s:%lu: %s", file->name, line, text_string(&text));
    } else {
        error_set(file->error, ERROR_INPUT, "%s: %s", file->name, text_string(&text));
    }
    text_done(&text);
    return false;
}

void meter_file_note(struct reading_file *file, const char *format, ...)
{
    struct text *notes = &file->set->notes;
    if (notes->length > 0) {
        text_add_char(notes, '\n');
    }
    va_list arguments;
    va_start(arguments, format);
    text_printf_list(notes, format, arguments);
    va_end(arguments);
}

bool meter_file_add(struct reading_file *file, const struct raw *raw)
{
    if (file->raw_count >= METER_READINGS_MOST) {
        return meter_file_fault(file, raw->line, "more than %d readings; give the file in parts", METER_READINGS_MOST);
    }
    file->raws = memory_grow(file->raws, file->raw_count, &file->raw_capacity, sizeof *file->raws);
    file->raws[file->raw_count++] = *raw;
    return true;
}

static int compare_raws(const void *a, const void *b)
{
    const struct raw *i = a;
    const struct raw *j = b;
    if (i->start_s != j->start_s) {
        return i->start_s < j->start_s ? -1 : 1;
    }
    if (i->duration_s != j->duration_s) {
        return i->duration_s > j->duration_s ? -1 : 1;
    }
    return i->line < j->line ? -1 : i->line > j->line;
}

void meter_raws_sort(struct raw *raws, size_t count)
{
    size_t sorted = 1;
    while (sorted < count && compare_raws(&raws[sorted - 1], &raws[sorted]) <= 0) {
        sorted++;
    }
    if (sorted < count) {
        qsort(raws, count, sizeof *raws, compare_raws);
    }
}

/* A clumsy clock change in the source leaves readings of no length; their energy belongs to the one at that time. */
static bool merge_empty(struct reading_file *file, const struct raw *raw, size_t *merged)
{
    struct meter_set *set = file->set;
    if (set->count == 0) {
        return meter_file_fault(file, raw->line, "a reading of 0 s with no reading before it");
    }
    set->readings[set->count - 1].energy_uwh += raw->energy_uwh;
    *merged += 1;
    return true;
}

static bool keep_reading(struct reading_file *file, const struct raw *raw, const struct raw *before)
{
    struct meter_set *set = file->set;
    if (before != NULL && before->start_s == raw->start_s) {
        if (before->energy_uwh != raw->energy_uwh || before->duration_s != raw->duration_s) {
            return meter_file_fault(
                file, raw->line, "a second, different reading for the same start (the first: line %lu)", before->line);
        }
        set->repeated++;
        return true;
    }
    set->readings[set->count++] = (struct meter_reading){
        .start_s = raw->start_s,
        .energy_uwh = raw->energy_uwh,
        .duration_s = raw->duration_s,
        .utc_offset_s = raw->utc_offset_s,
    };
    return true;
}

static void write_local(struct text *text, const struct meter_reading *reading)
{
    struct meter_date date = meter_local(reading->start_s, reading->utc_offset_s);
    text_printf(text, "%04d-%02d-%02d %02d:%02d", date.year, date.month, date.day, date.second / 3600,
                date.second / 60 % 60);
}

/* Counts gaps and overlaps and notes the first of each. */
static void look_between(struct reading_file *file)
{
    struct meter_set *set = file->set;
    struct text first_gap = {0};
    struct text first_overlap = {0};
    for (size_t i = 1; i < set->count; i++) {
        const struct meter_reading *before = &set->readings[i - 1];
        int64_t apart_s = set->readings[i].start_s - before->start_s - before->duration_s;
        if (apart_s > 0) {
            set->gap_s += apart_s;
            if (set->gap_count++ == 0) {
                write_local(&first_gap, before);
            }
        } else if (apart_s < 0 && set->overlap_count++ == 0) {
            write_local(&first_overlap, &set->readings[i]);
        }
    }
    if (set->gap_count > 0) {
        meter_file_note(file, "%zu gap%s, %" PRId64 " min in all; the first after the reading of %s", set->gap_count,
                        set->gap_count == 1 ? "" : "s", set->gap_s / 60, text_string(&first_gap));
    }
    if (set->overlap_count > 0) {
        meter_file_note(file, "%zu overlap%s of readings; the first at %s", set->overlap_count,
                        set->overlap_count == 1 ? "" : "s", text_string(&first_overlap));
    }
    text_done(&first_gap);
    text_done(&first_overlap);
}

/* The sum must fit too, so that no total overflows later. */
static bool sum_fits(struct reading_file *file)
{
    int64_t sum = 0;
    for (size_t i = 0; i < file->set->count; i++) {
        if (__builtin_add_overflow(sum, file->set->readings[i].energy_uwh, &sum)) {
            return meter_file_fault(file, 0, "more energy than can be held (9,000 GWh); are the units right?");
        }
    }
    return true;
}

static bool finish(struct reading_file *file)
{
    struct meter_set *set = file->set;
    if (file->raw_count == 0) {
        return meter_file_fault(file, 0, "no meter readings in it");
    }
    meter_raws_sort(file->raws, file->raw_count);
    set->readings = memory_resize(NULL, file->raw_count, sizeof *set->readings);
    size_t merged = 0;
    const struct raw *before = NULL;
    for (size_t i = 0; i < file->raw_count; i++) {
        const struct raw *raw = &file->raws[i];
        if (raw->duration_s == 0) {
            if (!merge_empty(file, raw, &merged)) {
                return false;
            }
            continue;
        }
        if (!keep_reading(file, raw, before)) {
            return false;
        }
        before = raw;
    }
    if (merged > 0) {
        meter_file_note(file, "%zu reading%s of 0 s; their energy is counted with the reading before", merged,
                        merged == 1 ? "" : "s");
    }
    if (set->repeated > 0) {
        meter_file_note(file, "%zu reading%s given more than once, counted once", set->repeated,
                        set->repeated == 1 ? "" : "s");
    }
    look_between(file);
    return sum_fits(file);
}
