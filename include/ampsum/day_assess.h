/*
 * The day as it is asked for: which day of which branch or panel leg, its course against the rating, how likely the
 * rating is exceeded, and its energy. Brings the engine's figures (ampsum/day.h) together with the factors of the
 * house's rule set; the command `day` and the local page show the same.
 *
 * Checked: tests/golden/day-demo, day-course; what it brings together in tests/unit/test_day.c, test_chance.c.
 */
#ifndef AMPSUM_DAY_ASSESS_H
#define AMPSUM_DAY_ASSESS_H

#include "ampsum/day.h"
#include "ampsum/error.h"

/* The days asked for, of which the busiest is shown; `fixed` where one date was given. */
struct day_choice {
    unsigned days;   /* DAYS_ bits */
    unsigned months; /* bits */
    bool fixed;
    struct day day; /* where fixed */
};

/* The words that ask for days; NULL or "": all of them. */
struct day_words {
    const char *day;   /* weekday, weekend, mon .. sun */
    const char *month; /* jan .. dec */
    const char *date;  /* as day_from_text reads it; stands alone */
};

/* The day of one branch or panel leg. Strings belong to the house. */
struct day_view {
    struct day_scope scope;
    const char *id;
    const char *label;
    const char *leg; /* of a panel; NULL for a branch */
    struct day_series series;
    struct chance_figures chance;
    struct index_list left_out; /* of the odds */
    double energy_kwh;          /* of the scope on that day; day_energy_kwh */
};

/*
 * Reads the words. False with the error set, which names the word that is wrong as `dash` and its name (`--day`,
 * `day`), and what is allowed.
 */
bool day_choice_read(const struct day_words *words, const char *dash, struct day_choice *ret_choice,
                     struct error *error);

/*
 * The views of the branch or, where no branch has that ID, of each leg of the panel `id`; NULL: all branches, then all
 * panels, in file order, each with its own busiest day. `ret_views` and what they hold are in `arena`. False where the
 * house has no such ID.
 */
bool day_views(const struct house *house, const char *id, const struct day_choice *choice, struct arena *arena,
               struct day_view **ret_views, size_t *ret_count);

#endif
