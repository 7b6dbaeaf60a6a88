/* Houses for the tests of energy, from words: `price=0.2 tax=5 load=1000W;use=06:00-07:00
 * period=0.1;hours=22:00-06:00`. */
#ifndef AMPSUM_TEST_ENERGY_HOUSE_H
#define AMPSUM_TEST_ENERGY_HOUSE_H

#include "ampsum/model.h"

enum { LOADS_MOST = 8, PERIODS_MOST = 4, TEXT_ROOM = 1024 };

/* The house of such words, or of such a text; the caller frees with house_free. */
struct house *house_of_words(char *const *parts, int count);
struct house *house_of(const char *words);

/* The value behind `key` (`tax=`) among the words, in the house's arena; NULL where it is not there. */
const char *value_in(struct house *house, char *const *parts, int count, const char *key);

/* Gives the house one tariff, without prices. */
void add_tariff(struct house *house);

/* A period of that tariff, all of the time. */
struct period *add_period(struct house *house, const char *price);

/* Bounds and prices, `350:0.14,1000:0.19,rest:0.24`. */
void set_blocks(struct house *house, char *text);

/* On-time from the windows where none is given. */
void resolve_hours(struct appliance *appliance);

#endif
