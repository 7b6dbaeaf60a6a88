/* What a form of the guide brought, put into a document key by key; the document is checked when it is built. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/freetext.h"
#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "ampsum/typed.h"
#include "guide.h"

/* The units in which a nameplate states a rating, and the key that each belongs to; the first of a key is its own. */
static const struct {
    const char *unit;
    const char *key;
} ratings[] = {
    {"W", "power"},      {"kW", "power"},       {"A", "current"},       {"mA", "current"},    {"VA", "apparent"},
    {"kVA", "apparent"}, {"ohm", "resistance"}, {"kohm", "resistance"}, {"hp", "horsepower"},
};

enum { RATING_COUNT = sizeof ratings / sizeof ratings[0] };

void guide_rating_units(struct visit *visit, const char *chosen)
{
    for (size_t i = 0; i < RATING_COUNT; i++) {
        page_option(visit, ratings[i].unit, ratings[i].unit, chosen);
    }
}

/* ---- values as they were sent */

static bool is_named(const struct field *field, const char *prefix, const char *key)
{
    const size_t length = strlen(prefix);
    return strncmp(field->name, prefix, length) == 0 && strcmp(field->name + length, key) == 0;
}

/* The ID of `n-ID`, the number of units of an appliance that are on in a scene; NULL where the field is none. */
static const char *units_of(const struct field *field, const char *prefix)
{
    const size_t length = strlen(prefix);
    const bool is_number = strncmp(field->name, prefix, length) == 0 && strncmp(field->name + length, "n-", 2) == 0;
    return is_number && strcmp(field->value, "0") != 0 && field->value[0] != '\0' ? field->name + length + 2 : NULL;
}

const char *guide_posted(struct visit *visit, const char *prefix, const char *key)
{
    struct text list = {0};
    for (size_t i = 0; i < visit->body.count; i++) {
        const struct field *field = &visit->body.field[i];
        const char *several = strcmp(key, "on") == 0 ? units_of(field, prefix) : NULL;
        const char *value = field->value + strspn(field->value, " ");
        if (several != NULL) {
            text_printf(&list, "%s%s*%s", list.length > 0 ? ", " : "", several, field->value);
        } else if (is_named(field, prefix, key) && value[0] != '\0') {
            text_add(&list, list.length > 0 ? ", " : "");
            text_add(&list, value);
        }
    }
    return arena_text(visit->arena, &list);
}

static bool was_posted(const struct visit *visit, const char *prefix, const char *key)
{
    for (size_t i = 0; i < visit->body.count; i++) {
        if (is_named(&visit->body.field[i], prefix, key)) {
            return true;
        }
    }
    return false;
}

/* ---- ratings */

/* Where the unit begins at the end of `1500 W`; the end of the string where none of ours is there. */
static size_t unit_at(const char *value, size_t *ret_row)
{
    const size_t length = strlen(value);
    *ret_row = RATING_COUNT;
    for (size_t i = 0; i < RATING_COUNT; i++) {
        const size_t unit_length = strlen(ratings[i].unit);
        const size_t at = length > unit_length ? length - unit_length : 0;
        if (at > 0 && strcmp(value + at, ratings[i].unit) == 0 &&
            (value[at - 1] == ' ' || isdigit((unsigned char)value[at - 1]) != 0)) {
            *ret_row = i;
            return at;
        }
    }
    return length;
}

void guide_rating(struct visit *visit, const struct document_section *section, const char **ret_number,
                  const char **ret_unit)
{
    for (size_t i = 0; i < RATING_COUNT && section != NULL; i++) {
        const char *value = document_value(section, ratings[i].key);
        if (value != NULL) {
            size_t row = 0;
            size_t at = unit_at(value, &row);
            while (at > 0 && value[at - 1] == ' ') {
                at--;
            }
            *ret_number = arena_copy_length(visit->arena, value, at);
            *ret_unit = ratings[row == RATING_COUNT ? i : row].unit;
            return;
        }
    }
}

/* The main panel goes without saying. */
static bool is_default(enum kind kind, const char *key, const char *value)
{
    const struct key *found = section_key(&sections[kind], key);
    return found != NULL && found->type == KEY_REFERENCE && found->target == KIND_PANEL && strcmp(value, "main") == 0;
}

/* Sets a key, or takes it out where the value is empty; nothing where it is so already. */
static bool put(struct visit *visit, struct document *document, enum kind kind, const char *id, const char *key,
                const char *value)
{
    const char *word = kind_word(kind);
    const struct document_section *section = document_find(document, word, id);
    const char *now = section == NULL ? NULL : document_value(section, key);
    if (now != NULL && strcmp(now, value) == 0) {
        return true;
    }
    if (value[0] == '\0' || is_default(kind, key, value)) {
        return now == NULL || edit_unset(document, word, id, key, &visit->error);
    }
    const char *pair = arena_printf(visit->arena, "%s=%s", key, value);
    const char *const pairs[] = {pair};
    const bool set = edit_set(document, word, id, pairs, 1, &visit->error);
    return set;
}

/* The rating under the key of its unit, typed behind it or chosen beside it; the other four keys are taken out. */
static bool put_rating(struct visit *visit, struct document *document, const char *id, const char *rating,
                       const char *unit)
{
    size_t row = 0;
    const bool typed = unit_at(rating, &row) < strlen(rating);
    for (size_t i = 0; !typed && i < RATING_COUNT; i++) {
        row = strcmp(ratings[i].unit, unit) == 0 ? i : row;
    }
    row = row == RATING_COUNT ? 0 : row;
    const char *value = arena_printf(visit->arena, "%s%s%s", rating, typed ? "" : " ", typed ? "" : ratings[row].unit);
    bool good = true;
    for (size_t i = 0; i < RATING_COUNT && good; i++) {
        if (strcmp(ratings[i].key, ratings[row].key) != 0) {
            good = put(visit, document, KIND_APPLIANCE, id, ratings[i].key, "");
        }
    }
    good = good && put(visit, document, KIND_APPLIANCE, id, ratings[row].key, value);
    return good;
}

/* What is wrong with a name that stands alone: it is missing, its rating is, or what stands beside it. */
static void say_unread(struct visit *visit, const char *name)
{
    const struct error_fault *fault = visit->error.fault_count == 0 ? NULL : &visit->error.faults[0];
    const bool lacks = fault != NULL && fault->key != NULL && strcmp(fault->key, "power") == 0 && fault->value == NULL;
    if (name[0] == '\0') {
        guide_fault_set(visit, KIND_APPLIANCE, "name", "is missing, expected what it is");
    } else if (lacks) {
        guide_fault_set(visit, KIND_APPLIANCE, "rating",
                        arena_printf(visit->arena,
                                     "no rating, and no typical one is known of '%s'; expected what its nameplate "
                                     "says, such as 1500 W",
                                     name));
    } else {
        guide_fault_set(visit, KIND_APPLIANCE, "name", arena_copy(visit->arena, error_message(&visit->error)));
    }
}

/* The name may hold the rating, `Kettle, 1500 W`; without one, the typical rating of such a thing is taken. */
static bool put_spoken(struct visit *visit, struct document *document, const char *id, const char *name)
{
    struct freetext load;
    bool good = name[0] != '\0' && freetext_read(visit->arena, name, visit->house->rules, &load, &visit->error);
    if (!good) {
        say_unread(visit, name);
    }
    for (size_t i = 0; good && i < sizeof ratings / sizeof ratings[0]; i++) {
        good = put(visit, document, KIND_APPLIANCE, id, ratings[i].key, "");
    }
    return good && edit_set(document, "appliance", id, load.pairs, load.pair_count, &visit->error) &&
           put(visit, document, KIND_APPLIANCE, id, "rating_from", load.rated ? "plate" : "");
}

/* A new thing with a rating typed beside its name is what things of that name are; the plate replaces only what it
 * says. */
static bool put_rated(struct visit *visit, struct document *document, const char *id, const char *name,
                      const char *rating, const char *unit)
{
    struct freetext load;
    struct error unread = {0};
    size_t row = 0;
    const bool united = unit_at(rating, &row) < strlen(rating);
    const char *spoken = arena_printf(visit->arena, "%s, %s %s", name, rating,
                                      united            ? ""
                                      : unit[0] == '\0' ? "W"
                                                        : unit);
    const bool known = form_value(&visit->body, "id")[0] == '\0' &&
                       freetext_read(visit->arena, spoken, visit->house->rules, &load, &unread) &&
                       strcmp(load.name, name) == 0;
    bool good = !known || edit_set(document, "appliance", id, load.pairs, load.pair_count, &visit->error);
    error_done(&unread);
    return good && put(visit, document, KIND_APPLIANCE, id, "name", name) &&
           put_rating(visit, document, id, rating, unit);
}

static const char *rating_now(struct visit *visit, const struct document_section *section)
{
    const char *number = "";
    const char *unit = "";
    guide_rating(visit, section, &number, &unit);
    return arena_printf(visit->arena, "%s %s", number, unit);
}

/* Where a rating came from: typed into the field of the nameplate, it is the plate's, unless something else is said. */
static bool put_origin(struct visit *visit, struct document *document, const char *id, const char *prefix,
                       const char *before)
{
    const struct document_section *section = document_find(document, "appliance", id);
    const char *said = guide_posted(visit, prefix, "rating_from");
    const bool changed = strcmp(rating_now(visit, section), before) != 0;
    const char *stored = document_value(section, "rating_from");
    const bool repeats = strcmp(said, stored == NULL ? "" : stored) == 0; /* a form sends what stood there */
    return put(visit, document, KIND_APPLIANCE, id, "rating_from", changed && repeats ? "plate" : said);
}

static bool put_appliance(struct visit *visit, struct document *document, const char *id, const char *prefix)
{
    const char *name = guide_posted(visit, prefix, "name");
    const char *rating = typed_rating(visit->arena, guide_posted(visit, prefix, "rating"));
    const char *at = guide_posted(visit, prefix, "at");
    const char *before = rating_now(visit, document_find(document, "appliance", id));
    const bool rated = rating[0] == '\0'
                           ? put_spoken(visit, document, id, name)
                           : put_rated(visit, document, id, name, rating, guide_posted(visit, prefix, "unit")) &&
                                 put_origin(visit, document, id, prefix, before);
    if (rated && at[0] == '\0') {
        guide_fault_set(visit, KIND_APPLIANCE, "at", "please choose where the appliance is");
        return false;
    }
    const bool moved = rated && edit_move(document, id, at, &visit->error);
    if (rated && !moved) {
        guide_fault_set(visit, KIND_APPLIANCE, "at", arena_copy(visit->arena, error_message(&visit->error)));
    }
    return moved;
}

/* ---- all keys of a section */

/* Those that put_appliance has seen to; and the room, which an outlet has already. */
static bool is_done(struct visit *visit, enum kind kind, const char *prefix, const char *key)
{
    if (kind != KIND_APPLIANCE) {
        return false;
    }
    const bool in_outlet = strncmp(guide_posted(visit, prefix, "at"), "outlet:", 7) == 0;
    return strcmp(key, "name") == 0 || strcmp(key, "rating") == 0 || strcmp(key, "rating_from") == 0 ||
           strcmp(key, "at") == 0 || (strcmp(key, "room") == 0 && in_outlet);
}

/* A key that the form has something to say about: on a new line, an empty field says nothing. */
static bool is_told(struct visit *visit, const struct guide_field *field, enum kind kind, const char *prefix)
{
    const bool is_new = form_value(&visit->body, "id")[0] == '\0' && kind != KIND_HOUSE;
    return field->kind == kind && was_posted(visit, prefix, field->key) && !is_done(visit, kind, prefix, field->key) &&
           !(is_new && guide_posted(visit, prefix, field->key)[0] == '\0');
}

/* What was said of a breaker's poles: in their own field, or beside its rating as `30A 2 pole`; "" for nothing. */
static const char *said_poles(struct visit *visit, const char *prefix)
{
    const char *rating = NULL;
    const char *said = guide_posted(visit, prefix, "poles");
    const int poles = typed_poles(visit->arena, guide_posted(visit, prefix, "breaker"), &rating);
    return said[0] != '\0' || poles == 0 ? said : arena_printf(visit->arena, "%d", poles);
}

/* A breaker of several poles takes as many spaces: where one is named, the others lie behind it as the set builds them.
 */
static const char *spaces_of(struct visit *visit, const char *prefix, const char *typed)
{
    const struct house *house = visit->house;
    const long poles = strtol(said_poles(visit, prefix), NULL, 10);
    if (house == NULL || typed[0] == '\0' || typed[strspn(typed, "0123456789")] != '\0' || poles < 2 || poles > 3) {
        return typed;
    }
    const bool columns = strcmp(house_rule_set(house)->spaces, "two-columns") == 0;
    struct text text = {0};
    for (long i = 0; i < poles; i++) {
        text_printf(&text, "%s%ld", i == 0 ? "" : ",", strtol(typed, NULL, 10) + i * (columns ? 2 : 1));
    }
    return arena_text(visit->arena, &text);
}

/* What was typed for a key, in the words of a house file. */
static const char *guide_value(struct visit *visit, enum kind kind, const char *prefix, const char *key)
{
    const struct key *row = section_key(&sections[kind], guide_key(key));
    const char *value = typed_value(visit->arena, row, guide_posted(visit, prefix, key));
    return row != NULL && row->type == KEY_POSITION ? spaces_of(visit, prefix, value) : value;
}

/* Poles that stand beside the rating; two spaces are those of a breaker of two poles, where nothing else was said. */
static bool put_poles(struct visit *visit, struct document *document, const char *id, const char *prefix)
{
    const char *spaces = guide_value(visit, KIND_BRANCH, prefix, "position");
    size_t count = 1;
    for (const char *at = spaces; *at != '\0'; at++) {
        count += *at == ',';
    }
    const char *said = said_poles(visit, prefix);
    const char *poles = said[0] != '\0' ? said : count == 2 ? "2" : count == 3 ? "3" : "";
    return poles[0] == '\0' || guide_posted(visit, prefix, "poles")[0] != '\0' ||
           put(visit, document, KIND_BRANCH, id, "poles", poles);
}

/* What goes wrong later is about one of these. */
static void keep_line(struct visit *visit, enum kind kind, const char *id, const char *prefix)
{
    struct form_line *line = arena_take(visit->arena, sizeof *line);
    *line = (struct form_line){kind, prefix, arena_copy(visit->arena, id), visit->lines};
    visit->lines = line;
}

bool guide_apply(struct visit *visit, struct document *document, enum kind kind, const char *id, const char *prefix)
{
    keep_line(visit, kind, id, prefix);
    if (kind == KIND_APPLIANCE && !put_appliance(visit, document, id, prefix)) {
        return false;
    }
    for (size_t i = 0; i < guide_field_count; i++) {
        const char *key = guide_fields[i].key;
        if (is_told(visit, &guide_fields[i], kind, prefix) &&
            !put(visit, document, kind, id, guide_key(key), guide_value(visit, kind, prefix, key))) {
            return false;
        }
    }
    return kind != KIND_BRANCH || put_poles(visit, document, id, prefix);
}
