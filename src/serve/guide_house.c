/* Step 1, the house and its supply; and the page on which any line is corrected. */
#include <string.h>

#include "ampsum/edit.h"
#include "guide.h"

static void add_first(struct visit *visit)
{
    struct guide_form form = guide_form_new(visit, KIND_HOUSE);
    form.focus = !visit->post;
    guide_begin(visit, "/build/house", "A first house");
    page_add(
        visit,
        "<p>Step 1 of 5: the house and its supply. Then come the door of the panel, the rooms, the appliances, and "
        "a look at what is missing. You can leave at any step and go on later; everything can be corrected, and "
        "every step undone.</p>\n");
    guide_form_whole(&form, "/build/house", "Begin");
    guide_end(visit, "/build/house");
}

/* The form of a row as it stands. */
static void add_correction(struct visit *visit, enum kind kind, const char *id)
{
    struct document *document = house_document(visit->house, "page");
    struct guide_form form = guide_form_new(visit, kind);
    form.id = id;
    form.now = document_find(document, kind_word(kind), id);
    /* The main panel needs no section: it has none where nothing was given. */
    static const struct document_section nothing = {.word = "", .id = ""};
    form.now = form.now == NULL ? &nothing : form.now;
    guide_form_whole(&form, "/build/set", "Store the correction");
    document_free(document);
}

void view_guide_house(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    if (visit->house == NULL) {
        add_first(visit);
        return;
    }
    guide_begin(visit, "/build/house", "House and supply");
    page_add(visit, "<p>What is left empty is as usual under these rules.</p>\n");
    add_correction(visit, KIND_HOUSE, "");
    guide_end(visit, "/build/house");
}

/* `KIND/ID` of the address, or of the form that is shown again. */
static bool read_row(struct visit *visit, enum kind *ret_kind, const char **ret_id)
{
    const char *slash = visit->post ? NULL : strchr(visit->rest, '/');
    const char *word = form_value(&visit->body, "kind");
    *ret_id = form_value(&visit->body, "id");
    if (slash != NULL) {
        word = arena_copy_length(visit->arena, visit->rest, (size_t)(slash - visit->rest));
        *ret_id = slash + 1;
    }
    const struct section *section = section_named(word);
    if (section == NULL || !section->takes_id) {
        visit_refuse(visit, 404, "Not here", "There is no such page.");
        return false;
    }
    *ret_kind = section->kind;
    return visit_find(visit, section->kind, *ret_id) != NO_INDEX;
}

void view_guide_correct(struct visit *visit)
{
    enum kind kind = KIND_HOUSE;
    const char *id = NULL;
    if (!guide_ready(visit) || !read_row(visit, &kind, &id)) {
        return;
    }
    const size_t index = house_find(visit->house, kind, id);
    const char *page = guide_page_of(visit, kind, index);
    const char *title = arena_printf(visit->arena, "Correct: %s", house_row_name(visit->house, kind, index));
    guide_begin(visit, page, title);
    add_correction(visit, kind, id);
    page_add(visit, "<p class=\"links\"><a href=\"%s\">Leave it as it is</a>", page);
    if (kind == KIND_BRANCH) {
        page_add(visit, " <a href=\"/build/outlets/%s\">Its outlets</a>", id);
    }
    page_add(visit, "</p>\n");
    guide_end(visit, page);
}
