/*
 * The interface of libampsum for other programs: open a house, ask it, read figures, free it.
 *
 *     struct ampsum_house *house = NULL;
 *     char *fault = NULL;
 *     if (ampsum_open("house.ini", &house, &fault) != AMPSUM_DONE) { ... ampsum_fault_free(fault); }
 *     struct ampsum_check *check = ampsum_check(house, NULL);
 *     struct ampsum_branch branch;
 *     for (size_t i = 0; ampsum_check_branch(check, i, &branch); i++) { ... }
 *     ampsum_check_free(check);
 *     ampsum_close(house);
 *
 * Only what stands here is exported; all of it begins with ampsum_. Units stand in the names: _a ampere, _v volt, _w
 * watt, _va volt-ampere, _ohm, _percent, _kwh. A figure that is not known, or not defined there, is NAN; a text that is
 * not known is NULL. Texts are UTF-8. Nothing here prints, keeps state between calls or asks for the time; two houses
 * may be asked in two threads, one house by one thread at a time. The locale of the program does not matter.
 *
 * Who owns what: a house, a check and a fault are the caller's and are given back by their own function, which takes
 * NULL too. Texts inside them live as long as they do; a check needs its house to stay open. Structs are filled by
 * value.
 *
 * Errors: what can fail says so by a status and hands out a message of one or more lines. Out of memory ends the
 * program with status 3 and a line on standard error, as it does in `ampsum`: a planner has nothing to save. An index
 * past the end gives false and leaves the struct alone. A NULL house or check, or a NULL place for an answer, is a
 * fault of the caller.
 *
 * Figures plan; local codes and a licensed electrician decide (SAFETY.md). What each means: `ampsum check --help`,
 * README. Checked: tests/example (an outside program against `ampsum check`), tests/exports (the list of exported
 * names).
 */
#ifndef AMPSUM_AMPSUM_H
#define AMPSUM_AMPSUM_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Of this header; ampsum_version gives that of the library which is loaded. Within one so name no function goes or
 * changes; structs grow only with the so name. */
#define AMPSUM_VERSION_MAJOR 0
#define AMPSUM_VERSION_MINOR 1
#define AMPSUM_VERSION_PATCH 0

#if defined(__GNUC__)
#define AMPSUM_API __attribute__((visibility("default")))
#else
#define AMPSUM_API
#endif

/* Numbered as the exit statuses of `ampsum`. */
enum ampsum_status {
    AMPSUM_DONE = 0,
    AMPSUM_WRONG = 2,  /* the house, the path or the question is not right; the message says what was expected */
    AMPSUM_FAILED = 3, /* the house database can't be read, or is damaged */
};

/* `0.1.0`; valid for ever. */
AMPSUM_API const char *ampsum_version(void);

/* ------------------------------------------------------------------ a house --------------------------------- */

struct ampsum_house;

/*
 * Reads a house file (.ini) or a house database as a whole; the file may change or go afterwards. A database is only
 * read; an interrupted change of it is rolled back. On AMPSUM_DONE *ret_house is the caller's (ampsum_close), on any
 * other status *ret_fault is (ampsum_fault_free): every fault of a file, one a line, `file:line: what, expected what`.
 * `ret_fault` NULL: no message wanted.
 */
AMPSUM_API enum ampsum_status ampsum_open(const char *path, struct ampsum_house **ret_house, char **ret_fault);
AMPSUM_API void ampsum_close(struct ampsum_house *house);
AMPSUM_API void ampsum_fault_free(char *fault);

/* What the house is called, and its rule set (`us`, `iec`, `uk`). */
AMPSUM_API const char *ampsum_house_name(const struct ampsum_house *house);
AMPSUM_API const char *ampsum_house_rules(const struct ampsum_house *house);

/* ------------------------------------------------------------------ what is on each branch ------------------- */

/* Beside `everything on`: the busiest minute of each branch's week, or one of these. */
struct ampsum_question {
    const char *scene;     /* ID of a scene; NULL: none */
    const char *const *on; /* IDs of appliances that are on, all units of each; NULL: none asked */
    size_t on_count;       /* entries of `on` */
    double supply_v;       /* volt line to neutral that the supply has; 0: nominal */
};

enum ampsum_verdict {
    AMPSUM_EMPTY,
    AMPSUM_OK,
    AMPSUM_NEAR,
    AMPSUM_AT_RISK, /* over only in everything at once */
    AMPSUM_OVER
};

/* One branch circuit. */
struct ampsum_branch {
    const char *id;
    const char *label; /* as on the door of the panel */
    const char *panel; /* ID */
    enum ampsum_verdict verdict;
    double breaker_a;
    double voltage_v;        /* at which the figures hold */
    double current_a;        /* everything on: amount of the sum of the loads' complex currents */
    double planning_a;       /* everything on: sum after the rule set's factors, held against the breaker */
    double power_w;          /* everything on */
    double apparent_va;      /* likewise */
    double other_current_a;  /* in the busiest minute, the scene or the set */
    double other_planning_a; /* likewise */
    double drop_percent;     /* of voltage at the worst outlet; NAN where wire or length is not given */
    size_t load_count;
    size_t finding_count;
};

/* One load of a branch, with everything on or in the scene or set. */
struct ampsum_load {
    const char *id;
    const char *name;
    unsigned units; /* that are on; 0: off */
    double power_w; /* of those units together, at the branch's voltage, as the three below */
    double apparent_va;
    double current_a;
    double planning_a;
    double equivalent_ohm; /* voltage over current; NAN where no current flows */
    bool counted;          /* false: another member of its group counts instead */
};

/* One panel. */
struct ampsum_panel {
    const char *id;
    const char *name;
    double leg_current_a[3]; /* everything on, legs A, B, C; 0 for a leg that it lacks */
    double neutral_a;
    double demand_a;            /* by the rule set's own method */
    double feeder_drop_percent; /* NAN: the main panel, or not known */
    size_t finding_count;
};

enum ampsum_severity { AMPSUM_NOTE, AMPSUM_WARNING, AMPSUM_DANGER };

/* What was found about a branch or panel. Known by `id` and subject, never by its sentence. */
struct ampsum_finding {
    const char *id; /* `5`: the number that `ampsum rules 5` explains, or a word */
    enum ampsum_severity severity;
    const char *subject_kind; /* `house`, `panel`, `branch`, `outlet` or `appliance` */
    const char *subject_id;
    const char *text;   /* a sentence for people */
    const char *source; /* clause, edition and source */
};

struct ampsum_check;

/*
 * Works out every branch and panel. `question` NULL: everything on and the busiest minute. On a status other than
 * AMPSUM_DONE (an ID that the house does not have, a scene and a list at once, a supply outside half to twice the
 * nominal) *ret_fault is the caller's, or NULL as in ampsum_open. Linear in the appliances. Free with
 * ampsum_check_free, before the house is closed.
 */
AMPSUM_API enum ampsum_status ampsum_check(const struct ampsum_house *house, const struct ampsum_question *question,
                                           struct ampsum_check **ret_check, char **ret_fault);
AMPSUM_API void ampsum_check_free(struct ampsum_check *check);

/* The worst of the branches' verdicts. */
AMPSUM_API enum ampsum_verdict ampsum_check_verdict(const struct ampsum_check *check);

/* Branch `index`, in the order of the house; its place by ID, or a number past the end. */
AMPSUM_API bool ampsum_check_branch(const struct ampsum_check *check, size_t index, struct ampsum_branch *ret_branch);
AMPSUM_API size_t ampsum_find_branch(const struct ampsum_house *house, const char *id);

/* Load `index` of branch `branch`, in the order of the house. */
AMPSUM_API bool ampsum_check_load(const struct ampsum_check *check, size_t branch, size_t index,
                                  struct ampsum_load *ret_load);

/* Panel `index`; the first is the main one. */
AMPSUM_API bool ampsum_check_panel(const struct ampsum_check *check, size_t index, struct ampsum_panel *ret_panel);

/* Finding `index` of a branch, and of a panel. */
AMPSUM_API bool ampsum_branch_finding(const struct ampsum_check *check, size_t branch, size_t index,
                                      struct ampsum_finding *ret_finding);
AMPSUM_API bool ampsum_panel_finding(const struct ampsum_check *check, size_t panel, size_t index,
                                     struct ampsum_finding *ret_finding);

/* ------------------------------------------------------------------ energy and its cost ---------------------- */

/* Money is decimal text in the house's currency, rounded half up once; NULL without a tariff. */
struct ampsum_energy {
    double kwh_day; /* kwh_year / 365 */
    double kwh_year;
    const char *currency; /* ISO 4217, such as `USD` */
    const char *cost_day; /* energy, standing charge and tax, as the two below */
    const char *cost_month;
    const char *cost_year;
};

/* The year of 365 days from Monday, 1 January, by the house's own tariff. The texts live as long as the house. */
AMPSUM_API void ampsum_energy(struct ampsum_house *house, struct ampsum_energy *ret_energy);

#ifdef __cplusplus
}
#endif

#endif
