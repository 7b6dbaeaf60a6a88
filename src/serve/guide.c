/*
 * The first house guide: the frame of its pages, which are rows of guide_pages.c, and the page that shows where it
 * stands. Each step is a page of its own, so that a house of hundreds of appliances stays quick to read and to send.
 */
#include <string.h>

#include "ampsum/answer_next.h"
#include "ampsum/service.h"
#include "guide.h"

const char *guide_asked(const struct visit *visit, const char *name)
{
    return form_value(visit->post ? &visit->body : &visit->query, name);
}

/* ---- which page is whose */

static bool takes_id(const struct guide_page *page)
{
    return page->path[strlen(page->path) - 1] == '/';
}

/* Of a row that the page is about. The ID may be one that was typed; the main panel goes without saying. */
static const char *address_of(struct visit *visit, const struct guide_page *page, const char *id)
{
    struct text path = {0};
    if (page->own == NULL || (page->about == KIND_PANEL && (id[0] == '\0' || strcmp(id, "main") == 0))) {
        return page->path;
    }
    text_add(&path, page->own);
    html_query(&path, id);
    return arena_text(visit->arena, &path);
}

/* The page on which lines of a kind are added: a period's is its tariff's. */
static const struct guide_page *page_for(enum kind kind)
{
    const struct guide_page *page = guide_pages;
    while (page->kind != (kind == KIND_PERIOD ? KIND_TARIFF : kind)) {
        page++;
    }
    return page;
}

/* The row that its page is about. */
static size_t row_about(const struct house *house, enum kind kind, size_t index)
{
    return kind == KIND_BRANCH   ? house->branches[index].panel
           : kind == KIND_OUTLET ? house->outlets[index].branch
                                 : house->appliances[index].room;
}

const char *guide_page_of(struct visit *visit, enum kind kind, size_t index)
{
    const struct guide_page *page = page_for(kind);
    const char *id = page->own == NULL ? "" : guide_asked(visit, page->asked);
    if (page->own != NULL && index != NO_INDEX) {
        const size_t row = row_about(visit->house, kind, index);
        id = row == NO_INDEX ? "" : house_row_id(visit->house, page->about, row);
    }
    return address_of(visit, page, id);
}

/* ---- the frame */

bool guide_ready(struct visit *visit)
{
    if (visit->site->read_only) {
        visit_refuse(visit, 404, "Not here", "This house is served for reading.");
        return false;
    }
    if (visit->post) {
        return true; /* shown again after a change that failed: the house has been read */
    }
    if (site_is_new(visit->site)) {
        if (strcmp(visit->path, "/build/house") == 0 || strcmp(visit->path, "/first/house") == 0) {
            return true;
        }
        visit_go_to(visit, "/first/house");
        return false;
    }
    if (visit->house == NULL && !visit_read_house(visit)) {
        visit_refuse(visit, 503, "The house can't be read now", error_message(&visit->error));
        return false;
    }
    return true;
}

static bool is_step(const struct guide_page *step, const char *path)
{
    const size_t length = strlen(step->path);
    return strncmp(path, step->path, length) == 0 && (path[length] == '\0' || strchr("/?", path[length]) != NULL);
}

/* Those with a number, or those for who wants them, each with how much it holds. `path`: of the page that is shown;
 * `told`: with what it is good for. */
static void add_steps(struct visit *visit, const char *path, bool numbered, bool told)
{
    for (const struct guide_page *step = guide_pages; step->path != NULL; step++) {
        if (step->name == NULL || (step->number != NULL) != numbered) {
            continue;
        }
        page_add(visit, "<li><a href=\"%s\"", step->path);
        page_add(visit, is_step(step, path) ? " aria-current=\"step\"" : "");
        page_add(visit, ">%s%s%s</a>", step->number, numbered ? ". " : "", step->name);
        const size_t count = step->kind == KIND_HOUSE ? 0 : next_count(visit->house, step->kind);
        if (!told) {
            page_add(visit, count == 0 ? "</li>" : " <span class=\"number\">%zu</span></li>", count);
        } else {
            if (step->kind != KIND_HOUSE) {
                page_add(visit, count == 0 ? ": none yet" : ": %zu", count);
            }
            page_add(visit, "<small>%s</small></li>", step->good_for);
        }
    }
    page_add(visit, "</ul>");
}

static void begin(struct visit *visit, const struct guide_spot *at)
{
    page_begin(visit, at->title);
    if (visit->house != NULL) {
        page_add(visit, "<nav class=\"way\" aria-label=\"Steps\"><ul>");
        add_steps(visit, at->path, true, false);
        page_add(visit, "<ul class=\"aside\"><li>If you like:</li>");
        add_steps(visit, at->path, false, false);
        page_add(visit, "</nav>\n");
    }
    if (visit->post) {
        guide_fault_box(visit);
    }
}

/* Names the line that was added last, where the address says of which kind one was. */
static void add_added(struct visit *visit)
{
    const struct section *section = section_named(form_value(&visit->query, "added"));
    size_t count = 0;
    if (section != NULL) {
        house_rows(visit->house, section->kind, &count);
    }
    if (count > 0) {
        page_add(visit, "<p role=\"status\">Added: %s.</p>\n", house_row_name(visit->house, section->kind, count - 1));
    }
}

static void end(struct visit *visit, const char *path)
{
    if (visit->house != NULL) {
        page_add(visit, "<div class=\"onward\">");
        page_post(visit, "/build/undo", "inline");
        page_hidden(visit, "back", path);
        page_add(visit, "<button>Undo the last step</button></form> ");
        for (const struct guide_page *step = guide_pages; step[1].number != NULL; step++) {
            if (is_step(step, path)) {
                page_add(visit, "<a href=\"%s\">Go on: %s</a>", step[1].path, step[1].name);
            }
        }
        page_add(visit, "</div>\n");
    }
    page_end(visit);
}

/* ---- one page */

/* `KIND/ID` of the address, or of the form that is shown again: the line that is corrected. */
static bool find_line(struct visit *visit, struct guide_spot *at)
{
    const char *slash = visit->post ? NULL : strchr(visit->rest, '/');
    const char *word = form_value(&visit->body, "kind");
    at->id = form_value(&visit->body, "id");
    if (slash != NULL) {
        word = arena_copy_length(visit->arena, visit->rest, (size_t)(slash - visit->rest));
        at->id = slash + 1;
    }
    const struct section *section = section_named(word);
    if (section == NULL || !section->takes_id) {
        visit_refuse(visit, 404, "Not here", "There is no such page.");
        return false;
    }
    at->kind = section->kind;
    at->row = visit_find(visit, at->kind, at->id);
    at->path = at->row == NO_INDEX ? at->path : guide_page_of(visit, at->kind, at->row);
    return at->row != NO_INDEX;
}

/* The row that the address names, or the form that is shown again; false with the refusal made. */
static bool find_row(struct visit *visit, struct guide_spot *at)
{
    const struct guide_page *page = at->page;
    const bool corrects = takes_id(page) && page->asked == NULL;
    if (page->asked != NULL) {
        at->id = takes_id(page) && !visit->post ? visit->rest : guide_asked(visit, page->asked);
        at->path = address_of(visit, page, at->id);
        at->row = at->id[0] == '\0' && !takes_id(page) ? NO_INDEX : visit_find(visit, at->kind, at->id);
    }
    if (corrects ? !find_line(visit, at) : at->row == NO_INDEX && (at->id[0] != '\0' || takes_id(page))) {
        return false;
    }
    if (takes_id(page)) {
        at->title = arena_printf(visit->arena, "%s%s", page->title, house_row_name(visit->house, at->kind, at->row));
    }
    return true;
}

static void show(struct visit *visit, const struct guide_page *page)
{
    struct guide_spot at = {page, page->path, page->title, page->about, NO_INDEX, ""};
    if (!guide_ready(visit) || !find_row(visit, &at)) {
        return;
    }
    at.title = visit->house == NULL ? "A first house" : at.title;
    begin(visit, &at);
    add_added(visit);
    text_add(&visit->answer.body, page->intro == NULL ? "" : page->intro);
    page->body(visit, &at);
    end(visit, at.path);
}

void view_guide(struct visit *visit)
{
    const struct guide_page *page = guide_pages;
    while (takes_id(page) ? strncmp(visit->path, page->path, strlen(page->path)) != 0
                          : strcmp(visit->path, page->path) != 0) {
        page++;
    }
    show(visit, page);
}

void guide_again(struct visit *visit, enum kind kind, bool correction)
{
    const struct guide_page *page = page_for(kind);
    while (correction && sections[kind].takes_id && (page->asked != NULL || !takes_id(page))) {
        page++;
    }
    show(visit, page);
}

/* ---- where it stands */

/* The first step that holds nothing yet; the one behind them where each has something. */
static const struct guide_page *next_step(const struct house *house)
{
    enum kind kinds[] = {guide_pages[1].kind, guide_pages[2].kind, guide_pages[3].kind};
    return &guide_pages[1 + next_empty(house, kinds, sizeof kinds / sizeof kinds[0])];
}

static const char *plural(size_t count, const char *one, const char *several)
{
    return count == 1 ? one : several;
}

void guide_body_state(struct visit *visit, const struct guide_spot *at)
{
    const struct house *house = visit->house;
    const struct guide_page *next = next_step(house);
    page_add(visit,
             "<p>%s: %s rules, %s, %s %g A. So far: %zu %s, %zu %s, %zu %s. Leave at any step; it goes on from "
             "here. Everything can be corrected, and every step undone.</p><p><a class=\"next\" href=\"%s\">Go on with "
             "step %s: %s</a></p><h2>The steps</h2>\n<ul class=\"plain state\">",
             house->name, rules_word(house->rules), system_word(house->system), main_device_word(house),
             house->service_a, house->branch_count, plural(house->branch_count, "branch", "branches"),
             house->room_count, plural(house->room_count, "room", "rooms"), house->appliance_count,
             plural(house->appliance_count, "appliance", "appliances"), next->path, next->number, next->name);
    add_steps(visit, at->path, true, true);
    page_add(visit, "\n<h2>If you like</h2>\n<ul class=\"plain state\">");
    add_steps(visit, at->path, false, true);
    page_add(visit, "\n");
}
