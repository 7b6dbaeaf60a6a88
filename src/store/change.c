/*
 * From one house to another inside the database: rows are matched by ID, only those that differ are written, and what
 * was written is journalled. A row keeps its n as long as it lives; a new one comes after all others of its kind, so
 * that the order of the rows that stay is never a change.
 */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/values.h"
#include "match.h"

struct change {
    struct store *store;
    const struct house *before;
    const struct house *after;
    struct row_numbers before_n;
    struct row_numbers after_n;
    struct match matches[KIND_COUNT];
    struct text list; /* what changed, for the journal */
    struct cell cells[2];
};

static bool numbers_before(struct change *change, struct error *error);
static void numbers_after(struct change *change);
static bool remove_rows(struct change *change, enum kind kind, struct error *error);
static bool put_rows(struct change *change, enum kind kind, struct error *error);

static bool write_all(struct change *change, struct error *error)
{
    bool ok = numbers_before(change, error);
    if (ok) {
        matches_make(change->matches, change->before, change->after);
        numbers_after(change);
    }
    for (int kind = KIND_COUNT - 1; ok && kind > KIND_HOUSE; kind--) {
        ok = remove_rows(change, (enum kind)kind, error);
    }
    for (int kind = 0; ok && kind < KIND_COUNT; kind++) {
        ok = put_rows(change, (enum kind)kind, error);
    }
    return ok;
}

static bool keep_changeset(struct change *change, sqlite3_session *session, const char *command, struct error *error)
{
    int bytes = 0;
    void *changeset = NULL;
    int code = sqlite3session_changeset(session, &bytes, &changeset);
    bool ok = code == SQLITE_OK;
    if (!ok) {
        store_fault(change->store, code, error);
    } else if (bytes > 0) {
        ok = journal_add(change->store, command, text_string(&change->list), changeset, bytes, error);
    }
    sqlite3_free(changeset);
    return ok;
}

bool store_change(struct store *store, const struct house *before, const struct house *after, const char *command,
                  struct error *error)
{
    assert(store->in_transaction);
    struct change change = {.store = store, .before = before, .after = after};
    sqlite3_session *session = NULL;
    int code = sqlite3session_create(store->db, "main", &session);
    if (code == SQLITE_OK) {
        sqlite3session_table_filter(session, journal_records_table, NULL);
        code = sqlite3session_attach(session, NULL);
    }
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
    }
    bool ok = code == SQLITE_OK && write_all(&change, error) && keep_changeset(&change, session, command, error);
    if (session != NULL) {
        sqlite3session_delete(session);
    }
    matches_done(change.matches);
    row_numbers_done(&change.before_n);
    row_numbers_done(&change.after_n);
    text_done(&change.list);
    text_done(&change.cells[0].written);
    text_done(&change.cells[1].written);
    return ok;
}

/* ------------------------------------------------------------------ which row is which -------------------- */

static bool numbers_of_kind(struct change *change, const struct section *section, sqlite3_stmt *statement,
                            struct error *error)
{
    size_t count = 0;
    house_rows(change->before, section->kind, &count);
    int64_t *n = memory_resize(NULL, count, sizeof *n);
    change->before_n.n[section->kind] = n;
    size_t seen = 0;
    bool row = false;
    while (statement_row(change->store, statement, &row, error)) {
        if (!row && seen == count) {
            return true;
        }
        const char *id = row ? (const char *)sqlite3_column_text(statement, 1) : NULL;
        if (id == NULL || seen == count || strcmp(id, house_row_id(change->before, section->kind, seen)) != 0) {
            error_set(error, ERROR_STORE, "%s: was changed in the meantime, nothing was changed, try again",
                      change->store->path);
            return false;
        }
        n[seen++] = sqlite3_column_int64(statement, 0);
    }
    return false;
}

static bool numbers_before(struct change *change, struct error *error)
{
    bool ok = true;
    for (int kind = 0; ok && kind < KIND_COUNT; kind++) {
        struct text sql = {0};
        text_printf(&sql, "SELECT n, %s FROM %s ORDER BY n", sections[kind].takes_id ? "id" : "''",
                    sections[kind].word);
        sqlite3_stmt *statement = statement_open(change->store, text_string(&sql), error);
        ok = statement != NULL && numbers_of_kind(change, &sections[kind], statement, error);
        sqlite3_finalize(statement);
        text_done(&sql);
    }
    return ok;
}

static void numbers_after(struct change *change)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        size_t before_count = 0;
        size_t count = 0;
        house_rows(change->before, (enum kind)kind, &before_count);
        house_rows(change->after, (enum kind)kind, &count);
        const int64_t *before_n = change->before_n.n[kind];
        int64_t next = before_count == 0 ? 1 : before_n[before_count - 1] + 1;
        int64_t *n = memory_resize(NULL, count, sizeof *n);
        for (size_t i = 0; i < count; i++) {
            size_t found = change->matches[kind].before[i];
            n[i] = found == NO_INDEX ? next++ : before_n[found];
        }
        change->after_n.n[kind] = n;
    }
}

/* ------------------------------------------------------------------ the list of what changed -------------- */

/* Starts a line: `branch kitchen: `, `house: `. */
static void list_row(struct change *change, const struct section *section, const char *id)
{
    text_printf(&change->list, "%s%s%s%s: ", change->list.length > 0 ? "\n" : "", section->word,
                id[0] == '\0' ? "" : " ", id);
}

static void list_value(struct change *change, const struct section *section, const struct key *key,
                       const struct house *house, const void *row)
{
    if (key_is_given(section, key, row)) {
        value_write(key, house, row, &change->list);
    } else {
        text_add(&change->list, "none");
    }
}

static void list_key(struct change *change, const struct section *section, const struct key *key, size_t before,
                     size_t after)
{
    size_t count = 0;
    size_t size = house_row_size(section->kind);
    const char *before_row = (const char *)house_rows(change->before, section->kind, &count) + before * size;
    const char *after_row = (const char *)house_rows(change->after, section->kind, &count) + after * size;
    list_row(change, section, house_row_id(change->after, section->kind, after));
    text_printf(&change->list, "%s ", key->name);
    list_value(change, section, key, change->before, before_row);
    text_add(&change->list, " -> ");
    list_value(change, section, key, change->after, after_row);
}

/* ------------------------------------------------------------------ rows that go -------------------------- */

/* The rows of the child table that hang on a parent, NULL for a kind without one. */
static const char *clear_list_sql(enum kind kind)
{
    switch (kind) {
    case KIND_BRANCH:
        return "DELETE FROM branch_serves WHERE branch_n = ?1";
    case KIND_SCENE:
        return "DELETE FROM scene_on WHERE scene_n = ?1";
    default:
        return NULL;
    }
}

static bool run_for(struct store *store, sqlite3_stmt *statement, int64_t n, struct error *error)
{
    int code = sqlite3_bind_int64(statement, 1, n);
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
        return false;
    }
    return statement_run(store, statement, error);
}

static bool remove_rows(struct change *change, enum kind kind, struct error *error)
{
    const struct section *section = &sections[kind];
    struct text sql = {0};
    text_printf(&sql, "DELETE FROM %s WHERE n = ?1", section->word);
    sqlite3_stmt *row = statement_open(change->store, text_string(&sql), error);
    text_done(&sql);
    const char *list_sql = clear_list_sql(kind);
    sqlite3_stmt *list = list_sql == NULL ? NULL : statement_open(change->store, list_sql, error);
    bool ok = row != NULL && (list_sql == NULL || list != NULL);
    size_t count = 0;
    house_rows(change->before, kind, &count);
    for (size_t i = 0; ok && i < count; i++) {
        if (!change->matches[kind].kept[i]) {
            int64_t n = change->before_n.n[kind][i];
            list_row(change, section, house_row_id(change->before, kind, i));
            text_add(&change->list, "removed");
            ok = (list == NULL || run_for(change->store, list, n, error)) && run_for(change->store, row, n, error);
        }
    }
    sqlite3_finalize(list);
    sqlite3_finalize(row);
    return ok;
}

/* ------------------------------------------------------------------ rows that come or change -------------- */

static sqlite3_stmt *update_open(struct store *store, const struct section *section, struct error *error)
{
    struct text sql = {0};
    text_printf(&sql, "UPDATE %s SET ", section->word);
    int parameter = 1;
    for (size_t i = 0; i < section->key_count; i++) {
        if (section->keys[i].column != NULL) {
            parameter++;
            text_printf(&sql, "%s\"%s\" = ?%d", parameter > 2 ? ", " : "", section->keys[i].column, parameter);
        }
    }
    text_add(&sql, " WHERE n = ?1");
    sqlite3_stmt *statement = statement_open(store, text_string(&sql), error);
    text_done(&sql);
    return statement;
}

/* Compares the columns, lists those that differ, binds them all; *ret_differs tells whether there is any. */
static int compare_columns(struct change *change, const struct section *section, size_t before, size_t after,
                           sqlite3_stmt *update, bool *ret_differs)
{
    size_t count = 0;
    size_t size = house_row_size(section->kind);
    const char *before_row = (const char *)house_rows(change->before, section->kind, &count) + before * size;
    const char *after_row = (const char *)house_rows(change->after, section->kind, &count) + after * size;
    int parameter = 1;
    int code = sqlite3_bind_int64(update, parameter, change->after_n.n[section->kind][after]);
    for (size_t i = 0; code == SQLITE_OK && i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        if (key->column == NULL) {
            continue;
        }
        cell_fill(&change->cells[0], change->before, &change->before_n, section, key, before_row);
        cell_fill(&change->cells[1], change->after, &change->after_n, section, key, after_row);
        if (!cell_equal(&change->cells[0], &change->cells[1])) {
            list_key(change, section, key, before, after);
            *ret_differs = true;
        }
        code = cell_bind(&change->cells[1], update, ++parameter);
    }
    return code;
}

static bool serves_equal(const struct change *change, size_t before, size_t after)
{
    const struct index_list *a = &change->before->branches[before].serves;
    const struct index_list *b = &change->after->branches[after].serves;
    bool equal = a->count == b->count;
    for (size_t i = 0; equal && i < a->count; i++) {
        equal = change->before_n.n[KIND_ROOM][a->index[i]] == change->after_n.n[KIND_ROOM][b->index[i]];
    }
    return equal;
}

static bool members_equal(const struct change *change, size_t before, size_t after)
{
    const struct scene_list *a = &change->before->scenes[before].on;
    const struct scene_list *b = &change->after->scenes[after].on;
    bool equal = a->count == b->count;
    for (size_t i = 0; equal && i < a->count; i++) {
        equal =
            a->member[i].units == b->member[i].units && change->before_n.n[KIND_APPLIANCE][a->member[i].appliance] ==
                                                            change->after_n.n[KIND_APPLIANCE][b->member[i].appliance];
    }
    return equal;
}

/* The statements that rows of a kind need. */
struct putter {
    struct inserter inserter;
    sqlite3_stmt *update;
    sqlite3_stmt *clear_list; /* NULL: no child table */
};

static bool put_list(struct change *change, struct putter *putter, size_t before, size_t after, struct error *error)
{
    const struct section *section = putter->inserter.section;
    bool branch = section->kind == KIND_BRANCH;
    if (branch ? serves_equal(change, before, after) : members_equal(change, before, after)) {
        return true;
    }
    list_key(change, section, section_key(section, branch ? "serves" : "on"), before, after);
    return run_for(change->store, putter->clear_list, change->after_n.n[section->kind][after], error) &&
           inserter_put_list(&putter->inserter, change->store, change->after, &change->after_n, after, error);
}

static bool put_row(struct change *change, struct putter *putter, size_t after, struct error *error)
{
    const struct section *section = putter->inserter.section;
    size_t before = change->matches[section->kind].before[after];
    if (before == NO_INDEX) {
        list_row(change, section, house_row_id(change->after, section->kind, after));
        text_add(&change->list, "added");
        return inserter_put(&putter->inserter, change->store, change->after, &change->after_n, after, error);
    }
    bool differs = false;
    int code = compare_columns(change, section, before, after, putter->update, &differs);
    if (code != SQLITE_OK) {
        store_fault(change->store, code, error);
        return false;
    }
    return (!differs || statement_run(change->store, putter->update, error)) &&
           (putter->clear_list == NULL || put_list(change, putter, before, after, error));
}

static bool put_rows(struct change *change, enum kind kind, struct error *error)
{
    struct putter putter = {0};
    bool ok = inserter_open(&putter.inserter, change->store, kind, error);
    putter.update = ok ? update_open(change->store, &sections[kind], error) : NULL;
    ok = putter.update != NULL;
    if (ok && clear_list_sql(kind) != NULL) {
        putter.clear_list = statement_open(change->store, clear_list_sql(kind), error);
        ok = putter.clear_list != NULL;
    }
    size_t count = 0;
    house_rows(change->after, kind, &count);
    for (size_t i = 0; ok && i < count; i++) {
        ok = put_row(change, &putter, i, error);
    }
    inserter_close(&putter.inserter);
    sqlite3_finalize(putter.update);
    sqlite3_finalize(putter.clear_list);
    return ok;
}
