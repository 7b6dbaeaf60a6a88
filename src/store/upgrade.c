#include "internal.h"
#include "schema_steps.h"

/* The step that makes the journal. Changesets do not outlive a change of the tables, so that later steps clear it. */
enum { JOURNAL_STEP = 2 };

static bool upgrade_one(struct store *store, int version, struct error *error)
{
    int64_t now = 0;
    if (!store_number(store, "PRAGMA user_version", &now, error)) {
        return false;
    }
    if (now != version - 1) {
        return true; /* another program was here first */
    }
    struct text sql = {0};
    text_printf(&sql, "%s%s;PRAGMA user_version = %d", version > JOURNAL_STEP ? "DELETE FROM journal;" : "",
                schema_steps[version - 1].sql, version);
    bool ok = store_execute(store, text_string(&sql), error);
    text_done(&sql);
    return ok;
}

static bool upgrade_in_transaction(struct store *store, int version, struct error *error)
{
    if (!store_begin(store, error)) {
        return false;
    }
    if (!upgrade_one(store, version, error)) {
        store_rollback(store);
        return false;
    }
    return store_commit(store, error);
}

/*
 * A step may make a table anew beside the old one and take its name: foreign keys are not looked at meanwhile, else the
 * old table's removal would count as that of all its rows. The reader looks at every reference afterwards.
 */
bool store_upgrade(struct store *store, int from, struct error *error)
{
    bool ok = from >= schema_step_count || store_execute(store, "PRAGMA foreign_keys = OFF", error);
    for (int version = from + 1; ok && version <= schema_step_count; version++) {
        ok = upgrade_in_transaction(store, version, error);
    }
    return ok && store_execute(store, "PRAGMA foreign_keys = ON", error);
}
