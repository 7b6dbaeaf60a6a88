/* The changes of the guide: a line added, corrected, removed, the last step undone. */
#include <string.h>

#include "ampsum/answer_next.h"
#include "ampsum/edit.h"
#include "ampsum/store.h"
#include "guide.h"

enum { LINES_MOST = 12 };

/* The kind that the form names; false with the error set. */
static bool read_kind(struct visit *visit, enum kind *ret_kind)
{
    const char *word = form_value(&visit->body, "kind");
    const struct section *section = section_named(word);
    if (section == NULL) {
        error_set(&visit->error, ERROR_INPUT, "'%s': not a kind of line that a house has", word);
        return false;
    }
    *ret_kind = section->kind;
    return true;
}

/* ---- where it goes on */

/* The page of the line that the form named; the row is looked up in the house as it was before. */
static const char *page_before(struct visit *visit)
{
    enum kind kind = KIND_HOUSE;
    const char *id = form_value(&visit->body, "id");
    if (!read_kind(visit, &kind)) {
        return "/build";
    }
    const size_t index = id[0] == '\0' ? NO_INDEX : house_find(visit->house, kind, id);
    return guide_page_of(visit, kind, index);
}

static void go_on(struct visit *visit, const char *page, bool added)
{
    struct text next = {0};
    const char *lines = form_value(&visit->body, "lines");
    text_add(&next, page);
    if (added) {
        text_printf(&next, "%cadded=%s", strchr(page, '?') == NULL ? '?' : '&', form_value(&visit->body, "kind"));
    }
    if (added && lines[0] != '\0' && lines[strspn(lines, "0123456789")] == '\0') {
        text_printf(&next, "&lines=%s", lines);
    }
    visit_go_to(visit, text_string(&next));
    text_done(&next);
}

/* The page with what was typed, and why it can't be stored. */
static void show_again(struct visit *visit, bool correction)
{
    const struct section *section = section_named(form_value(&visit->body, "kind"));
    if (section == NULL) {
        return; /* the page that change.c made says so */
    }
    text_clear(&visit->answer.body);
    guide_again(visit, section->kind, correction);
}

/* Stores what the form says, and goes on or shows it again. */
static void store_line(struct visit *visit, visit_change change, bool adds)
{
    visit_store(visit, change, "/build");
    if (visit->answer.status == 303) {
        go_on(visit, page_before(visit), adds);
    } else if (visit->answer.status == 422) {
        show_again(visit, !adds);
    }
}

/* ---- step 1 */

void guide_begin_house(struct visit *visit, const char *next)
{
    if (!site_is_new(visit->site)) {
        visit_refuse(visit, 409, "This house is there already", "Someone has begun it meanwhile. Nothing was changed.");
        return;
    }
    struct document *document = document_new("");
    struct house *house = NULL;
    document_add(document, "house", "");
    const bool stored = guide_apply(visit, document, KIND_HOUSE, "", "") &&
                        house_build(document, &house, &visit->error) &&
                        store_create(visit->site->path, house, false, &visit->error);
    house_free(house);
    document_free(document);
    if (stored) {
        visit_go_to(visit, next);
    } else {
        visit->answer.status = visit->error.code == ERROR_INPUT ? 422 : 503;
    }
}

void guide_first(struct visit *visit)
{
    guide_begin_house(visit, "/build/panel");
    if (visit->answer.status == 422 || (visit->answer.status == 503 && visit->answer.body.length == 0)) {
        guide_again(visit, KIND_HOUSE, false);
    }
}

/* ---- adding */

/* Legs left as usual: those of the space. The person sees them in the list and can choose others. */
static bool add_legs(struct visit *visit, struct document *document, enum kind kind, const char *id)
{
    const struct house *house = visit->house;
    const struct document_section *section = document_find(document, kind_word(kind), id);
    const bool asked = kind == KIND_BRANCH || kind == KIND_PANEL;
    if (!asked || house->system == SYSTEM_SINGLE_PHASE || document_value(section, "legs") != NULL) {
        return true;
    }
    const char *poles = document_value(section, "poles");
    const unsigned legs = next_legs(house, document_value(section, kind == KIND_BRANCH ? "panel" : "from"),
                                    document_value(section, "position"), poles == NULL ? 1 : poles[0] - '0');
    return edit_put(document, kind, id, "legs", legs_word(legs), &visit->error);
}

static bool add_line(struct visit *visit, struct document *document, enum kind kind, const char *prefix,
                     struct text *ret_what)
{
    const char *word = kind_word(kind);
    const struct typed_line line = guide_line(visit, kind, "", prefix);
    const char *name = typed_line_name(&line, visit->arena);
    const char *id = edit_free_id(document, word, name, word);
    text_printf(ret_what, "%s %s", word, name);
    return edit_add(document, word, id, NULL, 0, &visit->error) && guide_apply(visit, document, kind, id, prefix) &&
           add_legs(visit, document, kind, id);
}

/* Several lines of a door: those with a label, in the order of the page. */
static bool add_lines(struct visit *visit, struct document *document, enum kind kind, struct text *ret_what)
{
    size_t added = 0;
    for (int i = 1; i <= LINES_MOST; i++) {
        const char *copy = arena_printf(visit->arena, "%d.", i);
        if (guide_posted(visit, copy, "label")[0] != '\0') {
            text_add(ret_what, added++ == 0 ? "" : ", ");
            if (!add_line(visit, document, kind, copy, ret_what)) {
                return false;
            }
        }
    }
    if (added == 0) {
        guide_fault_set(visit, KIND_BRANCH, "label", "no line has one yet, expected what the door says");
    }
    return added > 0;
}

bool guide_add_to(struct visit *visit, struct document *document, struct text *ret_what)
{
    enum kind kind = KIND_HOUSE;
    if (!read_kind(visit, &kind)) {
        return false;
    }
    const bool several = kind == KIND_BRANCH && form_has(&visit->body, "lines");
    text_add(ret_what, "add ");
    return several ? add_lines(visit, document, kind, ret_what) : add_line(visit, document, kind, "", ret_what);
}

void guide_add(struct visit *visit)
{
    store_line(visit, guide_add_to, true);
}

/* ---- correcting */

/* The line that the form is about, and what is done to it in words; false with the error set. */
static bool read_line(struct visit *visit, const char *act, enum kind *ret_kind, size_t *ret_index,
                      struct text *ret_what)
{
    const char *id = form_value(&visit->body, "id");
    if (!read_kind(visit, ret_kind)) {
        return false;
    }
    *ret_index = house_find(visit->house, *ret_kind, id);
    text_printf(ret_what, "%s %s %s", act, kind_word(*ret_kind), visit_name(visit, *ret_kind, id));
    return true;
}

static bool set(struct visit *visit, struct document *document, struct text *ret_what)
{
    enum kind kind = KIND_HOUSE;
    size_t index = NO_INDEX;
    const char *id = form_value(&visit->body, "id");
    if (!read_line(visit, "correct", &kind, &index, ret_what)) {
        return false;
    }
    if (kind == KIND_PANEL && index == 0 && document_find(document, "panel", id) == NULL) {
        document_add(document, "panel", id);
    }
    return guide_apply(visit, document, kind, id, "");
}

void guide_set(struct visit *visit)
{
    store_line(visit, set, false);
}

/* ---- removing */

/* `appliance Kettle would go with it`. */
static void add_consequence(struct visit *visit, const struct edit_along *along, struct text *ret_text)
{
    text_printf(ret_text, "\n%s %s %s", along->word, visit_name(visit, section_named(along->word)->kind, along->id),
                along->key == NULL ? "would go with it" : "would stay, without the mention of it");
}

/* Why it can't go alone, in names, and the button that takes all along. */
static void offer_all(struct visit *visit, struct document *document, const char *word, const char *id)
{
    enum { SHOWN_MOST = 20 };
    struct edit_along_list along = {0};
    struct text message = {0};
    struct error unread = {0};
    const enum kind kind = section_named(word)->kind;
    if (edit_remove(document, word, id, true, &along, &unread)) {
        text_printf(&message, "%s can't go alone: this hangs on it.", visit_name(visit, kind, id));
        for (size_t i = 0; i < along.count && i < SHOWN_MOST; i++) {
            add_consequence(visit, &along.rows[i], &message);
        }
        if (along.count > SHOWN_MOST) {
            text_printf(&message, "\nand %zu more", along.count - SHOWN_MOST);
        }
        error_done(&visit->error);
        visit->error = (struct error){0};
        error_set(&visit->error, ERROR_INPUT, "%s", text_string(&message));
        visit->offer = (struct offer){"Something hangs on it", "with_all", "Remove with all that hangs on it"};
    }
    error_done(&unread);
    edit_along_done(&along);
    text_done(&message);
}

static bool take_out(struct visit *visit, struct document *document, struct text *ret_what)
{
    enum kind kind = KIND_HOUSE;
    size_t index = NO_INDEX;
    struct edit_along_list also = {0};
    const char *id = form_value(&visit->body, "id");
    const bool with_all = form_has(&visit->body, "with_all");
    if (!read_line(visit, "remove", &kind, &index, ret_what)) {
        return false;
    }
    text_add(ret_what, with_all ? " with all that hangs on it" : "");
    const bool removed = edit_remove(document, kind_word(kind), id, with_all, &also, &visit->error);
    edit_along_done(&also);
    if (!removed && index != NO_INDEX && sections[kind].takes_id) {
        offer_all(visit, document, kind_word(kind), id);
    }
    return removed;
}

void guide_remove(struct visit *visit)
{
    visit_store(visit, take_out, "/build");
    if (visit->answer.status == 303) {
        go_on(visit, page_before(visit), false);
    }
}

/* ---- undoing */

/* A page of the guide and nothing else. */
static bool is_page(const char *path)
{
    return strncmp(path, "/build", 6) == 0 && path[strspn(path, "abcdefghijklmnopqrstuvwxyz0123456789-/?=&")] == '\0';
}

void guide_undo(struct visit *visit)
{
    const char *back = form_value(&visit->body, "back");
    undo_change(visit);
    if (visit->answer.status == 303 && is_page(back)) {
        visit_go_to(visit, back);
    }
}
