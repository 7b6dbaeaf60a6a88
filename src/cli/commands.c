#include "cli.h"

extern const struct command command_check, command_branch, command_cost, command_import, command_export,
    command_typical, command_rules;

/* A new command is one row here and one file. */
const struct command *const commands[] = {
    &command_check,  &command_branch,  &command_cost,  &command_import,
    &command_export, &command_typical, &command_rules, NULL,
};
