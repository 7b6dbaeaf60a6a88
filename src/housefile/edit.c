#include "ampsum/edit.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/words.h"
#include "ids.h"
#include "meant.h"

static const char *nearest_id(const struct document *document, const char *word, const char *id)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, id);
    for (size_t i = 0; i < document->section_count; i++) {
        if (strcmp(document->sections[i].word, word) == 0) {
            words_nearest_offer(&nearest, document->sections[i].id);
        }
    }
    return nearest.best;
}

/* Lower case, hyphens for all that is no letter or digit; at most 34 bytes, so that a number fits behind. */
static void add_id_stem(struct text *id, const char *name)
{
    for (const char *at = name; *at != '\0' && id->length < 34; at++) {
        const char c = *at >= 'A' && *at <= 'Z' ? (char)(*at - 'A' + 'a') : *at;
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
            text_add_char(id, c);
        } else if (id->length > 0 && id->bytes[id->length - 1] != '-') {
            text_add_char(id, '-');
        }
    }
    while (id->length > 0 && id->bytes[id->length - 1] == '-') {
        id->bytes[--id->length] = '\0';
    }
}

static bool is_reserved(const char *word, const char *id)
{
    const bool of_panel = strcmp(word, "panel") == 0 && strcmp(id, "main") == 0;
    return of_panel || (strcmp(word, "outlet") == 0 && (strcmp(id, "panel") == 0 || strcmp(id, "end") == 0));
}

/* `id` is emptied for it. */
static const char *stem_of(struct document *document, const char *name, const char *other, struct text *id)
{
    text_clear(id);
    add_id_stem(id, name);
    return id->length == 0 ? other : arena_copy(document->arena, text_string(id));
}

/* The stem itself, then with 2, 3, 4 ... behind it. */
static const char *numbered(const char *stem, unsigned number, struct text *id)
{
    text_clear(id);
    text_add(id, stem);
    if (number > 1) {
        text_printf(id, "-%u", number);
    }
    return text_string(id);
}

const char *edit_free_id(struct document *document, const char *word, const char *name, const char *other)
{
    struct text id = {0};
    const char *stem = stem_of(document, name, other, &id);
    unsigned number = 1;
    const char *next = numbered(stem, number, &id);
    while (is_reserved(word, next) || document_find(document, word, next) != NULL) {
        next = numbered(stem, ++number, &id);
    }
    const char *copy = arena_copy(document->arena, next);
    text_done(&id);
    return copy;
}

void edit_free_ids(struct document *document, const char *word, const char *name, const char *other, size_t count,
                   const char **ret_ids)
{
    struct text id = {0};
    const char *stem = stem_of(document, name, other, &id);
    struct ids taken;
    ids_init(&taken, document->section_count);
    for (size_t i = 0; i < document->section_count; i++) {
        if (strcmp(document->sections[i].word, word) == 0) {
            ids_add(&taken, document->sections[i].id, i);
        }
    }
    unsigned number = 1;
    for (size_t i = 0; i < count;) {
        const char *next = numbered(stem, number++, &id);
        if (!is_reserved(word, next) && ids_find(&taken, next) == NO_INDEX) {
            ret_ids[i++] = arena_copy(document->arena, next);
        }
    }
    ids_done(&taken);
    text_done(&id);
}

/* The kind of section, or NULL with the error set. */
static const struct section *known_section(const char *word, struct error *error)
{
    const struct section *section = section_named(word);
    if (section != NULL) {
        return section;
    }
    const char *meant = meant_section(word);
    error_set(error, ERROR_INPUT,
              "%s: not a kind of section%s%s; expected house, panel, room, branch, outlet, "
              "appliance, scene, tariff or period",
              word, meant == NULL ? "" : ", the nearest is ", meant == NULL ? "" : meant);
    return NULL;
}

static struct document_section *existing_section(struct document *document, const char *word, const char *id,
                                                 struct error *error)
{
    if (known_section(word, error) == NULL) {
        return NULL;
    }
    struct document_section *found = document_find(document, word, id);
    if (found == NULL) {
        const char *near = nearest_id(document, word, id);
        error_set(error, ERROR_INPUT, "%s %s: no %s has this ID%s%s", word, id, word,
                  near == NULL ? "" : "; the nearest is ", near == NULL ? "" : near);
    }
    return found;
}

/* Parts `key=value`, finds the key; value without blanks at its ends. False with the error set. */
static bool split_pair(struct arena *arena, const struct section *section, const char *pair, const struct key **ret_key,
                       const char **ret_value, struct error *error)
{
    const char *equals = strchr(pair, '=');
    if (equals == NULL) {
        error_set(error, ERROR_INPUT, "%s: expected key=value, in quotes where it holds blanks, as in power='1400 W'",
                  pair);
        return false;
    }
    size_t length = (size_t)(equals - pair);
    while (length > 0 && pair[length - 1] == ' ') {
        length--;
    }
    char *name = arena_copy_length(arena, pair, length);
    const char *start = equals + 1 + strspn(equals + 1, " ");
    size_t value_length = strlen(start);
    while (value_length > 0 && start[value_length - 1] == ' ') {
        value_length--;
    }
    *ret_value = arena_copy_length(arena, start, value_length);
    *ret_key = section_key(section, name);
    if (*ret_key == NULL) {
        const char *meant = meant_key(section, name);
        error_set(error, ERROR_INPUT, "%s: [%s] has no such key%s%s", name, section->word,
                  meant == NULL ? "" : "; the nearest is ", meant == NULL ? "" : meant);
        return false;
    }
    if (value_length == 0) {
        error_set(error, ERROR_INPUT, "%s: a value is missing (to take a key out: --unset %s)", pair, name);
        return false;
    }
    return true;
}

/* A rating that carries its trip takes the place of the trip that was there, not of one set in the same breath. */
static void replace_trip(struct document *document, struct document_section *found, const struct key *key,
                         const char *value, bool trip_set)
{
    bool carries = (key->flags & KEY_WITH_TRIP) != 0 && (value[0] < '0' || value[0] > '9');
    if (carries && !trip_set && document_value(found, "trip") != NULL) {
        document_set(document, found, "trip", NULL);
    }
}

static bool set_pairs(struct document *document, struct document_section *found, const char *const *pairs,
                      size_t pair_count, struct error *error)
{
    const struct section *section = section_named(found->word);
    bool trip_set = false;
    for (size_t i = 0; i < pair_count; i++) {
        trip_set = trip_set || strncmp(pairs[i], "trip", 4) == 0;
    }
    for (size_t i = 0; i < pair_count; i++) {
        const struct key *key = NULL;
        const char *value = NULL;
        if (!split_pair(document->arena, section, pairs[i], &key, &value, error)) {
            return false;
        }
        replace_trip(document, found, key, value, trip_set);
        document_set(document, found, key->name, value);
    }
    return true;
}

bool edit_add(struct document *document, const char *word, const char *id, const char *const *pairs, size_t pair_count,
              struct error *error)
{
    const struct section *section = known_section(word, error);
    if (section == NULL) {
        return false;
    }
    if (!section->takes_id) {
        error_set(error, ERROR_INPUT, "%s: there is exactly one; change it with `set house key=value`", word);
        return false;
    }
    if (!words_is_id(id)) {
        struct text such = {0};
        meant_id(id, &such);
        error_set(error, ERROR_INPUT, "%s %s: not an ID, expected 1 to 40 of a-z, 0-9 and -%s", word, id,
                  text_string(&such));
        text_done(&such);
        return false;
    }
    if (document_find(document, word, id) != NULL) {
        error_set(error, ERROR_INPUT, "%s %s: this ID is taken; change it with `set %s %s key=value`", word, id, word,
                  id);
        return false;
    }
    return set_pairs(document, document_add(document, word, id), pairs, pair_count, error);
}

bool edit_set(struct document *document, const char *word, const char *id, const char *const *pairs, size_t pair_count,
              struct error *error)
{
    bool is_main = strcmp(word, "panel") == 0 && strcmp(id, "main") == 0; /* always there, written or not */
    struct document_section *found = is_main && document_find(document, word, id) == NULL
                                         ? document_add(document, word, id)
                                         : existing_section(document, word, id, error);
    return found != NULL && set_pairs(document, found, pairs, pair_count, error);
}

bool edit_unset(struct document *document, const char *word, const char *id, const char *key, struct error *error)
{
    struct document_section *found = existing_section(document, word, id, error);
    if (found == NULL) {
        return false;
    }
    if (document_value(found, key) == NULL) {
        error_set(error, ERROR_INPUT, "%s %s: %s is not given, so there is nothing to take out", word, id, key);
        return false;
    }
    document_set(document, found, key, NULL);
    return true;
}

/* The main panel goes without saying. */
static bool is_default(enum kind kind, const char *key, const char *value)
{
    const struct key *found = section_key(&sections[kind], key);
    return found != NULL && found->type == KEY_REFERENCE && found->target == KIND_PANEL && strcmp(value, "main") == 0;
}

bool edit_put(struct document *document, enum kind kind, const char *id, const char *key, const char *value,
              struct error *error)
{
    const char *word = kind_word(kind);
    const struct document_section *section = document_find(document, word, id);
    const char *now = section == NULL ? NULL : document_value(section, key);
    if (now != NULL && strcmp(now, value) == 0) {
        return true;
    }
    if (value[0] == '\0' || is_default(kind, key, value)) {
        return now == NULL || edit_unset(document, word, id, key, error);
    }
    const char *pair = arena_printf(document->arena, "%s=%s", key, value);
    return edit_set(document, word, id, &pair, 1, error);
}

bool edit_set_dotted(struct document *document, const char *assignment, struct error *error)
{
    const char *dot = strchr(assignment, '.');
    const char *equals = strchr(assignment, '=');
    if (dot == NULL || equals == NULL || dot > equals) {
        error_set(error, ERROR_INPUT, "%s: expected APPLIANCE.key=value", assignment);
        return false;
    }
    char *id = arena_copy_length(document->arena, assignment, (size_t)(dot - assignment));
    const char *pair = dot + 1;
    return edit_set(document, "appliance", id, &pair, 1, error);
}

/* ---- moving */

bool edit_move(struct document *document, const char *appliance, const char *target, struct error *error)
{
    struct document_section *found = existing_section(document, "appliance", appliance, error);
    if (found == NULL) {
        return false;
    }
    bool as_branch = strncmp(target, "branch:", 7) == 0;
    bool as_outlet = strncmp(target, "outlet:", 7) == 0;
    const char *id = as_branch || as_outlet ? target + 7 : target;
    struct document_section *outlet = as_branch ? NULL : document_find(document, "outlet", id);
    struct document_section *branch = as_outlet ? NULL : document_find(document, "branch", id);
    if (outlet != NULL && branch != NULL) {
        error_set(error, ERROR_INPUT, "%s: both an outlet and a branch; expected outlet:%s or branch:%s", id, id, id);
        return false;
    }
    if (outlet == NULL && branch == NULL) {
        const char *near = nearest_id(document, "branch", id);
        near = near == NULL ? nearest_id(document, "outlet", id) : near;
        error_set(error, ERROR_INPUT, "%s: no branch or outlet has this ID%s%s", id,
                  near == NULL ? "" : "; the nearest is ", near == NULL ? "" : near);
        return false;
    }
    document_set(document, found, "outlet", outlet != NULL ? id : NULL);
    document_set(document, found, "branch", outlet != NULL ? NULL : id);
    if (outlet != NULL) {
        document_set(document, found, "room", NULL);
    }
    return true;
}

/* ---- removing */

/* One place in the document that names another section. */
struct hanger {
    const char *word;
    const char *id;
    const struct key *key;
};

/* A dependent goes with what it names: it cannot be without it. Everything else only loses the mention. */
static bool goes_along(const struct hanger *hanger)
{
    static const struct {
        const char *word;
        const char *key;
    } rows[] = {
        {"outlet", "branch"}, {"appliance", "branch"}, {"appliance", "outlet"}, {"period", "tariff"},
        {"branch", "panel"},  {"panel", "from"},       {"outlet", "from"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (strcmp(hanger->word, rows[i].word) == 0 && strcmp(hanger->key->name, rows[i].key) == 0) {
            return true;
        }
    }
    return false;
}

/* Length of the ID at the start of a list entry: up to a comma, a star or a blank. */
static size_t entry_id_length(const char *entry)
{
    return strcspn(entry, ",* ");
}

/* True where the value of a key (one ID, or a list of them) names `id`. */
static bool value_names(const struct key *key, const char *value, const char *id)
{
    if (key->type == KEY_REFERENCE) {
        return strcmp(value, id) == 0;
    }
    for (const char *at = value; *at != '\0';) {
        at += strspn(at, ", ");
        size_t length = entry_id_length(at);
        if (length > 0 && strlen(id) == length && strncmp(at, id, length) == 0) {
            return true;
        }
        at += strcspn(at, ",");
    }
    return false;
}

static bool is_reference_to(const struct key *key, enum kind kind)
{
    return ((key->type == KEY_REFERENCE || key->type == KEY_REFERENCE_LIST) && key->target == kind) ||
           (key->type == KEY_SCENE && kind == KIND_APPLIANCE);
}

/* The first place that names the section, or false. */
static bool find_hanger(const struct document *document, enum kind kind, const char *id, size_t from_section,
                        struct hanger *ret_hanger, size_t *ret_section)
{
    for (size_t i = from_section; i < document->section_count; i++) {
        const struct document_section *section = &document->sections[i];
        const struct section *table = section_named(section->word);
        for (size_t k = 0; k < section->key_count; k++) {
            const struct key *key = section_key(table, section->keys[k].name);
            if (key != NULL && is_reference_to(key, kind) && value_names(key, section->keys[k].value, id)) {
                *ret_hanger = (struct hanger){section->word, section->id, key};
                *ret_section = i;
                return true;
            }
        }
    }
    return false;
}

/* The list without the entry of that ID; NULL where nothing is left. */
static const char *list_without(struct arena *arena, const char *value, const char *id)
{
    struct text left = {0};
    for (const char *at = value; *at != '\0';) {
        at += strspn(at, ", ");
        size_t length = strcspn(at, ",");
        size_t id_length = entry_id_length(at);
        if (length > 0 && !(strlen(id) == id_length && strncmp(at, id, id_length) == 0)) {
            text_add(&left, left.length > 0 ? ", " : "");
            text_add_length(&left, at, length);
        }
        at += length;
    }
    const char *copy = left.length > 0 ? arena_copy(arena, text_string(&left)) : NULL;
    text_done(&left);
    return copy;
}

/* Sections that were removed and whose mentions still stand in the document. */
struct gone_list {
    struct gone {
        enum kind kind;
        const char *id;
    } * gone;
    size_t count;
    size_t capacity;
};

static void gone_add(struct gone_list *list, enum kind kind, const char *id)
{
    list->gone = memory_grow(list->gone, list->count, &list->capacity, sizeof *list->gone);
    list->gone[list->count++] = (struct gone){kind, id};
}

static void along_add(struct edit_along_list *list, struct edit_along row)
{
    list->rows = memory_grow(list->rows, list->count, &list->capacity, sizeof *list->rows);
    list->rows[list->count++] = row;
}

void edit_along_done(struct edit_along_list *list)
{
    free(list->rows);
    *list = (struct edit_along_list){0};
}

void edit_along_text(const struct edit_along_list *list, struct text *text)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct edit_along *row = &list->rows[i];
        if (row->key == NULL) {
            text_printf(text, "%s %s: removed with it\n", row->word, row->id);
        } else if (row->named == NULL) {
            text_printf(text, "%s %s: %s no longer means anything\n", row->word, row->id, row->key);
        } else {
            text_printf(text, "%s %s: %s no longer names %s\n", row->word, row->id, row->key, row->named);
        }
    }
}

/* What is said of the handles of a shared neutral goes with the last branch that shared it. */
static void drop_tied(struct document *document, const char *branch, struct edit_along_list *along)
{
    struct document_section *section = branch == NULL ? NULL : document_find(document, "branch", branch);
    if (section == NULL || document_value(section, "tied") == NULL ||
        document_value(section, "shared_neutral") != NULL) {
        return;
    }
    for (size_t i = 0; i < document->section_count; i++) {
        const char *other = strcmp(document->sections[i].word, "branch") == 0
                                ? document_value(&document->sections[i], "shared_neutral")
                                : NULL;
        if (other != NULL && strcmp(other, branch) == 0) {
            return;
        }
    }
    document_set(document, section, "tied", NULL);
    along_add(along, (struct edit_along){"branch", arena_copy(document->arena, branch), "tied", NULL});
}

/* Removes the dependent, or takes the mention out of it. */
static void detach(struct document *document, const struct hanger *hanger, const char *id, struct gone_list *list,
                   struct edit_along_list *along)
{
    struct document_section *section = document_find(document, hanger->word, hanger->id);
    const char *left = NULL;
    if (hanger->key->type != KEY_REFERENCE) {
        left = list_without(document->arena, document_value(section, hanger->key->name), id);
    }
    bool empty_scene = hanger->key->type == KEY_SCENE && left == NULL;
    if (goes_along(hanger) || empty_scene) {
        const char *gone = arena_copy(document->arena, hanger->id);
        const char *shared = document_value(section, "shared_neutral");
        along_add(along, (struct edit_along){hanger->word, gone, NULL, NULL});
        gone_add(list, section_named(hanger->word)->kind, gone);
        document_remove(document, hanger->word, hanger->id);
        drop_tied(document, shared, along);
        return;
    }
    document_set(document, section, hanger->key->name, left);
    along_add(along, (struct edit_along){hanger->word, hanger->id, hanger->key->name, id});
    if (strcmp(hanger->key->name, "shared_neutral") == 0) {
        drop_tied(document, hanger->id, along);
    }
}

/* A queue, not recursion: a chain of outlets may be long. */
static void remove_along(struct document *document, enum kind kind, const char *id, struct edit_along_list *along)
{
    struct gone_list list = {0};
    gone_add(&list, kind, id);
    for (size_t i = 0; i < list.count; i++) {
        struct gone gone = list.gone[i];
        struct hanger hanger;
        size_t section = 0;
        while (find_hanger(document, gone.kind, gone.id, 0, &hanger, &section)) {
            detach(document, &hanger, gone.id, &list, along);
        }
    }
    free(list.gone);
}

static void list_hangers(const struct document *document, enum kind kind, const char *id, struct text *list)
{
    struct hanger hanger;
    size_t section = 0;
    size_t count = 0;
    for (size_t from = 0; find_hanger(document, kind, id, from, &hanger, &section); from = section + 1) {
        if (++count <= 20) {
            text_printf(list, "\n  %s %s%s%s", hanger.word, hanger.id, hanger.id[0] == '\0' ? "" : " ",
                        goes_along(&hanger) ? "(hangs on it)" : "(names it)");
        }
    }
    if (count > 20) {
        text_printf(list, "\n  and %zu more", count - 20);
    }
}

bool edit_remove(struct document *document, const char *word, const char *id, bool with_all,
                 struct edit_along_list *ret_along, struct error *error)
{
    struct document_section *found = existing_section(document, word, id, error);
    if (found == NULL) {
        return false;
    }
    const struct section *section = section_named(word);
    if (!section->takes_id) {
        error_set(error, ERROR_INPUT, "%s: a house file needs exactly one, so it can't be removed", word);
        return false;
    }
    const char *kept_id = arena_copy(document->arena, id);
    struct text list = {0};
    list_hangers(document, section->kind, kept_id, &list);
    bool free_standing = list.length == 0;
    if (!free_standing && !with_all) {
        error_set(error, ERROR_INPUT, "%s %s: these would be left hanging, expected --with-all to take them along:%s",
                  word, id, text_string(&list));
    } else {
        const char *shared = document_value(found, "shared_neutral");
        document_remove(document, word, kept_id);
        drop_tied(document, shared, ret_along);
        remove_along(document, section->kind, kept_id, ret_along);
    }
    text_done(&list);
    return free_standing || with_all;
}
