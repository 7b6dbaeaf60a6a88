/* What a form of the guide brought, put into a document key by key; the document is checked when it is built. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/freetext.h"
#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "ampsum/typed.h"
#include "guide.h"

void guide_rating_units(struct visit *visit, const char *chosen)
{
    const char *unit = NULL;
    for (size_t i = 0; (unit = typed_plate_unit(i)) != NULL; i++) {
        page_option(visit, unit, unit, chosen);
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

void guide_rating(struct visit *visit, const struct document_section *section, const char **ret_number,
                  const char **ret_unit)
{
    for (size_t i = 0; typed_plate_keys[i] != NULL && section != NULL; i++) {
        const char *value = document_value(section, typed_plate_keys[i]);
        if (value != NULL) {
            typed_plate_parts(visit->arena, typed_plate_keys[i], value, ret_number, ret_unit);
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
bool guide_put(struct visit *visit, struct document *document, enum kind kind, const char *id, const char *key,
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
    return edit_set(document, word, id, &pair, 1, &visit->error);
}

/* The rating under the key of its unit (NULL: none); the other keys of ratings are taken out. */
static bool put_rating(struct visit *visit, struct document *document, const char *id, const struct typed_plate *plate)
{
    bool good = true;
    for (size_t i = 0; typed_plate_keys[i] != NULL && good; i++) {
        const bool other = plate == NULL || strcmp(typed_plate_keys[i], plate->key) != 0;
        good = !other || guide_put(visit, document, KIND_APPLIANCE, id, typed_plate_keys[i], "");
    }
    return good && (plate == NULL || guide_put(visit, document, KIND_APPLIANCE, id, plate->key, plate->value));
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
    good = good && put_rating(visit, document, id, NULL);
    return good && edit_set(document, "appliance", id, load.pairs, load.pair_count, &visit->error) &&
           guide_put(visit, document, KIND_APPLIANCE, id, "rating_from", load.rated ? "plate" : "");
}

/* A new thing with a rating typed beside its name is what things of that name are; the plate replaces only what it
 * says. */
static bool put_rated(struct visit *visit, struct document *document, const char *id, const char *name,
                      const char *rating, const char *unit)
{
    struct freetext load;
    struct error unread = {0};
    const struct typed_plate plate = typed_plate(visit->arena, rating, unit);
    const char *spoken = arena_printf(visit->arena, "%s, %s", name, plate.value);
    const bool known = form_value(&visit->body, "id")[0] == '\0' &&
                       freetext_read(visit->arena, spoken, visit->house->rules, &load, &unread) &&
                       strcmp(load.name, name) == 0;
    bool good = !known || edit_set(document, "appliance", id, load.pairs, load.pair_count, &visit->error);
    error_done(&unread);
    return good && guide_put(visit, document, KIND_APPLIANCE, id, "name", name) &&
           put_rating(visit, document, id, &plate);
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
    return guide_put(visit, document, KIND_APPLIANCE, id, "rating_from", changed && repeats ? "plate" : said);
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

/* What was said of a breaker's poles: in their own field, or beside its rating as `30A 2 pole`; 0 for nothing. */
static int said_poles(struct visit *visit, const char *prefix)
{
    const char *rating = NULL;
    const char *said = guide_posted(visit, prefix, "poles");
    return said[0] != '\0' ? (int)strtol(said, NULL, 10)
                           : typed_poles(visit->arena, guide_posted(visit, prefix, "breaker"), &rating);
}

/* What was typed for a key, in the words of a house file. */
static const char *guide_value(struct visit *visit, enum kind kind, const char *prefix, const char *key)
{
    const struct key *row = section_key(&sections[kind], guide_key(key));
    const char *value = typed_value(visit->arena, row, guide_posted(visit, prefix, key));
    const bool spaces = row != NULL && row->type == KEY_POSITION && visit->house != NULL;
    return spaces ? typed_spaces(visit->arena, value, said_poles(visit, prefix), house_has_two_columns(visit->house))
                  : value;
}

/* Poles that stand beside the rating, or follow from the spaces; what stands in their own field is put as it is. */
static bool put_poles(struct visit *visit, struct document *document, const char *id, const char *prefix)
{
    const int said = said_poles(visit, prefix);
    const int poles = said != 0 ? said : typed_spaces_poles(guide_value(visit, KIND_BRANCH, prefix, "position"));
    return poles == 0 || guide_posted(visit, prefix, "poles")[0] != '\0' ||
           guide_put(visit, document, KIND_BRANCH, id, "poles", arena_printf(visit->arena, "%d", poles));
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
            !guide_put(visit, document, kind, id, guide_key(key), guide_value(visit, kind, prefix, key))) {
            return false;
        }
    }
    return kind != KIND_BRANCH || put_poles(visit, document, id, prefix);
}
