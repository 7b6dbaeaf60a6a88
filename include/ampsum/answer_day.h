/*
 * The question of `day`: which day of which branch or panel leg, its course against the rating, how likely the rating
 * is exceeded, and its energy. Brings the engine's figures (ampsum/day.h) together with the factors of the house's
 * rules.
 *
 * Checked: tests/unit/test_answer_day.c; tests/golden/day-demo, day-course; what it brings together in
 * tests/unit/test_day.c, test_chance.c.
 */
#ifndef AMPSUM_ANSWER_DAY_H
#define AMPSUM_ANSWER_DAY_H

#include "ampsum/day.h"
#include "ampsum/error.h"

/* Strings as a person wrote them; NULL or "": all days, all branches and panels. */
struct day_question {
    const char *id;                         /* of a branch or, where no branch has it, of a panel */
    const char *day;                        /* weekday, weekend, mon .. sun */
    const char *month;                      /* jan .. dec */
    const char *date;                       /* as day_from_text reads it; stands alone */
    const char *dash;                       /* stands before the words in messages: `--` or "" */
    bool panel;                             /* of a panel even where a branch has that ID too */
    bool no_odds;                           /* the course alone */
    const struct planning_factors *factors; /* of the house (rules_factors); NULL: worked out here */
    struct arena *arena;                    /* where what is found lives on; NULL: until day_answer_done */
};

struct day_row;

/* The day of one branch or panel leg. Strings belong to the house. */
struct day_view {
    struct day_scope scope;
    const char *id;
    const char *label;
    const char *leg; /* of a panel; NULL for a branch */
    struct day_series series;
    struct chance_figures chance;
    struct index_list left_out; /* of the odds */
    struct index_list on;       /* appliances that are on in the busiest stretch, in file order */
    bool timed;                 /* some appliance has times (appliance_has_times) */
    bool has_odds;              /* false: what was left out of the odds is all there is */
    bool chance_known;          /* false too where the chance is 0 only since a load that may bring it above the rating
                                   was left out of the odds */
    double energy_kwh;          /* of the scope on that day; day_energy_kwh */
    const struct day_row *rows; /* its stretches, of those of the answer */
};

/* A stretch of minutes in which nothing changes. */
struct day_row {
    const struct day_view *view;
    const struct day_stretch *stretch;
};

struct day_answer {
    const struct house *house;
    const struct day_question *question;
    bool unknown_id;        /* why there is no answer: the ID is none */
    bool fixed;             /* one date was given; else each view is the busiest of the days asked for */
    struct day_view *views; /* all branches, then all panels, in file order; or what was asked for */
    size_t count;
    struct day_row *rows; /* the stretches of all views, one after the other */
    size_t row_count;
    double near_percent; /* of the rating, above which time is counted */
    double least_grid_a; /* of the odds */
    double largest_grid_a;
    struct arena *arena;
    struct arena *owned; /* freed by day_answer_done */
};

/*
 * Answers for a house, which must outlive the answer, as the question must; free with day_answer_done in any case.
 * False with the error set, which names the word that is wrong and what is allowed, or the nearest ID.
 */
bool answer_day(const struct house *house, const struct day_question *question, struct day_answer *ret_answer,
                struct error *error);

/* The next view, from that one on, which goes above its rating on its day; the count where none does. */
size_t day_next_above(const struct day_answer *answer, size_t from);

void day_answer_done(struct day_answer *answer);

/* A plot of planning current over the day in rows of characters, of which each stands for row_a ampere. */
enum { DAY_PLOT_COLUMNS_MOST = 96 };
struct day_plot {
    double row_a;
    int rows;                                /* from 0 up to the most, and past the rating */
    int rating_row;                          /* at whose lower edge the rating is */
    double columns_a[DAY_PLOT_COLUMNS_MOST]; /* the largest current within each column's stretch of the day */
};

/* `columns`: 1 to DAY_PLOT_COLUMNS_MOST. */
void day_plot(const struct day_series *series, size_t columns, struct day_plot *ret_plot);

#endif
