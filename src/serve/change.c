/* Changing the database from a form: two people at once, wrong values, and nothing that was typed in lost. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/store.h"
#include "guide.h"
#include "load.h"

/* Sent again unseen. */
static const char *const hidden_fields[] = {"kind", "id", "back", "lines"};

static bool is_hidden(const char *name)
{
    for (size_t i = 0; i < sizeof hidden_fields / sizeof hidden_fields[0]; i++) {
        if (strcmp(hidden_fields[i], name) == 0) {
            return true;
        }
    }
    return false;
}

/* What its form called a field, `label` or `2.label`; one that none knows in its own word. */
static const char *field_label(struct visit *visit, const char *whole)
{
    const size_t line = strspn(whole, "0123456789");
    const char *name = line > 0 && whole[line] == '.' ? whole + line + 1 : whole;
    const struct section *section = section_named(form_value(&visit->body, "kind"));
    const struct guide_field *field = guide_field_of(section == NULL ? KIND_APPLIANCE : section->kind, name);
    const char *label = section == NULL ? load_label(visit, name) : NULL;
    return label != NULL ? label : field == NULL ? name : guide_field_title(visit, field);
}

/* Sent again: all but the secrets, which are new, and an assent, which was given to another list. */
static bool is_repeated(const char *name)
{
    return strcmp(name, "token") != 0 && strcmp(name, "seen") != 0 && strncmp(name, "with_", 5) != 0;
}

/*
 * The form again, its values to be altered. Where it is about a section that is there (else NULL), what says the same
 * as the house does now is sent unseen, and what says something else has the house's own beside it.
 */
static void repeat_fields(struct visit *visit, const struct document_section *section)
{
    const struct section *kind_row = section_named(form_value(&visit->body, "kind"));
    const enum kind kind = kind_row == NULL ? KIND_HOUSE : kind_row->kind;
    for (size_t i = 0; i < visit->body.count; i++) {
        const struct field *field = &visit->body.field[i];
        if (!is_repeated(field->name)) {
            continue;
        }
        const char *now = section == NULL ? NULL : guide_value_now(visit, kind, section, field->name);
        if (is_hidden(field->name) || (now != NULL && strcmp(guide_posted(visit, "", field->name), now) == 0)) {
            page_hidden(visit, field->name, field->value);
            continue;
        }
        page_add(visit, "<label>%s <input name=\"%s\" value=\"%s\">", field_label(visit, field->name), field->name,
                 field->value);
        if (now != NULL) {
            page_add(visit, "<small>The house says now: %s</small>", now[0] == '\0' ? "nothing" : now);
        }
        page_add(visit, "</label>");
    }
}

static void add_leave(struct visit *visit, const char *next)
{
    page_add(visit, " <a href=\"%s\">Leave it</a></p></form>\n", next);
}

/* All that was typed in, to be sent again or altered. `document`: of the house as it is, or NULL. */
static void repeat_form(struct visit *visit, struct document *document, const char *button, const char *next)
{
    const char *kind = form_value(&visit->body, "kind");
    const char *id = form_value(&visit->body, "id");
    page_post(visit, visit->path, "fields");
    if (id[0] != '\0') {
        page_add(visit, "<p>%s %s</p>", kind, id);
    }
    const bool there = document != NULL && form_has(&visit->body, "id");
    repeat_fields(visit, there ? document_find(document, kind, id) : NULL);
    page_add(visit, "<p><button>%s</button>", button);
    add_leave(visit, next);
}

/* The second button of a change that would go on with an assent. */
static void add_offer(struct visit *visit, const char *next)
{
    page_post(visit, visit->path, NULL);
    for (size_t i = 0; i < visit->body.count; i++) {
        if (is_repeated(visit->body.field[i].name)) {
            page_hidden(visit, visit->body.field[i].name, visit->body.field[i].value);
        }
    }
    page_add(visit, "<p><button name=\"%s\" value=\"yes\">%s</button>", visit->offer.field, visit->offer.button);
    add_leave(visit, next);
}

static void answer_stale(struct visit *visit, struct store *store, const char *next)
{
    visit->answer.status = 409;
    page_begin(visit, "The house was changed meanwhile");
    page_add(visit,
             "<p role=\"alert\">Since this form was opened, this house was changed from elsewhere. Nothing of that or "
             "of yours is lost. What was done:</p>");
    page_since(visit, store);
    page_add(visit, "<h2>What you asked for</h2><p>Where both change the same thing, yours would take "
                    "the place of the other.</p>");
    struct document *document = house_document(visit->house, "");
    repeat_form(visit, document, "Do it on the house as it is now", next);
    document_free(document);
    page_end(visit);
}

static void answer_wrong(struct visit *visit, const char *next)
{
    const bool offers = visit->offer.field != NULL;
    visit->answer.status = 422;
    page_begin(visit, visit->offer.title == NULL ? "That can't be stored" : visit->offer.title);
    page_add(visit, "<div role=\"alert\">");
    guide_fault_items(visit, "p");
    page_add(visit, "</div><p>Nothing was changed.</p>");
    if (offers) {
        add_offer(visit, next);
    } else {
        page_add(visit, "<h2>What you asked for</h2>");
        repeat_form(visit, NULL, "Try again", next);
    }
    page_end(visit);
}

void visit_form_of_old(struct visit *visit)
{
    static const char words[] = "This page is from another start of the program.";
    if (strncmp(visit->path, "/api/", 5) == 0 || form_value(&visit->body, "seen")[0] == '\0') {
        visit_refuse(visit, 403, "Not answered", words);
        return;
    }
    visit->answer.status = 403;
    visit->answer.type = "text/html; charset=utf-8";
    visit_house_if_any(visit);
    visit->seen = form_value(&visit->body, "seen"); /* what was changed meanwhile is still told when it is sent */
    page_begin(visit, "The program was started anew");
    page_add(
        visit,
        "<p role=\"alert\">%s Nothing of what you typed is lost, and nothing was changed: send it once more.</p>\n",
        words);
    repeat_form(visit, NULL, "Send it again", "/");
    page_end(visit);
}

/* Within the transaction: the house changed, built, stored. */
static bool change_and_store(struct visit *visit, struct store *store, visit_change change)
{
    struct house *after = NULL;
    struct text what = {0};
    struct error *error = &visit->error;
    struct document *document = house_document(visit->house, "");
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
        answer_stale(visit, store, next);
    } else if (change_and_store(visit, store, change)) {
        visit_go_to(visit, next);
    } else {
        store_rollback(store);
        if (error->code == ERROR_INPUT) {
            answer_wrong(visit, next);
        } else {
            visit_refuse(visit, 503, "The house can't be changed now", error_message(error));
        }
    }
    store_close(store);
}
