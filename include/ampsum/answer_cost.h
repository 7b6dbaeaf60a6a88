/*
 * The question of `cost`: energy and money of a year by appliance, room and branch; by another tariff; and what a
 * change would do to it.
 *
 * Checked: tests/unit/test_answer_cost.c; tests/golden/cost-demo.
 */
#ifndef AMPSUM_ANSWER_COST_H
#define AMPSUM_ANSWER_COST_H

#include "ampsum/energy.h"
#include "ampsum/error.h"

/* Decimals of the house's money (ISO 4217), 2 where its currency is not known. */
int cost_decimals(const struct house *house);

/*
 * The rows of one kind, the largest energy first, equal ones in file order. Of rooms the row of index room_count is
 * what has none, so that the rows add up to the whole; it is there where it uses energy.
 */
struct cost_rows {
    const struct house *house;
    enum kind kind;
    const struct energy_row *rows; /* in file order */
    const size_t *order;
    size_t count;
    size_t used; /* those of the first rows that use energy */
};

/* What the rows from place `first` of that order on come to: kwh_year and standby_kwh_year, no money. Cannot fail. */
struct energy_row cost_rest(const struct cost_rows *by, size_t first);

enum cost_by { COST_BY_APPLIANCE, COST_BY_ROOM, COST_BY_BRANCH, COST_KINDS };

struct cost_answer {
    const struct house *house;
    size_t tariff;
    const struct energy_bill *bill; /* with all rows */
    struct cost_rows by[COST_KINDS];
    int most_month; /* the dearest, without a price that of most energy; 0 January; the first of equal ones; -1: none */
    int least_month; /* likewise */
    struct arena *arena;
};

/*
 * Answers for a house, which must outlive the answer. `tariff` is an index or NO_INDEX (no money). `bill` NULL: worked
 * out here; else one of that tariff with all rows, which must outlive the answer. Never fails; free with
 * cost_answer_done.
 */
void answer_cost(const struct house *house, size_t tariff, const struct energy_bill *bill,
                 struct cost_answer *ret_answer);
void cost_answer_done(struct cost_answer *answer);

/* Fills most_month and least_month from its bill alone; part of answer_cost. Cannot fail. */
void cost_find_months(struct cost_answer *answer);

/* Whether an appliance's energy is left out: without `use` and `hours` nothing tells how long it runs. */
bool cost_is_left_out(const struct cost_answer *answer, size_t appliance);

/* ---- several tariffs, side by side */

struct cost_tariff {
    const struct tariff *tariff;
    struct energy_bill bill;
};

struct cost_tariffs {
    const struct house *house;
    struct cost_tariff *rows;
    size_t count;
    struct arena *arena;
};

/* The year by each of those tariffs, in that order. Never fails; free with cost_tariffs_done. */
void answer_cost_tariffs(const struct house *house, const size_t *tariffs, size_t count,
                         struct cost_tariffs *ret_answer);
void cost_tariffs_done(struct cost_tariffs *answer);

/* ---- what a change would do */

struct cost_change {
    size_t tariff;
    const char *const *shifts; /* `dryer=22:30`: its windows moved, the first one to that minute; shift_count */
    size_t shift_count;
    bool no_standby;
    bool loss; /* what the wires lose, where they are known */
};

enum cost_what { COST_MOVED, COST_NO_STANDBY, COST_MOVED_NO_STANDBY, COST_LOSS };

/* A year as it is and as it would be. Money is NAN without a tariff. */
struct cost_row {
    enum cost_what what;
    double kwh;
    double kwh_then;
    double cost; /* of the bills as printed, of which the difference is taken */
    double cost_then;
    double difference;
    size_t unknown_wires; /* COST_LOSS: branches left out */
};

enum { COST_ROWS_MOST = 4 }; /* of two answers beside each other */

struct cost_changed {
    const struct house *house;
    int decimals; /* of the money */
    struct cost_row rows[COST_ROWS_MOST];
    size_t count;
};

/* The rows of what changes, which stand first; and that of what the wires lose beside the year; NULL: not asked. */
size_t cost_change_count(const struct cost_changed *answer);
const struct cost_row *cost_loss_row(const struct cost_changed *answer);

/* False with the error set where a shift can't be read or the appliance has no windows. Nothing to free. */
bool answer_cost_change(const struct house *house, const struct cost_change *question, struct cost_changed *ret_answer,
                        struct error *error);

/* ---- the question as it is asked: the year; with several tariffs those; with a change what it would do */

struct cost_question {
    const size_t *tariffs; /* tariff_count of them; none: the house's own */
    size_t tariff_count;
    struct cost_change change; /* its tariff is left to be found */
};

enum cost_kind { COST_OF_YEAR, COST_OF_TARIFFS, COST_OF_CHANGE };

struct cost_asked {
    enum cost_kind kind; /* which of these it is; the others hold nothing */
    struct cost_answer year;
    struct cost_tariffs tariffs;
    struct cost_changed changed;
};

/* Answers for a house, which must outlive the answer; free with cost_asked_done in any case. False as
 * answer_cost_change. */
bool answer_cost_asked(const struct house *house, const struct cost_question *question, struct cost_asked *ret_answer,
                       struct error *error);
void cost_asked_done(struct cost_asked *answer);

#endif
