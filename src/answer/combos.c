#include "ampsum/answer_combos.h"

#include <string.h>

#include "ampsum/answer_choice.h"
#include "ampsum/decide.h"
#include "ampsum/quantity.h"

/* What the planning of the sets shares. */
struct search {
    struct combos_problem problem;
    struct planning_factors factors;
    struct combos_part with;
    unsigned *units; /* scratch of decide_set_figures */
};

static size_t position_of(const struct branch *branch, size_t appliance)
{
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (branch->appliances.index[i] == appliance) {
            return i;
        }
    }
    return NO_INDEX;
}

/* Reads `kettle` or `kettle*2`; all of a count where no number is given. */
static bool read_with(struct combos_answer *answer, const char *value, struct search *search, struct error *error)
{
    const size_t length = strcspn(value, "*");
    const size_t appliance =
        choice_find(answer->house, KIND_APPLIANCE, arena_copy_length(answer->arena, value, length), error);
    if (appliance == NO_INDEX) {
        return false;
    }
    answer->with = &answer->house->appliances[appliance];
    long units = (long)answer->with->count;
    struct text fault = {0};
    if (value[length] == '*' && !quantity_read_whole(value + length + 1, 1, units, &units, &fault)) {
        error_set(error, ERROR_INPUT, "--with %s: %s", value, text_string(&fault));
        text_done(&fault);
        return false;
    }
    search->with = (struct combos_part){position_of(answer->branch, appliance), (unsigned)units};
    answer->with_units = (unsigned)units;
    if (search->with.load == NO_INDEX) {
        error_set(error, ERROR_INPUT, "--with %s: this appliance is on branch %s, not on %s", value,
                  answer->house->branches[answer->with->branch].id, answer->branch->id);
    }
    return search->with.load != NO_INDEX;
}

static struct combos_row row_of(const struct combos_answer *answer, const struct search *search,
                                const struct combos_set *set, struct combos_part *parts)
{
    enum { SEEN_HUNDREDTHS = 5 }; /* less is no tenth */
    size_t count = set->part_count;
    memcpy(parts, set->parts, count * sizeof *parts);
    if (answer->with != NULL) {
        parts[count++] = search->with;
    }
    const struct branch_figures figures =
        decide_set_figures(answer->house, answer->index, search->factors, parts, count, search->units);
    const double left_a = answer->branch->breaker_a - set->planning_a;
    return (struct combos_row){set, set->planning_a, figures.current_a, left_a < SEEN_HUNDREDTHS / 100.0 ? 0 : left_a};
}

static void find_sets(struct combos_answer *answer, struct search *search, size_t most)
{
    if (answer->with != NULL) {
        combos_beside(&search->problem, search->with, most, &answer->list);
    } else {
        combos_first(&search->problem, most, &answer->list);
        answer->number = combos_count(&search->problem);
    }
    answer->count = answer->list.set_count;
    answer->in_order = answer->list.in_order;
    answer->rows = arena_array(answer->arena, answer->count, sizeof *answer->rows);
    struct combos_part *parts = arena_array(answer->arena, search->problem.load_count + 1, sizeof *parts);
    for (size_t i = 0; i < answer->count; i++) {
        answer->rows[i] = row_of(answer, search, &answer->list.sets[i], parts);
    }
}

bool answer_combos(const struct house *house, const struct combos_question *question, struct combos_answer *ret_answer,
                   struct error *error)
{
    struct combos_answer *answer = ret_answer;
    *answer = (struct combos_answer){
        .house = house, .branch = &house->branches[question->branch], .index = question->branch, .arena = arena_new()};
    struct search search = {.factors = rules_factors(house, answer->arena)};
    if (question->with != NULL && !read_with(answer, question->with, &search, error)) {
        return false;
    }
    struct branch_figures all;
    branch_total(house, question->branch, NULL, answer->branch->voltage_v, search.factors, NULL, &all);
    answer->all_planning_a = all.planning_a;
    search.problem = decide_combos(house, question->branch, search.factors, answer->arena);
    search.units = arena_array(answer->arena, house->appliance_count, sizeof *search.units);
    find_sets(answer, &search, question->most);
    return true;
}

const struct appliance *combos_first_load(const struct combos_answer *answer)
{
    if (answer->count == 0 || answer->with != NULL) {
        return NULL;
    }
    return &answer->house->appliances[answer->branch->appliances.index[answer->rows[0].set->parts[0].load]];
}

void combos_answer_done(struct combos_answer *answer)
{
    combos_list_done(&answer->list);
    arena_free(answer->arena);
    *answer = (struct combos_answer){0};
}
