/* The answer of `combos` in words and as JSON, and the words of sets. */
#include "ampsum/show_combos.h"

#include <math.h>
#include <string.h>

void decide_id(const struct appliance *appliance, unsigned units, struct text *text)
{
    text_add(text, appliance->id);
    if (appliance->count > 1) {
        text_printf(text, "*%u", units);
    }
}

void decide_name(const struct appliance *appliance, unsigned units, struct text *text)
{
    if (appliance->count > 1) {
        text_printf(text, "%u x ", units);
    }
    text_add(text, appliance->name);
}

static const struct appliance *appliance_of(const struct house *house, size_t branch, size_t load)
{
    return &house->appliances[house->branches[branch].appliances.index[load]];
}

void decide_names(const struct house *house, size_t branch, const struct combos_set *set, struct text *text)
{
    for (size_t i = 0; i < set->part_count; i++) {
        if (i > 0) {
            text_add(text, i + 1 == set->part_count ? " and " : ", ");
        }
        decide_name(appliance_of(house, branch, set->parts[i].load), set->parts[i].units, text);
    }
}

static json_t *decide_ids_json(const struct house *house, size_t branch, const struct combos_set *set)
{
    json_t *array = json_array();
    for (size_t i = 0; i < set->part_count; i++) {
        struct text id = {0};
        decide_id(appliance_of(house, branch, set->parts[i].load), set->parts[i].units, &id);
        json_array_append_new(array, json_text(text_string(&id)));
        text_done(&id);
    }
    return array;
}

static void decide_ids(const struct house *house, size_t branch, const struct combos_set *set, const char *separator,
                       struct text *text)
{
    for (size_t i = 0; i < set->part_count; i++) {
        text_add(text, i > 0 ? separator : "");
        decide_id(appliance_of(house, branch, set->parts[i].load), set->parts[i].units, text);
    }
}

void decide_ampere(double value_a, struct text *text)
{
    text_fixed(text, "", value_a, 1, " A");
}

/* ------------------------------------------------------------------ rows ---------------------------------- */

static void get_set(const void *answer, size_t row, struct show_cell *cell)
{
    const struct combos_answer *combos = answer;
    decide_ids(combos->house, combos->index, combos->rows[row].set, " + ", show_made(cell));
    show_made_done(cell);
}

static void get_ids(const void *answer, size_t row, struct show_cell *cell)
{
    const struct combos_answer *combos = answer;
    cell->part = decide_ids_json(combos->house, combos->index, combos->rows[row].set);
}

#define ROW(member) SHOW_IN(struct combos_answer, rows, struct combos_row, member)

static const struct show_column columns[] = {
    {.key = "loads", .heading = "SET", .faces = SHOW_ROWS, .get = get_set},
    {.key = "loads", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_ids},
    {.key = "planning_a", .heading = "PLANNING A", .decimals = 2, .faces = SHOW_COMMAND, ROW(planning_a)},
    {.key = "current_a", .heading = "AMPERE", .decimals = 2, .faces = SHOW_COMMAND, ROW(current_a)},
};

const struct show_rows show_combos_rows = {columns, sizeof columns / sizeof columns[0]};

/* ------------------------------------------------------------------ programs ------------------------------ */

/* The count as a JSON number, whatever its size: a mark first, its digits put in afterwards. */
static const char count_mark[] = "\"count\":\"@\"";

static void write_count(const struct combos_answer *answer, struct text *printed, struct text *out)
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

void show_combos_json(const struct combos_answer *answer, struct text *text)
{
    json_t *json = json_answer("combos", answer->house->name);
    json_object_set_new(json, "branch", json_text(answer->branch->id));
    json_object_set_new(json, "limit_a", json_figure(answer->branch->breaker_a));
    if (answer->with != NULL) {
        struct text with = {0};
        decide_id(answer->with, answer->with_units, &with);
        json_object_set_new(json, "with", json_text(text_string(&with)));
        text_done(&with);
    }
    json_object_set_new(json, "sets", show_json_array(&show_combos_rows, answer, answer->count));
    if (answer->with == NULL) {
        json_object_set_new(json, "count", json_text("@"));
    }
    json_object_set_new(json, "in_order", json_boolean(answer->in_order));
    json_cautions(json, NULL);
    struct text printed = {0};
    json_write(json, &printed);
    write_count(answer, &printed, text);
    text_done(&printed);
}

/* ------------------------------------------------------------------ people -------------------------------- */

/* One set in a sentence. */
static void add_set(const struct combos_answer *answer, size_t number, struct text *line)
{
    const struct combos_row *row = &answer->rows[number];
    text_printf(line, "%zu. ", number + 1);
    decide_names(answer->house, answer->index, row->set, line);
    text_add(line, row->set->units > 1 ? " together overload this branch: " : " alone overloads this branch: ");
    decide_ampere(row->planning_a, line);
    text_add(line, " planned");
    if (fabs(row->current_a - row->planning_a) >= 0.05) {
        text_add(line, ", ");
        decide_ampere(row->current_a, line);
        text_add(line, " drawn");
    }
    text_add(line, ".");
}

static void add_none(const struct combos_answer *answer, struct text *line)
{
    text_add(line, "No loads of this branch overload it together: with everything on it plans for ");
    decide_ampere(answer->all_planning_a, line);
    text_add(line, ".");
}

static void add_head(const struct combos_answer *answer, struct text *line)
{
    const double value = combos_number_value(&answer->number, NULL);
    text_add(line, answer->number.exact ? "" : "At least ");
    combos_number_text(&answer->number, line);
    text_add(line, value == 1 ? " smallest set overloads this branch" : " smallest sets overload this branch");
    text_add(line, " (none of their loads can be spared)");
    if (value > (double)answer->count) {
        text_printf(line, "; the first %zu", answer->count);
    }
    text_add(line, ":");
}

/* One set that may run beside the load asked about. */
static void add_beside(const struct combos_answer *answer, size_t number, struct text *line)
{
    const struct combos_row *row = &answer->rows[number];
    text_printf(line, "%zu. ", number + 1);
    decide_names(answer->house, answer->index, row->set, line);
    text_add(line, row->set->part_count == 0 ? "nothing else: " : ": ");
    decide_ampere(row->planning_a, line);
    text_add(line, " planned in all, ");
    decide_ampere(row->left_a, line);
    text_add(line, " left.");
}

static void add_head_beside(const struct combos_answer *answer, struct text *line)
{
    text_add(line, answer->count == 0 ? "" : "Beside ");
    decide_name(answer->with, answer->with_units, line);
    text_add(line, answer->count == 0
                       ? " overloads this branch alone; nothing may run beside it here."
                       : " the breaker's rating still leaves room for any one of these, all of it at once:");
}

void show_combos_head(const struct combos_answer *answer, struct text *text)
{
    if (answer->count == 0) {
        add_none(answer, text);
    } else {
        add_head(answer, text);
    }
}

static void write_sets(const struct combos_answer *answer, const struct page *page, struct text *line,
                       struct text *text)
{
    const bool beside = answer->with != NULL;
    if (beside) {
        add_head_beside(answer, line);
    } else {
        show_combos_head(answer, line);
    }
    show_line(page, 0, 0, line, text);
    for (size_t i = 0; i < answer->count; i++) {
        if (beside) {
            add_beside(answer, i, line);
        } else {
            add_set(answer, i, line);
        }
        show_line(page, 2, 5, line, text);
    }
    if (!beside && answer->count > 0 && !answer->in_order) {
        text_add(line, "There are too many to compare them all: sets may be missing at the end of this list, or stand "
                       "out of order.");
        show_line(page, 0, 0, line, text);
    }
}

void show_combos_text(const struct combos_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    text_printf(&line, "%s: %s, breaker ", answer->branch->id, answer->branch->label);
    text_rounded(&line, "", answer->branch->breaker_a, 1, " A");
    show_line(page, 0, 0, &line, text);
    text_add_char(text, '\n');
    write_sets(answer, page, &line, text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
    text_done(&line);
}
