/*
 * The question of `wire`: voltage along the cables of a house or of one branch, what is lost in them, and what a broken
 * ring, a starting motor, another size or another length would do.
 *
 * Checked: tests/golden/wire-demo, wire-ring, wire-collapse; tests/unit/test_answer.c. The solver: test_wiring.c.
 */
#ifndef AMPSUM_ANSWER_WIRE_H
#define AMPSUM_ANSWER_WIRE_H

#include "ampsum/assess.h"
#include "ampsum/energy.h"
#include "ampsum/error.h"
#include "ampsum/wiring.h"

/* An outlet (or the branch's end) and the piece of cable that ends at it; a ring's way back to the panel comes last. */
struct wire_point {
    const char *id;   /* of the outlet; `end`, `panel` */
    const char *name; /* for people; "" where there is none, "closes the ring" of the way back */
    bool back;        /* the way back: a piece, no outlet */
    double voltage_v; /* NAN of the way back, as the drop */
    double drop_percent;
    const char *from; /* ID of the point that feeds it */
    double length_m;  /* of the piece */
    double path_m;    /* from the panel */
    double current_a; /* in the piece, as its loss */
    double loss_w;
    double
        fault_min_a; /* the least current of a fault there (ampsum/fault_assess.h); NAN: not known, or the way back */
};

struct wire_branch {
    size_t index;
    const struct branch *branch;
    const struct branch_assessment *result;
    bool known;                /* wire and length are given; else there is no wiring */
    bool solved;               /* the wire can feed the load; else there are no points, and the figures are NAN */
    struct wire_point *points; /* the outlets in file order, or `end` */
    size_t point_count;        /* the way back included */
    size_t outlet_count;       /* without it */
    size_t worst;              /* the point of the largest drop */
    double voltage_v;          /* there */
    double drop_percent;
    double drop_by_segments_percent; /* the same the other way, for the working */
    double allowed_percent; /* what the advisory limits leave for this branch; 0: its feeder alone uses them up */
    double current_a;       /* the largest in any piece */
    double loss_w;
    double loss_kwh_year;       /* NAN where no schedule or no wire is known, or not asked for */
    const char *loss_cost_year; /* at the branch's own mean price; NULL where it has none */
    struct wiring wiring;       /* solved with the loads looked at, where `solved` */
};

/* The ring broken at one piece. */
struct wire_break {
    const char *from;
    const char *to;
    bool solved;
    const char *worst_outlet; /* NULL: cannot be fed, and the figures are NAN */
    double voltage_v;
    double drop_percent;
    double current_a;  /* the largest */
    double planning_a; /* the branch's, by the share of that current */
    double ampacity_a;
    bool over; /* the planning current is above the wire's ampacity */
};

/* An outlet while a motor starts. */
struct wire_start {
    const char *id;
    double running_v;
    double starting_v; /* NAN: cannot be fed */
    double dip_percent;
    double lamp_loss_percent;
};

/* The branch with another conductor of its metal and series. */
struct wire_size {
    const char *size;
    const char *metal;
    double drop_percent; /* NAN: cannot be fed */
    double loss_w;
    double ampacity_a;
    double small_limit_a;
    bool within; /* of the advisory drop, and the ampacity not below breaker and planning current */
    const char *outside;
};

struct wire_longest {
    const char *size;
    const char *metal;
    double longest_m;
    double longest_ft;
};

struct wire_question {
    struct assess_options choice; /* with loads and wires */
    size_t only;                  /* one branch, or NO_INDEX; the others need it */
    const char *broken;           /* the ring broken at the piece that ends at this outlet, `panel` or `all`; or NULL */
    size_t starting;              /* an appliance; or NO_INDEX */
    bool sizes;
    bool longest;
};

struct wire_feeder {
    const char *panel;
    double current_a; /* of its largest leg */
    double drop_percent;
};

struct wire_answer {
    const struct house *house;
    struct assessment *assessment;
    struct energy_bill bill;
    struct wire_branch *branches;
    size_t count;
    struct wire_feeder *feeders; /* of every panel but the main one */
    size_t feeder_count;
    struct wire_break *breaks;
    size_t break_count;
    const struct wire_break *worst_break; /* of all; NULL where one was asked for, or none can be fed */
    struct wire_start *starts;            /* of the branch's outlets */
    size_t start_count;
    const struct appliance *starting;
    double start_power_factor;
    double running_a;  /* leaving the panel before, */
    double starting_a; /* and while it starts; NAN: cannot be fed */
    struct wire_size *sizes;
    size_t size_count;
    const struct wire_size *first_size; /* the smallest within all figures; NULL: none */
    struct wire_longest *longest;
    size_t longest_count;
    size_t known; /* the first branch, of those asked about or the later ones, whose wire is known; NO_INDEX: none */
    struct arena *arena;
};

/*
 * Takes what is asked about into the question: the branch of that ID, with NULL that of the appliance that starts, else
 * all of them. `working`: each step is asked for. False with the error set where no branch has the ID, or where none is
 * named and what is asked needs one.
 */
bool wire_find_branch(const struct house *house, const char *id, bool working, struct wire_question *question,
                      struct error *error);

/*
 * Answers for a house, which must outlive the answer; free with wire_answer_done in any case. False with the error set
 * where a study is asked of a branch that it does not suit.
 */
bool answer_wire(const struct house *house, const struct wire_question *question, struct wire_answer *ret_answer,
                 struct error *error);
void wire_answer_done(struct wire_answer *answer);

/* One branch of an assessment with `loads`, without the year's loss. Points in `arena`; free with wire_branch_done. */
void wire_branch_init(struct wire_branch *wire, const struct assessment *assessment, size_t branch,
                      struct arena *arena);
void wire_branch_done(struct wire_branch *wire);

#endif
