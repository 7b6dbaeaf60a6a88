/*
 * The load that the new-appliance form asks for: its fields, how one says them on the command line, and the same again
 * in addresses and forms. `place`, `try` and keeping all get load_spoken's words, so that all three see one load.
 */
#ifndef AMPSUM_SERVE_LOAD_H
#define AMPSUM_SERVE_LOAD_H

#include "ampsum/answer_place.h"
#include "site.h"

/* What the form says: of the address, or of the body where it is sent to be kept. "" where it says nothing. */
const char *load_value(const struct visit *visit, const char *name);

/* `2x Heater, 1500 W, 240 V, use=07:00-07:05` as a person would say it on the command line; in the visit's arena. */
const char *load_spoken(struct visit *visit);

/* The same for people: `2x Heater, 1500 W, 240 V, used 07:00-07:05`. */
const char *load_shown(struct visit *visit);

/* Finds which of the form's fields visit->error is about: by the key that it names, else by what it quotes. */
void load_blame(struct visit *visit);

/* What the form calls the field; NULL where it has none of that name. */
const char *load_label(struct visit *visit, const char *name);

/* The form that asks for it, filled in with what was said. */
void load_form(struct visit *visit);

/* The fields with that flag (LOAD_STAYS; 0: all, the unit among them) that say something, for links and hidden fields;
 * page_address and page_hidden_pairs free them. */
struct form load_pairs(const struct visit *visit, unsigned flag);

/* What is usual for such a thing: low, typical, high and where that is from, each to be taken. */
void load_typical(struct visit *visit);

/* The branch or the outlet from the field `at` (`outlet:ID`, `branch:ID`), the other NULL; false with the error set. */
bool load_place(struct visit *visit, const char **ret_branch, const char **ret_outlet);

/* The other way round: that field for a place that was found. */
const char *load_at(const struct visit *visit, const struct place_row *row);

/* What is to be said in the form of a load that runs that long. */
const char *load_says_continuous(struct visit *visit);

/* The room to be named beside that place: an outlet has its own. NULL: none. */
const char *load_room(const struct visit *visit);

#endif
