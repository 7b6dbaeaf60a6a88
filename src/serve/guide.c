/*
 * The first house guide: the frame of its steps, and the page that shows where it stands. Each step is a page of its
 * own, so that a house of hundreds of appliances stays quick to read and to send.
 */
#include <string.h>

#include "ampsum/answer_next.h"
#include "ampsum/reference.h"
#include "ampsum/service.h"
#include "ampsum/values.h"
#include "guide.h"

/* The steps; those without a number are there for who wants them. */
static const struct step {
    const char *path;
    const char *number;
    const char *name;
    const char *good_for;
    enum kind kind; /* whose rows it adds; KIND_HOUSE: of none */
} steps[] = {
    {"/build/house", "1", "House", "Which rules hold, and what comes in from the street."},
    {"/build/panel", "2", "Panel door", "Every breaker, copied line by line from the door of the panel.", KIND_BRANCH},
    {"/build/rooms", "3", "Rooms", "The names that you use at home.", KIND_ROOM},
    {"/build/appliances", "4", "Appliances", "What is plugged in or wired, room by room.", KIND_APPLIANCE},
    {"/build/missing", "5", "What is missing", "What is not known yet, and the verdict of the check."},
    {"/build/outlets", NULL, "Outlets", "With outlets and distances the voltage at each can be worked out.",
     KIND_OUTLET},
    {"/build/panels", NULL, "More panels", "Needed only where a second panel hangs on the main one.", KIND_PANEL},
    {"/build/tariff", NULL, "Energy price", "With it every figure of energy is one of money, too.", KIND_TARIFF},
    {"/build/scenes", NULL, "Scenes", "Moments worth looking at: breakfast, a cold evening.", KIND_SCENE},
};

enum { STEP_COUNT = sizeof steps / sizeof steps[0] };

const char *guide_asked(const struct visit *visit, const char *name)
{
    return form_value(visit->post ? &visit->body : &visit->query, name);
}

/* ---- values */

bool guide_add_value(struct text *html, const struct house *house, enum kind kind, size_t index, const char *key_name)
{
    size_t count = 0;
    const char *rows = house_rows(house, kind, &count);
    const char *row = rows + index * house_row_size(kind);
    const struct key *key = section_key(&sections[kind], key_name);
    if (!key_is_given(&sections[kind], key, row)) {
        return false;
    }
    struct text value = {0};
    value_write(key, house, row, &value);
    html_add(html, "%s", text_string(&value));
    text_done(&value);
    return true;
}

void guide_add_rating(struct text *html, const struct house *house, size_t index)
{
    static const char *const keys[] = {[RATING_POWER] = "power",
                                       [RATING_APPARENT] = "apparent",
                                       [RATING_CURRENT] = "current",
                                       [RATING_RESISTANCE] = "resistance",
                                       [RATING_HORSEPOWER] = "horsepower"};
    const struct appliance *appliance = &house->appliances[index];
    if (appliance->count > 1) {
        html_add(html, "%zu x ", (size_t)appliance->count);
    }
    guide_add_value(html, house, KIND_APPLIANCE, index, keys[appliance->rating]);
}

/* ---- which page is whose */

/* The ID may be one that was typed. */
static const char *page_with(struct visit *visit, const char *path, const char *id)
{
    struct text page = {0};
    text_add(&page, path);
    html_query(&page, id);
    return arena_text(visit->arena, &page);
}

static const char *door_of(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const char *panel = guide_asked(visit, "panel");
    if (index != NO_INDEX) {
        panel = house->panels[house->branches[index].panel].id;
    }
    const bool main_panel = panel[0] == '\0' || strcmp(panel, "main") == 0;
    return main_panel ? "/build/panel" : page_with(visit, "/build/panel?panel=", panel);
}

static const char *room_page_of(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const char *room = guide_asked(visit, "room");
    if (index != NO_INDEX) {
        const size_t row = house->appliances[index].room;
        room = row == NO_INDEX ? "" : house->rooms[row].id;
    }
    return page_with(visit, "/build/appliances?room=", room);
}

static const char *outlets_of(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const bool known = index != NO_INDEX;
    return page_with(visit, "/build/outlets/",
                     known ? house->branches[house->outlets[index].branch].id : guide_asked(visit, "branch"));
}

const char *guide_page_of(struct visit *visit, enum kind kind, size_t index)
{
    static const char *const pages[KIND_COUNT] = {
        [KIND_HOUSE] = "/build/house",  [KIND_PANEL] = "/build/panels",  [KIND_ROOM] = "/build/rooms",
        [KIND_SCENE] = "/build/scenes", [KIND_TARIFF] = "/build/tariff", [KIND_PERIOD] = "/build/tariff",
    };
    switch (kind) {
    case KIND_BRANCH:
        return door_of(visit, index);
    case KIND_APPLIANCE:
        return room_page_of(visit, index);
    case KIND_OUTLET:
        return outlets_of(visit, index);
    default:
        return pages[kind];
    }
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

static bool is_step(const struct step *step, const char *path)
{
    const size_t length = strlen(step->path);
    return strncmp(path, step->path, length) == 0 && (path[length] == '\0' || strchr("/?", path[length]) != NULL);
}

/* How much a step holds already; NO_INDEX where that can't be counted. */
static size_t step_count(const struct house *house, const struct step *step)
{
    return step->kind == KIND_HOUSE ? NO_INDEX : next_count(house, step->kind);
}

/* Its link, with its number; `path`: of the page that is shown. */
static void add_step_link(struct visit *visit, const struct step *step, const char *path)
{
    page_add(visit, "<li><a href=\"%s\"", step->path);
    page_add(visit, is_step(step, path) ? " aria-current=\"step\"" : "");
    page_add(visit, ">%s%s%s</a>", step->number == NULL ? "" : step->number, step->number == NULL ? "" : ". ",
             step->name);
}

static void add_way_part(struct visit *visit, const char *path, bool numbered)
{
    page_add(visit, numbered ? "<ul>" : "<ul class=\"aside\"><li>If you like:</li>");
    for (size_t i = 0; i < STEP_COUNT; i++) {
        if ((steps[i].number != NULL) == numbered) {
            const size_t count = step_count(visit->house, &steps[i]);
            add_step_link(visit, &steps[i], path);
            page_add(visit, count == NO_INDEX || count == 0 ? "</li>" : " <span class=\"number\">%zu</span></li>",
                     count);
        }
    }
    page_add(visit, "</ul>");
}

static void add_way(struct visit *visit, const char *path)
{
    page_add(visit, "<nav class=\"way\" aria-label=\"Steps\">");
    add_way_part(visit, path, true);
    add_way_part(visit, path, false);
    page_add(visit, "</nav>\n");
}

void guide_begin(struct visit *visit, const char *path, const char *title)
{
    page_begin(visit, title);
    if (visit->house != NULL) {
        add_way(visit, path);
    }
    if (visit->post) {
        guide_fault_box(visit);
    }
}

void guide_added(struct visit *visit, enum kind kind)
{
    size_t count = 0;
    house_rows(visit->house, kind, &count);
    if (form_has(&visit->query, "added") && count > 0) {
        page_add(visit, "<p role=\"status\">Added: %s.</p>\n", house_row_name(visit->house, kind, count - 1));
    }
}

static void add_undo(struct visit *visit, const char *path)
{
    page_add(visit, "<form method=\"post\" action=\"/build/undo\" class=\"inline\">");
    page_hidden(visit, "back", path);
    page_form_secrets(visit);
    page_add(visit, "<button>Undo the last step</button></form> ");
}

void guide_end(struct visit *visit, const char *path)
{
    if (visit->house != NULL) {
        page_add(visit, "<div class=\"onward\">");
        add_undo(visit, path);
        for (size_t i = 0; i + 1 < STEP_COUNT && steps[i + 1].number != NULL; i++) {
            if (is_step(&steps[i], path)) {
                page_add(visit, "<a href=\"%s\">Go on: %s</a>", steps[i + 1].path, steps[i + 1].name);
            }
        }
        page_add(visit, "</div>\n");
    }
    page_end(visit);
}

/* ---- lists of lines */

static void add_buttons(struct visit *visit, enum kind kind, size_t index)
{
    const char *id = house_row_id(visit->house, kind, index);
    const char *name = house_row_name(visit->house, kind, index);
    page_add(visit,
             "<span class=\"acts\"><a href=\"/build/correct/%s/%s\">Correct<span class=\"hidden\"> %s</span></a>",
             kind_word(kind), id, name);
    if (kind != KIND_PANEL || index > 0) {
        page_add(visit, " <button name=\"id\" value=\"%s\">Remove<span class=\"hidden\"> %s</span></button>", id, name);
    }
    page_add(visit, "</span></li>");
}

void guide_list(struct visit *visit, enum kind kind, const struct index_list *rows, guide_describe *describe)
{
    size_t count = 0;
    house_rows(visit->house, kind, &count);
    count = rows == NULL ? count : rows->count;
    page_add(visit, "<form method=\"post\" action=\"/build/remove\" class=\"lines\">");
    page_form_secrets(visit);
    page_hidden(visit, "kind", kind_word(kind));
    page_add(visit, "<ul>");
    for (size_t i = 0; i < count; i++) {
        const size_t index = rows == NULL ? i : rows->index[i];
        page_add(visit, "<li>");
        describe(visit, index);
        add_buttons(visit, kind, index);
    }
    page_add(visit, "</ul></form>\n");
}

/* ---- where it stands */

static void add_steps(struct visit *visit, bool numbered)
{
    page_add(visit, "<ul class=\"plain state\">");
    for (size_t i = 0; i < STEP_COUNT; i++) {
        if ((steps[i].number != NULL) == numbered) {
            const size_t count = step_count(visit->house, &steps[i]);
            add_step_link(visit, &steps[i], "/build");
            if (count != NO_INDEX) {
                page_add(visit, count == 0 ? ": none yet" : ": %zu", count);
            }
            page_add(visit, "<small>%s</small></li>", steps[i].good_for);
        }
    }
    page_add(visit, "</ul>\n");
}

/* The first step that holds nothing yet; the one behind them where each has something. */
static const struct step *next_step(const struct house *house)
{
    enum kind kinds[STEP_COUNT];
    size_t first = 0;
    size_t count = 0;
    while (steps[first].kind == KIND_HOUSE) {
        first++;
    }
    while (steps[first + count].kind != KIND_HOUSE) {
        kinds[count] = steps[first + count].kind;
        count++;
    }
    return &steps[first + next_empty(house, kinds, count)];
}

static const char *plural(size_t count, const char *one, const char *several)
{
    return count == 1 ? one : several;
}

void view_guide(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    const struct step *next = next_step(house);
    guide_begin(visit, "/build", "Rooms and branches");
    page_add(visit,
             "<p>%s: %s rules, %s, %s %g A. So far: %zu %s, %zu %s, %zu %s. Leave at any step; it goes on from "
             "here. Everything can be corrected, and every step undone.</p><p><a class=\"next\" href=\"%s\">Go on with "
             "step %s: %s</a></p><h2>The steps</h2>\n",
             house->name, rules_word(house->rules), system_word(house->system), main_device_word(house),
             house->service_a, house->branch_count, plural(house->branch_count, "branch", "branches"),
             house->room_count, plural(house->room_count, "room", "rooms"), house->appliance_count,
             plural(house->appliance_count, "appliance", "appliances"), next->path, next->number, next->name);
    add_steps(visit, true);
    page_add(visit, "<h2>If you like</h2>\n");
    add_steps(visit, false);
    guide_end(visit, "/build");
}
