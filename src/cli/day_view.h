/* The day of one branch or panel leg as the command `day` shows it on a terminal. */
#ifndef AMPSUM_CLI_DAY_VIEW_H
#define AMPSUM_CLI_DAY_VIEW_H

#include "ampsum/day_assess.h"
#include "cli.h"

/* All of one view: the day as a picture of planning current over the hours, then in words. */
void day_view_text(const struct house *house, const struct day_view *view, const struct page *page, struct text *text);

/* The appliances that the odds of these views know no times of; nothing where there are none. */
void day_view_left_out(const struct house *house, const struct day_view *views, size_t count, const struct page *page,
                       struct text *text);

/* What the odds leave out of account; once per answer. */
void day_view_assumptions(const struct day_view *views, size_t count, const struct page *page, struct text *text);

#endif
