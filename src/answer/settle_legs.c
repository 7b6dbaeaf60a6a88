/* The question of `settle --legs`. */
#include <math.h>
#include <string.h>

#include "ampsum/answer_settle.h"

/* Legs that differ by less are equal to any meter in a panel. */
#define RESOLUTION_A 0.01

static double fullest(const double *leg_a, size_t count)
{
    double most_a = 0;
    for (size_t i = 0; i < count; i++) {
        most_a = fmax(most_a, leg_a[i]);
    }
    return most_a;
}

static void carry(const struct decide_legs *legs, const size_t *leg, double *ret_leg_a)
{
    for (size_t k = 0; k < legs->leg_count; k++) {
        ret_leg_a[k] = legs->carried_a[k];
    }
    for (size_t i = 0; i < legs->branch_count; i++) {
        ret_leg_a[leg[i]] += legs->branch_a[i];
    }
}

/* The assignment with its legs named so that the fewest branches change, the fullest leg staying as it is. */
static void name_legs(struct legs_balance *balance, struct arena *arena)
{
    static const size_t names[6][3] = {{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {2, 1, 0}, {1, 2, 0}, {2, 0, 1}};
    const struct decide_legs *legs = &balance->legs;
    size_t *found = balance->leg;
    size_t *renamed = arena_array(arena, legs->branch_count, sizeof *renamed);
    balance->leg = arena_array(arena, legs->branch_count, sizeof *balance->leg);
    balance->changes = SIZE_MAX;
    for (size_t n = 0; n < (legs->leg_count == 3 ? 6 : legs->leg_count); n++) {
        size_t changes = 0;
        double leg_a[3];
        for (size_t i = 0; i < legs->branch_count; i++) {
            renamed[i] = names[n][found[i]];
            changes += renamed[i] != legs->leg[i];
        }
        carry(legs, renamed, leg_a);
        if (changes < balance->changes && fullest(leg_a, legs->leg_count) <= balance->plan.largest_a + RESOLUTION_A) {
            balance->changes = changes;
            memcpy(balance->leg, renamed, legs->branch_count * sizeof *renamed);
        }
    }
}

static struct legs_balance find_balance(const struct house *house, size_t panel, bool busiest,
                                        struct planning_factors factors, struct arena *arena)
{
    struct legs_balance balance = {.legs = decide_legs(house, panel, busiest, factors, arena)};
    const struct decide_legs *legs = &balance.legs;
    balance.leg = arena_array(arena, legs->branch_count, sizeof *balance.leg);
    legs_assign(legs->branch_a, legs->branch_count, legs->carried_a, legs->leg_count, RESOLUTION_A, 0, balance.leg,
                &balance.plan);
    name_legs(&balance, arena);
    carry(legs, legs->leg, balance.before_a);
    if (fullest(balance.before_a, legs->leg_count) <= balance.plan.largest_a + RESOLUTION_A) {
        memcpy(balance.leg, legs->leg, legs->branch_count * sizeof *balance.leg);
        balance.changes = 0;
    }
    carry(legs, balance.leg, balance.after_a);
    return balance;
}

static void list_changes(struct legs_answer *answer, const struct panel *panel, struct legs_balance *balance,
                         bool busiest)
{
    const struct decide_legs *legs = &balance->legs;
    balance->changed = answer->changes + answer->change_count;
    for (size_t i = 0; i < legs->branch_count; i++) {
        if (balance->leg[i] != legs->leg[i]) {
            answer->changes[answer->change_count++] =
                (struct legs_change){panel, busiest, &answer->house->branches[legs->branches[i]],
                                     legs->leg_bit[legs->leg[i]], legs->leg_bit[balance->leg[i]]};
        }
    }
}

void answer_settle_legs(const struct house *house, struct legs_answer *ret_answer)
{
    struct legs_answer *answer = ret_answer;
    *answer = (struct legs_answer){.house = house, .arena = arena_new()};
    const struct planning_factors factors = rules_factors(house, answer->arena);
    answer->panels = arena_array(answer->arena, house->panel_count, sizeof *answer->panels);
    answer->changes = arena_array(answer->arena, 2 * house->branch_count, sizeof *answer->changes);
    for (size_t i = 0; i < house->panel_count; i++) {
        struct legs_panel panel = {&house->panels[i], find_balance(house, i, false, factors, answer->arena),
                                   find_balance(house, i, true, factors, answer->arena)};
        if (panel.all.legs.leg_count >= 2) {
            list_changes(answer, panel.panel, &panel.all, false);
            list_changes(answer, panel.panel, &panel.busiest, true);
            answer->panels[answer->panel_count++] = panel;
        }
    }
}

void legs_answer_done(struct legs_answer *answer)
{
    arena_free(answer->arena);
    *answer = (struct legs_answer){0};
}
