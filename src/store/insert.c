#include <string.h>

#include "internal.h"

/* The child table of a kind: list of `columns` bound after the parent's n. NULL where it has none. */
static const char *child_sql(enum kind kind)
{
    switch (kind) {
    case KIND_BRANCH:
        return "INSERT INTO branch_serves(branch_n, ordinal, room_n) VALUES(?1, ?2, ?3)";
    case KIND_SCENE:
        return "INSERT INTO scene_on(scene_n, ordinal, appliance_n, units) VALUES(?1, ?2, ?3, ?4)";
    default:
        return NULL;
    }
}

bool inserter_open(struct inserter *inserter, struct store *store, enum kind kind, struct error *error)
{
    *inserter = (struct inserter){.section = &sections[kind]};
    struct text sql = {0};
    text_printf(&sql, "INSERT INTO %s(", inserter->section->word);
    columns_list(inserter->section, &sql);
    text_add(&sql, ") VALUES(?");
    int columns = columns_before_keys(inserter->section);
    for (int i = 1; i < columns; i++) {
        text_add(&sql, ", ?");
    }
    for (size_t i = 0; i < inserter->section->key_count; i++) {
        text_add(&sql, inserter->section->keys[i].column != NULL ? ", ?" : "");
    }
    text_add(&sql, ")");
    inserter->row = statement_open(store, text_string(&sql), error);
    text_done(&sql);
    if (inserter->row != NULL && child_sql(kind) != NULL) {
        inserter->child = statement_open(store, child_sql(kind), error);
    }
    return inserter->row != NULL && (child_sql(kind) == NULL || inserter->child != NULL);
}

void inserter_close(struct inserter *inserter)
{
    sqlite3_finalize(inserter->row);
    sqlite3_finalize(inserter->child);
    text_done(&inserter->cell.written);
}

static bool put_child(struct inserter *inserter, struct store *store, int64_t parent_n, size_t ordinal, int64_t n,
                      unsigned units, struct error *error)
{
    sqlite3_stmt *child = inserter->child;
    int code = sqlite3_bind_int64(child, 1, parent_n);
    code = code == SQLITE_OK ? sqlite3_bind_int64(child, 2, (int64_t)ordinal) : code;
    code = code == SQLITE_OK ? sqlite3_bind_int64(child, 3, n) : code;
    if (inserter->section->kind == KIND_SCENE && code == SQLITE_OK) {
        code = units == 0 ? sqlite3_bind_null(child, 4) : sqlite3_bind_int64(child, 4, units);
    }
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
        return false;
    }
    return statement_run(store, child, error);
}

bool inserter_put_list(struct inserter *inserter, struct store *store, const struct house *house,
                       const struct row_numbers *numbers, size_t index, struct error *error)
{
    bool ok = true;
    if (inserter->section->kind == KIND_BRANCH) {
        const struct branch *branch = &house->branches[index];
        bool given = key_is_given(inserter->section, section_key(inserter->section, "serves"), branch);
        for (size_t i = 0; ok && given && i < branch->serves.count; i++) {
            ok = put_child(inserter, store, numbers->n[KIND_BRANCH][index], i,
                           numbers->n[KIND_ROOM][branch->serves.index[i]], 0, error);
        }
    } else if (inserter->section->kind == KIND_SCENE) {
        const struct scene *scene = &house->scenes[index];
        for (size_t i = 0; ok && i < scene->on.count; i++) {
            const struct scene_member *member = &scene->on.member[i];
            ok = put_child(inserter, store, numbers->n[KIND_SCENE][index], i,
                           numbers->n[KIND_APPLIANCE][member->appliance], member->units, error);
        }
    }
    return ok;
}

bool inserter_put(struct inserter *inserter, struct store *store, const struct house *house,
                  const struct row_numbers *numbers, size_t index, struct error *error)
{
    const struct section *section = inserter->section;
    size_t count = 0;
    const char *rows = house_rows(house, section->kind, &count);
    const void *row = rows + index * house_row_size(section->kind);
    int code = sqlite3_bind_int64(inserter->row, 1, numbers->n[section->kind][index]);
    if (section->takes_id && code == SQLITE_OK) {
        code = sqlite3_bind_text(inserter->row, 2, house_row_id(house, section->kind, index), -1, SQLITE_STATIC);
    }
    int parameter = columns_before_keys(section);
    for (size_t i = 0; code == SQLITE_OK && i < section->key_count; i++) {
        if (section->keys[i].column != NULL) {
            cell_fill(&inserter->cell, house, numbers, section, &section->keys[i], row);
            code = cell_bind(&inserter->cell, inserter->row, ++parameter);
        }
    }
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
        return false;
    }
    return statement_run(store, inserter->row, error) &&
           inserter_put_list(inserter, store, house, numbers, index, error);
}
