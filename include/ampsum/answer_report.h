/*
 * All that the report of a house says: everything on and the busiest minute, the year's bill, the demand.
 *
 * Checked: tests/golden/report-*; tests/page: the page's report is the command's.
 */
#ifndef AMPSUM_ANSWER_REPORT_H
#define AMPSUM_ANSWER_REPORT_H

#include "ampsum/answer_check.h"
#include "ampsum/answer_demand.h"
#include "ampsum/answer_wire.h"

struct report_answer {
    struct check_answer check;
    struct demand_answer demand;
    bool has_demand; /* its rules have a method for this house */
};

/* Answers for a house, which must outlive the answer; free with report_answer_done. */
void answer_report(const struct house *house, const struct assess_options *choice, struct report_answer *ret_answer);
void report_answer_done(struct report_answer *answer);

/*
 * Which branches a report shows, by branch, in `arena`: the worst `most` of them, none below a verdict; those whose
 * loads are listed, all where the house has no more than `most` loads, else the worst first as long as their loads (no
 * more than `each` of a branch) have room, one in any case.
 */
const bool *report_worst(const struct check_answer *check, size_t most, enum verdict least, struct arena *arena);
const bool *report_listed(const struct check_answer *check, size_t most, size_t each, struct arena *arena);

/*
 * Branches in `arena`: at most `most` of those over or at risk with no more loads than that, the worst first, of which
 * a report says what to do; and at most `most` of those with a figure (by branch; NAN: none), the largest first, of
 * equals the first in the file.
 */
const size_t *report_advised(const struct check_answer *check, size_t most, size_t loads_most, struct arena *arena,
                             size_t *ret_count);
const size_t *report_largest(const double *figure, size_t count, size_t most, struct arena *arena, size_t *ret_count);

/* Whether a report has the outlets of a branch in its table of wires: there are some, and something hangs on it. */
bool report_has_points(const struct check_answer *check, size_t branch);

/* The outlets that were listed, and what had no room: outlets, whole branches, the largest drop to one of them. */
struct report_points {
    size_t listed;
    size_t left;
    size_t branches_left;
    double most_left_percent;
};

/* How many outlets of a branch whose wire is solved are listed, so that all are no more than `most`. Counts them. */
size_t report_points_take(struct report_points *points, const struct wire_branch *wire, size_t most);

/* What a report has to say of what the house does not: branches that lack something, appliances without times. */
struct report_assumed {
    size_t no_wire;
    size_t no_length; /* of a wire that is known, so that no drop is */
    size_t no_method; /* likewise */
    size_t spread;    /* hours without windows */
    size_t unused;    /* no energy in the year */
};
struct report_assumed report_assumed(const struct check_answer *check);

/* What the branches that were not chosen come to, with everything on. */
struct report_rest {
    size_t branches;
    size_t loads;
    size_t verdicts[VERDICT_OVER + 1];
    double power_w;
};
struct report_rest report_rest(const struct check_answer *check, const bool *chosen);

/* The most current of any leg of the panels from that one on, A, with everything on. */
double report_most_leg_a(const struct check_answer *check, size_t from);

/* Where something was found. */
struct found_where {
    bool panel; /* else a branch */
    const char *name;
};

struct found_list {
    struct found_where where;
    const struct finding_list *list;
};

struct found {
    struct found_where where;
    const struct finding *finding;
};

/*
 * Every list of findings, and every finding from one severity to another: of the panels, then of the branches as in the
 * file; and one finding for each row of the table of findings, in its order, the gravest. In `arena`.
 */
struct found_list *report_places(const struct check_answer *check, struct arena *arena, size_t *ret_count);
struct found *report_found(const struct check_answer *check, enum severity least, enum severity most,
                           struct arena *arena, size_t *ret_count);
struct found *report_numbers(const struct check_answer *check, struct arena *arena, size_t *ret_count);

#endif
