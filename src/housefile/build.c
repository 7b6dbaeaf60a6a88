/* Document -> house: every key by its table row, references by ID, then the rules across them. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/items.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/values.h"
#include "header.h"
#include "meant.h"

static bool place_sections(struct build *build);
static void make_rows(struct build *build);
static void read_sections(struct build *build);
static void keep_tied(struct build *build);
static void build_done(struct build *build);

struct house *build_house(const struct document *document, struct faults *faults)
{
    struct build build = {.document = document, .faults = faults, .house = house_new()};
    if (place_sections(&build)) {
        make_rows(&build);
        read_sections(&build);
        check_places(&build);
        keep_tied(&build);
        house_finish(build.house);
        check_house(&build);
    }
    build_done(&build);
    if (faults->count > 0) {
        house_free(build.house);
        return NULL;
    }
    return build.house;
}

bool house_build(const struct document *document, struct house **ret_house, struct error *error)
{
    struct faults faults;
    faults_init(&faults, document->source);
    struct house *house = build_house(document, &faults);
    bool good = faults_report(&faults, error);
    faults_done(&faults);
    if (good) {
        *ret_house = house;
    }
    return good;
}

static void keep_tied(struct build *build)
{
    const struct house *house = build->house;
    build->tied = memory_resize(NULL, house->branch_count, sizeof *build->tied);
    for (size_t i = 0; i < house->branch_count; i++) {
        build->tied[i] = house->branches[i].tied;
    }
}

static void build_done(struct build *build)
{
    free(build->tied);
    for (size_t i = 0; i < KIND_COUNT; i++) {
        free(build->section_of[i]);
        free(build->mark[i]);
        ids_done(&build->ids[i]);
    }
}

/* ------------------------------------------------------------------ faults of a row ------------------------------ */

static const struct document_section *section_of(const struct build *build, enum kind kind, size_t row)
{
    return build->section_of[kind] != NULL ? build->section_of[kind][row] : NULL;
}

static const struct document_key *key_of(const struct document_section *section, const char *name)
{
    for (size_t i = 0; section != NULL && name != NULL && i < section->key_count; i++) {
        if (strcmp(section->keys[i].name, name) == 0) {
            return &section->keys[i];
        }
    }
    return NULL;
}

bool row_has_key(const struct build *build, enum kind kind, size_t row, const char *key)
{
    return key_of(section_of(build, kind, row), key) != NULL;
}

int row_line(const struct build *build, enum kind kind, size_t row, const char *name)
{
    const struct document_section *section = section_of(build, kind, row);
    const struct document_key *key = key_of(section, name);
    return key != NULL ? key->line : section != NULL ? section->line : 0;
}

void row_fault(struct build *build, enum kind kind, size_t row, const char *name, const char *format, ...)
{
    const int line = row_line(build, kind, row, name);
    const struct document_section *section = section_of(build, kind, row);
    const struct document_key *key = key_of(section, name);
    struct fault_place place = {.key = name, .value = key == NULL ? NULL : key->value};
    if (section != NULL) {
        place.section = section->word;
        place.id = section->id;
    }
    va_list arguments;
    va_start(arguments, format);
    faults_add_list(build->faults, line, &place, format, arguments);
    va_end(arguments);
}

void add_place(const struct build *build, enum kind kind, size_t row, const char *key, struct text *text)
{
    int line = row_line(build, kind, row, key);
    if (build->document->source[0] != '\0') {
        text_printf(text, " at %s", build->document->source);
    }
    if (line > 0) {
        text_printf(text, ":%d", line);
    }
}

/* ------------------------------------------------------------------ sections -> rows ----------------------------- */

/* The kind of each section, KIND_COUNT for one that is refused; counts the rows of each kind. */
static enum kind *sort_sections(struct build *build, size_t count[KIND_COUNT])
{
    const struct document *document = build->document;
    enum kind *kinds = memory_resize(NULL, document->section_count, sizeof *kinds);
    for (size_t i = 0; i < document->section_count; i++) {
        const struct document_section *given = &document->sections[i];
        const struct section *section = header_check(build->faults, given->line, given->word, given->id);
        kinds[i] = section != NULL ? section->kind : KIND_COUNT;
        bool is_single = kinds[i] == KIND_HOUSE || (kinds[i] == KIND_PANEL && strcmp(given->id, "main") == 0);
        if (section != NULL && !is_single) {
            count[kinds[i]]++;
        }
    }
    return kinds;
}

static void refuse_section_twice(struct build *build, const struct document_section *section, size_t first_row,
                                 enum kind kind)
{
    if (!faults_want(build->faults, section->line)) {
        build->faults->count++;
        return;
    }
    struct text text = {0};
    add_header(&text, section->word, section->id);
    text_add(&text, " is given twice, first");
    add_place(build, kind, first_row, NULL, &text);
    text_add(&text, ", expected it once");
    faults_add(build->faults, section->line, "%s", text_string(&text));
    text_done(&text);
}

/* Room to find a kind's rows by ID, and their sections. */
static void make_index(struct build *build, const size_t count[KIND_COUNT])
{
    for (int kind = KIND_HOUSE; kind < KIND_COUNT; kind++) {
        /* the house and the main panel are always there */
        size_t rows = kind == KIND_HOUSE || kind == KIND_PANEL ? count[kind] + 1 : count[kind];
        build->row_count[kind] = rows;
        build->section_of[kind] = memory_resize(NULL, rows, sizeof build->section_of[kind][0]);
        for (size_t row = 0; row < rows; row++) {
            build->section_of[kind][row] = NULL;
        }
        ids_init(&build->ids[kind], rows);
    }
    ids_add(&build->ids[KIND_PANEL], "main", 0);
}

/* Gives a section its row; `next` is the first free row of its kind. */
static void place_section(struct build *build, const struct document_section *section, enum kind kind, size_t *next)
{
    bool is_single = kind == KIND_HOUSE || (kind == KIND_PANEL && strcmp(section->id, "main") == 0);
    size_t row = is_single ? 0 : (*next)++;
    size_t first = is_single ? row : ids_add(&build->ids[kind], section->id, row);
    bool is_twice = is_single ? build->section_of[kind][0] != NULL : first != NO_INDEX;
    if (is_twice) {
        refuse_section_twice(build, section, first, kind);
    }
    if (!is_single || !is_twice) {
        build->section_of[kind][row] = section;
    }
}

static void check_required(struct build *build, const struct document_section *section, enum kind kind)
{
    const struct section *table = &sections[kind];
    if (kind == KIND_PANEL && strcmp(section->id, "main") == 0) {
        return;
    }
    for (size_t i = 0; i < table->key_count; i++) {
        const struct key *key = &table->keys[i];
        if ((key->flags & KEY_REQUIRED) == 0 || key_of(section, key->name) != NULL) {
            continue;
        }
        struct text meaning = {0};
        key_meaning(key, &meaning);
        faults_add_at(build->faults, section->line,
                      &(struct fault_place){.section = section->word, .id = section->id, .key = key->name},
                      "%s is missing, expected %s = (%s)", key->name, key->name, text_string(&meaning));
        text_done(&meaning);
    }
}

/*
 * Gives every section its row. False where that alone brings more faults than are shown: then nothing is built, so that
 * a large file of rubbish costs neither time nor memory.
 */
static bool place_sections(struct build *build)
{
    size_t count[KIND_COUNT] = {0};
    enum kind *kinds = sort_sections(build, count);
    make_index(build, count);
    size_t next[KIND_COUNT] = {[KIND_PANEL] = 1};
    for (size_t i = 0; i < build->document->section_count; i++) {
        if (kinds[i] != KIND_COUNT) {
            place_section(build, &build->document->sections[i], kinds[i], &next[kinds[i]]);
            check_required(build, &build->document->sections[i], kinds[i]);
        }
    }
    free(kinds);
    if (build->section_of[KIND_HOUSE][0] == NULL) {
        faults_add(build->faults, 0, "no [house] section, expected one");
    }
    return build->faults->count <= HOUSEFILE_FAULTS_MOST;
}

static void make_rows(struct build *build)
{
    struct house *house = build->house;
    for (int kind = KIND_PANEL; kind < KIND_COUNT; kind++) {
        char *rows = house_add_rows(house, (enum kind)kind, build->row_count[kind]);
        for (size_t row = 0; row < build->row_count[kind]; row++) {
            /* every row but the house begins with `given` and `id` */
            const char *id = arena_copy(house->arena, build->ids[kind].id[row]);
            memcpy(rows + row * house_row_size((enum kind)kind) + offsetof(struct room, id), &id, sizeof id);
        }
    }
}

/* ------------------------------------------------------------------ references ---------------------------------- */

static void explain_unknown(struct build *build, enum kind kind, const char *id, struct text *fault)
{
    size_t count = 0;
    house_rows(build->house, kind, &count);
    struct words_nearest nearest;
    words_nearest_init(&nearest, id);
    for (size_t row = 0; row < count && build->faults->nearest_budget > 0; row++) {
        faults_offer(build->faults, &nearest, build->ids[kind].id[row]);
    }
    text_printf(fault, "no %s has the ID `", kind_word(kind));
    text_add_shown(fault, id);
    const char *word = kind_word(kind);
    text_printf(fault, "`, expected the ID of %s %s section", strchr("aeiou", word[0]) != NULL ? "an" : "a", word);
    if (nearest.best != NULL) {
        text_printf(fault, " (nearest: %s)", nearest.best);
    } else if (count == 0) {
        text_add(fault, " (there is none)");
    }
}

/* The row of the ID; NO_INDEX and a reason where there is none. */
static size_t find_row(struct build *build, enum kind kind, const char *id, bool is_wanted, struct text *fault)
{
    size_t row = ids_find(&build->ids[kind], id);
    if (row == NO_INDEX && is_wanted) {
        explain_unknown(build, kind, id, fault);
    }
    return row;
}

/* What reading one key's value needs. */
struct value {
    struct build *build;
    const struct key *key;
    const char *string;
    char *field;
    bool is_wanted; /* a fault would be shown: spell it out */
    struct text *fault;
};

static bool read_reference(const struct value *value)
{
    size_t row = NO_INDEX;
    if ((value->key->flags & KEY_OR_PANEL) == 0 || strcmp(value->string, "panel") != 0) {
        row = find_row(value->build, value->key->target, value->string, value->is_wanted, value->fault);
        if (row == NO_INDEX) {
            return false;
        }
    }
    memcpy(value->field, &row, sizeof row);
    return true;
}

/* True the first time that a list names the row; `stamp` tells lists apart. */
static bool mark_row(struct build *build, enum kind kind, size_t row, unsigned stamp)
{
    if (build->mark[kind] == NULL) {
        size_t count = 0;
        house_rows(build->house, kind, &count);
        build->mark[kind] = memory_new(count * sizeof build->mark[kind][0]);
        memset(build->mark[kind], 0, count * sizeof build->mark[kind][0]);
    }
    bool is_new = build->mark[kind][row] != stamp;
    build->mark[kind][row] = stamp;
    return is_new;
}

/* The row that a list's item names, once in each list. */
static bool read_item(const struct value *value, enum kind kind, const char *id, unsigned stamp, size_t *ret_row)
{
    *ret_row = find_row(value->build, kind, id, value->is_wanted, value->fault);
    if (*ret_row == NO_INDEX) {
        return false;
    }
    if (!mark_row(value->build, kind, *ret_row, stamp)) {
        text_printf(value->fault, "%s is given twice in the list, expected each once", id);
        return false;
    }
    return true;
}

static bool read_reference_list(const struct value *value)
{
    struct build *build = value->build;
    unsigned stamp = ++build->mark_last;
    struct index_list list = {arena_array(build->house->arena, items_most(value->string), sizeof(size_t)), 0};
    struct items items;
    items_init(&items, value->string);
    bool good = true;
    while (good && items_next(&items, value->fault)) {
        good = read_item(value, value->key->target, text_string(&items.item), stamp, &list.index[list.count]);
        list.count += good;
    }
    good = good && !items.is_faulty;
    items_done(&items);
    if (good) {
        memcpy(value->field, &list, sizeof list);
    }
    return good;
}

static bool read_scene(const struct value *value)
{
    enum { UNITS_MOST = 10000 };
    struct build *build = value->build;
    unsigned stamp = ++build->mark_last;
    struct scene_list list = {arena_array(build->house->arena, items_most(value->string), sizeof(struct scene_member)),
                              0};
    struct items items;
    items_init(&items, value->string);
    bool good = true;
    while (good && items_next(&items, value->fault)) {
        struct scene_member *member = &list.member[list.count];
        char *units = item_split(items.item.bytes, '*');
        long count = 0;
        good = (units == NULL || quantity_read_whole(units, 1, UNITS_MOST, &count, value->fault)) &&
               read_item(value, KIND_APPLIANCE, items.item.bytes, stamp, &member->appliance);
        member->units = (unsigned)count;
        list.count += good;
    }
    good = good && !items.is_faulty;
    items_done(&items);
    if (good) {
        memcpy(value->field, &list, sizeof list);
    }
    return good;
}

/* ------------------------------------------------------------------ keys of a row -------------------------------- */

static bool read_value(const struct value *value, void *row)
{
    switch (value->key->type) {
    case KEY_REFERENCE:
        return read_reference(value);
    case KEY_REFERENCE_LIST:
        return read_reference_list(value);
    case KEY_SCENE:
        return read_scene(value);
    default:
        return value_read(value->key, value->string, value->build->house, row, value->fault);
    }
}

/* `B16`: the word of a tripping characteristic with the rating behind it; the row's trip is then given. */
static const char *split_trip(struct build *build, const char *string, int *ret_trip)
{
    const struct key *trip = section_key(&sections[KIND_BRANCH], "trip");
    for (const struct choice *choice = trip->choices; choice->word != NULL; choice++) {
        size_t length = strlen(choice->word);
        bool number_behind = strncmp(string, choice->word, length) == 0 &&
                             strchr("0123456789", string[length]) != NULL && string[length] != '\0';
        if (number_behind && strpbrk(choice->word, "0123456789") == NULL &&
            key_choice_allowed(trip, build->house->rules, choice->value)) {
            *ret_trip = choice->value;
            return string + length;
        }
    }
    return NULL;
}

/* `B16` in a house whose rules know no such letters: says whose they are. */
static bool refuse_trip(struct build *build, const char *string, struct text *fault)
{
    const struct key *trip = section_key(&sections[KIND_BRANCH], "trip");
    for (const struct choice *choice = trip->choices; choice->word != NULL; choice++) {
        const bool letter = strlen(choice->word) == 1 && string[0] == choice->word[0];
        const bool digits = letter && string[1] != '\0' && strspn(string + 1, "0123456789.") == strlen(string + 1);
        if (digits && !key_choice_allowed(trip, build->house->rules, choice->value)) {
            text_printf(fault, "`%s` is a rating with the letter of ", choice->word);
            reference_choice_sets(fault, "trip", choice->word);
            text_printf(fault, " rules; this house is %s, expected the rating alone, %s A",
                        rules_word(build->house->rules), string + 1);
            return true;
        }
    }
    return false;
}

/* A rating that carries its trip. False with a fault where the section names a trip besides. */
static bool read_with_trip(const struct value *value, const struct document_section *section, char *row,
                           bool *ret_trip_given)
{
    int trip = 0;
    const char *rating = split_trip(value->build, value->string, &trip);
    if (rating == NULL && refuse_trip(value->build, value->string, value->fault)) {
        return false;
    }
    if (rating == NULL) {
        return value_read(value->key, value->string, value->build->house, row, value->fault);
    }
    const struct document_key *beside = key_of(section, "trip");
    if (beside != NULL) {
        text_printf(value->fault, "says how it trips, and so does trip = ");
        text_add_shown(value->fault, beside->value);
        text_add(value->fault, ", expected one of them: a bare rating, or no trip");
        return false;
    }
    if (!value_read(value->key, rating, value->build->house, row, value->fault)) {
        return false;
    }
    memcpy(row + section_key(&sections[KIND_BRANCH], "trip")->offset, &trip, sizeof trip);
    *ret_trip_given = true;
    return true;
}

static bool read_key(struct build *build, const struct document_section *section, const struct document_key *given,
                     const struct key *key, char *row, bool *ret_trip_given)
{
    struct text fault = {0};
    const struct fault_place place = {section->word, section->id, given->name, given->value};
    const struct value value = {build, key, given->value, row + key->offset, faults_want(build->faults, given->line),
                                &fault};
    bool good = (key->flags & KEY_WITH_TRIP) != 0 ? read_with_trip(&value, section, row, ret_trip_given)
                                                  : read_value(&value, row);
    if (!good && !value.is_wanted) {
        build->faults->count++;
    } else if (!good) {
        meant_rating(section_named(section->word), key, given->value, &fault);
        faults_add_at(build->faults, given->line, &place, "%s", text_string(&fault));
    }
    text_done(&fault);
    return good;
}

/* `from = panel` says what holds without it: it is not kept as given, and a database has no place for it either. */
static bool says_panel(const struct key *key, const char *row)
{
    size_t index = 0;
    if (key->type != KEY_REFERENCE || (key->flags & KEY_OR_PANEL) == 0) {
        return false;
    }
    memcpy(&index, row + key->offset, sizeof index);
    return index == NO_INDEX;
}

/* A key that only other rule sets know. */
static void refuse_foreign(struct build *build, const struct document_section *section,
                           const struct document_key *given, const struct key *key)
{
    if (!faults_want(build->faults, given->line)) {
        build->faults->count++;
        return;
    }
    struct text text = {0};
    text_printf(&text, "`%s` is of ", key->name);
    reference_key_sets(&text, key->name);
    text_printf(&text, " rules; this house is %s, expected the line left out", rules_word(build->house->rules));
    faults_add_at(build->faults, given->line,
                  &(struct fault_place){section->word, section->id, given->name, given->value}, "%s",
                  text_string(&text));
    text_done(&text);
}

/* Reads the keys of a section into its row. */
static void read_row(struct build *build, enum kind kind, const struct document_section *section, char *row)
{
    const struct section *table = &sections[kind];
    uint64_t given_bits = 0;
    bool trip_given = false;
    for (size_t i = 0; i < section->key_count; i++) {
        const struct document_key *given = &section->keys[i];
        const struct key *key = key_check(build->faults, given->line, table, section->id, given->name);
        if (key != NULL && (build->foreign[kind] & key_bit(table, key)) != 0) {
            refuse_foreign(build, section, given, key);
        } else if (key != NULL && read_key(build, section, given, key, row, &trip_given) && !says_panel(key, row)) {
            given_bits |= key_bit(table, key);
        }
    }
    given_bits |= trip_given ? key_bit(table, section_key(table, "trip")) : 0;
    size_t offset = kind == KIND_HOUSE ? offsetof(struct house, given) : 0;
    memcpy(row + offset, &given_bits, sizeof given_bits);
}

static void find_foreign_keys(struct build *build)
{
    for (int kind = KIND_HOUSE; kind < KIND_COUNT; kind++) {
        for (size_t i = 0; i < sections[kind].key_count; i++) {
            const struct key *key = &sections[kind].keys[i];
            build->foreign[kind] |= key_known(key, build->house->rules) ? 0 : key_bit(&sections[kind], key);
        }
    }
}

/*
 * What a bare length means and which keys there are hangs on the rules: they are read ahead of everything. A fault
 * shows up with the rest; no key is refused then for being another rule set's.
 */
static bool read_rules(struct build *build)
{
    bool good = false;
    const struct document_section *section = build->section_of[KIND_HOUSE][0];
    const struct document_key *given = key_of(section, "rules");
    if (given != NULL) {
        struct text fault = {0};
        good =
            value_read(section_key(&sections[KIND_HOUSE], "rules"), given->value, build->house, build->house, &fault);
        text_done(&fault);
    }
    if (good) {
        find_foreign_keys(build);
    }
    return good;
}

static void read_sections(struct build *build)
{
    bool known = read_rules(build);
    build->house->rules = known ? build->house->rules : (int)RULES_NONE;
    for (int kind = KIND_HOUSE; kind < KIND_COUNT; kind++) {
        size_t count = 0;
        char *rows = house_rows(build->house, (enum kind)kind, &count);
        for (size_t row = 0; row < count; row++) {
            const struct document_section *section = build->section_of[kind][row];
            if (section != NULL) {
                read_row(build, (enum kind)kind, section, rows + row * house_row_size((enum kind)kind));
            }
        }
    }
    build->house->rules = known ? build->house->rules : 0; /* refused, and finished all the same */
}
