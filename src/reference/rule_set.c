/* Rule sets and the words that each of them knows. */
#include "ampsum/reference.h"
#include "same.h"

int reference_rule_set_index(const char *id)
{
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        if (same(ref_rule_set_rows[i].id, id)) {
            return (int)i;
        }
    }
    return -1;
}

const struct ref_rule_set *reference_rule_set_at(int index)
{
    return index >= 0 && (size_t)index < ref_rule_set_count ? &ref_rule_set_rows[index] : NULL;
}

const struct ref_rule_set *reference_rule_set(const char *id)
{
    return reference_rule_set_at(reference_rule_set_index(id));
}

void reference_rule_set_list(struct text *text)
{
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        bool is_last = i + 1 == ref_rule_set_count;
        text_printf(text, "%s%s", i == 0 ? "" : is_last ? " or " : ", ", ref_rule_set_rows[i].id);
    }
}

bool reference_finds(const char *way, const char *named)
{
    return way != NULL && same(way, named);
}

const struct ref_choice *reference_choice(const char *rules, const char *key, size_t index)
{
    for (size_t i = 0; i < ref_choice_count; i++) {
        const struct ref_choice *row = &ref_choice_rows[i];
        if (same(row->key, key) && same(row->rules, rules) && index-- == 0) {
            return row;
        }
    }
    return NULL;
}

bool reference_choice_known(const char *rules, const char *key, const char *word)
{
    const struct ref_choice *row = NULL;
    for (size_t i = 0; (row = reference_choice(rules, key, i)) != NULL; i++) {
        if (same(row->word, word)) {
            return true;
        }
    }
    return false;
}

void reference_choice_list(struct text *text, const char *rules, const char *key)
{
    const struct ref_choice *row = NULL;
    for (size_t i = 0; (row = reference_choice(rules, key, i)) != NULL; i++) {
        bool is_last = reference_choice(rules, key, i + 1) == NULL;
        text_printf(text, "%s%s", i == 0 ? "" : is_last ? " or " : ", ", row->word);
    }
}

const char *reference_choice_usual(const char *rules, const char *key)
{
    const struct ref_choice *row = NULL;
    for (size_t i = 0; (row = reference_choice(rules, key, i)) != NULL; i++) {
        if (row->usual) {
            return row->word;
        }
    }
    return NULL;
}

bool reference_key_known(const char *rules, const char *key)
{
    bool any = false;
    for (size_t i = 0; i < ref_key_count; i++) {
        if (same(ref_key_rows[i].key, key)) {
            if (same(ref_key_rows[i].rules, rules)) {
                return true;
            }
            any = true;
        }
    }
    for (size_t i = 0; i < ref_choice_count; i++) {
        if (same(ref_choice_rows[i].key, key)) {
            if (same(ref_choice_rows[i].rules, rules)) {
                return true;
            }
            any = true;
        }
    }
    return !any;
}

bool reference_key_has_words(const char *key)
{
    for (size_t i = 0; i < ref_choice_count; i++) {
        if (same(ref_choice_rows[i].key, key)) {
            return true;
        }
    }
    return false;
}

/* Appends the IDs for which `member` says so, `us, iec or uk`. */
static void add_sets(struct text *text, bool (*member)(const char *, const char *, const char *), const char *key,
                     const char *word)
{
    size_t left = 0;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        left += member(ref_rule_set_rows[i].id, key, word);
    }
    bool first = true;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        if (member(ref_rule_set_rows[i].id, key, word)) {
            text_printf(text, "%s%s", first ? "" : --left == 1 ? " or " : ", ", ref_rule_set_rows[i].id);
            first = false;
        }
    }
}

static bool knows_key(const char *rules, const char *key, const char *word)
{
    (void)word;
    return reference_key_known(rules, key);
}

void reference_key_sets(struct text *text, const char *key)
{
    add_sets(text, knows_key, key, NULL);
}

void reference_choice_sets(struct text *text, const char *key, const char *word)
{
    add_sets(text, reference_choice_known, key, word);
}

/* ------------------------------------------------------------------ what a set lacks ---------------------- */

static bool has_ampacity(const struct ref_rule_set *set)
{
    return set->ampacity != NULL;
}

static bool has_drop(const struct ref_rule_set *set)
{
    return set->drop_limit != NULL;
}

static bool has_demand(const struct ref_rule_set *set)
{
    return reference_choice(set->id, "demand", 0) != NULL;
}

static bool has_plug(const struct ref_rule_set *set)
{
    for (size_t i = 0; i < ref_plug_count; i++) {
        if (same(ref_plug_rows[i].rules, set->id)) {
            return true;
        }
    }
    return false;
}

static bool has_protection(const struct ref_rule_set *set)
{
    for (size_t i = 0; i < ref_protection_count; i++) {
        if (same(ref_protection_rows[i].rules, set->id)) {
            return true;
        }
    }
    return false;
}

static bool has_typical(const struct ref_rule_set *set)
{
    for (size_t i = 0; i < ref_typical_count; i++) {
        if (same(ref_typical_rows[i].rules, set->id)) {
            return true;
        }
    }
    return false;
}

static const char *reference_missing(const char *rules, size_t index)
{
    static const struct {
        const char *name;
        bool (*has)(const struct ref_rule_set *set);
    } parts[] = {{"ampacities of wires", has_ampacity},    {"an advisory voltage drop", has_drop},
                 {"a demand of the dwelling", has_demand}, {"plugs", has_plug},
                 {"usual protection", has_protection},     {"typical ratings", has_typical}};
    const struct ref_rule_set *set = reference_rule_set(rules);
    for (size_t i = 0; set != NULL && i < sizeof parts / sizeof parts[0]; i++) {
        if (!parts[i].has(set) && index-- == 0) {
            return parts[i].name;
        }
    }
    return NULL;
}

bool reference_missing_add(struct text *text, const char *rules)
{
    const char *part = reference_missing(rules, 0);
    if (part == NULL) {
        return false;
    }
    text_printf(text, "The %s rules have no rows for: %s", rules, part);
    for (size_t i = 1; (part = reference_missing(rules, i)) != NULL; i++) {
        text_printf(text, ", %s", part);
    }
    text_add(text, ". Nothing was held against these, and no other rule set's figures were taken in their place.");
    return true;
}
