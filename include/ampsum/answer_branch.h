/*
 * The question of `branch`: one branch's loads and what they come to.
 *
 * Checked: tests/unit/test_answer.c; tests/golden/branch-demo.
 */
#ifndef AMPSUM_ANSWER_BRANCH_H
#define AMPSUM_ANSWER_BRANCH_H

#include "ampsum/answer_check.h"

struct branch_question {
    struct assess_options choice;
    size_t branch;
    bool bill; /* its energy and cost too */
};

struct branch_answer {
    struct check_answer check; /* of the whole house: panels and feeders count too */
    size_t index;
    const struct branch *branch;
    const struct branch_assessment *result;
    bool chosen;                        /* a scene or set was asked about, not everything on */
    const struct branch_figures *shown; /* of the scene or set, else of everything on */
};

/* Answers for a branch of a house, which must outlive the answer. Never fails; free with branch_answer_done. */
void answer_branch(const struct house *house, const struct branch_question *question, struct branch_answer *ret_answer);
void branch_answer_done(struct branch_answer *answer);

/* The same branch out of an answer about the whole house (asked with `loads`), which must outlive it; nothing to free.
 */
struct branch_answer branch_answer_of(const struct check_answer *check, size_t branch);

/* True where the planning current of the scene or set, else of the busiest minute, is more than the breaker. */
bool branch_answer_exceeds(const struct branch_answer *answer);

/*
 * How the loads that are on are connected: between the poles of the branch; by halves to two lines and the neutral of a
 * three-phase supply, so that one half at the voltage to the neutral tells all; or some so and some so.
 */
enum branch_halves { HALVES_NONE, HALVES_ALL, HALVES_MIXED };

enum branch_halves branch_answer_halves(const struct house *house, const struct branch *branch,
                                        const struct branch_assessment *result);

/*
 * Equivalent resistance of load `load` of the branch, ohm: V^2 / P, of one connected to two lines and the neutral that
 * of one half, (V / sqrt 3)^2 over half the power; NAN of what draws no power. The result holds `loads`.
 */
double branch_load_ohm(const struct house *house, const struct branch_assessment *result, size_t load);

struct steps; /* ampsum/steps.h */

/*
 * The working of the branch: steps_branch on its loads that are on, or on one half of each; none where both are mixed.
 * `language`: of the sentences (ampsum/language.h; 0: English). The caller frees with steps_done. One place for the
 * terminal, the lessons' house and the local page.
 */
void branch_answer_steps(const struct branch_answer *answer, int language, struct steps *ret_steps);

#endif
