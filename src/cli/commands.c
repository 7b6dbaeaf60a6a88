#include "cli.h"

/* A new command is one row here, in the order of the help, and one file. */
/* clang-format off */
#define COMMANDS(row) \
    row(check) \
    row(branch) \
    row(try) \
    row(place) \
    row(combos) \
    row(settle) \
    row(day) \
    row(meter) \
    row(cost) \
    row(wire) \
    row(demand) \
    row(fault) \
    row(report) \
    row(directory) \
    row(solve) \
    row(estimate) \
    row(lesson) \
    row(mark) \
    row(new) \
    row(import) \
    row(export) \
    row(add) \
    row(set) \
    row(remove) \
    row(undo) \
    row(log) \
    row(typical) \
    row(rules) \
    row(serve)
/* clang-format on */

#define DECLARE(name) extern const struct command command_##name;
#define POINT(name) &command_##name,

COMMANDS(DECLARE)

const struct command *const commands[] = {COMMANDS(POINT) NULL};
