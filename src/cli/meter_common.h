/* Meter readings as the commands `import --meter` and `meter` take them. */
#ifndef AMPSUM_CLI_METER_COMMON_H
#define AMPSUM_CLI_METER_COMMON_H

#include "ampsum/meter.h"
#include "cli.h"

/* What a meter file does not say itself; rows for the option tables of both commands. */
#define OPTIONS_METER(of_, meter_)                                                                                     \
    {"zone", '\0', "+HH:MM", "offset from UTC of stamps that have none; for ESPI in place of the file's own",          \
     TO_WORD(of_, meter_.options.zone)},                                                                               \
        {"time", '\0', "COLUMN", "CSV: column of the starts", TO_WORD(of_, meter_.options.time_column)},               \
        {"value", '\0', "COLUMN", "CSV: column of the values", TO_WORD(of_, meter_.options.value_column)},             \
        {"unit", '\0', "UNIT", "CSV: kWh, Wh, kW or W", TO_WORD(of_, meter_.options.unit)},                            \
    {                                                                                                                  \
        "channel", '\0', "N", "ESPI: which of several meter readings", TO_WHOLE(of_, meter_.channel, 1, 64)            \
    }

struct meter_wanted {
    struct meter_options options;
    long channel; /* 0: none */
};

/* Reads a meter file with those options (`net`: values below zero are counted, not refused); progress on standard error
 * where that is a terminal. */
bool meter_from_file(struct invocation *invocation, const struct meter_wanted *wanted, const char *path, bool net,
                     struct meter_set *ret_set);

/* `import --meter FILE HOUSE`: stores the readings in the house database, all or none. Gives the exit status. */
int meter_import(struct invocation *invocation, const struct meter_wanted *wanted, const char *path);

#endif
