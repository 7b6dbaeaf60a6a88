/*
 * A question as one asks it, `space heater in the bedroom tonight`, taken apart into the three fields of the page's
 * box: what, in which room, when. Times are read as the page reads them (ampsum/typed.h).
 *
 * Checked: tests/unit/test_answer_place.c; tests/golden/place-class.
 */
#ifndef AMPSUM_ASKED_H
#define AMPSUM_ASKED_H

#include "ampsum/arena.h"
#include "ampsum/error.h"
#include "ampsum/model.h"

struct asked {
    const char *what;      /* the load without room and time, as freetext.h reads it */
    const char *load;      /* the same with `use=` behind it, where a time was said */
    size_t room;           /* NO_INDEX: none was named */
    const char *room_said; /* its words, `in the bedroom`; NULL: none */
    const char *use;       /* windows of the house file; NULL: none were said */
    const char *use_said;  /* their words, `tonight` */
};

/*
 * Takes the words apart; strings are in `arena`. A time that stands in the load's own `use=` stays there. False with
 * the error set where `in the ...` names no room of the house.
 */
bool asked_read(const struct house *house, const char *said, struct arena *arena, struct asked *ret_asked,
                struct error *error);

#endif
