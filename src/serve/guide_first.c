#include "guide_first.h"

#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/store.h"

/* ---- which question */

static size_t first_of(enum kind kind)
{
    size_t at = 0;
    while (at < first_question_count && first_questions[at].kind != kind) {
        at++;
    }
    return at;
}

/* The question that follows, NO_INDEX behind the last of its kind. */
static size_t next_of(size_t at)
{
    return at + 1 < first_question_count && first_questions[at + 1].kind == first_questions[at].kind ? at + 1
                                                                                                     : NO_INDEX;
}

static size_t find_question(enum kind kind, const char *key)
{
    for (size_t i = first_of(kind); i != NO_INDEX && i < first_question_count; i = next_of(i)) {
        if (strcmp(first_questions[i].key, key) == 0) {
            return i;
        }
    }
    return NO_INDEX;
}

/* ---- what was answered so far */

/* Named as a question, or the unit beside a rating. */
static bool is_answer(enum kind kind, const char *name)
{
    return find_question(kind, name) != NO_INDEX || (kind == KIND_APPLIANCE && strcmp(name, "unit") == 0);
}

static bool was_answered(const struct visit *visit, const char *key)
{
    return form_has(&visit->body, key);
}

/* The answers of the address become those of a form, so that both are read in one way. */
static void take_answers(struct visit *visit, enum kind kind)
{
    for (size_t i = 0; i < visit->query.count; i++) {
        const struct field *field = &visit->query.field[i];
        if (is_answer(kind, field->name) && !form_has(&visit->body, field->name)) {
            form_add(&visit->body, field->name, field->value);
        }
    }
    form_add(&visit->body, "kind", kind_word(kind));
}

/* A document of the house with the line as far as it is known; *ret_section is of it. False with the error set. */
static bool draft(struct visit *visit, enum kind kind, struct document **ret_document, const char **ret_id)
{
    const char *word = kind_word(kind);
    *ret_document = visit->house == NULL ? document_new("") : house_document(visit->house, "");
    *ret_id = kind == KIND_HOUSE ? "" : edit_free_id(*ret_document, word, word, word);
    document_add(*ret_document, word, *ret_id);
    return guide_apply(visit, *ret_document, kind, *ret_id, "");
}

/* True where nothing is wrong with the answer to that question, whatever may still be missing; else the error is set.
 */
static bool answer_holds(struct visit *visit, const struct first_question *question)
{
    struct document *document = NULL;
    struct house *house = NULL;
    const char *id = NULL;
    if (draft(visit, question->kind, &document, &id)) {
        house_build(document, &house, &visit->error);
    }
    guide_fault_keep(visit, question->key); /* nothing else was asked yet */
    house_free(house);
    document_free(document);
    return !error_is_set(&visit->error);
}

/* ---- the page of a question */

/* `&key=value` of each answer given, for the address of another question. */
static void add_query(struct visit *visit, enum kind kind, struct text *path)
{
    for (size_t i = 0; i < visit->body.count; i++) {
        if (is_answer(kind, visit->body.field[i].name)) {
            text_printf(path, "&%s=", visit->body.field[i].name);
            html_query(path, visit->body.field[i].value);
        }
    }
}

static void add_link(struct visit *visit, size_t at, const char *words, const char *about)
{
    const struct first_question *question = &first_questions[at];
    struct text path = {0};
    text_printf(&path, "/first/%s?at=%s", kind_word(question->kind), question->key);
    add_query(visit, question->kind, &path);
    page_add(visit, "<a href=\"%s\">%s<span class=\"hidden\"> %s</span></a>", arena_text(visit->arena, &path), words,
             about);
}

static void add_hidden_answers(struct visit *visit, const struct first_question *question)
{
    for (size_t i = 0; i < visit->body.count; i++) {
        const struct field *field = &visit->body.field[i];
        const bool beside = strcmp(question->key, "rating") == 0 && strcmp(field->name, "unit") == 0;
        if (is_answer(question->kind, field->name) && strcmp(field->name, question->key) != 0 && !beside) {
            page_hidden(visit, field->name, field->value);
        }
    }
}

/* What is taken of an answer, in the words of a house file; "" where nothing is. */
static const char *taken(struct visit *visit, const struct first_question *question,
                         const struct document_section *section)
{
    const char *value = guide_value_now(visit, question->kind, section, question->key);
    if (strcmp(question->key, "rating") == 0) {
        struct text whole = {0};
        text_printf(&whole, "%s %s", value, guide_value_now(visit, KIND_APPLIANCE, section, "unit"));
        value = whole.length > 1 ? arena_copy(visit->arena, text_string(&whole)) : "";
        text_done(&whole);
    }
    return value[0] != '\0' && value[strlen(value) - 1] == ':' ? "" : value; /* `branch:` of no branch yet */
}

static void add_taken_row(struct visit *visit, size_t at, const struct document_section *section)
{
    const struct first_question *question = &first_questions[at];
    const char *label = guide_field_label(visit, question->kind, question->key);
    const char *posted = guide_posted(visit, "", question->key);
    const char *value = section == NULL ? "" : taken(visit, question, section);
    const bool in_name = strcmp(question->key, "rating") == 0 && section != NULL &&
                         document_value(section, "rating_from") != NULL; /* `Kettle, 1440 W` */
    const bool typical = posted[0] == '\0' && value[0] != '\0' && !in_name;
    value = value[0] == '\0' ? posted : value; /* what was not put in yet stands as it was typed */
    page_add(visit, "<div><dt>%s</dt><dd>%s%s ", label,
             value[0] == '\0' ? "left open" : guide_answer_name(visit, question->kind, question->key, value),
             typical ? ", a typical figure" : "");
    add_link(visit, at, "Change", label);
    page_add(visit, "</dd></div>");
}

/* What was said to the questions before this one, as it is understood. */
static void add_taken(struct visit *visit, size_t at)
{
    const enum kind kind = first_questions[at].kind;
    struct document *document = NULL;
    struct error before = visit->error;
    const char *id = NULL;
    bool any = false;
    visit->error = (struct error){0};
    draft(visit, kind, &document, &id);
    error_done(&visit->error);
    visit->error = before;
    for (size_t i = first_of(kind); i < at; i++) {
        if (was_answered(visit, first_questions[i].key)) {
            page_add(visit, any ? "" : "<div role=\"status\"><h2>Taken so far</h2><dl class=\"taken\">");
            add_taken_row(visit, i, document_find(document, kind_word(kind), id));
            any = true;
        }
    }
    page_add(visit, any ? "</dl></div>\n" : "");
    document_free(document);
}

/* True where the rating is no plate's: a typical figure stands in, and is said to. */
static bool is_typical(const struct first_question *question, const struct document_section *section)
{
    return strcmp(question->key, "rating") == 0 && document_value(section, "rating_from") == NULL;
}

/* The row that was stored last, as it was taken. */
static void add_stored(struct visit *visit, enum kind kind, const char *id)
{
    struct document *document = house_document(visit->house, "page");
    const struct document_section *section = document_find(document, kind_word(kind), id);
    page_add(visit, "<p role=\"status\" class=\"stored\">Stored");
    for (size_t i = first_of(kind); section != NULL && i != NO_INDEX; i = next_of(i)) {
        const char *value = taken(visit, &first_questions[i], section);
        if (value[0] != '\0') {
            page_add(visit, "%s%s%s%s", i == first_of(kind) ? ": " : ", ", first_questions[i].said,
                     guide_answer_name(visit, kind, first_questions[i].key, value),
                     is_typical(&first_questions[i], section) ? " (a typical figure)" : "");
        }
    }
    page_add(visit, ". <a href=\"/build/%s%s%s%s\">Correct it</a></p>\n", kind == KIND_HOUSE ? "" : "correct/",
             kind_word(kind), kind == KIND_HOUSE ? "" : "/", id);
    document_free(document);
}

static void add_added(struct visit *visit, enum kind kind)
{
    size_t count = 0;
    if (visit->house == NULL || !form_has(&visit->query, "added")) {
        return;
    }
    house_rows(visit->house, kind, &count);
    if (count > 0) {
        add_stored(visit, kind, house_row_id(visit->house, kind, count - 1));
    } else if (kind == KIND_BRANCH) {
        add_stored(visit, KIND_HOUSE, "");
    }
}

/* The way on without another line; back to the question before; and all fields on one page. */
static void add_ways(struct visit *visit, size_t at)
{
    const enum kind kind = first_questions[at].kind;
    const struct first_kind *row = first_kind_of(kind);
    const bool first = at == first_of(kind);
    page_add(visit, "<p class=\"links\">");
    if (!first) {
        add_link(visit, at - 1, "Back", "to the question before");
        page_add(visit, " ");
    }
    if (first && row->more != NULL) {
        page_add(visit, "<a class=\"next\" href=\"%s\">%s</a> ", row->next, row->more);
    }
    page_add(visit, "<a href=\"%s\">All fields on one page</a></p>\n",
             visit->house == NULL ? "/build/house" : guide_page_of(visit, kind, NO_INDEX));
}

/* What is proposed where nothing was said yet: the next free space, the room that has nothing. */
static void propose(struct guide_form *form, enum kind kind)
{
    const struct house *house = form->visit->house;
    if (kind == KIND_BRANCH) {
        form_add(&form->proposed, "position", guide_next_space(form->visit, 0));
    } else if (kind == KIND_APPLIANCE && house != NULL) {
        const size_t room = house_find(house, KIND_ROOM, guide_posted(form->visit, "", "room"));
        const size_t last = house->appliance_count == 0 ? NO_INDEX : house->appliances[house->appliance_count - 1].room;
        form_add(&form->proposed, "at", guide_likely_place(form->visit, room));
        form_add(&form->proposed, "room",
                 room != NO_INDEX   ? house->rooms[room].id
                 : last != NO_INDEX ? house->rooms[last].id
                                    : "");
    }
}

static void show_question(struct visit *visit, size_t at)
{
    const struct first_question *question = &first_questions[at];
    const bool last = next_of(at) == NO_INDEX;
    struct guide_form form = guide_form_new(visit, question->kind);
    form.hint = question->hint;
    form.focus = !error_is_set(&visit->error);
    form.again = was_answered(visit, question->key);
    propose(&form, question->kind);
    const char *path = arena_printf(visit->arena, "/first/%s", kind_word(question->kind));
    page_begin(visit, question->ask);
    if (error_is_set(&visit->error)) {
        guide_fault_box(visit);
    }
    add_added(visit, question->kind);
    page_add(visit, "<form method=\"%s\" action=\"%s\" class=\"fields guide one\">", last ? "post" : "get", path);
    if (last) {
        page_form_secrets(visit);
        page_hidden(visit, "kind", kind_word(question->kind));
    } else {
        page_hidden(visit, "asked", question->key);
    }
    add_hidden_answers(visit, question);
    guide_form_field(&form, question->key);
    guide_form_end(&form, last ? "Store it" : "Go on");
    add_ways(visit, at);
    add_taken(visit, at);
    page_end(visit);
}

/* ---- the addresses */

/* The kind in the address; false with the answer made: no such page, or the house has been begun already. */
static bool read_kind(struct visit *visit, enum kind *ret_kind)
{
    const struct section *section = section_named(visit->rest);
    if (section == NULL || first_kind_of(section->kind) == NULL) {
        visit_refuse(visit, 404, "Not here", "There is no such page.");
        return false;
    }
    *ret_kind = section->kind;
    if (section->kind == KIND_HOUSE && visit->house != NULL) {
        visit_go_to(visit, "/first/branch");
        return false;
    }
    return true;
}

void view_first(struct visit *visit)
{
    enum kind kind = KIND_HOUSE;
    if (!guide_ready(visit) || !read_kind(visit, &kind)) {
        return;
    }
    if (kind == KIND_APPLIANCE && visit->house->branch_count == 0) {
        visit_go_to(visit, "/first/branch");
        return;
    }
    take_answers(visit, kind);
    const size_t asked = find_question(kind, form_value(&visit->query, "asked"));
    const size_t back = find_question(kind, form_value(&visit->query, "at"));
    if (asked == NO_INDEX) {
        show_question(visit, back == NO_INDEX ? first_of(kind) : back);
        return;
    }
    const bool holds = answer_holds(visit, &first_questions[asked]);
    visit->answer.status = holds ? 200 : 422;
    show_question(visit, holds && next_of(asked) != NO_INDEX ? next_of(asked) : asked);
}

/* The question that the first fault is about; the last one of the kind where it is about none. */
static void show_fault(struct visit *visit, enum kind kind)
{
    const struct error *error = &visit->error;
    const struct guide_field *field = error->fault_count == 0 ? NULL : guide_fault_field(visit, &error->faults[0]);
    size_t at = field == NULL ? NO_INDEX : find_question(kind, field->key);
    text_clear(&visit->answer.body);
    if (at != NO_INDEX) {
        guide_fault_keep(visit, field->key);
    } else {
        for (at = first_of(kind); next_of(at) != NO_INDEX; at++) {
        }
    }
    show_question(visit, at);
}

static void add_fixed(struct visit *visit, enum kind kind)
{
    const struct first_kind *row = first_kind_of(kind);
    if (row->fixed != NULL) {
        form_add(&visit->body, row->fixed, row->value);
    }
}

void store_first(struct visit *visit)
{
    struct text path = {0};
    enum kind kind = KIND_HOUSE;
    if (!read_kind(visit, &kind)) {
        return;
    }
    add_fixed(visit, kind);
    if (kind == KIND_TARIFF) {
        text_add(&path, "/");
    } else {
        text_printf(&path, "/first/%s?added=1", kind == KIND_HOUSE ? "branch" : visit->rest);
    }
    if (kind == KIND_HOUSE) {
        guide_begin_house(visit, text_string(&path));
    } else {
        visit_store(visit, guide_add_to, text_string(&path));
    }
    if (visit->answer.status == 422) {
        show_fault(visit, kind);
    } else if (visit->answer.status == 503 && visit->answer.body.length == 0) {
        visit_refuse(visit, 503, "The house can't be begun", error_message(&visit->error));
    }
    text_done(&path);
}
