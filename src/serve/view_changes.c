/* What was changed, by whomever, and the way back. */
#include <string.h>

#include "ampsum/store.h"
#include "site.h"

static void add_button(struct visit *visit, const char *action, const char *name)
{
    html_add(&visit->answer.body, "<form method=\"post\" action=\"%s\" class=\"inline\">", action);
    page_form_secrets(visit);
    html_add(&visit->answer.body, "<button>%s</button></form> ", name);
}

static void add_entry(struct visit *visit, const struct journal_entry *entry)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<li>%s%s: <strong>%s</strong>", entry->time, entry->undone ? " (taken back)" : "", entry->command);
    for (const char *line = entry->changes; *line != '\0';) {
        size_t length = strcspn(line, "\n");
        html_add(html, "<br>%s", arena_copy_length(visit->arena, line, length));
        line += length + (line[length] == '\n');
    }
    html_add(html, "</li>");
}

void view_changes(struct visit *visit)
{
    struct text *html = &visit->answer.body;
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
    html_add(html, "<div class=\"teach\">");
    add_button(visit, "/undo", "Undo the last change");
    add_button(visit, "/redo", "Do it again");
    html_add(html, "</div><ol reversed class=\"changes\">");
    for (size_t i = count; i-- > 0;) {
        add_entry(visit, &entries[i]);
    }
    html_add(html, count == 0 ? "</ol><p>Nothing was changed yet.</p>\n" : "</ol>\n");
    page_end(visit);
    store_close(store);
}

typedef bool (*store_step)(struct store *store, struct text *ret_what, struct error *error);

/* Undoes or redoes what the person saw as the last change, or shows what came in between. */
static void step(struct visit *visit, store_step back_or_forth)
{
    struct store *store = NULL;
    struct text what = {0};
    const char *seen = NULL;
    const bool opened = store_open(visit->site->path, STORE_WRITE, &store, &visit->error) &&
                        store_seen(store, visit->arena, &seen, &visit->error);
    if (opened && strcmp(seen, form_value(&visit->body, "seen")) != 0) {
        visit_refuse(visit, 409, "The house was changed meanwhile",
                     "Since this page was opened, someone else changed this house, so nothing was undone. Look at the "
                     "changes first, then undo.");
    } else if (opened && back_or_forth(store, &what, &visit->error)) {
        visit_go_to(visit, strcmp(form_value(&visit->body, "back"), "build") == 0 ? "/build" : "/changes");
    } else {
        visit_refuse(visit, 503, "That can't be done now", error_message(&visit->error));
    }
    store_close(store);
    text_done(&what);
}

void undo_change(struct visit *visit)
{
    step(visit, store_undo);
}

void redo_change(struct visit *visit)
{
    step(visit, store_redo);
}
