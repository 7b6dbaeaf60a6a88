#include "ampsum/answer_rules.h"

#include <string.h>

#include "ampsum/model.h"
#include "ampsum/words.h"

/* What is looked for, and where it goes. */
struct search {
    const char *id;    /* NULL: all */
    const char *rules; /* NULL: all */
    struct rules_answer *answer;
};

static bool is_named(const struct search *search, const char *id)
{
    return search->id == NULL || strcmp(search->id, id) == 0;
}

static bool fits(const struct search *search, const char *rules)
{
    return search->rules == NULL || strcmp(rules, "*") == 0 || strcmp(rules, search->rules) == 0;
}

static size_t is_recalled(const char *source)
{
    return strstr(source, "from memory") != NULL ? 1 : 0;
}

static void add(const struct search *search, struct rules_row row)
{
    search->answer->rows[search->answer->count++] = row;
}

static void add_sets(const struct search *search)
{
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        const struct ref_rule_set *set = &ref_rule_set_rows[i];
        if (is_named(search, set->id) && fits(search, set->id)) {
            add(search, (struct rules_row){.id = set->id,
                                           .rules = set->id,
                                           .name = set->name,
                                           .edition = set->edition,
                                           .source = set->source,
                                           .set = true,
                                           .recalled = is_recalled(set->source)});
        }
    }
}

static void add_findings(const struct search *search)
{
    for (size_t i = 0; i < ref_finding_count; i++) {
        const struct ref_finding *finding = &ref_finding_rows[i];
        if ((is_named(search, finding->id) || is_named(search, finding->name)) && fits(search, finding->rules)) {
            add(search, (struct rules_row){.id = finding->id,
                                           .rules = finding->rules,
                                           .name = finding->title,
                                           .severity = finding->severity,
                                           .clause = finding->clause,
                                           .edition = finding->edition,
                                           .source = finding->source,
                                           .finding = finding,
                                           .recalled = is_recalled(finding->source)});
        }
    }
}

static void add_rules(const struct search *search)
{
    for (size_t i = 0; i < ref_rule_count; i++) {
        const struct ref_rule *rule = &ref_rule_rows[i];
        if (is_named(search, rule->id) && fits(search, rule->rules)) {
            add(search, (struct rules_row){.id = rule->id,
                                           .rules = rule->rules,
                                           .name = rule->name,
                                           .severity = rule->severity,
                                           .clause = rule->clause,
                                           .edition = rule->edition,
                                           .source = rule->source,
                                           .rule = rule,
                                           .recalled = is_recalled(rule->source)});
        }
    }
}

static struct rules_row source_row(const struct reference_source *source)
{
    return (struct rules_row){.id = source->table,
                              .rules = "*",
                              .name = source->title,
                              .edition = source->edition,
                              .source = source->source,
                              .table_rows = source->row_count,
                              .sources = 1,
                              .recalled = is_recalled(source->source) * source->row_count};
}

/* A further source of the table on the last row. */
static void join(struct rules_row *row, const struct reference_source *source)
{
    row->table_rows += source->row_count;
    row->recalled += is_recalled(source->source) * source->row_count;
    row->sources++;
}

/* Source by source where a table is asked for; in the list one line for a table, whose sources stand together. */
static void add_tables(const struct search *search)
{
    const char *last = "";
    for (size_t i = 0; i < reference_source_count; i++) {
        const struct reference_source *source = &reference_sources[i];
        const bool own_rows = strcmp(source->table, "rule") == 0 || strcmp(source->table, "finding") == 0;
        if (own_rows || !is_named(search, source->table)) {
            continue;
        }
        if (search->id == NULL && strcmp(last, source->table) == 0) {
            join(&search->answer->rows[search->answer->count - 1], source);
        } else {
            add(search, source_row(source));
        }
        last = source->table;
    }
}

/* The first other set that has the ID; NULL: none. */
static const char *set_that_has(const char *id)
{
    for (size_t i = 0; i < ref_finding_count; i++) {
        if (strcmp(ref_finding_rows[i].id, id) == 0 || strcmp(ref_finding_rows[i].name, id) == 0) {
            return ref_finding_rows[i].rules;
        }
    }
    for (size_t i = 0; i < ref_rule_count; i++) {
        if (strcmp(ref_rule_rows[i].id, id) == 0) {
            return ref_rule_rows[i].rules;
        }
    }
    return NULL;
}

static void refuse(const char *id, const char *rules, struct error *error)
{
    const char *other = set_that_has(id);
    if (other != NULL && rules != NULL) {
        error_set(error, ERROR_INPUT,
                  "%s: the %s rules have no such row, the %s rules have: ampsum rules --rules %s %s", id, rules, other,
                  other, id);
        return;
    }
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
    error_set(error, ERROR_INPUT, "%s: no finding, rule or table has this ID%s%s; `ampsum rules` lists them", id,
              nearest.best == NULL ? "" : "; the nearest is ", nearest.best == NULL ? "" : nearest.best);
}

/* Fills in what is found; false where there is none. */
static bool find(const struct rules_question *question, struct arena *arena, struct rules_answer *ret_answer)
{
    struct search search = {question->id, question->rules, ret_answer};
    const size_t most = ref_rule_set_count + ref_finding_count + ref_rule_count + reference_source_count;
    *ret_answer = (struct rules_answer){.rows = arena_array(arena, most, sizeof *ret_answer->rows)};
    add_sets(&search);
    if (question->id != NULL && reference_rule_set(question->id) != NULL) {
        ret_answer->set = question->id;
        search.rules = question->id;
        search.id = NULL;
    }
    ret_answer->one = search.id != NULL;
    add_findings(&search);
    add_rules(&search);
    add_tables(&search);
    return ret_answer->count > 0;
}

bool answer_rules(const struct rules_question *question, struct arena *arena, struct rules_answer *ret_answer,
                  struct error *error)
{
    const struct rules_question first = {question->id, reference_rule_set_at(RULES_FIRST)->id, false};
    const bool one = question->one_set && question->rules == NULL && question->id != NULL &&
                     reference_rule_set(question->id) == NULL;
    const bool found = (one && find(&first, arena, ret_answer)) || find(question, arena, ret_answer);
    if (!found) {
        refuse(question->id == NULL ? "" : question->id, question->rules, error);
    }
    return found;
}
