#include "ampsum/answer_check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/decide.h"
#include "ampsum/demand.h"
#include "ampsum/reference.h"

struct ranked {
    size_t branch;
    enum verdict verdict;
    double share; /* of the rating */
};

static int worst_first(const void *a, const void *b)
{
    const struct ranked *x = a;
    const struct ranked *y = b;
    if (x->verdict != y->verdict) {
        return x->verdict > y->verdict ? -1 : 1;
    }
    if (exceeds(x->share, y->share) || exceeds(y->share, x->share)) {
        return x->share > y->share ? -1 : 1;
    }
    return x->branch < y->branch ? -1 : 1;
}

static struct ranked rank_of(const struct check_answer *answer, size_t branch)
{
    const struct branch_assessment *result = &answer->assessment->branches[branch];
    return (struct ranked){branch, result->verdict, result->all.planning_a / answer->house->branches[branch].breaker_a};
}

static void count_branches(struct check_answer *answer)
{
    struct ranked worst = {.branch = NO_INDEX};
    for (size_t i = 0; i < answer->house->branch_count; i++) {
        const struct branch_assessment *result = &answer->assessment->branches[i];
        answer->verdicts[result->verdict]++;
        answer->power_w += result->other.power_w;
        const struct ranked rank = rank_of(answer, i);
        worst = worst.branch == NO_INDEX || worst_first(&rank, &worst) < 0 ? rank : worst;
    }
    answer->worst = worst.branch;
}

static const struct energy_bill *bill_of(const struct house *house, unsigned rows, struct arena *arena)
{
    const struct ref_currency *currency = reference_currency(house->currency);
    struct energy_bill *bill = arena_take(arena, sizeof *bill);
    energy_year_rows(house, house->tariff, currency == NULL ? 2 : currency->minor_units, rows, arena, bill);
    return bill;
}

static const struct ref_service_method *method_row(int rules, enum demand_method method)
{
    for (size_t i = 0; i < ref_service_method_count; i++) {
        const struct ref_service_method *row = &ref_service_method_rows[i];
        if (strcmp(row->rules, rules_word(rules)) == 0 && strcmp(row->demand, demand_method_word(method)) == 0) {
            return row;
        }
    }
    return NULL;
}

static struct check_demand demand_by(const struct house *house, enum demand_method method)
{
    const struct demand_options options = {.method = method, .measured_va = NAN, .added_from = NO_INDEX};
    const struct ref_service_method *row = method == DEMAND_METHOD_COUNT ? NULL : method_row(house->rules, method);
    if (row == NULL) {
        return (struct check_demand){.current_a = NAN};
    }
    const bool by_lines = row->by_lines != 0 && house->system == SYSTEM_THREE_PHASE;
    return (struct check_demand){.name = row->name,
                                 .clause = row->clause,
                                 .current_a = by_lines ? demand_heaviest_a(house, &options)
                                                       : demand_total_va(house, &options) / demand_divisor_v(house, 0)};
}

/* A house with the year in which it was built stands; the method for such asks for two legs and an area. */
static void find_demand(struct check_answer *answer)
{
    const struct house *house = answer->house;
    const bool stands = house->built_year > 0 && demand_method_exists(house->rules, DEMAND_EXISTING) &&
                        house->system == SYSTEM_SPLIT_PHASE && isfinite(house->floor_area_m2);
    answer->demand = demand_by(house, demand_default_method(house->rules));
    answer->existing = demand_by(house, stands ? DEMAND_EXISTING : DEMAND_METHOD_COUNT);
}

void answer_check(const struct house *house, const struct check_question *question, struct check_answer *ret_answer)
{
    *ret_answer = (struct check_answer){.house = house};
    if (!question->no_bill) {
        ret_answer->arena = arena_new();
        ret_answer->bill = bill_of(house, ENERGY_BRANCHES | question->bill_rows, ret_answer->arena);
    }
    ret_answer->owned = assess_house(house, &question->choice);
    ret_answer->assessment = ret_answer->owned;
    count_branches(ret_answer);
    find_demand(ret_answer);
}

void check_answer_done(struct check_answer *answer)
{
    assess_free(answer->owned);
    arena_free(answer->arena);
    *answer = (struct check_answer){0};
}

double check_near_share(const struct check_answer *answer)
{
    return reference_rule_value("near-share", rules_word(answer->house->rules)) / 100;
}

const size_t *check_worst_first(const struct check_answer *answer, struct arena *arena)
{
    const size_t count = answer->house->branch_count;
    struct ranked *ranked = arena_array(arena, count, sizeof *ranked);
    size_t *order = arena_array(arena, count, sizeof *order);
    for (size_t i = 0; i < count; i++) {
        ranked[i] = rank_of(answer, i);
    }
    qsort(ranked, count, sizeof *ranked, worst_first);
    for (size_t i = 0; i < count; i++) {
        order[i] = ranked[i].branch;
    }
    return order;
}

size_t check_without_room(const struct check_answer *answer)
{
    const size_t *verdicts = answer->verdicts;
    return verdicts[VERDICT_OVER] + verdicts[VERDICT_AT_RISK] + verdicts[VERDICT_NEAR];
}

const enum check_advice *check_advise(const struct check_answer *answer, const size_t *branches, size_t count,
                                      struct arena *arena)
{
    enum { SETS_MOST = 8, LOADS_MOST = 24 };
    enum check_advice *advice = arena_array(arena, count + 1, sizeof *advice);
    size_t sets = 0;
    for (size_t i = 0; i < count; i++) {
        const bool few = answer->house->branches[branches[i]].appliances.count <= LOADS_MOST;
        const bool calm = answer->assessment->branches[branches[i]].verdict < VERDICT_AT_RISK;
        advice[i] = calm ? CHECK_LEFT : few && sets < SETS_MOST ? CHECK_SETS : CHECK_NOTHING;
        sets += advice[i] == CHECK_SETS;
    }
    return advice;
}

/* The gravest of a list, of equals the first; NULL: empty. */
static const struct finding *gravest_of(const struct finding_list *list)
{
    const struct finding *gravest = NULL;
    for (size_t i = 0; i < list->count; i++) {
        if (gravest == NULL || list->finding[i].severity > gravest->severity) {
            gravest = &list->finding[i];
        }
    }
    return gravest;
}

const char *check_first_finding(const struct check_answer *answer, bool notes)
{
    const struct house *house = answer->house;
    const enum severity least = notes ? SEVERITY_NOTE : SEVERITY_WARNING;
    struct arena *arena = arena_new();
    const size_t *order = check_worst_first(answer, arena);
    const struct finding *first = NULL;
    for (size_t i = 0; i < house->branch_count + house->panel_count && first == NULL; i++) {
        const struct finding_list *list = i < house->branch_count
                                              ? &answer->assessment->branches[order[i]].findings
                                              : &answer->assessment->panels[i - house->branch_count].findings;
        const struct finding *gravest = gravest_of(list);
        first = gravest != NULL && gravest->severity >= least ? gravest : NULL;
    }
    arena_free(arena);
    return first == NULL ? NULL : first->id;
}

/* ---- why, and what helps */

/* A finding of that number that is no note. */
static bool warns(const struct finding_list *list, const char *id)
{
    bool found = false;
    for (size_t i = 0; i < list->count && !found; i++) {
        found = list->finding[i].severity >= SEVERITY_WARNING && strcmp(list->finding[i].id, id) == 0;
    }
    return found;
}

enum check_cause check_cause_of(const struct check_answer *answer, size_t branch)
{
    const struct finding_list *list = &answer->assessment->branches[branch].findings;
    const struct index_list *loads = &answer->house->branches[branch].appliances;
    if (!warns(list, "1") && !warns(list, "2")) {
        return CHECK_OTHERWISE;
    }
    return loads->count == 1 && answer->house->appliances[loads->index[0]].count == 1 ? CHECK_ALONE : CHECK_TOGETHER;
}

bool check_danger_besides(const struct check_answer *answer, size_t branch)
{
    const struct finding_list *list = &answer->assessment->branches[branch].findings;
    bool found = false;
    for (size_t i = 0; i < list->count && !found; i++) {
        found = list->finding[i].severity == SEVERITY_DANGER && strcmp(list->finding[i].id, "1") != 0;
    }
    return found;
}

bool check_takes_plugs(const struct check_answer *answer, size_t branch)
{
    return decide_takes_plugs(answer->house, branch, NO_INDEX);
}

static bool has_loose_load(const struct house *house, const struct branch *branch)
{
    bool has = false;
    for (size_t i = 0; i < branch->appliances.count && !has; i++) {
        has = house->appliances[branch->appliances.index[i]].fixed == 0;
    }
    return has;
}

bool check_may_move(const struct check_answer *answer)
{
    const struct house *house = answer->house;
    bool may = false;
    for (size_t i = 0; i < house->branch_count && !may; i++) {
        may = answer->assessment->branches[i].verdict >= VERDICT_AT_RISK &&
              check_cause_of(answer, i) != CHECK_OTHERWISE && has_loose_load(house, &house->branches[i]);
    }
    return may;
}

enum check_panel_need check_panel_need(const struct assessment *assessment, size_t panel)
{
    const struct finding_list *list = &assessment->panels[panel].findings;
    enum check_panel_need need = CHECK_PANEL_NOTHING;
    for (size_t i = 0; i < list->count && need == CHECK_PANEL_NOTHING; i++) {
        const bool feeder = list->finding[i].subject.kind == KIND_PANEL;
        need = feeder && list->finding[i].severity >= SEVERITY_WARNING ? CHECK_PANEL_LOOK : CHECK_PANEL_NOTHING;
    }
    return warns(list, "13") ? CHECK_PANEL_OVER : need;
}

size_t check_full_panel(const struct assessment *assessment, size_t branch)
{
    size_t panel = assessment->house->branches[branch].panel;
    while (panel != 0 && check_panel_need(assessment, panel) != CHECK_PANEL_OVER) {
        panel = assessment->house->panels[panel].from;
    }
    return check_panel_need(assessment, panel) == CHECK_PANEL_OVER ? panel : NO_INDEX;
}

double check_left_a(const struct check_answer *answer, size_t branch)
{
    static const double shown_a = 0.05; /* what a tenth shows */
    const double left_a =
        answer->house->branches[branch].breaker_a - answer->assessment->branches[branch].all.planning_a;
    return left_a < shown_a ? 0 : left_a;
}

/* ---- the order of the panels */

struct space {
    size_t branch;
    size_t panel;
    int number; /* the first of its spaces; behind all others where none is given */
};

static int by_space(const void *a, const void *b)
{
    const struct space *x = a;
    const struct space *y = b;
    if (x->panel != y->panel) {
        return x->panel < y->panel ? -1 : 1;
    }
    if (x->number != y->number) {
        return x->number < y->number ? -1 : 1;
    }
    return x->branch < y->branch ? -1 : 1;
}

const size_t *branches_by_space(const struct house *house, struct arena *arena)
{
    enum { BEHIND = 1000 };
    struct space *spaces = arena_array(arena, house->branch_count + 1, sizeof *spaces);
    size_t *order = arena_array(arena, house->branch_count + 1, sizeof *order);
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        spaces[i] = (struct space){i, branch->panel, branch->position.count > 0 ? branch->position.space[0] : BEHIND};
    }
    qsort(spaces, house->branch_count, sizeof *spaces, by_space);
    for (size_t i = 0; i < house->branch_count; i++) {
        order[i] = spaces[i].branch;
    }
    return order;
}

/* True where the branch's name or one of its appliances' holds what is looked for, whatever its capitals. */
static bool is_found(const struct house *house, const struct branch *branch, const char *find)
{
    bool found = strcasestr(branch->label, find) != NULL || strcasestr(branch->id, find) != NULL;
    for (size_t i = 0; i < branch->appliances.count && !found; i++) {
        found = strcasestr(house->appliances[branch->appliances.index[i]].name, find) != NULL;
    }
    return found;
}

const size_t *branches_found(const struct house *house, const size_t *order, const char *find, struct arena *arena,
                             size_t *ret_count)
{
    size_t *found = arena_array(arena, house->branch_count, sizeof *found);
    *ret_count = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        if (is_found(house, &house->branches[order[i]], find)) {
            found[(*ret_count)++] = order[i];
        }
    }
    return found;
}
