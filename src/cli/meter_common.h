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

/*
 * Makes the options what the reader of a file takes, with progress on standard error where that is a terminal. `file`:
 * one is read; else those are of no use, and false with the error set, which names the first and `need`, what it needs.
 */
bool meter_options_apply(struct invocation *invocation, struct meter_wanted *wanted, bool file, const char *need);

/* `import --meter FILE HOUSE`: stores the readings in the house database, all or none. Gives the exit status. */
int meter_import(struct invocation *invocation, const struct meter_wanted *wanted, const char *path);

#endif
