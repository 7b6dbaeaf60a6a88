/* Protection by room, cautions by case, clauses by edition, figures of rules in words. */
#include <math.h>
#include <stdlib.h>

#include "ampsum/reference.h"
#include "ampsum/text.h"
#include "ordered.h"
#include "same.h"

/* Of a row about what is asked for: the rest of it. What tells most rows apart comes first. */
static bool room_row_fits(const struct ref_room_protection *row, const struct reference_place *place)
{
    return (same(row->room, "*") || same(row->room, place->room)) && same(row->kind, place->kind) &&
           same(row->rules, place->rules) && (isnan(row->most_v) || place->voltage_v <= row->most_v) &&
           (isnan(row->most_a) || place->rated_a <= row->most_a) && place->edition >= row->from_edition &&
           (isnan(row->to_edition) || place->edition <= row->to_edition);
}

const struct ref_room_protection *reference_room_protection(const struct reference_place *place)
{
    const struct ordered order = ORDERED(ref_room_protection, what);
    for (size_t at = ordered_from(&order, place->what); ordered_is(&order, at, place->what); at++) {
        const struct ref_room_protection *row = &ref_room_protection_rows[order.rows[at]];
        if (room_row_fits(row, place)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_section *reference_section(const char *rules, const char *rule, int edition)
{
    const struct ref_section *found = NULL;
    for (size_t i = 0; i < ref_section_count; i++) {
        const struct ref_section *row = &ref_section_rows[i];
        if (row->from_edition <= edition && same(row->rule, rule) && same(row->rules, rules) &&
            (found == NULL || row->from_edition > found->from_edition)) {
            found = row;
        }
    }
    return found;
}

const struct ref_caution *reference_caution(const char *caution, const char *rules)
{
    const struct ref_caution *common = NULL;
    for (size_t i = 0; i < ref_caution_count; i++) {
        const struct ref_caution *row = &ref_caution_rows[i];
        if (same(row->caution, caution) && same(row->rules, rules)) {
            return row;
        }
        common = same(row->caution, caution) && same(row->rules, "*") ? row : common;
    }
    return common;
}

int reference_cited_edition(const char *rules, int edition)
{
    const double renumbers = reference_rule_value("renumbering-edition", rules);
    if (isnan(renumbers) || edition < (int)renumbers) {
        return edition;
    }
    int cited = 0;
    const struct ref_choice *row = NULL;
    for (size_t i = 0; (row = reference_choice(rules, "code_edition", i)) != NULL; i++) {
        const int choice = (int)strtol(row->word, NULL, 10);
        cited = choice > cited && choice < (int)renumbers ? choice : cited;
    }
    return cited;
}

static int edition_or_usual(const char *rules, int edition)
{
    const char *usual = edition > 0 ? NULL : reference_choice_usual(rules, "code_edition");
    return usual == NULL ? edition : (int)strtol(usual, NULL, 10);
}

bool reference_has_section(const char *rules, const char *rule, int edition)
{
    const struct ref_section *row = reference_section(rules, rule, edition_or_usual(rules, edition));
    return row != NULL && row->clause != NULL;
}

void reference_clause(struct text *text, const char *rules, const char *clause, int edition)
{
    struct text rule = {0};
    for (const char *at = clause; *at != '\0';) {
        const size_t plain = strcspn(at, "{");
        text_add_length(text, at, plain);
        at += plain;
        const size_t length = *at == '{' ? strcspn(at + 1, "}") : 0;
        if (length > 0) {
            text_clear(&rule);
            text_add_length(&rule, at + 1, length);
            const struct ref_section *row =
                reference_section(rules, text_string(&rule), edition_or_usual(rules, edition));
            text_add(text, row == NULL || row->clause == NULL ? "" : row->clause);
            at += length + 2;
        }
    }
    text_done(&rule);
}

/* The figure of a rule; without a rule set that of all of them, from the least to the largest where they differ. */
static void add_figure(struct text *text, const char *id, const char *rules)
{
    double least = rules == NULL ? INFINITY : reference_rule_value(id, rules);
    double largest = rules == NULL ? -INFINITY : least;
    for (size_t i = 0; i < ref_rule_count && rules == NULL; i++) {
        if (same(ref_rule_rows[i].id, id)) {
            least = fmin(least, ref_rule_rows[i].value);
            largest = fmax(largest, ref_rule_rows[i].value);
        }
    }
    if (largest >= least) {
        text_add_number(text, least);
        text_add(text, largest > least ? " to " : "");
    }
    if (largest > least) {
        text_add_number(text, largest);
    }
}

void reference_fill(struct text *text, const char *words, const char *rules)
{
    struct text rule = {0};
    for (const char *at = words; *at != '\0';) {
        const size_t plain = strcspn(at, "{");
        text_add_length(text, at, plain);
        at += plain;
        const size_t length = *at == '{' ? strcspn(at + 1, "}") : 0;
        if (length > 0) {
            text_clear(&rule);
            text_add_length(&rule, at + 1, length);
            if (!reference_fill_by_set(text, text_string(&rule))) {
                add_figure(text, text_string(&rule), rules);
            }
            at += length + 2;
        }
    }
    text_done(&rule);
}

void reference_add_source(struct text *text, const char *source, const char *edition)
{
    text_add(text, source);
    if (strcmp(edition, "as each source") != 0) {
        text_printf(text, ", %s", edition);
    }
}
