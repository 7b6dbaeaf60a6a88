#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/housefile.h"
#include "decide_view.h"
#include "settle_legs.h"

static const char *const examples[] = {"ampsum settle demo-house/us.ini",
                                       "ampsum settle demo-house/us.ini --reach floor",
                                       "ampsum settle demo-house/us.ini --legs", NULL};

static const struct option_spec options[] = {
    {"reach", '\0', "room|floor|house",
     "how far an appliance may be carried: branches of its room (the default), its "
     "floor, the house"},
    {"legs", '\0', NULL, "instead: single-pole branches on legs so that the fullest carries least, for an electrician"},
    {NULL, '\0', NULL, NULL},
};

static const char *const cautions[] = {
    "A move means that the appliance is used where the other branch has its outlets, never over an extension cord.",
    NULL};

static const char *const details[] = {
    "Only appliances that are not `fixed` move, to branches of the same voltage that take plugs. The moves are the "
    "fewest there are; among as few, those that leave the fullest branch least full.",
    NULL};

/* One aim and what was found for it. */
struct aim {
    const char *word;  /* in JSON and CSV */
    const char *words; /* in a sentence */
    struct settle_plan plan;
    size_t *option; /* of each appliance */
    bool whole_moments;
};

struct answer {
    struct invocation *invocation;
    const struct house *house;
    enum decide_reach reach;
    struct planning_factors factors;
    struct decide_settle settle; /* its loads' options serve both aims */
    struct aim aims[2];
};

static const char *const reach_words[] = {"room", "floor", "house"};

static bool read_reach(struct invocation *invocation, enum decide_reach *ret_reach)
{
    const char *value = option_value(invocation, "reach");
    *ret_reach = REACH_ROOM;
    for (int i = REACH_ROOM; value != NULL && i <= REACH_HOUSE; i++) {
        if (strcmp(value, reach_words[i]) == 0) {
            *ret_reach = (enum decide_reach)i;
            return true;
        }
    }
    if (value != NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--reach %s: expected room, floor or house", value);
    }
    return value == NULL;
}

static void find_plans(struct answer *answer)
{
    struct arena *arena = answer->invocation->arena;
    answer->aims[0] = (struct aim){.word = "none-over", .words = "no branch is over at its busiest minute"};
    answer->aims[1] = (struct aim){.word = "none-at-risk", .words = "no branch is over even with everything on"};
    for (int i = 0; i < 2; i++) {
        struct aim *aim = &answer->aims[i];
        answer->settle = decide_settle(answer->house, answer->reach, i == 1, answer->factors, arena);
        aim->whole_moments = answer->settle.whole_moments;
        aim->option = arena_array(arena, answer->house->appliance_count, sizeof *aim->option);
        settle_moves(&answer->settle.problem, aim->option, &aim->plan);
    }
}

static size_t home_of(const struct answer *answer, size_t appliance)
{
    return answer->house->appliances[appliance].branch;
}

static size_t target_of(const struct answer *answer, const struct aim *aim, size_t appliance)
{
    return answer->settle.problem.loads[appliance].options[aim->option[appliance]].branch;
}

/*
 * The house after the moves, assessed: what the plan does not see (dangers that no move takes away) shows there.
 * NULL where it can't be built, which would be our fault.
 */
static struct assessment *assess_after(const struct answer *answer, const struct aim *aim, struct house **ret_house)
{
    struct document *document = house_document(answer->house, "settle");
    bool good = true;
    for (size_t i = 0; i < answer->house->appliance_count && good; i++) {
        if (target_of(answer, aim, i) != home_of(answer, i)) {
            struct text target = {0};
            text_printf(&target, "branch:%s", answer->house->branches[target_of(answer, aim, i)].id);
            good =
                edit_move(document, answer->house->appliances[i].id, text_string(&target), &answer->invocation->error);
            text_done(&target);
        }
    }
    good = good && house_build(document, ret_house, &answer->invocation->error);
    document_free(document);
    struct assess_options choice = {.wires = true};
    return good ? assess_house(*ret_house, &choice) : NULL;
}

static json_t *moves_json(const struct answer *answer, const struct aim *aim)
{
    json_t *array = json_array();
    for (size_t i = 0; i < answer->house->appliance_count; i++) {
        if (target_of(answer, aim, i) != home_of(answer, i)) {
            json_t *move = json_object();
            json_object_set_new(move, "appliance", json_text(answer->house->appliances[i].id));
            json_object_set_new(move, "name", json_text(answer->house->appliances[i].name));
            json_object_set_new(move, "from", json_text(answer->house->branches[home_of(answer, i)].id));
            json_object_set_new(move, "to", json_text(answer->house->branches[target_of(answer, aim, i)].id));
            json_array_append_new(array, move);
        }
    }
    return array;
}

static void write_json(const struct answer *answer)
{
    json_t *json = json_answer("settle", answer->house->name);
    json_object_set_new(json, "reach", json_text(reach_words[answer->reach]));
    json_t *plans = json_array();
    for (int i = 0; i < 2; i++) {
        const struct aim *aim = &answer->aims[i];
        json_t *object = json_object();
        json_object_set_new(object, "aim", json_text(aim->word));
        json_object_set_new(object, "found", json_boolean(aim->plan.found));
        json_object_set_new(object, "impossible", json_boolean(aim->plan.impossible));
        json_object_set_new(object, "proved", json_boolean(aim->plan.proved));
        json_object_set_new(object, "moves", moves_json(answer, aim));
        json_object_set_new(object, "count", aim->plan.found ? json_integer((json_int_t)aim->plan.moves) : json_null());
        json_object_set_new(object, "count_at_least",
                            aim->plan.impossible ? json_null() : json_integer((json_int_t)aim->plan.moves_most));
        json_object_set_new(object, "worst_percent",
                            json_figure(aim->plan.found ? 100 * aim->plan.worst_ratio : (double)NAN));
        json_array_append_new(plans, object);
    }
    json_object_set_new(json, "plans", plans);
    json_cautions(json, cautions);
    json_write(json, &answer->invocation->out);
}

static struct table *moves_table(const struct answer *answer)
{
    struct table *table = table_new();
    table_column(table, NULL, "aim", TABLE_LEFT, 0);
    table_column(table, "APPLIANCE", "appliance", TABLE_LEFT, 0);
    table_column(table, "FROM", "from", TABLE_LEFT, 0);
    table_column(table, "TO", "to", TABLE_LEFT, 0);
    for (int k = 0; k < 2; k++) {
        const struct aim *aim = &answer->aims[k];
        for (size_t i = 0; i < answer->house->appliance_count; i++) {
            if (target_of(answer, aim, i) != home_of(answer, i)) {
                table_row(table);
                table_text(table, aim->word);
                table_text(table, answer->house->appliances[i].id);
                table_text(table, answer->house->branches[home_of(answer, i)].id);
                table_text(table, answer->house->branches[target_of(answer, aim, i)].id);
            }
        }
    }
    return table;
}

/* What was found and proved for an aim, as one sentence. */
static void write_verdict(const struct answer *answer, const struct aim *aim)
{
    struct text line = {0};
    const struct settle_plan *plan = &aim->plan;
    if (plan->found && plan->moves == 0) {
        text_printf(&line, "Nothing has to move: %s.", aim->words);
    } else if (plan->found) {
        text_printf(&line, "%zu %s, and then %s; ", plan->moves, plan->moves == 1 ? "move" : "moves", aim->words);
        text_add(&line, "the fullest is at ");
        text_add_fixed(&line, 100 * plan->worst_ratio, 0);
        text_add(&line, " % of its breaker. ");
        if (plan->proved) {
            text_add(&line, "Fewer moves can't do it (proved).");
        } else {
            text_printf(&line, "The search was stopped: %zu moves or more are needed, so fewer than %zu may do.",
                        plan->moves_most, plan->moves);
        }
    } else if (plan->impossible) {
        text_printf(&line, "No moves within reach bring it about that %s (proved).", aim->words);
    } else {
        text_printf(&line,
                    "The search was stopped before it found moves after which %s; it takes at least %zu, if it can be "
                    "done.",
                    aim->words, plan->moves_most);
    }
    decide_line(answer->invocation, 0, 0, text_string(&line));
    text_done(&line);
    if (!aim->whole_moments) {
        decide_line(answer->invocation, 0, 0,
                    "This house has too many different moments to compare: every load counted as on all the time.");
    }
}

static void write_moves(const struct answer *answer, const struct aim *aim)
{
    for (size_t i = 0; i < answer->house->appliance_count; i++) {
        if (target_of(answer, aim, i) != home_of(answer, i)) {
            const struct branch *from = &answer->house->branches[home_of(answer, i)];
            const struct branch *to = &answer->house->branches[target_of(answer, aim, i)];
            struct text line = {0};
            decide_name(&answer->house->appliances[i], answer->house->appliances[i].count, &line);
            text_printf(&line, " (%s): from %s to %s", answer->house->appliances[i].id, from->label, to->label);
            decide_line(answer->invocation, 2, 4, text_string(&line));
            text_done(&line);
        }
    }
}

static void write_dangers(const struct answer *answer, const struct branch *branch,
                          const struct branch_assessment *result, bool by_current)
{
    const int first = by_current ? 2 : 0;
    for (size_t k = 0; k < result->findings.count; k++) {
        if (result->findings.finding[k].severity == SEVERITY_DANGER) {
            struct text line = {0};
            text_printf(&line,
                        by_current ? "%s stays over, which no move within reach changes: %s"
                                   : "%s is over, and no move puts that right: %s. Ask a licensed electrician.",
                        branch->id, result->findings.finding[k].text);
            decide_line(answer->invocation, first, (size_t)(first + 2), text_string(&line));
            text_done(&line);
        }
    }
}

/* Branches that are over all the same after the moves: by their current, or by another danger. Tells whether any is. */
static bool write_what_stays(const struct answer *answer, const struct aim *aim, bool by_current)
{
    struct house *house = NULL;
    struct assessment *after = assess_after(answer, aim, &house);
    bool any = false;
    for (size_t i = 0; after != NULL && i < house->branch_count; i++) {
        const struct branch_assessment *result = &after->branches[i];
        const bool over = exceeds(result->other.planning_a, house->branches[i].breaker_a);
        if (result->verdict == VERDICT_OVER && over == by_current) {
            write_dangers(answer, &house->branches[i], result, by_current);
            any = true;
        }
    }
    assess_free(after);
    house_free(house);
    return any;
}

static bool same_plans(const struct answer *answer)
{
    const struct aim *a = &answer->aims[0];
    const struct aim *b = &answer->aims[1];
    return a->plan.found && b->plan.found &&
           memcmp(a->option, b->option, answer->house->appliance_count * sizeof *a->option) == 0;
}

static void write_next(const struct answer *answer)
{
    struct text next = {0};
    const struct aim *aim = answer->aims[1].plan.found ? &answer->aims[1] : &answer->aims[0];
    text_add(&next, "ampsum try HOUSE");
    size_t moves = 0;
    for (size_t i = 0; i < answer->house->appliance_count; i++) {
        if (target_of(answer, aim, i) != home_of(answer, i)) {
            text_printf(&next, " --move %s=%s", answer->house->appliances[i].id,
                        answer->house->branches[target_of(answer, aim, i)].id);
            moves++;
        }
    }
    if (moves == 0) {
        text_clear(&next);
        text_add(&next, answer->reach == REACH_HOUSE ? "ampsum check HOUSE" : "ampsum settle HOUSE --reach house");
    }
    const char *lines[] = {text_string(&next), "ampsum settle HOUSE --legs", NULL};
    invocation_next(answer->invocation, lines);
    text_done(&next);
}

static void write_text(struct answer *answer)
{
    struct text *out = &answer->invocation->out;
    const struct aim *last = &answer->aims[answer->aims[1].plan.found ? 1 : 0];
    bool same = same_plans(answer);
    if (write_what_stays(answer, last, false)) { /* the moves are about currents alone, and their words say so */
        text_add_char(out, '\n');
        answer->aims[0].words = "no breaker carries too much at its branch's busiest minute";
        answer->aims[1].words = "no breaker carries too much even with everything on";
    }
    for (int i = same ? 1 : 0; i < 2; i++) {
        const struct aim *aim = &answer->aims[i];
        write_verdict(answer, aim);
        write_moves(answer, aim);
        if (i == 1) {
            write_what_stays(answer, last, true);
        }
        text_add_char(out, '\n');
    }
    show_cautions_text(&answer->invocation->page, cautions, out);
    write_next(answer);
}

static int run(struct invocation *invocation)
{
    struct answer answer = {.invocation = invocation};
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !read_reach(invocation, &answer.reach)) {
        return 2;
    }
    answer.house = invocation->house;
    answer.factors = rules_factors(invocation->house, invocation->arena);
    if (option_given(invocation, "legs")) {
        settle_legs_answer(invocation, answer.factors);
        return 0;
    }
    find_plans(&answer);
    if (invocation->format == FORMAT_JSON) {
        write_json(&answer);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = moves_table(&answer);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_text(&answer);
    }
    return error_is_set(&invocation->error) ? 2 : 0;
}

const struct command command_settle = {
    .name = "settle",
    .operands = "[HOUSE]",
    .summary = "the fewest moves of plug-in appliances that leave no branch over or at risk",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
