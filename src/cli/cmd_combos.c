#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/quantity.h"
#include "decide_view.h"

static const char *const examples[] = {"ampsum combos demo-house/us.ini bedroom",
                                       "ampsum combos demo-house/us.ini bedroom --with bedroom-heater", NULL};

static const struct option_spec options[] = {
    {"most", '\0', "K", "list at most K sets (20); their number is counted all the same"},
    {"with", '\0', "APPLIANCE", "what may run beside this appliance of the branch (`lamps*2`: beside two of them)"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "A set is listed when its loads together plan for more than the breaker's rating and would not without any one of "
    "them. Fewest loads first, then the largest planning current.",
    NULL};

enum { MOST_LISTED = 1000000, MOST_DEFAULT = 20 };

/* What is asked and what was found. */
struct answer {
    const struct house *house;
    size_t branch;
    struct planning_factors factors;
    struct combos_problem problem;
    struct combos_list list;
    struct combos_number number; /* not for --with */
    bool is_with;
    struct combos_part with;
    unsigned *units; /* scratch of decide_set_figures */
};

/* Current that the set draws, the load of --with included. */
static double set_current_a(const struct answer *answer, const struct combos_set *set)
{
    struct combos_part *parts = memory_resize(NULL, set->part_count + 1, sizeof *parts);
    memcpy(parts, set->parts, set->part_count * sizeof *parts);
    size_t count = set->part_count;
    if (answer->is_with) {
        parts[count++] = answer->with;
    }
    struct branch_figures figures =
        decide_set_figures(answer->house, answer->branch, answer->factors, parts, count, answer->units);
    free(parts);
    return figures.current_a;
}

static const struct appliance *with_appliance(const struct answer *answer)
{
    const struct branch *branch = &answer->house->branches[answer->branch];
    return &answer->house->appliances[branch->appliances.index[answer->with.load]];
}

/* Reads `kettle` or `kettle*2`; all of a count where no number is given. */
static bool read_with(struct invocation *invocation, struct answer *answer)
{
    const char *value = option_value(invocation, "with");
    size_t length = strcspn(value, "*");
    size_t appliance = find_id(invocation, KIND_APPLIANCE, arena_copy_length(invocation->arena, value, length));
    if (appliance == NO_INDEX) {
        return false;
    }
    const struct branch *branch = &answer->house->branches[answer->branch];
    const struct appliance *what = &answer->house->appliances[appliance];
    long units = (long)what->count;
    struct text fault = {0};
    if (value[length] == '*' && !quantity_read_whole(value + length + 1, 1, units, &units, &fault)) {
        error_set(&invocation->error, ERROR_INPUT, "--with %s: %s", value, text_string(&fault));
        text_done(&fault);
        return false;
    }
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (branch->appliances.index[i] == appliance) {
            answer->is_with = true;
            answer->with = (struct combos_part){i, (unsigned)units};
            return true;
        }
    }
    error_set(&invocation->error, ERROR_INPUT, "--with %s: this appliance is on branch %s, not on %s", value,
              answer->house->branches[what->branch].id, branch->id);
    return false;
}

static struct table *sets_table(const struct answer *answer)
{
    struct table *table = table_new();
    table_column(table, "SET", "loads", TABLE_LEFT, 0);
    table_column(table, "PLANNING A", "planning_a", TABLE_RIGHT, 0);
    table_column(table, "AMPERE", "current_a", TABLE_RIGHT, 0);
    for (size_t i = 0; i < answer->list.set_count; i++) {
        struct text ids = {0};
        decide_ids(answer->house, answer->branch, &answer->list.sets[i], " + ", &ids);
        table_row(table);
        table_text(table, text_string(&ids));
        table_number(table, answer->list.sets[i].planning_a, 2);
        table_number(table, set_current_a(answer, &answer->list.sets[i]), 2);
        text_done(&ids);
    }
    return table;
}

/* The count as a JSON number, whatever its size: a mark first, its digits put in afterwards. */
static const char count_mark[] = "\"count\":\"@\"";

static void write_count(const struct answer *answer, struct text *printed, struct text *out)
{
    const char *at = strstr(text_string(printed), count_mark);
    if (at == NULL) {
        text_add(out, text_string(printed));
        return;
    }
    text_add_length(out, text_string(printed), (size_t)(at - text_string(printed)));
    text_add(out, answer->number.exact ? "\"count\":" : "\"count\":null,\"count_at_least\":");
    combos_number_text(&answer->number, out);
    text_add(out, at + strlen(count_mark));
}

static void write_json(struct invocation *invocation, const struct answer *answer)
{
    const struct branch *branch = &answer->house->branches[answer->branch];
    json_t *json = json_answer("combos", answer->house->name);
    json_object_set_new(json, "branch", json_text(branch->id));
    json_object_set_new(json, "limit_a", json_figure(branch->breaker_a));
    if (answer->is_with) {
        struct text with = {0};
        decide_id(with_appliance(answer), answer->with.units, &with);
        json_object_set_new(json, "with", json_text(text_string(&with)));
        text_done(&with);
    }
    json_t *sets = json_array();
    for (size_t i = 0; i < answer->list.set_count; i++) {
        const struct combos_set *set = &answer->list.sets[i];
        json_t *object = json_object();
        json_object_set_new(object, "loads", decide_ids_json(answer->house, answer->branch, set));
        json_object_set_new(object, "planning_a", json_figure(set->planning_a));
        json_object_set_new(object, "current_a", json_figure(set_current_a(answer, set)));
        json_array_append_new(sets, object);
    }
    json_object_set_new(json, "sets", sets);
    if (!answer->is_with) {
        json_object_set_new(json, "count", json_text("@"));
    }
    json_object_set_new(json, "in_order", json_boolean(answer->list.in_order));
    json_cautions(json, NULL);
    struct text printed = {0};
    json_write(json, &printed);
    write_count(answer, &printed, &invocation->out);
    text_done(&printed);
}

static void write_heading(struct invocation *invocation, const struct answer *answer)
{
    const struct branch *branch = &answer->house->branches[answer->branch];
    struct text line = {0};
    text_printf(&line, "%s: %s, breaker ", branch->id, branch->label);
    text_add_rounded(&line, branch->breaker_a, 1);
    text_add(&line, " A");
    show_wrap(&invocation->page, 0, text_string(&line), &invocation->out);
    text_add_char(&invocation->out, '\n');
    text_done(&line);
}

/* One set in a sentence. */
static void write_set(struct invocation *invocation, const struct answer *answer, size_t number)
{
    const struct combos_set *set = &answer->list.sets[number];
    struct text line = {0};
    text_printf(&line, "%zu. ", number + 1);
    decide_names(answer->house, answer->branch, set, &line);
    text_add(&line, set->units > 1 ? " together overload this branch: " : " alone overloads this branch: ");
    decide_ampere(set->planning_a, &line);
    text_add(&line, " planned");
    double current_a = set_current_a(answer, set);
    if (fabs(current_a - set->planning_a) >= 0.05) {
        text_add(&line, ", ");
        decide_ampere(current_a, &line);
        text_add(&line, " drawn");
    }
    text_add(&line, ".");
    decide_line(invocation, 2, 5, text_string(&line));
    text_done(&line);
}

static void write_none(struct invocation *invocation, const struct answer *answer)
{
    struct branch_figures all;
    const struct branch *branch = &answer->house->branches[answer->branch];
    branch_total(answer->house, answer->branch, NULL, branch->voltage_v, answer->factors, NULL, &all);
    struct text line = {0};
    text_add(&line, "No loads of this branch overload it together: with everything on it plans for ");
    decide_ampere(all.planning_a, &line);
    text_add(&line, ".");
    decide_line(invocation, 0, 0, text_string(&line));
    text_done(&line);
}

static void write_sets(struct invocation *invocation, const struct answer *answer)
{
    if (answer->list.set_count == 0) {
        write_none(invocation, answer);
        return;
    }
    struct text head = {0};
    double value = combos_number_value(&answer->number, NULL);
    text_add(&head, answer->number.exact ? "" : "At least ");
    combos_number_text(&answer->number, &head);
    text_add(&head, value == 1 ? " smallest set overloads this branch" : " smallest sets overload this branch");
    text_add(&head, " (none of their loads can be spared)");
    if (value > (double)answer->list.set_count) {
        text_printf(&head, "; the first %zu", answer->list.set_count);
    }
    text_add(&head, ":");
    decide_line(invocation, 0, 0, text_string(&head));
    text_done(&head);
    for (size_t i = 0; i < answer->list.set_count; i++) {
        write_set(invocation, answer, i);
    }
    if (!answer->list.in_order) {
        decide_line(invocation, 0, 0,
                    "There are too many to compare them all: sets may be missing at the end of this "
                    "list, or stand out of order.");
    }
}

/* One set that may run beside the load of --with. */
static void write_beside(struct invocation *invocation, const struct answer *answer, size_t number)
{
    const struct combos_set *set = &answer->list.sets[number];
    double left_a = answer->house->branches[answer->branch].breaker_a - set->planning_a;
    struct text line = {0};
    text_printf(&line, "%zu. ", number + 1);
    decide_names(answer->house, answer->branch, set, &line);
    text_add(&line, set->part_count == 0 ? "nothing else: " : ": ");
    decide_ampere(set->planning_a, &line);
    text_add(&line, " planned in all, ");
    decide_ampere(left_a < 0.05 ? 0 : left_a, &line);
    text_add(&line, " left.");
    decide_line(invocation, 2, 5, text_string(&line));
    text_done(&line);
}

static void write_with(struct invocation *invocation, const struct answer *answer)
{
    struct text head = {0};
    text_add(&head, answer->list.set_count == 0 ? "" : "Beside ");
    decide_name(with_appliance(answer), answer->with.units, &head);
    text_add(&head, answer->list.set_count == 0
                        ? " overloads this branch alone; nothing may run beside it here."
                        : " the breaker's rating still leaves room for any one of these, all of it at once:");
    decide_line(invocation, 0, 0, text_string(&head));
    text_done(&head);
    for (size_t i = 0; i < answer->list.set_count; i++) {
        write_beside(invocation, answer, i);
    }
}

static void write_next(struct invocation *invocation, const struct answer *answer)
{
    const struct branch *branch = &answer->house->branches[answer->branch];
    struct text with = {0};
    struct text settle = {0};
    if (answer->list.set_count > 0 && !answer->is_with) {
        const struct combos_part *part = &answer->list.sets[0].parts[0];
        text_printf(&with, "ampsum combos HOUSE %s --with %s", branch->id,
                    answer->house->appliances[branch->appliances.index[part->load]].id);
    } else {
        text_printf(&with, "ampsum branch HOUSE %s", branch->id);
    }
    text_add(&settle, "ampsum settle HOUSE");
    const char *lines[] = {text_string(&with), text_string(&settle), NULL};
    invocation_next(invocation, lines);
    text_done(&with);
    text_done(&settle);
}

static void write_text(struct invocation *invocation, const struct answer *answer)
{
    write_heading(invocation, answer);
    if (answer->is_with) {
        write_with(invocation, answer);
    } else {
        write_sets(invocation, answer);
    }
    text_add_char(&invocation->out, '\n');
    show_cautions_text(&invocation->page, NULL, &invocation->out);
    write_next(invocation, answer);
}

static void find(struct answer *answer, size_t most)
{
    if (answer->is_with) {
        combos_beside(&answer->problem, answer->with, most, &answer->list);
    } else {
        combos_first(&answer->problem, most, &answer->list);
        answer->number = combos_count(&answer->problem);
    }
}

static void write_answer(struct invocation *invocation, const struct answer *answer)
{
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, answer);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = sets_table(answer);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_text(invocation, answer);
    }
}

static int run(struct invocation *invocation)
{
    long most = 0;
    if (!invocation_house(invocation, 1) || !invocation_operands(invocation, 1, 1) ||
        !decide_whole(invocation, "most", 1, MOST_LISTED, MOST_DEFAULT, &most)) {
        return 2;
    }
    struct answer answer = {.house = invocation->house, .factors = rules_factors(invocation->house, invocation->arena)};
    answer.branch = find_id(invocation, KIND_BRANCH, invocation->operands[0]);
    if (answer.branch == NO_INDEX || (option_given(invocation, "with") && !read_with(invocation, &answer))) {
        return 2;
    }
    answer.problem = decide_combos(answer.house, answer.branch, answer.factors, invocation->arena);
    answer.units = arena_array(invocation->arena, answer.house->appliance_count, sizeof *answer.units);
    find(&answer, (size_t)most);
    write_answer(invocation, &answer);
    combos_list_done(&answer.list);
    return 0;
}

const struct command command_combos = {
    .name = "combos",
    .operands = "[HOUSE] ID",
    .summary = "the smallest sets of loads that together overload a branch, and their number",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
