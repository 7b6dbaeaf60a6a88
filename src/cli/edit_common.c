#include "edit_common.h"

#include <string.h>

/* The command line as the person wrote it, for the journal: words with blanks in quotes. */
static const char *command_line(struct invocation *invocation)
{
    struct text line = {0};
    for (size_t i = 0; i < invocation->word_count; i++) {
        text_add(&line, i > 0 ? " " : "");
        text_add_shell(&line, invocation->words[i]);
    }
    return arena_text(invocation->arena, &line);
}

/* Changes the document of `before` and builds the house that it says now. */
static bool rebuild(struct invocation *invocation, const struct house *before, document_change change,
                    struct text *ret_what, struct house **ret_after)
{
    struct document *document = house_document(before, invocation->command->name);
    bool built = change(invocation, document, ret_what) && house_build(document, ret_after, &invocation->error);
    document_free(document);
    return built;
}

static bool change_store(struct invocation *invocation, struct store *store, document_change change,
                         struct text *ret_what)
{
    struct house *before = NULL;
    struct house *after = NULL;
    struct error *error = &invocation->error;
    bool stored = store_begin(store, error) && store_read_house(store, &before, error) &&
                  rebuild(invocation, before, change, ret_what, &after) &&
                  store_change(store, before, after, command_line(invocation), error) && store_commit(store, error);
    if (!stored) {
        store_rollback(store);
        house_free(after);
        after = NULL;
    }
    house_free(before);
    house_free(invocation->house);
    invocation->house = after;
    return stored;
}

bool edit_database(struct invocation *invocation, document_change change, struct text *ret_what)
{
    if (!invocation_is_database(invocation)) {
        return false;
    }
    struct store *store = NULL;
    if (!store_open(invocation->house_path, STORE_WRITE, &store, &invocation->error)) {
        return false;
    }
    bool stored = change_store(invocation, store, change, ret_what);
    store_close(store);
    return stored;
}

int edit_run(struct invocation *invocation, document_change change)
{
    struct text what = {0};
    if (edit_database(invocation, change, &what)) {
        text_add(&invocation->out, text_string(&what));
        invocation_next(invocation, "ampsum check HOUSE");
        invocation_next(invocation, "ampsum undo HOUSE");
    }
    text_done(&what);
    return 0;
}
