/* Changing the database from a form: two people at once, wrong values, and nothing that was typed in lost. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/store.h"
#include "site.h"

/* FNV-1a; only tells states apart, keeps nothing secret. */
static uint64_t hash_string(uint64_t hash, const char *string)
{
    for (const char *at = string == NULL ? "" : string;; at++) {
        hash = (hash ^ (unsigned char)*at) * UINT64_C(1099511628211);
        if (*at == '\0') {
            return hash;
        }
    }
}

bool store_seen(struct store *store, struct arena *arena, const char **ret_seen, struct error *error)
{
    struct journal_entry *entries = NULL;
    size_t count = 0;
    if (!store_journal(store, arena, &entries, &count, error)) {
        return false;
    }
    uint64_t hash = UINT64_C(14695981039346656037);
    long last = 0;
    for (size_t i = 0; i < count; i++) {
        if (!entries[i].undone) {
            last = entries[i].number;
            hash = hash_string(hash, entries[i].time);
            hash = hash_string(hash, entries[i].command);
            hash = hash_string(hash, entries[i].changes);
        }
    }
    struct text seen = {0};
    text_printf(&seen, "%ld-%016llx", last, (unsigned long long)hash);
    *ret_seen = arena_copy(arena, text_string(&seen));
    text_done(&seen);
    return true;
}

static void add_changes(struct visit *visit, const char *changes)
{
    for (const char *line = changes; *line != '\0';) {
        size_t length = strcspn(line, "\n");
        html_add(&visit->answer.body, "<br>%s", arena_copy_length(visit->arena, line, length));
        line += length + (line[length] == '\n');
    }
}

/* What stands in the journal after the change that the form had seen. */
static void list_since(struct visit *visit, struct store *store, long seen_number)
{
    struct journal_entry *entries = NULL;
    size_t count = 0;
    size_t listed = 0;
    struct text *html = &visit->answer.body;
    struct error unread = {0};
    if (store_journal(store, visit->arena, &entries, &count, &unread)) {
        html_add(html, "<ul>");
        for (size_t i = 0; i < count; i++) {
            if (entries[i].number > seen_number && !entries[i].undone) {
                html_add(html, "<li>%s: %s", entries[i].time, entries[i].command);
                add_changes(visit, entries[i].changes);
                html_add(html, "</li>");
                listed++;
            }
        }
        html_add(html, listed > 0 ? "</ul>" : "<li>A change that you had seen was taken back.</li></ul>");
    }
    error_done(&unread);
}

/* All that was typed in, to be sent again or altered. */
static void repeat_form(struct visit *visit, const char *button)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<form method=\"post\" action=\"%s\" class=\"fields\">", visit->path);
    page_form_secrets(visit);
    for (size_t i = 0; i < visit->body.count; i++) {
        const struct field *field = &visit->body.field[i];
        if (strcmp(field->name, "token") != 0 && strcmp(field->name, "seen") != 0) {
            html_add(html, "<label>%s <input name=\"%s\" value=\"%s\"></label>", field->name, field->name,
                     field->value);
        }
    }
    html_add(html, "<p><button>%s</button> <a href=\"/\">Leave it</a></p></form>\n", button);
}

static void answer_stale(struct visit *visit, struct store *store)
{
    visit->answer.status = 409;
    page_begin(visit, "The house was changed meanwhile");
    html_add(&visit->answer.body,
             "<p role=\"alert\">Since this form was opened, someone else changed this house. Nothing "
             "of theirs or yours is lost. What was done:</p>");
    list_since(visit, store, strtol(form_value(&visit->body, "seen"), NULL, 10));
    html_add(&visit->answer.body, "<h2>What you typed in</h2>");
    repeat_form(visit, "Do it on the house as it is now");
    page_end(visit);
}

static void answer_wrong(struct visit *visit)
{
    visit->answer.status = 422;
    page_begin(visit, "That can't be stored");
    html_add(&visit->answer.body, "<div role=\"alert\">");
    for (const char *line = error_message(&visit->error); *line != '\0';) {
        size_t length = strcspn(line, "\n");
        html_add(&visit->answer.body, "<p>%s</p>", arena_copy_length(visit->arena, line, length));
        line += length + (line[length] == '\n');
    }
    html_add(&visit->answer.body, "</div><p>Nothing was changed.</p><h2>What you typed in</h2>");
    repeat_form(visit, "Try again");
    page_end(visit);
}

/* Within the transaction: the house changed, built, stored. */
static bool change_and_store(struct visit *visit, struct store *store, visit_change change)
{
    struct house *after = NULL;
    struct text what = {0};
    struct error *error = &visit->error;
    struct document *document = house_document(visit->house, "form");
    text_add(&what, "page: ");
    bool good = change(visit, document, &what) && house_build(document, &after, error) &&
                store_change(store, visit->house, after, text_string(&what), error) && store_commit(store, error);
    house_free(after);
    document_free(document);
    text_done(&what);
    return good;
}

void visit_store(struct visit *visit, visit_change change, const char *next)
{
    struct store *store = NULL;
    struct error *error = &visit->error;
    bool opened = store_open(visit->site->path, STORE_WRITE, &store, error) && store_begin(store, error) &&
                  store_seen(store, visit->arena, &visit->seen, error) && store_read_house(store, &visit->house, error);
    if (!opened) {
        visit_refuse(visit, 503, "The house can't be changed now", error_message(error));
    } else if (strcmp(visit->seen, form_value(&visit->body, "seen")) != 0) {
        store_rollback(store);
        answer_stale(visit, store);
    } else if (change_and_store(visit, store, change)) {
        visit_go_to(visit, next);
    } else {
        store_rollback(store);
        if (error->code == ERROR_INPUT) {
            answer_wrong(visit);
        } else {
            visit_refuse(visit, 503, "The house can't be changed now", error_message(error));
        }
    }
    store_close(store);
}
