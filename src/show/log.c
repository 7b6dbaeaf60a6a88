/* The journal: a row for each change, its JSON, and the lines of the terminal. */
#include "ampsum/show_log.h"

#include <string.h>

static void get_state(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = ((const struct log_answer *)answer)->entries[row].undone ? "undone" : "done";
}

#define ENTRY(member) SHOW_IN(struct log_answer, entries, struct journal_entry, member)

static const struct show_column columns[] = {
    {.key = "number", .faces = SHOW_DATA, ENTRY(number)},   {.key = "time", .faces = SHOW_DATA, ENTRY(time)},
    {.key = "state", .faces = SHOW_DATA, .get = get_state}, {.key = "command", .faces = SHOW_DATA, ENTRY(command)},
    {.key = "changes", .faces = SHOW_DATA, ENTRY(changes)},
};

const struct show_rows show_log_rows = SHOW_ROWS_OF(columns);

json_t *show_log_json(const struct log_answer *answer)
{
    static const struct show_column whole[] = {{.key = "entries", SHOW_LIST(show_log_rows, struct log_answer, count)}};
    static const struct show_rows rows = SHOW_ROWS_OF(whole);
    return show_answer_json("log", NULL, &rows, answer, NULL);
}

static void add_changes(const char *changes, struct text *text)
{
    for (const char *at = changes; *at != '\0';) {
        const size_t length = strcspn(at, "\n");
        text_add(text, "     ");
        text_add_length(text, at, length);
        text_add_char(text, '\n');
        at += length + (at[length] == '\n');
    }
}

void show_log_text(const struct log_answer *answer, struct text *text)
{
    for (size_t i = 0; i < answer->count; i++) {
        const struct journal_entry *entry = &answer->entries[i];
        text_printf(text, "%s%ld  %s  %s%s\n", i == 0 ? "" : "\n", entry->number, entry->time, entry->command,
                    entry->undone ? "  (undone)" : "");
        add_changes(entry->changes, text);
    }
    text_add(text, answer->count == 0 ? "nothing was changed yet\n" : "");
}
