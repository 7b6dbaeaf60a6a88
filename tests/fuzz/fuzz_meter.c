/* Any bytes as a meter file, CSV or ESPI XML: an error or readings in order, whose totals agree; never a crash. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

#include "ampsum/meter.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void check_set(const struct meter_set *set)
{
    int64_t sum = 0;
    for (size_t i = 0; i < set->count; i++) {
        const struct meter_reading *reading = &set->readings[i];
        if (reading->duration_s <= 0 || reading->energy_uwh < 0 ||
            (i > 0 && reading->start_s <= set->readings[i - 1].start_s)) {
            abort();
        }
        sum += reading->energy_uwh;
    }
    struct meter_figures figures;
    meter_figures(set->readings, set->count, &figures);
    size_t hour_count = 0;
    struct meter_hour *hours = meter_hours(set->readings, set->count, &hour_count);
    int64_t hours_sum = 0;
    for (size_t i = 0; i < hour_count; i++) {
        hours_sum += hours[i].energy_uwh;
    }
    free(hours);
    if (set->count == 0 || figures.energy_uwh != sum || hours_sum != sum) {
        abort();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    int descriptor = memfd_create("fuzz", 0);
    char path[64];
    snprintf(path, sizeof path, "/proc/self/fd/%d", descriptor);
    if (descriptor < 0 || (size > 0 && write(descriptor, data, size) != (ssize_t)size)) {
        abort();
    }
    struct meter_options options = {.zone = size % 2 == 0 ? "+01:00" : NULL};
    struct meter_set set;
    struct error error = {0};
    if (meter_read_file(path, &options, &set, &error)) {
        check_set(&set);
        meter_set_done(&set);
    } else if (error.message.length == 0) {
        abort(); /* refused without a word */
    }
    error_done(&error);
    close(descriptor);
    return 0;
}
