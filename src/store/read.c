/*
 * The whole house from the database. Nothing that the file says is taken on trust: every type, word, range, ID and
 * reference is looked at on the way in, rows must come in rising order (so that a page which points at itself ends the
 * reading), and no array is larger than what the file has room for.
 */
#include <assert.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"
#include "read_column.h"

enum {
    ROW_BYTES_LEAST = 12,       /* in the file beside one for each column: n, its place in the page */
    ROW_BYTES_MOST = 512 * 1024 /* all keys of a section at their longest; what is longer is not even fetched */
};

/* Targets first, so that a reference is resolved where it is read; only a kind that names itself waits for its end. */
static const enum kind reading_order[] = {KIND_TARIFF, KIND_HOUSE,     KIND_PANEL, KIND_ROOM,  KIND_BRANCH,
                                          KIND_OUTLET, KIND_APPLIANCE, KIND_SCENE, KIND_PERIOD};

static bool read_room(struct reader *reader, struct error *error);
static bool read_kind(struct reader *reader, const struct section *section, struct error *error);
static bool read_serves(struct reader *reader, struct error *error);
static bool read_scenes(struct reader *reader, struct error *error);
static bool finish(struct reader *reader, struct error *error);

static bool read_all(struct reader *reader, struct error *error)
{
    if (!read_room(reader, error)) {
        return false;
    }
    for (size_t i = 0; i < sizeof reading_order / sizeof reading_order[0]; i++) {
        if (!read_kind(reader, &sections[reading_order[i]], error)) {
            return false;
        }
    }
    return read_serves(reader, error) && read_scenes(reader, error) && finish(reader, error);
}

static void reader_done(struct reader *reader)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        free(reader->rows[kind].n);
    }
    for (int i = 0; i < KEPT; i++) {
        text_done(&reader->kept[i].text);
    }
    text_done(&reader->fault);
}

bool store_read_house(struct store *store, struct house **ret_house, struct error *error)
{
    bool own = !store->in_transaction;
    if (own && !store_execute(store, "BEGIN", error)) {
        return false;
    }
    struct reader reader = {.store = store, .house = house_new()};
    const int before = sqlite3_limit(store->db, SQLITE_LIMIT_LENGTH, ROW_BYTES_MOST);
    bool ok = read_all(&reader, error);
    sqlite3_limit(store->db, SQLITE_LIMIT_LENGTH, before);
    reader_done(&reader);
    if (own) {
        sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL); /* nothing was written */
    }
    if (!ok) {
        house_free(reader.house);
        return false;
    }
    *ret_house = reader.house;
    return true;
}

static bool damaged_row(struct reader *reader, const struct section *section, const char *id, const char *column,
                        struct error *error)
{
    struct text what = {0};
    text_printf(&what, "%s%s%s: %s", section->word, id[0] == '\0' ? "" : " ", id, column);
    if (reader->fault.length > 0) {
        text_printf(&what, ": %s", text_string(&reader->fault));
    }
    store_damaged(reader->store, text_string(&what), error);
    text_done(&what);
    return false;
}

/* ------------------------------------------------------------------ how many rows there may be ------------ */

/* From the ends of a table, which the file gives at once, and from the file's size: counting would scan every table. */
static size_t room_between(int64_t first, int64_t last, uint64_t most)
{
    uint64_t span = last < first ? 0 : (uint64_t)last - (uint64_t)first;
    return (size_t)(span < most ? span + 1 : most);
}

static bool read_room(struct reader *reader, struct error *error)
{
    struct text sql = {0};
    text_add(&sql, "SELECT (SELECT page_count * page_size FROM pragma_page_count, pragma_page_size)");
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        const char *word = sections[kind].word;
        text_printf(&sql, ", (SELECT min(n) FROM %s), (SELECT max(n) FROM %s)", word, word);
    }
    sqlite3_stmt *statement = statement_open(reader->store, text_string(&sql), error);
    text_done(&sql);
    bool row = false;
    bool ok = statement != NULL && statement_row(reader->store, statement, &row, error);
    for (int kind = 0; ok && kind < KIND_COUNT; kind++) {
        bool any = sqlite3_column_type(statement, 1 + 2 * kind) == SQLITE_INTEGER;
        uint64_t most = (uint64_t)sqlite3_column_int64(statement, 0) / (ROW_BYTES_LEAST + sections[kind].key_count);
        reader->rows[kind].room = any ? room_between(sqlite3_column_int64(statement, 1 + 2 * kind),
                                                     sqlite3_column_int64(statement, 2 + 2 * kind), most)
                                      : 0;
    }
    if (ok && reader->rows[KIND_HOUSE].room > 1) {
        reader->rows[KIND_HOUSE].room = 1; /* read into the house itself */
    }
    sqlite3_finalize(statement);
    return ok;
}

/* ------------------------------------------------------------------ the rows of a kind -------------------- */

static bool take_id(struct reader *reader, sqlite3_value *value, char *row)
{
    /* `given`, then `id`: the first two fields of every row struct but the house. */
    const char *id = take_string(reader, value);
    memcpy(row + sizeof(uint64_t), &id, sizeof id);
    return id != NULL && words_is_id(id);
}

static bool take_row(struct reader *reader, const struct section *section, sqlite3_value **values, char *row,
                     struct error *error)
{
    const char *id = "";
    if (section->takes_id) {
        if (!take_id(reader, values[1], row)) {
            return damaged_row(reader, section, "", "id", error);
        }
        memcpy(&id, row + sizeof(uint64_t), sizeof id);
    }
    uint64_t given = 0;
    sqlite3_value **next = values + columns_before_keys(section);
    for (size_t i = 0; i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        if (key->column == NULL) {
            continue;
        }
        sqlite3_value *value = *next++;
        const int type = sqlite3_value_type(value);
        if (type != SQLITE_NULL) {
            if (!take_column(reader, section, key, type, value, row)) {
                return damaged_row(reader, section, id, key->column, error);
            }
            given |= UINT64_C(1) << i;
        }
    }
    memcpy(row + (section->kind == KIND_HOUSE ? offsetof(struct house, given) : 0), &given, sizeof given);
    return true;
}

/* The first gap: from here on the numbers are kept one by one. */
static void list_numbers(struct numbered *rows)
{
    rows->n = memory_resize(NULL, rows->room, sizeof *rows->n);
    for (size_t i = 0; i < rows->count; i++) {
        rows->n[i] = rows->first + (int64_t)i;
    }
}

static bool take_number(struct reader *reader, const struct section *section, int64_t n, struct error *error)
{
    struct numbered *rows = &reader->rows[section->kind];
    if (rows->count == rows->room || n < 0 || (rows->count > 0 && n <= rows->last)) {
        return damaged_row(reader, section, "", "rows out of order", error);
    }
    if (rows->count == 0) {
        rows->first = n;
    } else if (rows->n == NULL && n != rows->last + 1) {
        list_numbers(rows);
    }
    if (rows->n != NULL) {
        rows->n[rows->count] = n;
    }
    rows->last = n;
    rows->count++;
    return true;
}

static bool resolve_own(struct reader *reader, const struct section *section, struct error *error)
{
    size_t count = 0;
    char *row = house_rows(reader->house, section->kind, &count);
    for (size_t i = 0; i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        bool own = key->type == KEY_REFERENCE && key->target == section->kind;
        for (size_t index = 0; own && index < count; index++) {
            size_t n = 0;
            char *field = row + index * house_row_size(section->kind) + key->offset;
            memcpy(&n, field, sizeof n);
            size_t target = n == NO_INDEX ? NO_INDEX : index_of(&reader->rows[section->kind], (int64_t)n);
            if (n != NO_INDEX && target == NO_INDEX) {
                return damaged_row(reader, section, house_row_id(reader->house, section->kind, index), key->column,
                                   error);
            }
            memcpy(field, &target, sizeof target);
        }
    }
    return true;
}

/* The rows of one kind while SQLite hands them over. */
struct taking {
    struct reader *reader;
    const struct section *section;
    char *first;       /* of the rows */
    const char *blank; /* a row of which nothing was given; NULL for the house */
    struct error *error;
};

static bool take_next(struct taking *taking, sqlite3_value **values)
{
    struct reader *reader = taking->reader;
    const struct section *section = taking->section;
    if (!take_number(reader, section, sqlite3_value_int64(values[0]), taking->error)) {
        return false;
    }
    const size_t size = house_row_size(section->kind);
    char *row = taking->first + (reader->rows[section->kind].count - 1) * size;
    if (taking->blank != NULL) {
        /* When its turn comes, while it is at hand: not all of them ahead. */
        memcpy(row, taking->blank, size);
    }
    return take_row(reader, section, values, row, taking->error);
}

/* SQLite's function over a table: called with the values of each row. */
static void take_step(sqlite3_context *context, int count, sqlite3_value **values)
{
    (void)count;
    const struct store *store = sqlite3_user_data(context);
    if (store->taking == NULL || !take_next(store->taking, values)) {
        sqlite3_result_error_code(context, SQLITE_ABORT); /* ends the statement */
    }
}

static void take_final(sqlite3_context *context)
{
    sqlite3_result_null(context);
}

static bool read_rows(struct taking *taking, const char *sql)
{
    struct store *store = taking->reader->store;
    sqlite3_stmt *statement = statement_open(store, sql, taking->error);
    bool row = false;
    const bool ok =
        statement != NULL && statement_row(store, statement, &row, taking->error); /* the first error stays */
    sqlite3_finalize(statement);
    return ok;
}

int reading_register(struct store *store)
{
    enum { ANY_COUNT = -1 };
    return sqlite3_create_function_v2(store->db, "take", ANY_COUNT, SQLITE_UTF8 | SQLITE_DIRECTONLY, store, NULL,
                                      take_step, take_final, NULL);
}

/*
 * An aggregate function takes the rows, since it is handed all values of a row at once, where a statement is
 * asked for each column. That they come in rising order is looked at, as with any reader.
 */
static bool read_kind(struct reader *reader, const struct section *section, struct error *error)
{
    const bool house = section->kind == KIND_HOUSE;
    const size_t size = house_row_size(section->kind);
    struct numbered *rows = &reader->rows[section->kind];
    struct taking taking = {.reader = reader, .section = section, .error = error};
    taking.blank = house ? NULL : house_add_rows(reader->house, section->kind, 1);
    taking.first = house ? (char *)reader->house : arena_array(reader->house->arena, rows->room, size);
    struct text sql = {0};
    text_add(&sql, "SELECT take(");
    columns_list(section, &sql);
    text_printf(&sql, ") FROM %s", section->word);
    reader->store->taking = &taking;
    const bool ok = read_rows(&taking, text_string(&sql));
    reader->store->taking = NULL;
    text_done(&sql);
    if (ok && !house) {
        house_set_rows(reader->house, section->kind, taking.first, rows->count);
    }
    return ok && resolve_own(reader, section, error);
}

/* ------------------------------------------------------------------ the lists in child tables ------------- */

/* One row of a child table: parent, place, target, units. */
struct child {
    size_t parent;
    size_t target;
    unsigned units;
};

/* Reads the rows of a child table, parents rising, places rising within a parent. The caller frees them. */
static bool read_children(struct reader *reader, const char *sql, enum kind parent_kind, enum kind target_kind,
                          struct child **ret_children, size_t *ret_count, struct error *error)
{
    sqlite3_stmt *statement = statement_open(reader->store, sql, error);
    struct child *children = NULL;
    size_t count = 0;
    size_t capacity = 0;
    int64_t last_place = -1;
    bool row = false;
    bool ok = statement != NULL;
    while (ok && (ok = statement_row(reader->store, statement, &row, error)) && row) {
        int64_t place = sqlite3_column_int64(statement, 1);
        int64_t units = sqlite3_column_int64(statement, 3);
        struct child child = {index_of(&reader->rows[parent_kind], sqlite3_column_int64(statement, 0)),
                              index_of(&reader->rows[target_kind], sqlite3_column_int64(statement, 2)),
                              (unsigned)units};
        size_t before = count == 0 ? NO_INDEX : children[count - 1].parent;
        if (child.parent == NO_INDEX || child.target == NO_INDEX || units < 0 || units > INT_MAX || place < 0 ||
            (before != NO_INDEX && (child.parent < before || (child.parent == before && place <= last_place)))) {
            ok = damaged_row(reader, &sections[parent_kind], "", "its list", error);
            break;
        }
        children = memory_grow(children, count, &capacity, sizeof *children);
        children[count++] = child;
        last_place = place;
    }
    sqlite3_finalize(statement);
    *ret_children = children;
    *ret_count = count;
    return ok;
}

static size_t siblings(const struct child *children, size_t count, size_t first)
{
    size_t end = first;
    while (end < count && children[end].parent == children[first].parent) {
        end++;
    }
    return end - first;
}

static uint64_t bit_named(enum kind kind, const char *name)
{
    return key_bit(&sections[kind], section_key(&sections[kind], name));
}

static bool read_serves(struct reader *reader, struct error *error)
{
    static const char sql[] = "SELECT branch_n, ordinal, room_n, NULL FROM branch_serves ORDER BY branch_n, ordinal";
    struct child *children = NULL;
    size_t count = 0;
    bool ok = read_children(reader, sql, KIND_BRANCH, KIND_ROOM, &children, &count, error);
    uint64_t bit = bit_named(KIND_BRANCH, "serves");
    for (size_t i = 0; ok && i < count;) {
        struct branch *branch = &reader->house->branches[children[i].parent];
        size_t rooms = siblings(children, count, i);
        branch->serves = (struct index_list){arena_array(reader->house->arena, rooms, sizeof(size_t)), rooms};
        branch->given |= bit;
        for (size_t k = 0; k < rooms; k++) {
            branch->serves.index[k] = children[i++].target;
        }
    }
    free(children);
    return ok;
}

static bool read_scenes(struct reader *reader, struct error *error)
{
    static const char sql[] = "SELECT scene_n, ordinal, appliance_n, units FROM scene_on ORDER BY scene_n, ordinal";
    struct child *children = NULL;
    size_t count = 0;
    bool ok = read_children(reader, sql, KIND_SCENE, KIND_APPLIANCE, &children, &count, error);
    uint64_t bit = bit_named(KIND_SCENE, "on");
    for (size_t i = 0; ok && i < count;) {
        struct scene *scene = &reader->house->scenes[children[i].parent];
        size_t members = siblings(children, count, i);
        scene->on =
            (struct scene_list){arena_array(reader->house->arena, members, sizeof(struct scene_member)), members};
        scene->given |= bit;
        for (size_t k = 0; k < members; k++, i++) {
            scene->on.member[k] = (struct scene_member){children[i].target, children[i].units};
        }
    }
    free(children);
    return ok;
}

/* ------------------------------------------------------------------ what must hold between them ----------- */

static bool finish(struct reader *reader, struct error *error)
{
    text_clear(&reader->fault);
    struct house *house = reader->house;
    bool there = reader->rows[KIND_HOUSE].count == 1 && house->panel_count > 0 && reader->rows[KIND_PANEL].first == 0 &&
                 strcmp(house->panels[0].id, "main") == 0;
    if (!there) {
        store_damaged(reader->store, "the house or its main panel is missing", error);
        return false;
    }
    bool ok = stored_structure_holds(house, &reader->fault);
    if (ok) {
        house_finish(house);
        ok = stored_values_hold(house, &reader->fault);
    }
    if (!ok) {
        store_damaged(reader->store, text_string(&reader->fault), error);
    }
    return ok;
}
