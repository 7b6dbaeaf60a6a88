/* What was changed, by whomever, and the way back. */
#include <string.h>

#include "ampsum/store.h"
#include "input.h"

/* ---- entries of the journal */

/* The command without the folders of the house's path: the person knows where it is. */
static void add_command(struct visit *visit, const char *command)
{
    const char *path = visit->site->path;
    const char *name = strrchr(path, '/');
    const char *found = name == NULL ? NULL : strstr(command, path);
    if (found == NULL) {
        page_add(visit, "<small><code>%s</code></small>", command);
        return;
    }
    page_add(visit, "<small><code>%s%s%s</code></small>",
             arena_copy_length(visit->arena, command, (size_t)(found - command)), name + 1, found + strlen(path));
}

/* One change as an entry of a list: when, `how` behind it, what changed, the command. */
static void add_change(struct visit *visit, const struct journal_entry *entry, const char *how)
{
    /* 2026-01-31T18:30:00Z, as the store checks it */
    const char *day = arena_copy_length(visit->arena, entry->time, strcspn(entry->time, "T"));
    const char *clock = entry->time + strlen(day) + (entry->time[strlen(day)] == 'T');
    page_add(visit, "<li>%s %s UTC%s: ", day, arena_copy_length(visit->arena, clock, strcspn(clock, "Z")), how);
    const char *at = entry->changes;
    for (const char *line = NULL; (line = arena_line(visit->arena, &at)) != NULL;) {
        page_add(visit, "<strong>%s</strong><br>", line);
    }
    add_command(visit, entry->command);
    page_add(visit, "</li>");
}

/* The changes that were seen and don't stand any more. */
static void add_taken_back(struct visit *visit, const struct journal_since *since)
{
    for (size_t i = since->gone_count; since->gone != NULL && i-- > 0;) {
        add_change(visit, &since->gone[i], " (taken back)");
    }
    if (since->gone == NULL && since->gone_count > 0) {
        page_add(visit, "<li>%zu %s that you had seen %s taken back.</li>", since->gone_count,
                 since->gone_count == 1 ? "change" : "changes", since->gone_count == 1 ? "was" : "were");
    }
}

void page_since(struct visit *visit, struct store *store)
{
    struct journal_since since;
    struct error error = {0};
    if (!store_since(store, form_value(&visit->body, "seen"), visit->arena, &since, &error)) {
        page_add(visit, "<p>What was done can't be read now: %s</p>", error_message(&error));
        error_done(&error);
        return;
    }
    page_add(visit, "<ul class=\"changes\">");
    page_add(visit, since.known ? "" : "<li>Much was changed or taken back. These changes stand now:</li>");
    add_taken_back(visit, &since);
    for (size_t i = 0; i < since.made_count; i++) {
        add_change(visit, &since.made[i], "");
    }
    page_add(visit, "</ul>");
}

/* ---- the page */

static void add_button(struct visit *visit, const char *action, const char *name, const char *back)
{
    page_post(visit, action, "inline");
    if (back[0] != '\0') {
        page_hidden(visit, "back", back);
    }
    page_add(visit, "<button>%s</button></form> ", name);
}

static void add_ways(struct visit *visit, const struct journal_entry *entries, size_t count)
{
    const struct journal_ways ways = journal_ways(entries, count);
    page_add(visit, "<div class=\"teach\">");
    if (ways.undo != NULL) {
        add_button(visit, "/undo", "Undo the last change", "");
    }
    if (ways.redo != NULL) {
        add_button(visit, "/redo", "Do again what was taken back", "");
    }
    page_add(visit, "</div>");
}

void view_changes(struct visit *visit)
{
    struct journal_entry *entries = NULL;
    size_t count = 0;
    struct store *store = NULL;
    if (visit->site->read_only) {
        visit_refuse(visit, 404, "Not here", "A house that is served for reading shows no changes.");
        return;
    }
    if (!store_open(visit->site->path, STORE_READ, &store, &visit->error) ||
        !store_journal(store, visit->arena, &entries, &count, &visit->error)) {
        visit_refuse(visit, 503, "The changes can't be read now", error_message(&visit->error));
        store_close(store);
        return;
    }
    page_begin(visit, "Changes");
    add_ways(visit, entries, count);
    page_add(visit, "<ol reversed class=\"changes\">");
    for (size_t i = count; i-- > 0;) {
        add_change(visit, &entries[i], entries[i].undone ? " (taken back)" : "");
    }
    page_add(visit, count == 0 ? "</ol><p>Nothing was changed yet.</p>\n" : "</ol>\n");
    page_end(visit);
    store_close(store);
}

typedef bool (*store_step)(struct store *store, struct text *ret_what, struct error *error);

/* Nothing is turned that the person had not seen: what came in between, and the button anew. */
static void answer_stale(struct visit *visit, struct store *store, bool undoes)
{
    struct journal_entry *entries = NULL;
    size_t count = 0;
    if (!store_read_house(store, &visit->house, &visit->error) ||
        !store_journal(store, visit->arena, &entries, &count, &visit->error)) {
        visit_refuse(visit, 503, "That can't be done now", error_message(&visit->error));
        return;
    }
    const struct journal_ways ways = journal_ways(entries, count);
    const struct journal_entry *next = undoes ? ways.undo : ways.redo;
    visit->answer.status = 409;
    page_begin(visit, "The house was changed meanwhile");
    page_add(visit,
             "<p role=\"alert\">Since that page was opened, this house was changed from elsewhere, so nothing was %s. "
             "What was done:</p>",
             undoes ? "undone" : "done again");
    page_since(visit, store);
    page_add(visit, undoes ? "<h2>Undo, as the house is now</h2>" : "<h2>Do it again, as the house is now</h2>");
    if (next == NULL) {
        page_add(visit, "<p>There is nothing left to %s.</p>", undoes ? "undo" : "do again");
    } else {
        page_add(visit, "<p>It would %s:</p><ul class=\"changes\">", undoes ? "take back" : "do again");
        add_change(visit, next, "");
        page_add(visit, "</ul>");
        add_button(visit, visit->path, undoes ? "Undo this change" : "Do this again", form_value(&visit->body, "back"));
    }
    page_add(visit, "<p><a href=\"/changes\">Leave it: look at the changes</a></p>\n");
    page_end(visit);
}

/* Undoes or redoes what the person saw as the last change, or shows what came in between. */
static void step(struct visit *visit, bool undoes)
{
    const store_step back_or_forth = undoes ? store_undo : store_redo;
    struct store *store = NULL;
    struct text what = {0};
    const bool opened = store_open(visit->site->path, STORE_WRITE, &store, &visit->error) &&
                        store_begin(store, &visit->error) &&
                        store_seen(store, visit->arena, &visit->seen, &visit->error);
    if (opened && strcmp(visit->seen, form_value(&visit->body, "seen")) != 0) {
        answer_stale(visit, store, undoes);
    } else if (opened && back_or_forth(store, &what, &visit->error) && store_commit(store, &visit->error)) {
        visit_go_to(visit, "/changes");
    } else {
        visit_refuse(visit, 503, "That can't be done now", error_message(&visit->error));
    }
    store_close(store);
    text_done(&what);
}

void undo_change(struct visit *visit)
{
    step(visit, true);
}

void redo_change(struct visit *visit)
{
    step(visit, false);
}
