/* The day of one branch or panel leg as the command `day` shows it. */
#ifndef AMPSUM_CLI_DAY_VIEW_H
#define AMPSUM_CLI_DAY_VIEW_H

#include "ampsum/day.h"
#include "cli.h"

struct day_view {
    struct day_scope scope;
    const char *id;
    const char *label;
    const char *leg; /* of a panel; NULL for a branch */
    struct day_series series;
    struct chance_figures chance;
    struct index_list left_out;
};

/* HH:MM of a minute of the day; 1440 is 24:00. */
void day_view_minute(struct text *text, int minute);

/* A chance in percent, three significant digits; both bounds where they differ in them. */
void day_view_percent(struct text *text, struct chance_bounds chance);

/* The day as a picture of planning current over the hours, in block characters or plain ASCII. */
void day_view_plot(const struct day_view *view, const struct page *page, struct text *text);

/* What is on in the busiest stretch: IDs in file order, parted by commas; units where more than one. */
void day_view_on(const struct house *house, const struct day_view *view, struct text *text);

/* All of one view in words. */
void day_view_text(const struct house *house, const struct day_view *view, const struct page *page, struct text *text);

/* The appliances that the odds of these views know no times of; nothing where there are none. */
void day_view_left_out(const struct house *house, const struct day_view *views, size_t count, const struct page *page,
                       struct text *text);

/* What the odds leave out of account; once per answer. */
void day_view_assumptions(const struct day_view *views, size_t count, const struct page *page, struct text *text);

json_t *day_view_json(const struct house *house, const struct day_view *view);

#endif
