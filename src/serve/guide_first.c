/*
 * The first house, one question a page: a selection of rows of guide_fields.c, each with its question. What was
 * answered so far stands in the address, so that Back goes back with it and nothing is lost where the program stops; a
 * line is stored by the last question of its kind, in one press.
 */
#include <string.h>

#include "ampsum/answer_next.h"
#include "ampsum/edit.h"
#include "ampsum/store.h"
#include "guide.h"

enum { QUESTIONS_MOST = 8 };

/* Of one kind: which of its fields are asked, in their order, what leads on to the next kind, and where it leads. */
struct first_kind {
    enum kind kind;
    const char *keys[QUESTIONS_MOST]; /* NULL-ended */
    const char *more;                 /* what the link says that ends the lines of this kind */
    const char *next;                 /* its path */
    const char *fixed;                /* a key that is not asked, NULL: none */
    const char *value;
};

/* NULL where nothing is asked about that kind. */
static const struct first_kind *first_kind_of(enum kind kind)
{
    static const struct first_kind kinds[] = {
        {KIND_HOUSE, {"name", "rules", "main_breaker", "floor_area", "currency"}, NULL, "/first/branch"},
        {KIND_BRANCH, {"label", "breaker", "position"}, "No more lines: on to the rooms", "/first/room"},
        {KIND_ROOM, {"name"}, "No more rooms: on to what is plugged in", "/first/appliance"},
        {KIND_APPLIANCE,
         {"name", "room", "at", "rating", "use", "hours"},
         "Nothing more: on to the price of energy",
         "/first/tariff"},
        {KIND_TARIFF, {"price"}, "Leave it: see the house", "/", "name", "One price"},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (kinds[i].kind == kind) {
            return &kinds[i];
        }
    }
    return NULL;
}

/* ---- which question */

static size_t find_question(const struct first_kind *row, const char *key)
{
    size_t at = 0;
    while (row->keys[at] != NULL && strcmp(row->keys[at], key) != 0) {
        at++;
    }
    return row->keys[at] == NULL ? NO_INDEX : at;
}

static bool is_last(const struct first_kind *row, size_t at)
{
    return row->keys[at + 1] == NULL;
}

static const struct guide_field *field_at(const struct first_kind *row, size_t at)
{
    return guide_field_of(row->kind, row->keys[at]);
}

/* ---- what was answered so far */

/* Named as a question, or the unit beside a rating. */
static bool is_answer(const struct first_kind *row, const char *name)
{
    return find_question(row, name) != NO_INDEX || (row->kind == KIND_APPLIANCE && strcmp(name, "unit") == 0);
}

/* The answers of the address become those of a form, so that both are read in one way. */
static void take_answers(struct visit *visit, const struct first_kind *row)
{
    for (size_t i = 0; i < visit->query.count; i++) {
        const struct field *field = &visit->query.field[i];
        if (is_answer(row, field->name) && !form_has(&visit->body, field->name)) {
            form_add(&visit->body, field->name, field->value);
        }
    }
    form_add(&visit->body, "kind", kind_word(row->kind));
}

/* A document of the house with the line as far as it is known; *ret_id is its section's. False with the error set. */
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
static bool answer_holds(struct visit *visit, const struct guide_field *field)
{
    struct document *document = NULL;
    struct house *house = NULL;
    const char *id = NULL;
    if (draft(visit, field->kind, &document, &id)) {
        house_build(document, &house, &visit->error);
    }
    guide_fault_keep(visit, field->key); /* nothing else was asked yet */
    house_free(house);
    document_free(document);
    return !error_is_set(&visit->error);
}

/* ---- the page of a question */

/* To another question of that kind, each answer given in its address as `&key=value`. */
static void add_link(struct visit *visit, const struct first_kind *row, size_t at, const char *words, const char *about)
{
    const char *path = arena_printf(visit->arena, "/first/%s", kind_word(row->kind));
    struct form pairs = {0};
    form_add(&pairs, "question", row->keys[at]);
    for (size_t i = 0; i < visit->body.count; i++) {
        if (is_answer(row, visit->body.field[i].name)) {
            form_add(&pairs, visit->body.field[i].name, visit->body.field[i].value);
        }
    }
    page_add(visit, "<a href=\"%s\">%s<span class=\"hidden\"> %s</span></a>", page_address(visit, path, &pairs), words,
             about);
}

static void add_hidden_answers(struct visit *visit, const struct first_kind *row, const struct guide_field *asked)
{
    for (size_t i = 0; i < visit->body.count; i++) {
        const struct field *field = &visit->body.field[i];
        const bool beside = asked->own == OWN_RATING && strcmp(field->name, "unit") == 0;
        if (is_answer(row, field->name) && strcmp(field->name, asked->key) != 0 && !beside) {
            page_hidden(visit, field->name, field->value);
        }
    }
}

/* True where the rating is no plate's: a typical figure stands in, and is said to. */
static bool is_typical(const struct guide_field *field, const struct document_section *section)
{
    return field->own == OWN_RATING && section != NULL && document_value(section, "rating_from") == NULL;
}

static void add_taken_row(struct visit *visit, const struct first_kind *row, size_t at,
                          const struct document_section *section)
{
    const struct guide_field *field = field_at(row, at);
    const char *label = guide_field_label(visit, field);
    const char *told = section == NULL ? "" : guide_told(visit, field, section);
    const char *posted = guide_posted(visit, "", field->key); /* what was not put in yet stands as it was typed */
    page_add(visit, "<div><dt>%s</dt><dd>%s%s ", label,
             told[0] != '\0'     ? told
             : posted[0] == '\0' ? "left open"
                                 : guide_answer_name(visit, field, posted),
             told[0] != '\0' && is_typical(field, section) ? ", a typical figure" : "");
    add_link(visit, row, at, "Change", label);
    page_add(visit, "</dd></div>");
}

/* What was said to the questions before this one, as it is understood. */
static void add_taken(struct visit *visit, const struct first_kind *row, size_t at)
{
    struct document *document = NULL;
    struct error before = visit->error;
    const char *id = NULL;
    bool any = false;
    visit->error = (struct error){0};
    draft(visit, row->kind, &document, &id);
    error_done(&visit->error);
    visit->error = before;
    for (size_t i = 0; i < at; i++) {
        if (form_has(&visit->body, row->keys[i])) {
            page_add(visit, any ? "" : "<div role=\"status\"><h2>Taken so far</h2><dl class=\"taken\">");
            add_taken_row(visit, row, i, document_find(document, kind_word(row->kind), id));
            any = true;
        }
    }
    page_add(visit, any ? "</dl></div>\n" : "");
    document_free(document);
}

/* The row that was stored last, as it was taken. */
static void add_stored(struct visit *visit, const struct first_kind *row, const char *id)
{
    const bool house = row->kind == KIND_HOUSE;
    struct document *document = house_document(visit->house, "page");
    const struct document_section *section = document_find(document, kind_word(row->kind), id);
    page_add(visit, "<p role=\"status\" class=\"stored\">Stored");
    for (size_t i = 0; section != NULL && row->keys[i] != NULL; i++) {
        const struct guide_field *field = field_at(row, i);
        const char *told = guide_told(visit, field, section);
        if (told[0] != '\0') {
            page_add(visit, "%s%s%s%s", i == 0 ? ": " : ", ", field->said == NULL ? "" : field->said, told,
                     is_typical(field, section) ? " (a typical figure)" : "");
        }
    }
    page_add(visit, ". <a href=\"/build/%s%s%s%s\">Correct it</a></p>\n", house ? "" : "correct/", kind_word(row->kind),
             house ? "" : "/", id);
    document_free(document);
}

static void add_added(struct visit *visit, const struct first_kind *row)
{
    size_t count = 0;
    if (visit->house == NULL || !form_has(&visit->query, "added")) {
        return;
    }
    house_rows(visit->house, row->kind, &count);
    if (count > 0) {
        add_stored(visit, row, house_row_id(visit->house, row->kind, count - 1));
    } else if (row->kind == KIND_BRANCH) {
        add_stored(visit, first_kind_of(KIND_HOUSE), "");
    }
}

/* The way on without another line; back to the question before; and all fields on one page. */
static void add_ways(struct visit *visit, const struct first_kind *row, size_t at)
{
    page_add(visit, "<p class=\"links\">");
    if (at > 0) {
        add_link(visit, row, at - 1, "Back", "to the question before");
        page_add(visit, " ");
    } else if (row->more != NULL) {
        page_add(visit, "<a class=\"next\" href=\"%s\">%s</a> ", row->next, row->more);
    }
    page_add(visit, "<a href=\"%s\">All fields on one page</a></p>\n",
             visit->house == NULL ? "/build/house" : guide_page_of(visit, row->kind, NO_INDEX));
}

/* What is proposed where nothing was said yet: the next free space, the room that has nothing. */
static void propose(struct guide_form *form, enum kind kind)
{
    const struct house *house = form->visit->house;
    if (kind == KIND_BRANCH) {
        form_add(&form->proposed, "position", guide_next_space(form->visit, 0));
    } else if (kind == KIND_APPLIANCE && house != NULL) {
        const size_t said = house_find(house, KIND_ROOM, guide_posted(form->visit, "", "room"));
        const size_t room = said == NO_INDEX ? next_load_room(house) : said;
        form_add(&form->proposed, "at", guide_likely_place(form->visit, said));
        form_add(&form->proposed, "room", room == NO_INDEX ? "" : house->rooms[room].id);
    }
}

static void show_question(struct visit *visit, const struct first_kind *row, size_t at)
{
    const struct guide_field *field = field_at(row, at);
    const bool last = is_last(row, at);
    struct guide_form form = guide_form_new(visit, row->kind);
    form.hint = field->hint;
    form.focus = !error_is_set(&visit->error);
    form.again = form_has(&visit->body, field->key);
    propose(&form, row->kind);
    page_begin(visit, field->ask);
    if (error_is_set(&visit->error)) {
        guide_fault_box(visit);
    }
    add_added(visit, row);
    const char *path = arena_printf(visit->arena, "/first/%s", kind_word(row->kind));
    if (last) {
        page_post(visit, path, "fields guide one");
        page_hidden(visit, "kind", kind_word(row->kind));
    } else {
        page_add(visit, "<form method=\"get\" action=\"%s\" class=\"fields guide one\">", path);
        page_hidden(visit, "asked", field->key);
    }
    add_hidden_answers(visit, row, field);
    guide_form_field(&form, field->key);
    guide_form_end(&form, last ? "Store it" : "Go on");
    add_ways(visit, row, at);
    add_taken(visit, row, at);
    page_end(visit);
}

/* ---- the addresses */

/* What the address asks about; NULL with the answer made: no such page, or the house has been begun already. */
static const struct first_kind *read_kind(struct visit *visit)
{
    const struct section *section = section_named(visit->rest);
    const struct first_kind *row = section == NULL ? NULL : first_kind_of(section->kind);
    if (row == NULL) {
        visit_refuse(visit, 404, "Not here", "There is no such page.");
    } else if (row->kind == KIND_HOUSE && visit->house != NULL) {
        visit_go_to(visit, "/first/branch");
        row = NULL;
    }
    return row;
}

void view_first(struct visit *visit)
{
    const struct first_kind *row = guide_ready(visit) ? read_kind(visit) : NULL;
    if (row == NULL) {
        return;
    }
    if (row->kind == KIND_APPLIANCE && visit->house->branch_count == 0) {
        visit_go_to(visit, "/first/branch");
        return;
    }
    take_answers(visit, row);
    const size_t asked = find_question(row, form_value(&visit->query, "asked"));
    const size_t back = find_question(row, form_value(&visit->query, "question"));
    if (asked == NO_INDEX) {
        show_question(visit, row, back == NO_INDEX ? 0 : back);
        return;
    }
    const bool holds = answer_holds(visit, field_at(row, asked));
    visit->answer.status = holds ? 200 : 422;
    show_question(visit, row, holds && !is_last(row, asked) ? asked + 1 : asked);
}

/* The question that the first fault is about; the last one of the kind where it is about none. */
static void show_fault(struct visit *visit, const struct first_kind *row)
{
    const struct error *error = &visit->error;
    const struct guide_field *field = error->fault_count == 0 ? NULL : guide_fault_field(visit, &error->faults[0]);
    size_t at = field == NULL ? NO_INDEX : find_question(row, field->key);
    text_clear(&visit->answer.body);
    if (at != NO_INDEX) {
        guide_fault_keep(visit, field->key);
    } else {
        for (at = 0; !is_last(row, at); at++) {
        }
    }
    show_question(visit, row, at);
}

void store_first(struct visit *visit)
{
    const struct first_kind *row = read_kind(visit);
    if (row == NULL) {
        return;
    }
    if (row->fixed != NULL) {
        form_add(&visit->body, row->fixed, row->value);
    }
    const char *path = row->kind == KIND_TARIFF ? "/"
                                                : arena_printf(visit->arena, "/first/%s?added=1",
                                                               row->kind == KIND_HOUSE ? "branch" : visit->rest);
    if (row->kind == KIND_HOUSE) {
        guide_begin_house(visit, path);
    } else {
        visit_store(visit, guide_add_to, path);
    }
    if (visit->answer.status == 422) {
        show_fault(visit, row);
    } else if (visit->answer.status == 503 && visit->answer.body.length == 0) {
        visit_refuse(visit, 503, "The house can't be begun", error_message(&visit->error));
    }
}
