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

/* A set of loads of a branch. */
struct parts {
    const struct house *house;
    const struct branch *branch;
    const struct combos_set *set;
};

static const struct appliance *part_of(const struct parts *parts, size_t index)
{
    return &parts->house->appliances[parts->branch->appliances.index[parts->set->parts[index].load]];
}

static void add_part_name(const void *parts, size_t index, struct text *text)
{
    decide_name(part_of(parts, index), ((const struct parts *)parts)->set->parts[index].units, text);
}

static void add_part_id(const void *parts, size_t index, struct text *text)
{
    decide_id(part_of(parts, index), ((const struct parts *)parts)->set->parts[index].units, text);
}

void decide_names(const struct house *house, size_t branch, const struct combos_set *set, struct text *text)
{
    const struct parts parts = {house, &house->branches[branch], set};
    show_items(add_part_name, &parts, set->part_count, ", ", " and ", text);
}

/* ------------------------------------------------------------------ rows ---------------------------------- */

static struct parts parts_of(const struct combos_answer *answer, size_t row)
{
    return (struct parts){answer->house, answer->branch, answer->rows[row].set};
}

static void get_set(const void *answer, size_t row, struct show_cell *cell)
{
    const struct parts parts = parts_of(answer, row);
    show_items(add_part_id, &parts, parts.set->part_count, " + ", " + ", show_made(cell));
    show_made_done(cell);
}

static void get_ids(const void *answer, size_t row, struct show_cell *cell)
{
    const struct parts parts = parts_of(answer, row);
    cell->part = json_items(add_part_id, &parts, parts.set->part_count);
}

#define ROW(member) SHOW_IN(struct combos_answer, rows, struct combos_row, member)

static const struct show_column columns[] = {
    {.key = "loads", .heading = "SET", .faces = SHOW_ROWS, .get = get_set},
    {.key = "loads", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_ids},
    {.key = "planning_a", .heading = "PLANNING A", .decimals = 2, .faces = SHOW_COMMAND, ROW(planning_a)},
    {.key = "current_a", .heading = "AMPERE", .decimals = 2, .faces = SHOW_COMMAND, ROW(current_a)},
};

const struct show_rows show_combos_rows = SHOW_ROWS_OF(columns);

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

static bool is_beside(const void *answer)
{
    return ((const struct combos_answer *)answer)->with != NULL;
}

static bool is_counted(const void *answer)
{
    return !is_beside(answer);
}

static void get_with(const void *answer, size_t row, struct show_cell *cell)
{
    const struct combos_answer *combos = answer;
    (void)row;
    decide_id(combos->with, combos->with_units, show_made(cell));
    show_made_done(cell);
}

static void get_mark(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    (void)row;
    cell->words = "@";
}

#define BRANCH(member) .faces = SHOW_JSON, SHOW_TO(struct combos_answer, branch, struct branch, member)

static const struct show_column answer_columns[] = {
    {.key = "branch", BRANCH(id)},
    {.key = "limit_a", BRANCH(breaker_a)},
    {.key = "with", .faces = SHOW_JSON, .asked = is_beside, .get = get_with},
    {.key = "sets", SHOW_LIST(show_combos_rows, struct combos_answer, count)},
    {.key = "count", .faces = SHOW_JSON, .asked = is_counted, .get = get_mark},
    {.key = "in_order", .faces = SHOW_JSON, SHOW_FIELD(struct combos_answer, in_order)},
};

void show_combos_json(const struct combos_answer *answer, struct text *text)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    struct text printed = {0};
    json_write(show_answer_json("combos", answer->house->name, &rows, answer, NULL), &printed);
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
    text_say(line, "%.1f A planned", row->planning_a);
    if (fabs(row->current_a - row->planning_a) >= 0.05) {
        text_say(line, ", %.1f A drawn", row->current_a);
    }
    text_add(line, ".");
}

static void add_none(const struct combos_answer *answer, struct text *line)
{
    text_say(line, "No loads of this branch overload it together: with everything on it plans for %.1f A.",
             answer->all_planning_a);
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
    text_say(line, "%.1f A planned in all, %.1f A left.", row->planning_a, row->left_a);
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
        show_wrap(page, 0,
                  "There are too many to compare them all: sets may be missing at the end of this list, or stand out "
                  "of order.",
                  text);
    }
}

void show_combos_text(const struct combos_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    show_say(page, 0, 0, text, "%s: %s, breaker %.1g A", answer->branch->id, answer->branch->label,
             answer->branch->breaker_a);
    text_add_char(text, '\n');
    write_sets(answer, page, &line, text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
