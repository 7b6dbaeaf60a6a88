/*
 * A load as a person says it, turned into the keys of an [appliance] section:
 *
 *   Heater, 1500 W      3x LED lamp 9 W      pump 1/2 hp      Kettle, 2 kW, 240 V, use=07:00-07:05      kettle
 *   a space heater      1500W heater         60 watt lamp     heater 1500 watts
 *   2 lamps 60W each    welder 230V 20A      (src/housefile/freetext_plain.h)
 *
 * A count in front, a name, a rating with its unit beside the name or after a comma; further parts are a rated voltage
 * or key=value as in the house file. Two ratings in one name are refused: it would swallow one of two loads. A name
 * without a rating takes the typical one and says so; beside the name of a known thing a rating replaces the typical
 * one alone, so that behaviour, power factor, category and voltage stay. A category by the words of the name is stored
 * as if it had been said. A rating without a unit, a second value for one key, and a number with a thousands separator
 * or a decimal comma are refused: half of `1,500 W` would be a load that is too small.
 */
#ifndef AMPSUM_FREETEXT_H
#define AMPSUM_FREETEXT_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/error.h"
#include "ampsum/housefile.h"

struct freetext {
    const char *name;
    const char **pairs; /* `key=value`, name included, in the arena */
    size_t pair_count;
    const char *note;          /* NULL, or what was assumed, with source and range, for the person */
    const char *taken_voltage; /* NULL, or the rated voltage that was taken from the typical row, `240 V` */
    bool ordinary;             /* no word and no typical row tells a category: it counts as any load */
    bool rated;                /* its rating was said; false: the typical one is taken */
};

/*
 * Reads the load. `rules` is an enum rules (units, typical ratings). Strings are made in `arena`. False with the error
 * set where there is neither a rating nor a typical one, naming the nearest; its fault names the key it is about.
 */
bool freetext_read(struct arena *arena, const char *string, int rules, struct freetext *ret_load, struct error *error);

/* True where the load has a value for that key. */
bool freetext_says(const struct freetext *load, const char *key);

/* True where nothing was said, or follows from its kind, of how long it runs at a stretch. */
bool freetext_leaves_run_open(const struct freetext *load);

/* A free ID for an appliance of that name: lower case, hyphens, a number at its end where it is taken. */
const char *freetext_id(struct document *document, const char *name);

/*
 * Adds the load to a document as a new appliance on an outlet or a branch (the other NULL) with an optional room.
 * *ret_id is its ID, in the document's arena. Values are checked by house_build.
 */
bool freetext_add(struct document *document, const struct freetext *load, const char *branch, const char *outlet,
                  const char *room, const char **ret_id, struct error *error);

/* A place for a load: an outlet or a branch (the other NULL), and an optional room. */
struct freetext_place {
    const char *branch;
    const char *outlet;
    const char *room;
};

/* The same for each of the places, in their order: linear in the size of the document and their number. */
bool freetext_add_each(struct document *document, const struct freetext *load, const struct freetext_place *places,
                       size_t count, struct error *error);

#endif
