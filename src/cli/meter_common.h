/* Meter readings as the commands `import --meter` and `meter` take them. */
#ifndef AMPSUM_CLI_METER_COMMON_H
#define AMPSUM_CLI_METER_COMMON_H

#include "ampsum/meter.h"
#include "cli.h"

/* What a meter file does not say itself; rows for the option tables of both commands. */
#define OPTIONS_METER                                                                                                  \
    {"zone", '\0', "+HH:MM", "offset from UTC of stamps that have none; for ESPI in place of the file's own"},         \
        {"time", '\0', "COLUMN", "CSV: column of the starts"}, {"value", '\0', "COLUMN", "CSV: column of the values"}, \
        {"unit", '\0', "UNIT", "CSV: kWh, Wh, kW or W"},                                                               \
    {                                                                                                                  \
        "channel", '\0', "N", "ESPI: which of several meter readings"                                                  \
    }

/* Reads a meter file with those options (`net`: values below zero are counted, not refused); progress on standard error
 * where that is a terminal. */
bool meter_from_file(struct invocation *invocation, const char *path, bool net, struct meter_set *ret_set);

/* `import --meter FILE HOUSE`: stores the readings in the house database, all or none. Gives the exit status. */
int meter_import(struct invocation *invocation, const char *path);

#endif
