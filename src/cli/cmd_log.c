#include "cli.h"

static const char *const examples[] = {"ampsum log house.db", NULL};

static struct table *log_table(const struct journal_entry *entries, size_t count, json_t *array)
{
    struct table *table = table_new();
    table_column(table, "NO", "number", TABLE_RIGHT, 0);
    table_column(table, "WHEN (UTC)", "time", TABLE_LEFT, 0);
    table_column(table, "STATE", "state", TABLE_LEFT, 0);
    table_column(table, "COMMAND", "command", TABLE_LEFT, 44);
    table_column(table, NULL, "changes", TABLE_LEFT, 0);
    for (size_t i = 0; i < count; i++) {
        const char *state = entries[i].undone ? "undone" : "done";
        table_row(table);
        table_number(table, (double)entries[i].number, 0);
        table_text(table, entries[i].time);
        table_text(table, state);
        table_text(table, entries[i].command);
        table_text(table, entries[i].changes);
        json_t *object = json_object();
        json_object_set_new(object, "number", json_integer(entries[i].number));
        json_object_set_new(object, "time", json_text(entries[i].time));
        json_object_set_new(object, "state", json_text(state));
        json_object_set_new(object, "command", json_text(entries[i].command));
        json_object_set_new(object, "changes", json_text(entries[i].changes));
        json_array_append_new(array, object);
    }
    return table;
}

static void write_changes(struct invocation *invocation, const struct journal_entry *entries, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        text_printf(&invocation->out, "%s%ld  %s  %s%s\n", i == 0 ? "" : "\n", entries[i].number, entries[i].time,
                    entries[i].command, entries[i].undone ? "  (undone)" : "");
        for (const char *at = entries[i].changes; *at != '\0';) {
            size_t length = 0;
            while (at[length] != '\0' && at[length] != '\n') {
                length++;
            }
            text_add(&invocation->out, "     ");
            text_add_length(&invocation->out, at, length);
            text_add_char(&invocation->out, '\n');
            at += length + (at[length] == '\n');
        }
    }
    if (count == 0) {
        text_add(&invocation->out, "nothing was changed yet\n");
    }
}

static int run(struct invocation *invocation)
{
    const char *path = invocation_house_path(invocation, 0);
    struct store *store = NULL;
    if (!invocation_operands(invocation, 0, 0) || !invocation_is_database(invocation) ||
        !store_open(path, STORE_READ, &store, &invocation->error)) {
        return 2;
    }
    struct journal_entry *entries = NULL;
    size_t count = 0;
    bool read = store_journal(store, invocation->arena, &entries, &count, &invocation->error);
    store_close(store);
    if (!read) {
        return 3;
    }
    if (invocation->format == FORMAT_TABLE) {
        write_changes(invocation, entries, count);
        return 0;
    }
    json_t *array = json_array();
    struct table *table = log_table(entries, count, array);
    if (invocation->format == FORMAT_JSON) {
        json_t *answer = json_answer("log", NULL);
        json_object_set(answer, "entries", array);
        json_cautions(answer, NULL);
        json_write(answer, &invocation->out);
    } else {
        invocation_table(invocation, table);
    }
    json_decref(array);
    table_free(table);
    return 0;
}

const struct command command_log = {
    .name = "log",
    .operands = "[HOUSE]",
    .summary = "what was changed, when and by which command",
    .examples = examples,
    .rows = true,
    .run = run,
};
