/* `lesson --stock`: a wanted resistance from parts on the shelf. */
#ifndef AMPSUM_LESSON_STOCK_H
#define AMPSUM_LESSON_STOCK_H

#include "cli.h"

/* Answers `lesson --stock LIST --want R` and `lesson --series E12 --want R`; gives the exit status. */
int lesson_stock(struct invocation *invocation);

#endif
