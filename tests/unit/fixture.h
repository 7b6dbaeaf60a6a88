/* Houses made by hand for the tests of the engine: every field resolved, as house_finish leaves it. */
#ifndef AMPSUM_TEST_FIXTURE_H
#define AMPSUM_TEST_FIXTURE_H

#include <stdint.h>

#include "ampsum/model.h"

/* An empty house of that system and line-to-neutral voltage with room for so many rows. Free with house_free. */
struct house *fixture_new(int system, double voltage_v, size_t branch_room, size_t appliance_room);

/* Adds a branch on the main panel; its voltage follows from its legs and the system. */
struct branch *fixture_branch(struct house *house, unsigned legs, double breaker_a);

/* Adds one resistive unit of power_w at the branch's voltage, on at all times, without hours. */
struct appliance *fixture_appliance(struct house *house, size_t branch, double power_w);

/* Adds a sub-panel. */
size_t fixture_panel(struct house *house, size_t from, unsigned legs);

/* Lists of each branch, count of groups; call once when all is added. */
void fixture_finish(struct house *house);

/* Parses `06:30-07:10,22:00-02:00` into windows in the house's arena. */
struct window_list fixture_windows(struct house *house, const char *text);

/* Bits of `mon,wed` or `jan,feb`. */
unsigned fixture_days(const char *text);
unsigned fixture_months(const char *text);

/* The same numbers in every run: 0..below-1. */
unsigned fixture_random(uint64_t *state, unsigned below);

/* Windows that overlap neither on one day nor round midnight; 0 to 3 of them. */
struct window_list fixture_random_windows(struct house *house, uint64_t *state);

/*
 * Outside values: calls `test` for each row of tests/outside/NAME (id, inputs, want, tolerance, kind, source), fails
 * where fewer than `least` ran.
 */
struct outside {
    const char *id;
    const char *inputs; /* `key=value` parted by blanks */
    double want;
    double tolerance;
    const char *source;
};
void fixture_outside(const char *name, int least, void (*test)(const struct outside *row));

/* Fails the test where `got` is further from what the row wants than its tolerance, and a hair for binary forms. */
void fixture_check(const struct outside *row, double got);

/* Splits `text` in place at `mark`; returns the number of parts, at most `most`. */
int fixture_split(char *text, char mark, char **ret_parts, int most);

#endif
