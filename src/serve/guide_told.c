/* What a field is called, and what of it stands in a house or was typed, in the words of people. */
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "guide.h"
#include "input.h"

/* ---- names */

const struct key *guide_field_key(const struct guide_field *field)
{
    return section_key(&sections[field->kind], guide_key(field->key));
}

/* In which a bare number is taken; "" where there is none, or the rules that say it are not chosen yet. */
static const char *unit_of(const struct visit *visit, const struct key *key)
{
    static const char *const units[] = {
        [DIMENSION_CURRENT] = "A", [DIMENSION_VOLTAGE] = "V", [DIMENSION_POWER] = "W",
        [DIMENSION_TIME] = "h",    [DIMENSION_PERCENT] = "%", [DIMENSION_TEMPERATURE] = "\u00b0C"};
    const struct house *house = visit->house;
    const struct ref_rule_set *set = house == NULL ? NULL : reference_rule_set_at(house->rules);
    const size_t dimension = key == NULL ? DIMENSION_NONE : key->dimension;
    if (dimension == DIMENSION_LENGTH) {
        return set == NULL ? "m" : set->length_unit;
    }
    if (dimension == DIMENSION_FLOOR_AREA) {
        return set == NULL ? "" : set->area_unit;
    }
    return dimension < sizeof units / sizeof units[0] && units[dimension] != NULL ? units[dimension] : "";
}

const char *guide_field_label(struct visit *visit, const struct guide_field *field)
{
    struct text label = {0};
    reference_fill(&label, field->label, visit->house == NULL ? NULL : rules_word(visit->house->rules));
    return arena_text(visit->arena, &label);
}

const char *guide_field_title(struct visit *visit, const struct guide_field *field)
{
    const char *label = guide_field_label(visit, field);
    const char *unit = unit_of(visit, guide_field_key(field));
    return unit[0] == '\0' ? label : arena_printf(visit->arena, "%s, %s", label, unit);
}

const char *guide_field_example(struct visit *visit, const struct guide_field *field)
{
    const bool feet = visit->house != NULL && house_in_feet(visit->house);
    return feet && field->example_ft != NULL ? field->example_ft : field->example;
}

/* Of a rule set: where it holds. */
static const char *rule_set_name(const char *id, struct arena *arena)
{
    return arena_printf(arena, "%s: %s", id, reference_rule_set(id)->name);
}

/* What the word of a choice is called. */
static const char *choice_name(const char *key, const char *word, struct arena *arena)
{
    static const struct {
        const char *key;
        const char *word;
        const char *name;
    } rows[] = {
        {"system", "single-phase", "single-phase: one line and neutral"},
        {"system", "split-phase", "split-phase: two lines and neutral"},
        {"system", "three-phase", "three-phase: three lines and neutral"},
        {"behaviour", "resistive", "resistive: heats or glows"},
        {"behaviour", "electronic", "electronic: has a power supply"},
        {"behaviour", "motor", "motor: starts with more"},
        {"layout", "radial", "radial: ends at the last outlet"},
        {"layout", "ring", "ring: goes back to the panel"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (strcmp(rows[i].key, key) == 0 && strcmp(rows[i].word, word) == 0) {
            return rows[i].name;
        }
    }
    return strcmp(key, "rules") == 0 ? rule_set_name(word, arena) : word;
}

void page_words(struct visit *visit, const struct key *key, const char *chosen)
{
    const struct house *house = visit->house;
    const char *word = NULL;
    for (size_t i = 0; (word = key_choice(key, i).word) != NULL; i++) {
        const bool foreign = house != NULL && (key->flags & KEY_RULE_WORDS) != 0 &&
                             !key_choice_allowed(key, house->rules, key_choice(key, i).value);
        if (!foreign || strcmp(word, chosen) == 0) {
            page_option(visit, word, choice_name(key->name, word, visit->arena), chosen);
        }
    }
}

/* ---- values */

/* `outlet:ID` or `branch:ID`, whichever the appliance is on. */
static const char *place_now(struct visit *visit, const struct document_section *section)
{
    const char *outlet = document_value(section, "outlet");
    const char *id = outlet == NULL ? document_value(section, "branch") : outlet;
    return arena_printf(visit->arena, "%s:%s", outlet == NULL ? "branch" : "outlet", id == NULL ? "" : id);
}

const char *guide_value_now(struct visit *visit, enum kind kind, const struct document_section *section,
                            const char *key)
{
    const char *number = "";
    const char *unit = "";
    const char *found = document_value(section, guide_key(key));
    if (kind == KIND_APPLIANCE && (strcmp(key, "rating") == 0 || strcmp(key, "unit") == 0)) {
        typed_line_rating(section, visit->arena, &number, &unit);
        found = strcmp(key, "unit") == 0 ? unit : number;
    } else if (kind == KIND_APPLIANCE && strcmp(key, "at") == 0) {
        found = place_now(visit, section);
    }
    return found == NULL ? "" : found;
}

/* `outlet:ID` or `branch:ID` as the line of the door, and the outlet of it. */
static const char *place_name(struct visit *visit, const char *value)
{
    const char *id = strchr(value, ':');
    const bool outlet = strncmp(value, "outlet:", 7) == 0;
    return id == NULL ? value : visit_name(visit, outlet ? KIND_OUTLET : KIND_BRANCH, id + 1);
}

/* `600 s` as `10 min`. */
static const char *time_name(struct visit *visit, const char *value)
{
    struct text text = {0};
    double time_s = 0;
    if (value[0] == '\0' || !quantity_read(value, DIMENSION_TIME, RULES_FIRST, 0, &time_s, &text)) {
        text_done(&text);
        return value;
    }
    text_clear(&text);
    text_add_number(&text, time_s < 3600 ? time_s / 60 : time_s / 3600);
    text_add(&text, time_s < 3600 ? " min" : " h");
    return arena_text(visit->arena, &text);
}

/* A bare number with the unit that it is taken in. */
static const char *with_unit(struct visit *visit, const struct key *key, const char *value)
{
    const char *unit = unit_of(visit, key);
    if (key != NULL && key->dimension == DIMENSION_TIME) {
        return time_name(visit, value);
    }
    if (unit[0] == '\0' || value[0] == '\0' || value[strspn(value, "0123456789.")] != '\0') {
        return value;
    }
    return arena_printf(visit->arena, "%s %s", value, unit);
}

const char *guide_answer_name(struct visit *visit, const struct guide_field *field, const char *value)
{
    const struct key *key = guide_field_key(field);
    if (field->own == OWN_PLACE && visit->house != NULL) {
        return place_name(visit, value);
    }
    if (key != NULL && key->type == KEY_REFERENCE) {
        return visit_name(visit, key->target, value);
    }
    return key != NULL && key->type == KEY_CHOICE ? choice_name(key->name, value, visit->arena)
                                                  : with_unit(visit, key, value);
}

const char *guide_told(struct visit *visit, const struct guide_field *field, const struct document_section *section)
{
    const char *value = guide_value_now(visit, field->kind, section, field->key);
    if (field->own == OWN_RATING && value[0] != '\0') {
        return arena_printf(visit->arena, "%s %s", value, guide_value_now(visit, field->kind, section, "unit"));
    }
    const bool nowhere = value[0] == '\0' || value[strlen(value) - 1] == ':'; /* `branch:` of no branch yet */
    return nowhere ? "" : guide_answer_name(visit, field, value);
}
