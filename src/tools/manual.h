/* What the maker of the manual pages shares with the maker of the completions. */
#ifndef AMPSUM_TOOLS_MANUAL_H
#define AMPSUM_TOOLS_MANUAL_H

#include "ampsum/text.h"
#include "cli.h"

/* Appends the completion script of a shell, made from the command table. */
void completion_bash(struct text *text);
void completion_zsh(struct text *text);
void completion_fish(struct text *text);

#endif
