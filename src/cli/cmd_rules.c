#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/words.h"
#include "cli.h"

static const char *const examples[] = {"ampsum rules 5", "ampsum rules --rules uk", "ampsum rules continuous-factor",
                                       NULL};

static const struct option_spec options[] = {
    {"rules", '\0', "us|iec|uk", "one rule set only (else all of them)"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "ID is the number in brackets behind a finding (5), the name of a finding (voltage-drop), of a rule "
    "(continuous-factor), of a table (conductor) or of a rule set: its own rows and those for every one.",
    NULL};

/* A line of the answer, whichever table it comes from. */
struct row {
    const char *id;
    const char *rules;
    const char *name;
    const char *severity; /* NULL: none */
    const char *value;    /* "" for none */
    const char *clause;
    const char *edition;
    const char *source;
    const char *note;        /* NULL: none */
    const char *from_memory; /* which part of it was recalled, not read: "yes", "3 rows"; "" for none */
};

static bool is_recalled(const char *source)
{
    return strstr(source, "from memory") != NULL;
}

static bool fits(const char *rules, const char *wanted)
{
    return wanted == NULL || strcmp(rules, "*") == 0 || strcmp(rules, wanted) == 0;
}

/* A clause as the edition numbers it that is usual under the rules. */
static const char *clause_of(struct invocation *invocation, const char *rules, const char *clause)
{
    struct text text = {0};
    reference_clause(&text, rules, clause, 0);
    const char *copy = arena_copy(invocation->arena, text_string(&text));
    text_done(&text);
    return copy;
}

static void add_row(struct table *table, json_t *array, const struct row *row)
{
    table_row(table);
    const char *const cells[] = {row->id,     row->rules,   row->name,   row->severity, row->value,
                                 row->clause, row->edition, row->source, row->note,     row->from_memory};
    static const char *const keys[] = {"id",     "rules",   "name",   "severity", "value",
                                       "clause", "edition", "source", "note",     "from_memory"};
    json_t *object = json_object();
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        table_text(table, cells[i] == NULL ? "" : cells[i]);
        json_object_set_new(object, keys[i], json_text(cells[i]));
    }
    json_array_append_new(array, object);
}

static void add_findings(struct invocation *invocation, struct table *table, json_t *array, const char *id,
                         const char *wanted)
{
    for (size_t i = 0; i < ref_finding_count; i++) {
        const struct ref_finding *finding = &ref_finding_rows[i];
        bool named = id == NULL || strcmp(id, finding->id) == 0 || strcmp(id, finding->name) == 0;
        if (named && fits(finding->rules, wanted)) {
            struct text note = {0};
            text_printf(&note, "compares %s. %s", finding->compares, finding->caution);
            struct row row = {finding->id,
                              finding->rules,
                              finding->title,
                              finding->severity,
                              "",
                              clause_of(invocation, finding->rules, finding->clause),
                              finding->edition,
                              finding->source,
                              arena_copy(invocation->arena, text_string(&note)),
                              is_recalled(finding->source) ? "yes" : ""};
            add_row(table, array, &row);
            text_done(&note);
        }
    }
}

static void add_rules(struct invocation *invocation, struct table *table, json_t *array, const char *id,
                      const char *wanted)
{
    for (size_t i = 0; i < ref_rule_count; i++) {
        const struct ref_rule *rule = &ref_rule_rows[i];
        if ((id != NULL && strcmp(id, rule->id) != 0) || !fits(rule->rules, wanted)) {
            continue;
        }
        struct text value = {0};
        text_add_rounded(&value, rule->value, 4);
        if (strcmp(rule->unit, "1") != 0) {
            text_printf(&value, " %s", rule->unit);
        }
        struct row row = {rule->id,
                          rule->rules,
                          rule->name,
                          rule->severity,
                          arena_copy(invocation->arena, text_string(&value)),
                          clause_of(invocation, rule->rules, rule->clause),
                          rule->edition,
                          rule->source,
                          rule->note,
                          is_recalled(rule->source) ? "yes" : ""};
        add_row(table, array, &row);
        text_done(&value);
    }
}

/* The rule sets themselves: where each holds, by its ID. */
static void add_sets(struct table *table, json_t *array, const char *id, const char *wanted)
{
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        const struct ref_rule_set *set = &ref_rule_set_rows[i];
        if ((id == NULL || strcmp(id, set->id) == 0) && fits(set->id, wanted)) {
            const char *recalled = is_recalled(set->source) ? "yes" : "";
            struct row row = {set->id, set->id,      set->name,   NULL, "rule set",
                              "",      set->edition, set->source, NULL, recalled};
            add_row(table, array, &row);
        }
    }
}

/* Rows of one source or of a whole table, those of them that were recalled, and how many sources they have. */
struct row_counts {
    size_t rows;
    size_t recalled;
    size_t sources;
};

static void count_rows(const struct reference_source *source, struct row_counts *counts)
{
    counts->rows += source->row_count;
    counts->recalled += is_recalled(source->source) ? source->row_count : 0;
    counts->sources++;
}

static struct row_counts table_counts(const char *name)
{
    struct row_counts counts = {0, 0, 0};
    for (size_t i = 0; i < reference_source_count; i++) {
        if (strcmp(reference_sources[i].table, name) == 0) {
            count_rows(&reference_sources[i], &counts);
        }
    }
    return counts;
}

static const char *rows_text(struct invocation *invocation, size_t rows)
{
    struct text text = {0};
    text_printf(&text, "%zu %s", rows, rows == 1 ? "row" : "rows");
    const char *copy = arena_copy(invocation->arena, text_string(&text));
    text_done(&text);
    return copy;
}

/* Source by source where a table is asked for; in the list one line for a table. */
static void add_source(struct invocation *invocation, struct table *table, json_t *array,
                       const struct reference_source *source, bool whole_table)
{
    struct row_counts counts = {0, 0, 0};
    if (whole_table) {
        counts = table_counts(source->table);
    } else {
        count_rows(source, &counts);
    }
    struct text several = {0};
    text_printf(&several, "%zu sources: ampsum rules %s", counts.sources, source->table);
    struct row row = {source->table,
                      "*",
                      source->title,
                      NULL,
                      rows_text(invocation, counts.rows),
                      "table",
                      counts.sources > 1 ? "" : source->edition,
                      counts.sources > 1 ? arena_copy(invocation->arena, text_string(&several)) : source->source,
                      NULL,
                      counts.recalled > 0 ? rows_text(invocation, counts.recalled) : ""};
    add_row(table, array, &row);
    text_done(&several);
}

static void add_sources(struct invocation *invocation, struct table *table, json_t *array, const char *id)
{
    const char *last = "";
    for (size_t i = 0; i < reference_source_count; i++) {
        const struct reference_source *source = &reference_sources[i];
        bool own_rows = strcmp(source->table, "rule") == 0 || strcmp(source->table, "finding") == 0;
        if (own_rows || (id != NULL && strcmp(id, source->table) != 0) ||
            (id == NULL && strcmp(last, source->table) == 0)) {
            continue;
        }
        last = source->table;
        add_source(invocation, table, array, source, id == NULL);
    }
}

static struct table *rules_table(void)
{
    struct table *table = table_new();
    table_column(table, "ID", "id", TABLE_LEFT, 0);
    table_column(table, "FOR", "rules", TABLE_LEFT, 0);
    table_column(table, "WHAT", "name", TABLE_LEFT, 30);
    table_column(table, NULL, "severity", TABLE_LEFT, 0);
    table_column(table, "VALUE", "value", TABLE_LEFT, 0);
    table_column(table, "CLAUSE", "clause", TABLE_LEFT, 18);
    table_column(table, NULL, "edition", TABLE_LEFT, 0);
    table_column(table, NULL, "source", TABLE_LEFT, 0);
    table_column(table, NULL, "note", TABLE_LEFT, 0);
    table_column(table, "FROM MEMORY", "from_memory", TABLE_LEFT, 0);
    return table;
}

/* One named rule is shown in full; the list is a table. */
static void write_full(struct invocation *invocation, json_t *array)
{
    static const char *const keys[] = {"name", "value", "severity", "clause", "edition", "source", "note"};
    size_t index = 0;
    json_t *row = NULL;
    json_array_foreach(array, index, row)
    {
        struct text *out = &invocation->out;
        text_printf(out, "%s%s (%s)\n", index == 0 ? "" : "\n", json_string_value(json_object_get(row, "id")),
                    strcmp(json_string_value(json_object_get(row, "rules")), "*") == 0
                        ? "every rule set"
                        : json_string_value(json_object_get(row, "rules")));
        for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
            const char *value = json_string_value(json_object_get(row, keys[i]));
            if (value != NULL && value[0] != '\0') {
                text_printf(out, "  %-9s ", keys[i]);
                show_wrap(&invocation->page, 12, value, out);
            }
        }
    }
}

static void unknown_rule(struct invocation *invocation, const char *id)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, id);
    for (size_t i = 0; i < ref_finding_count; i++) {
        words_nearest_offer(&nearest, ref_finding_rows[i].name);
    }
    for (size_t i = 0; i < ref_rule_count; i++) {
        words_nearest_offer(&nearest, ref_rule_rows[i].id);
    }
    for (size_t i = 0; i < reference_source_count; i++) {
        words_nearest_offer(&nearest, reference_sources[i].table);
    }
    error_set(&invocation->error, ERROR_INPUT,
              "%s: no finding, rule or table has this ID%s%s; `ampsum rules` lists them", id,
              nearest.best == NULL ? "" : "; the nearest is ", nearest.best == NULL ? "" : nearest.best);
}

static void write_answer(struct invocation *invocation, struct table *table, json_t *array, bool one)
{
    if (invocation->format == FORMAT_JSON) {
        json_t *answer = json_answer("rules", NULL);
        json_object_set(answer, "rows", array);
        json_cautions(answer, NULL);
        json_write(answer, &invocation->out);
        return;
    }
    if (invocation->format == FORMAT_CSV || !one) {
        invocation_table(invocation, table);
    } else {
        write_full(invocation, array);
    }
    if (invocation->format == FORMAT_TABLE) {
        text_add_char(&invocation->out, '\n');
        show_cautions_text(&invocation->page, NULL, &invocation->out);
        static const char *const of_list[] = {"ampsum rules 1   (one of them with all its words)", NULL};
        static const char *const of_one[] = {"ampsum rules   (the whole list)", NULL};
        invocation_next(invocation, one ? of_one : of_list);
    }
}

/* Above the list of one set: what it has no rows for. */
static void write_missing(struct invocation *invocation, const char *rules)
{
    struct text line = {0};
    if (invocation->format == FORMAT_TABLE && reference_missing_add(&line, rules)) {
        show_wrap(&invocation->page, 0, text_string(&line), &invocation->out);
        text_add_char(&invocation->out, '\n');
    }
    text_done(&line);
}

static int run(struct invocation *invocation)
{
    const char *wanted = NULL;
    if (!invocation_operands(invocation, 0, 1) || !invocation_rule_set(invocation, &wanted)) {
        return 2;
    }
    const char *id = invocation->operand_count > 0 ? invocation->operands[0] : NULL;
    struct table *table = rules_table();
    json_t *array = json_array();
    add_sets(table, array, id, wanted);
    if (id != NULL && reference_rule_set(id) != NULL) {
        wanted = id;
        id = NULL;
        write_missing(invocation, wanted);
    }
    add_findings(invocation, table, array, id, wanted);
    add_rules(invocation, table, array, id, wanted);
    add_sources(invocation, table, array, id);
    if (json_array_size(array) == 0) {
        unknown_rule(invocation, id == NULL ? "" : id);
    } else {
        write_answer(invocation, table, array, id != NULL);
    }
    json_decref(array);
    table_free(table);
    return 0;
}

const struct command command_rules = {
    .name = "rules",
    .operands = "[ID]",
    .summary = "the limits in force with their published source",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
