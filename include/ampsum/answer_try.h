/*
 * The question of `try`: a house before and after loads are added, moved, removed or changed.
 *
 * Checked: tests/unit/test_answer_try.c; tests/golden/try-demo, place-class.
 */
#ifndef AMPSUM_ANSWER_TRY_H
#define AMPSUM_ANSWER_TRY_H

#include "ampsum/answer_check.h"
#include "ampsum/answer_choice.h"
#include "ampsum/fit.h"
#include "ampsum/freetext.h"

enum try_change_kind { TRY_ADD, TRY_REMOVE, TRY_MOVE, TRY_SET };

/* One change, as a person writes it; the places are of TRY_ADD, NULL where not given. */
struct try_change {
    enum try_change_kind kind;
    const char *value; /* a load (ampsum/freetext.h), `kettle`, `kettle=study`, `kettle.power=1200W` */
    const char *branch;
    const char *outlet;
    const char *room; /* alone: the branch that serves it, takes plugs and has the most headroom */
    const char *use;  /* windows that its words told, and those words (`tonight`); NULL: none */
    const char *use_said;
};

struct try_question {
    const struct try_change *changes; /* in this order */
    size_t change_count;
    const char *scene; /* what is judged instead of the busiest minute: a scene, lists of IDs; NULL where not given */
    const char *on;
    const char *off;
};

/*
 * Reads changes as they are said in turn: `add`, `remove`, `move`, `set`, and behind an `add` its `branch`, `outlet` or
 * `room`, of which the last holds. A load without a place is taken apart (ampsum/asked.h): `kettle in the kitchen
 * tonight`. False with the error set where its room is none, or where nothing is to be tried: no change, nothing judged
 * on or off.
 */
bool try_read(const struct house *house, const struct choice_said *said, size_t count, struct arena *arena,
              struct try_question *question, struct error *error);

/* What became of a change. */
struct try_done {
    const char *id;       /* of the load that was added; NULL: none was */
    const char *chosen;   /* the branch chosen for it, where only a room was named; NULL */
    const char *removed;  /* what went with a load that was removed, a line each; NULL */
    struct freetext load; /* as it was read */
    const char *use;      /* as of the change */
    const char *use_said;
    int rules; /* of the house */
};

/* A branch that changes. */
struct try_row {
    size_t before; /* NO_INDEX where that house has no such branch */
    size_t after;
    const struct branch *branch;          /* as it is after, where it is there */
    const struct branch_assessment *was;  /* NULL */
    const struct branch_assessment *then; /* NULL */
    bool other_voltage;                   /* a load that came is made for another: no figure of `then` means anything */
    const struct fit *fit;                /* of what came here, the one with the least room; NULL: nothing came */
};

enum try_news { TRY_NEW, TRY_GONE, TRY_CHANGED, TRY_NEWS };

/* A finding that only one side has, or that became graver or milder; beside another voltage that one alone is new. */
struct try_finding {
    enum try_news news;
    const struct finding *finding;
    enum severity severity_before; /* of TRY_CHANGED */
    enum kind kind;                /* of branch or panel in whose list it stands, and its ID */
    const char *where;
};

/* A leg of a panel whose current with everything on changes. */
struct try_leg {
    const struct panel *panel;
    unsigned leg; /* a LEG_ bit */
    double before_a;
    double after_a;
};

/* A branch that is over after it. */
struct try_over {
    const struct branch *branch;
    bool already; /* as before */
};

struct try_answer {
    struct check_answer before; /* both on the basis that was asked for, with the bill */
    struct check_answer after;
    struct try_done *done; /* by change; NULL from try_compare */
    size_t done_count;
    struct try_row *rows;
    size_t row_count;
    struct try_finding *findings; /* by branch, then by panel: first what is new or changed, then what is gone */
    size_t finding_count;
    size_t news_count[TRY_NEWS]; /* how many of each */
    struct try_leg *legs;
    size_t leg_count;
    struct try_over *over;
    size_t over_count;
    const struct appliance **left_out; /* new loads that the energy leaves out, since their hours are not known */
    size_t left_out_count;
    enum verdict status; /* of the house after it; a branch that got a load made for another voltage counts as before */
    struct fit *fits;    /* of each load that came to a branch, with everything on */
    size_t fit_count;
    const struct fit *worst; /* the one with the least room; NULL: nothing came */
    bool kept;               /* who asked stored the changes; false from here */
    struct house *house;     /* after, where the answer made it */
    struct assessment *plain_before;
    struct assessment *plain_after;
    struct arena *arena;
};

/* Makes the changes in a document. `ret_done`: change_count entries, strings in `arena`. False with the error set. */
bool try_apply(struct document *document, const struct try_question *question, struct arena *arena,
               struct try_done *ret_done, struct error *error);

/* True where a finding of the branch afterwards was there before or is told as new: not beside another voltage. */
bool try_tells(const struct try_answer *answer, const struct try_row *row, const struct finding *finding);

/* Answers for two houses, which must outlive the answer. Never fails. Free with try_answer_done. */
void try_compare(const struct house *before, const struct house *after, const struct try_question *question,
                 struct try_answer *ret_answer);

/*
 * Makes the changes in a copy and compares. `house` must outlive the answer; free with try_answer_done in any case.
 * False with the error set where a change can't be made, or the basis names what is not there after it.
 */
bool answer_try(const struct house *house, const struct try_question *question, struct try_answer *ret_answer,
                struct error *error);
void try_answer_done(struct try_answer *answer);

#endif
