#include "ampsum/answer_fault.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/answer_choice.h"
#include "ampsum/arena.h"
#include "ampsum/reference.h"

static bool asked_panel(const struct fault_answer *answer, size_t panel)
{
    const struct fault_question *question = &answer->question;
    if (question->branch != NO_INDEX) {
        return answer->house->branches[question->branch].panel == panel;
    }
    return question->panel == NO_INDEX || question->panel == panel;
}

static bool asked_branch(const struct fault_answer *answer, size_t branch)
{
    const struct fault_question *question = &answer->question;
    return question->branch != NO_INDEX ? question->branch == branch
                                        : asked_panel(answer, answer->house->branches[branch].panel);
}

static void add_rows(struct fault_answer *answer, size_t branch)
{
    const struct fault_branch *result = &answer->study->branches[branch];
    answer->branches[answer->branch_count++] = branch;
    for (size_t i = 0; i < result->point_count; i++) {
        answer->rows[answer->row_count++] = (struct fault_row){branch, &result->points[i], i == 0};
    }
    if (result->point_count == 0) {
        answer->rows[answer->row_count++] = (struct fault_row){branch, NULL, true};
    }
}

static void add_findings(struct fault_answer *answer, const struct finding_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        answer->danger_count += list->finding[i].severity == SEVERITY_DANGER;
    }
    finding_list_append(answer->study->arena, &answer->findings, list);
}

static void find_far(struct fault_answer *answer)
{
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct fault_point *point = answer->rows[i].point;
        if (point != NULL && (answer->far == NULL || point->joined_m > answer->far->joined_m)) {
            answer->far = point;
        }
    }
}

void answer_fault(const struct house *house, const struct fault_question *question, struct fault_answer *ret_answer)
{
    *ret_answer = (struct fault_answer){.house = house, .question = *question};
    ret_answer->study = fault_study_house(house, &question->options);
    struct arena *arena = ret_answer->study->arena;
    ret_answer->rows = arena_array(arena, house->outlet_count + house->branch_count, sizeof *ret_answer->rows);
    ret_answer->branches = arena_array(arena, house->branch_count, sizeof *ret_answer->branches);
    ret_answer->panels = arena_array(arena, house->panel_count, sizeof *ret_answer->panels);
    for (size_t i = 0; i < house->panel_count; i++) {
        if (asked_panel(ret_answer, i)) {
            ret_answer->panels[ret_answer->panel_count++] = i;
            add_findings(ret_answer, &ret_answer->study->panels[i].findings);
        }
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        if (asked_branch(ret_answer, i)) {
            add_rows(ret_answer, i);
            add_findings(ret_answer, &ret_answer->study->branches[i].findings);
            ret_answer->untold |= ret_answer->study->by_loop && isnan(ret_answer->study->branches[i].instant_a);
        }
    }
    find_far(ret_answer);
}

static double run_of(const struct fault_branch *branch)
{
    double run_m = NAN;
    for (size_t i = 0; i < branch->point_count; i++) {
        run_m = fmax(run_m, branch->points[i].joined_m);
    }
    return run_m;
}

/* A residual current device opens, and a fuse beside it would, since more than its rating flows: nobody says how soon.
 */
static bool beside_fuse(const struct fault_answer *answer, const struct fault_row *row)
{
    return row->point->opens == FAULT_OPENS_RCD && isnan(answer->study->branches[row->branch].instant_a) &&
           row->point->fault_min_a > answer->house->branches[row->branch].breaker_a;
}

struct fault_tally fault_tally(const struct fault_answer *answer)
{
    struct fault_tally tally = {.points = answer->row_count};
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct fault_row *row = &answer->rows[i];
        const struct fault_point *point = row->point;
        tally.opens[point == NULL ? FAULT_OPENS_UNKNOWN : point->opens]++;
        if (point == NULL) {
            continue;
        }
        tally.beside_fuse += beside_fuse(answer, row);
        tally.perish += point->survives == FAULT_SURVIVES_NOT;
        if (isfinite(point->times_breaker) &&
            (tally.least == NULL || point->times_breaker < tally.least->point->times_breaker)) {
            tally.least = row;
        }
    }
    return tally;
}

bool fault_is_known(const struct fault_answer *answer)
{
    return fault_tally(answer).least != NULL;
}

bool fault_knows_longest(const struct fault_answer *answer)
{
    bool known = false;
    for (size_t i = 0; i < answer->branch_count; i++) {
        known = known || isfinite(answer->study->branches[answer->branches[i]].longest_m);
    }
    return known;
}

double fault_run_m(const struct fault_answer *answer, size_t branch)
{
    return run_of(&answer->study->branches[branch]);
}

bool fault_ways_agree(const struct fault_answer *answer, const struct fault_point *point)
{
    const double apart = fabs(point->second_max_a / point->fault_max_a - 1) * 100;
    return apart <= reference_rule_value("fault-methods-differ", answer->study->rules);
}

bool fault_find_place(const struct house *house, const char *id, struct fault_question *question, struct error *error)
{
    question->panel = id == NULL ? NO_INDEX : house_find(house, KIND_PANEL, id);
    question->branch = id == NULL ? NO_INDEX : house_find(house, KIND_BRANCH, id);
    return id == NULL || question->branch != NO_INDEX || question->panel != NO_INDEX ||
           choice_find(house, KIND_BRANCH, id, error) != NO_INDEX;
}

void fault_answer_done(struct fault_answer *answer)
{
    fault_free(answer->study);
    *answer = (struct fault_answer){0};
}

/* ------------------------------------------------------------------ the worst ----------------------------- */

/* What is ranked: the larger, the worse; its place before. */
struct rank {
    double bad;
    size_t place;
};

static int by_rank(const void *a, const void *b)
{
    const struct rank *x = a;
    const struct rank *y = b;
    if (x->bad < y->bad || x->bad > y->bad) {
        return x->bad > y->bad ? -1 : 1;
    }
    return (x->place > y->place) - (x->place < y->place);
}

/* Above zero where it is known: the rating as a share of the least current. */
static double point_bad(const struct fault_row *row)
{
    return row->point == NULL || !isfinite(row->point->times_breaker) ? 0 : 1 / fmax(row->point->times_breaker, 1e-9);
}

/* The run of a branch as a share of that at which its device would still open; 0 where neither is known. */
static double run_share(const struct fault_branch *branch)
{
    const double run_m = run_of(branch);
    return isfinite(branch->longest_m) && isfinite(run_m) ? run_m / fmax(branch->longest_m, 1e-9) : 0;
}

void fault_worst_first(struct fault_answer *answer)
{
    struct arena *arena = answer->study->arena;
    const size_t most = answer->row_count > answer->branch_count ? answer->row_count : answer->branch_count;
    struct rank *rank = arena_array(arena, most, sizeof *rank);
    struct fault_row *rows = arena_array(arena, answer->row_count, sizeof *rows);
    size_t *branches = arena_array(arena, answer->branch_count, sizeof *branches);
    for (size_t i = 0; i < answer->row_count; i++) {
        rank[i] = (struct rank){point_bad(&answer->rows[i]), i};
    }
    qsort(rank, answer->row_count, sizeof *rank, by_rank);
    for (size_t i = 0; i < answer->row_count; i++) {
        rows[i] = answer->rows[rank[i].place];
    }
    for (size_t i = 0; i < answer->branch_count; i++) {
        rank[i] = (struct rank){run_share(&answer->study->branches[answer->branches[i]]), i};
    }
    qsort(rank, answer->branch_count, sizeof *rank, by_rank);
    for (size_t i = 0; i < answer->branch_count; i++) {
        branches[i] = answer->branches[rank[i].place];
    }
    answer->rows = rows;
    answer->branches = branches;
}

struct fault_rest fault_rest(const struct fault_answer *answer, size_t from, size_t branch_from)
{
    struct fault_rest rest = {.times_least = NAN, .zs_most_ohm = NAN, .run_most_percent = NAN};
    for (size_t i = from; i < answer->row_count; i++) {
        const struct fault_point *point = answer->rows[i].point;
        rest.points++;
        rest.points_unknown += point_bad(&answer->rows[i]) <= 0;
        if (point_bad(&answer->rows[i]) > 0) {
            rest.times_least = fmin(rest.times_least, point->times_breaker);
            rest.zs_most_ohm = fmax(rest.zs_most_ohm, point->zs_hot_ohm);
        }
    }
    for (size_t i = branch_from; i < answer->branch_count; i++) {
        const double share = run_share(&answer->study->branches[answer->branches[i]]);
        rest.branches++;
        rest.run_most_percent = share > 0 ? fmax(rest.run_most_percent, 100 * share) : rest.run_most_percent;
    }
    return rest;
}
