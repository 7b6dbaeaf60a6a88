/* The pages of the guide: each is a row of the table below, and what stands in its frame is its body. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_check.h"
#include "ampsum/answer_next.h"
#include "ampsum/edit.h"
#include "ampsum/reference.h"
#include "guide.h"

enum { LINES_MOST = 12, FREE_SHOWN_MOST = 8, UNFOLDED_MOST = 12 };

/* ---- what a new line begins with */

const char *guide_likely_place(struct visit *visit, size_t room)
{
    const struct next_place place = next_place(visit->house, room, visit->arena);
    return place.index == NO_INDEX ? ""
                                   : arena_printf(visit->arena, "%s:%s", kind_word(place.kind),
                                                  house_row_id(visit->house, place.kind, place.index));
}

const char *guide_next_space(struct visit *visit, size_t panel)
{
    return arena_printf(visit->arena, "%d", next_space(visit->house, panel));
}

/* The names that have a typical rating: offered while typing. */
void guide_typical_names(struct visit *visit)
{
    page_add(visit, "<datalist id=\"typical\">");
    for (size_t i = 0; i < ref_typical_count; i++) {
        if (strcmp(ref_typical_rows[i].rules, rules_word(visit->house->rules)) == 0) {
            page_add(visit, "<option value=\"%s\">typical %.0f W</option>", ref_typical_rows[i].name,
                     ref_typical_rows[i].typical_w);
        }
    }
    page_add(visit, "</datalist>");
}

/* ---- forms and lists */

/* From its tag to its fields: the row that the page is about goes with it unseen. */
static void begin_new(struct guide_form *form, const struct guide_spot *at)
{
    guide_form_begin(form, "/build/add");
    if (at->page->asked != NULL) {
        page_hidden(form->visit, at->page->asked, at->id);
    }
    guide_form_fields(form);
}

/* A form that adds one of the kind, under a heading with an ID of its own. */
static void add_form(struct guide_form *form, const char *heading, const char *button)
{
    page_add(form->visit, "<h2 id=\"new-%s\">%s</h2>", kind_word(form->kind), heading);
    guide_form_whole(form, "/build/add", button);
}

/* What there is already, or that there is none. */
static void add_so_far(struct visit *visit, enum kind kind, const struct index_list *rows, const char *none)
{
    const bool any = rows == NULL ? next_count(visit->house, kind) > 0 : rows->count > 0;
    text_add(&visit->answer.body, any ? "" : none);
    guide_list(visit, kind, rows);
}

/* ---- the house, and a line corrected */

static void add_correction(struct visit *visit, enum kind kind, const char *id)
{
    /* The main panel needs no section: it has none where nothing was given. */
    static const struct document_section nothing = {.word = "", .id = ""};
    struct document *document = house_document(visit->house, "page");
    struct guide_form form = guide_form_new(visit, kind);
    const struct document_section *now = document_find(document, kind_word(kind), id);
    form.id = id;
    form.now = now == NULL ? &nothing : now;
    guide_form_whole(&form, "/build/set", "Store the correction");
    document_free(document);
}

static void body_house(struct visit *visit, const struct guide_spot *at)
{
    struct guide_form form = guide_form_new(visit, at->kind);
    if (visit->house != NULL) {
        page_add(visit, "<p>What is left empty is as usual under these rules.</p>\n");
        add_correction(visit, at->kind, "");
        return;
    }
    form.focus = !visit->post;
    page_add(
        visit,
        "<p>Step 1 of 5: the house and its supply. Then come the door of the panel, the rooms, the appliances, and "
        "a look at what is missing. You can leave at any step and go on later; everything can be corrected, and "
        "every step undone.</p>\n");
    guide_form_whole(&form, "/build/house", "Begin");
}

static void body_correct(struct visit *visit, const struct guide_spot *at)
{
    add_correction(visit, at->kind, at->id);
    page_add(visit, "<p class=\"links\"><a href=\"%s\">Leave it as it is</a>", at->path);
    if (at->kind == KIND_BRANCH) {
        page_add(visit, " <a href=\"/build/outlets/%s\">Its outlets</a>", at->id);
    }
    page_add(visit, "</p>\n");
}

/* ---- the panel's door, and further panels */

/* Spaces below the highest that is taken, the first of them, and all above it. */
static void add_free(struct visit *visit, size_t panel)
{
    size_t spaces[FREE_SHOWN_MOST];
    const int highest = highest_space(visit->house, panel);
    const size_t count = next_free(visit->house, panel, spaces, FREE_SHOWN_MOST);
    if (highest > 0) {
        page_add(visit, "Spaces still free: ");
        for (size_t i = 0; i < count; i++) {
            page_add(visit, i + 1 < FREE_SHOWN_MOST ? "%zu, " : "%zu ... ", spaces[i]);
        }
        page_add(visit, "%zu and up.", (size_t)highest + 1);
    }
}

/* Each line is a group of its own, so that the same labels stand apart for who hears them. */
static void add_several(struct visit *visit, const struct guide_spot *at, size_t count)
{
    struct guide_form form = guide_form_new(visit, KIND_BRANCH);
    int space = next_space(visit->house, at->row);
    form.focus = !visit->post;
    guide_form_begin(&form, "/build/add");
    page_hidden(visit, "panel", at->id);
    page_hidden(visit, "lines", arena_printf(visit->arena, "%zu", count));
    for (size_t i = 1; i <= count; i++) {
        form.prefix = arena_printf(visit->arena, "%zu.", i);
        page_hidden(visit, arena_printf(visit->arena, "%zu.panel", i), at->id);
        form_add(&form.proposed, "position", arena_printf(visit->arena, "%d", space));
        page_add(visit, "<fieldset class=\"fields guide\"><legend>Line %zu</legend>", i);
        guide_form_line(&form);
        page_add(visit, "</fieldset>");
        form_done(&form.proposed);
        space = next_space_behind(visit->house, at->row, space);
    }
    page_add(visit, "<p class=\"help\">Lines without a label are left out. All are stored, or none.</p>");
    guide_form_end(&form, "Add these lines");
}

static void add_one(struct visit *visit, const struct guide_spot *at)
{
    struct guide_form form = guide_form_new(visit, KIND_BRANCH);
    form.focus = form_has(&visit->query, "added") || visit->house->branch_count == 0;
    form_add(&form.proposed, "position", guide_next_space(visit, at->row));
    begin_new(&form, at);
    page_add(visit, "<p class=\"help\">");
    add_free(visit, at->row);
    page_add(visit, visit->house->system == SYSTEM_SINGLE_PHASE
                        ? "</p>"
                        : " Legs as usual: by the space, as most panels are built; if yours shows otherwise, choose "
                          "them.</p>");
    guide_form_end(&form, "Add this line");
}

static void add_doors(struct visit *visit, size_t shown)
{
    const struct house *house = visit->house;
    for (size_t i = 0; house->panel_count > 1 && i < house->panel_count; i++) {
        page_add(visit, i == 0 ? "<p class=\"choice\">Door of: " : " ");
        page_add(visit, "<a href=\"/build/panel?panel=%s\"", house->panels[i].id);
        page_add(visit, i == shown ? " aria-current=\"true\"" : "");
        page_add(visit, ">%s</a>", house_row_name(house, KIND_PANEL, i));
    }
    page_add(visit, house->panel_count > 1 ? "</p>\n" : "");
}

static void add_lines(struct visit *visit, size_t panel)
{
    const struct house *house = visit->house;
    const size_t *order = branches_by_space(house, visit->arena);
    struct index_list rows = {arena_array(visit->arena, house->branch_count, sizeof *rows.index), 0};
    for (size_t i = 0; i < house->branch_count; i++) {
        if (house->branches[order[i]].panel == panel) {
            rows.index[rows.count++] = order[i];
        }
    }
    page_add(visit, "<h2>The door so far</h2>");
    if (rows.count == 0) {
        page_add(visit, "<p>Nothing yet.</p>\n");
        return;
    }
    guide_list(visit, KIND_BRANCH, &rows);
}

static void body_door(struct visit *visit, const struct guide_spot *found)
{
    struct guide_spot at = *found;
    const unsigned long several = strtoul(guide_asked(visit, "lines"), NULL, 10);
    at.row = found->row == NO_INDEX ? 0 : found->row;
    at.id = visit->house->panels[at.row].id;
    add_doors(visit, at.row);
    if (several > 0) {
        page_add(visit, "<h2>The next lines</h2>");
        add_several(visit, &at, several > LINES_MOST ? LINES_MOST : several);
        page_add(visit, "<p><a href=\"/build/panel?panel=%s\">One line at a time</a></p>\n", at.id);
    } else {
        page_add(visit, "<h2>The next line</h2>");
        add_one(visit, &at);
        page_add(visit, "<p><a href=\"/build/panel?panel=%s&amp;lines=6\">Copy six lines at once</a></p>\n", at.id);
    }
    add_lines(visit, at.row);
}

static void body_panels(struct visit *visit, const struct guide_spot *at)
{
    struct guide_form form = guide_form_new(visit, at->page->kind);
    guide_list(visit, at->page->kind, NULL);
    page_add(visit, "<h2>Another panel</h2>");
    guide_form_whole(&form, "/build/add", "Add this panel");
}

/* ---- rooms */

static void body_rooms(struct visit *visit, const struct guide_spot *at)
{
    const struct house *house = visit->house;
    struct guide_form form = guide_form_new(visit, at->page->kind);
    const char *floor = house->room_count == 0 ? NULL : house->rooms[house->room_count - 1].floor;
    form.focus = form_has(&visit->query, "added") || house->room_count == 0;
    form_add(&form.proposed, "floor", floor == NULL ? "" : floor);
    page_add(visit, "<h2>The next room</h2>");
    guide_form_whole(&form, "/build/add", "Add this room");
    page_add(visit, "<h2>Rooms so far</h2>");
    add_so_far(visit, at->page->kind, NULL, "<p>None yet. Gardens and sheds count, too.</p>\n");
}

/* ---- appliances, under the heading of their room */

static void add_load_form(struct visit *visit, const struct guide_spot *at)
{
    struct guide_form form = guide_form_new(visit, KIND_APPLIANCE);
    form.focus = form_has(&visit->query, "room");
    form_add(&form.proposed, "at", guide_likely_place(visit, at->row));
    form_add(&form.proposed, "room", at->id);
    begin_new(&form, at);
    guide_typical_names(visit);
    guide_form_end(&form, at->row == NO_INDEX ? "Add this appliance" : "Add it to this room");
}

/* In a large house behind a summary; a short list of the room that is filled now stays open. */
static void add_loads(struct visit *visit, size_t room, bool chosen)
{
    const struct house *house = visit->house;
    struct index_list rows = {arena_array(visit->arena, house->appliance_count, sizeof *rows.index), 0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (house->appliances[i].room == room) {
            rows.index[rows.count++] = i;
        }
    }
    if (rows.count > 0) {
        const bool open = house->appliance_count <= UNFOLDED_MOST || (chosen && rows.count <= UNFOLDED_MOST);
        page_add(visit, open ? "<details open>" : "<details>");
        page_add(visit, "<summary>%zu %s</summary>", rows.count, rows.count == 1 ? "appliance" : "appliances");
        guide_list(visit, KIND_APPLIANCE, &rows);
        page_add(visit, "</details>\n");
    }
}

static void add_room(struct visit *visit, const struct guide_spot *page_at, size_t room, bool chosen)
{
    struct guide_spot at = *page_at;
    at.row = room;
    at.id = room == NO_INDEX ? "" : visit->house->rooms[room].id;
    const char *name = room == NO_INDEX ? NULL : house_row_name(visit->house, KIND_ROOM, room);
    page_add(visit, "<section class=\"room\"><h2 id=\"in-%s\">%s</h2>", at.id, name == NULL ? "Room not known" : name);
    if (chosen) {
        add_load_form(visit, &at);
    } else {
        page_add(visit,
                 "<p><a href=\"/build/appliances?room=%s#in-%s\">Add an appliance here<span class=\"hidden\">, "
                 "%s</span></a></p>",
                 at.id, at.id, name == NULL ? "room not known" : name);
    }
    add_loads(visit, room, chosen);
    page_add(visit, "</section>\n");
}

/* The form stands in the room asked for; else in the first that has nothing yet; else in none of them. */
static void body_appliances(struct visit *visit, const struct guide_spot *at)
{
    const struct house *house = visit->house;
    const bool asked = form_has(&visit->query, at->page->asked) || visit->post;
    const size_t chosen = asked ? at->row : next_room(house, visit->arena);
    if (house->branch_count == 0) {
        page_add(visit, "<p>Add a line of the <a href=\"/build/panel\">panel door</a> first: an appliance hangs on a "
                        "branch.</p>\n");
        return;
    }
    page_add(visit, "<p>The rating stands on the nameplate: at the back, at the bottom, or on the plug.</p>\n");
    for (size_t i = 0; i < house->room_count; i++) {
        add_room(visit, at, i, i == chosen);
    }
    add_room(visit, at, NO_INDEX, chosen == NO_INDEX);
}

/* ---- outlets with distances */

static void body_outlets(struct visit *visit, const struct guide_spot *at)
{
    const struct house *house = visit->house;
    page_add(visit, house->branch_count == 0 ? "<p>No branch is known yet.</p>\n" : "<ul class=\"plain state\">");
    for (size_t i = 0; i < house->branch_count; i++) {
        const size_t count = house->branches[i].outlets.count;
        page_add(visit, "<li><a href=\"%s/%s\">%s</a>", at->path, house->branches[i].id, house->branches[i].label);
        page_add(visit, count == 0 ? "</li>" : ": %zu</li>", count);
    }
    page_add(visit, house->branch_count == 0 ? "" : "</ul>\n");
}

/* The next outlet hangs on the last one, in the same room, as cables mostly go. */
static void propose_outlet(struct guide_form *form, const struct branch *branch)
{
    const struct house *house = form->visit->house;
    form_add(&form->proposed, "branch", branch->id);
    if (branch->outlets.count > 0) {
        const struct outlet *last = &house->outlets[branch->outlets.index[branch->outlets.count - 1]];
        form_add(&form->proposed, "from", last->id);
        form_add(&form->proposed, "room", last->room == NO_INDEX ? "" : house->rooms[last->room].id);
    }
}

static void body_outlet(struct visit *visit, const struct guide_spot *at)
{
    const struct branch *branch = &visit->house->branches[at->row];
    struct guide_form form = guide_form_new(visit, KIND_OUTLET);
    form.focus = !visit->post;
    propose_outlet(&form, branch);
    page_add(visit,
             branch->wire.conductor == NULL ? "</p>" : " As the wire is known, each needs its length of cable.</p>");
    page_add(visit, "<h2>The next outlet</h2>");
    begin_new(&form, at);
    guide_form_end(&form, "Add this outlet");
    page_add(visit, "<h2>So far</h2>");
    add_so_far(visit, KIND_OUTLET, &branch->outlets, "<p>None yet.</p>\n");
    page_add(visit, "<p><a href=\"/build/outlets\">Outlets of another branch</a></p>\n");
}

/* ---- what energy costs, and scenes */

static void body_tariff(struct visit *visit, const struct guide_spot *at)
{
    const struct house *house = visit->house;
    struct guide_form period = guide_form_new(visit, KIND_PERIOD);
    struct guide_form tariff = guide_form_new(visit, at->page->kind);
    const size_t priced = next_period_tariff(house);
    for (size_t i = 0; i < house->tariff_count; i++) {
        guide_list(visit, KIND_TARIFF, &(struct index_list){&i, 1});
        if (house->tariffs[i].periods.count > 0) {
            guide_list(visit, KIND_PERIOD, &house->tariffs[i].periods);
        }
    }
    page_add(visit, house->tariff == NO_INDEX && house->tariff_count > 1
                        ? "<p>Several are known: <a href=\"/build/house\">choose the one</a> that holds.</p>"
                        : "");
    if (priced != NO_INDEX) {
        form_add(&period.proposed, "tariff", house->tariffs[priced].id);
        add_form(&period, "Hours with another price", "Add these hours");
    }
    add_form(&tariff, house->tariff_count == 0 ? "The tariff" : "Another tariff", "Add this tariff");
}

static void body_scenes(struct visit *visit, const struct guide_spot *at)
{
    struct guide_form form = guide_form_new(visit, at->page->kind);
    guide_list(visit, at->page->kind, NULL);
    if (visit->house->appliance_count == 0) {
        page_add(visit, "<p>Add <a href=\"/build/appliances\">appliances</a> first.</p>\n");
    } else {
        add_form(&form, "Another scene", "Add this scene");
    }
}

/* ---- the table: the steps in their order, then what is there for who wants it */

const struct guide_page guide_pages[] = {
    {"/build/house", KIND_HOUSE, "1", "House", "Which rules hold, and what comes in from the street.",
     "House and supply", body_house},
    {"/build/panel", KIND_BRANCH, "2", "Panel door", "Every breaker, copied line by line from the door of the panel.",
     "Panel door", body_door, "/build/panel?panel=", "panel", KIND_PANEL},
    {"/build/rooms", KIND_ROOM, "3", "Rooms", "The names that you use at home.", "Rooms", body_rooms},
    {"/build/appliances", KIND_APPLIANCE, "4", "Appliances", "What is plugged in or wired, room by room.", "Appliances",
     body_appliances, "/build/appliances?room=", "room", KIND_ROOM},
    {"/build/missing", KIND_HOUSE, "5", "What is missing", "What is not known yet, and the verdict of the check.",
     "What is still missing", guide_body_missing,
     .intro = "<p>All is stored already. What follows may be added now, later, or never.</p>\n"},
    {"/build/outlets/", KIND_OUTLET, NULL, NULL, NULL, "Outlets of ", body_outlet, "/build/outlets/", "branch",
     KIND_BRANCH, "<p>In the order in which the cable reaches them, from the panel outward."},
    {"/build/outlets", KIND_OUTLET, NULL, "Outlets",
     "With outlets and distances the voltage at each can be worked out.", "Outlets and distances", body_outlets,
     .intro = "<p>With the outlets of a branch in order, and the cable between them, the voltage at each can be worked "
              "out. Without them the length of the whole branch does, roughly.</p>"},
    {"/build/panels", KIND_PANEL, NULL, "More panels", "Needed only where a second panel hangs on the main one.",
     "Further panels", body_panels,
     .intro =
         "<p>Needed only where a second panel hangs on the main one, in a garage say: its feeder is checked like a "
         "branch, and its branches stand on a door of their own.</p>"},
    {"/build/tariff", KIND_TARIFF, NULL, "Energy price", "With it every figure of energy is one of money, too.",
     "What energy costs", body_tariff,
     .intro = "<p>The price stands on the bill. With it every figure of energy is one of money, too.</p>"},
    {"/build/scenes", KIND_SCENE, NULL, "Scenes", "Moments worth looking at: breakfast, a cold evening.", "Scenes",
     body_scenes,
     .intro = "<p>A scene is a moment worth looking at: which appliances are on at breakfast, on a cold evening. The "
              "house and its branches can then be shown at that moment.</p>"},
    {"/build", KIND_HOUSE, NULL, NULL, NULL, "Rooms and branches", guide_body_state},
    {"/build/correct/", KIND_HOUSE, NULL, NULL, NULL, "Correct: ", body_correct},
    {NULL},
};
