#include "ampsum/answer_settle.h"

#include <math.h>
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/housefile.h"
#include "ampsum/keys.h"
#include "ampsum/reference.h"

/* What the search for one aim leaves: the option of each appliance. */
struct search {
    struct decide_settle settle;
    size_t *option;
};

static const struct branch *target_of(const struct house *house, const struct search *search, size_t appliance)
{
    return &house->branches[search->settle.problem.loads[appliance].options[search->option[appliance]].branch];
}

static void list_moves(struct settle_answer *answer, const struct search *search, enum settle_aim aim)
{
    struct settle_found *found = &answer->found[aim];
    found->moves = &answer->moves[answer->move_count];
    for (size_t i = 0; i < answer->house->appliance_count; i++) {
        const struct appliance *appliance = &answer->house->appliances[i];
        const struct branch *from = &answer->house->branches[appliance->branch];
        const struct branch *to = target_of(answer->house, search, i);
        if (from != to) {
            found->moves[found->move_count++] = (struct settle_move){aim, appliance, from, to};
        }
    }
    answer->move_count += found->move_count;
}

/* What surely counts of each load: less what its plate's rounding may hide, as the verdicts take it (limits 8). */
static const double *sure_shares(const struct house *house, struct arena *arena)
{
    const double most_percent = reference_rule_value("plate-rounding-most", rules_word(house->rules));
    double *shares = arena_array(arena, house->appliance_count, sizeof *shares);
    for (size_t i = 0; i < house->appliance_count; i++) {
        shares[i] = 1 - plate_rounding(most_percent, &house->appliances[i]);
    }
    return shares;
}

/* How full the fullest branch is after the moves by the plates as they are written, which is what is shown. */
static double shown_ratio(const struct settle_answer *answer, const struct search *search, enum settle_aim aim,
                          struct planning_factors factors)
{
    const struct decide_settle whole =
        decide_settle(answer->house, answer->reach, aim == SETTLE_NONE_AT_RISK, factors, NULL, answer->arena);
    double most = 0;
    for (size_t i = 0; i < whole.problem.branch_count; i++) {
        for (size_t moment = 0; moment < whole.problem.moment_count; moment++) {
            const double planning_a = settle_branch_a(&whole.problem, search->option, i, moment);
            most = fmax(most, planning_a / whole.problem.limit_a[i]);
        }
    }
    return most;
}

static bool find_plans(struct settle_answer *answer, struct error *error)
{
    const size_t count = answer->house->appliance_count;
    const struct planning_factors factors = rules_factors(answer->house, answer->arena);
    const double *shares = sure_shares(answer->house, answer->arena);
    struct search searches[SETTLE_AIMS];
    answer->moves = arena_array(answer->arena, SETTLE_AIMS * count, sizeof *answer->moves);
    for (int aim = 0; aim < SETTLE_AIMS; aim++) {
        struct search *search = &searches[aim];
        search->settle =
            decide_settle(answer->house, answer->reach, aim == SETTLE_NONE_AT_RISK, factors, shares, answer->arena);
        if (search->settle.too_many) {
            error_set(error, ERROR_INPUT,
                      "settle: %zu loads and %zu branches are more than can be looked at together; ask for a smaller "
                      "reach (room), or settle a part of the house in a file of its own",
                      count, answer->house->branch_count);
            return false;
        }
        search->option = arena_array(answer->arena, count, sizeof *search->option);
        struct settle_found *found = &answer->found[aim];
        settle_moves(&search->settle.problem, search->option, &found->plan);
        found->needed = found->plan.found ? (double)found->plan.moves : (double)NAN;
        found->needed_at_least = found->plan.impossible ? (double)NAN : (double)found->plan.moves_most;
        found->worst_percent =
            found->plan.found ? 100 * shown_ratio(answer, search, (enum settle_aim)aim, factors) : (double)NAN;
        found->whole_moments = search->settle.whole_moments;
        list_moves(answer, search, (enum settle_aim)aim);
    }
    const struct settle_found *over = &answer->found[SETTLE_NONE_OVER];
    const struct settle_found *risk = &answer->found[SETTLE_NONE_AT_RISK];
    answer->last = risk->plan.found ? SETTLE_NONE_AT_RISK : SETTLE_NONE_OVER;
    answer->same = over->plan.found && risk->plan.found &&
                   memcmp(searches[SETTLE_NONE_OVER].option, searches[SETTLE_NONE_AT_RISK].option,
                          count * sizeof *searches[0].option) == 0;
    return true;
}

/* The house after the moves: what the plan does not see (dangers that no move takes away) shows there. */
static bool build_after(struct settle_answer *answer, struct error *error)
{
    struct document *document = house_document(answer->house, "settle");
    const struct settle_found *found = settle_best(answer);
    bool good = true;
    for (size_t i = 0; i < found->move_count && good; i++) {
        struct text target = {0};
        text_printf(&target, "branch:%s", found->moves[i].to->id);
        good = edit_move(document, found->moves[i].appliance->id, text_string(&target), error);
        text_done(&target);
    }
    good = good && house_build(document, &answer->after, error);
    document_free(document);
    return good;
}

static void add_stays(struct settle_answer *answer, size_t branch, bool by_current)
{
    const struct finding_list *list = &answer->assessment->branches[branch].findings;
    for (size_t i = 0; i < list->count; i++) {
        if (list->finding[i].severity == SEVERITY_DANGER) {
            answer->stays[answer->stays_count++] =
                (struct settle_stays){&answer->after->branches[branch], &list->finding[i], by_current};
        }
    }
}

static void find_what_stays(struct settle_answer *answer)
{
    const struct assess_options choice = {.wires = true};
    answer->assessment = assess_house(answer->after, &choice);
    size_t most = 0;
    for (size_t i = 0; i < answer->after->branch_count; i++) {
        most += answer->assessment->branches[i].findings.count;
    }
    answer->stays = arena_array(answer->arena, most, sizeof *answer->stays);
    for (size_t i = 0; i < answer->after->branch_count; i++) {
        const struct branch_assessment *result = &answer->assessment->branches[i];
        const bool by_current = exceeds(result->other.planning_a, answer->after->branches[i].breaker_a);
        if (result->verdict == VERDICT_OVER) {
            answer->other_dangers = answer->other_dangers || !by_current;
            add_stays(answer, i, by_current);
        }
    }
}

bool answer_settle(const struct house *house, const struct settle_question *question, struct settle_answer *ret_answer,
                   struct error *error)
{
    *ret_answer = (struct settle_answer){.house = house, .reach = question->reach, .arena = arena_new()};
    if (!find_plans(ret_answer, error) || !build_after(ret_answer, error)) {
        return false;
    }
    find_what_stays(ret_answer);
    return true;
}

const struct settle_found *settle_best(const struct settle_answer *answer)
{
    return &answer->found[answer->last];
}

bool settle_may_reach_further(const struct settle_answer *answer)
{
    return settle_best(answer)->move_count == 0 && answer->reach != REACH_HOUSE;
}

void settle_answer_done(struct settle_answer *answer)
{
    assess_free(answer->assessment);
    house_free(answer->after);
    arena_free(answer->arena);
    *answer = (struct settle_answer){0};
}
