/* What is there for who wants it: outlets with distances, what energy costs, scenes. */
#include <string.h>

#include "ampsum/answer_next.h"
#include "guide.h"

/* A form that adds one of the kind, its values proposed already. */
static void add_form(struct guide_form *form, const char *title, const char *button)
{
    page_add(form->visit, "<h2 id=\"new-%s\">%s</h2>", kind_word(form->kind), title);
    guide_form_whole(form, "/build/add", button);
}

/* ---- outlets */

void view_guide_outlets(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    guide_begin(visit, "/build/outlets", "Outlets and distances");
    page_add(visit, "<p>With the outlets of a branch in order, and the cable between them, the voltage at each can be "
                    "worked out. Without them the length of the whole branch does, roughly.</p>");
    page_add(visit, house->branch_count == 0 ? "<p>No branch is known yet.</p>\n" : "<ul class=\"plain state\">");
    for (size_t i = 0; i < house->branch_count; i++) {
        const size_t count = house->branches[i].outlets.count;
        page_add(visit, "<li><a href=\"/build/outlets/%s\">%s</a>", house->branches[i].id, house->branches[i].label);
        page_add(visit, count == 0 ? "</li>" : ": %zu</li>", count);
    }
    page_add(visit, house->branch_count == 0 ? "" : "</ul>\n");
    guide_end(visit, "/build/outlets");
}

static void add_outlet(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const struct outlet *outlet = &house->outlets[index];
    page_add(visit, "<span class=\"what\">%s<small>", house_row_name(house, KIND_OUTLET, index));
    if (outlet->room != NO_INDEX) {
        page_add(visit, "%s, ", house_row_name(house, KIND_ROOM, outlet->room));
    }
    page_add(visit,
             guide_add_value(&visit->answer.body, house, KIND_OUTLET, index, "run") ? " of cable from %s"
                                                                                    : "cable from %s",
             outlet->from == NO_INDEX ? "the panel" : house_row_name(house, KIND_OUTLET, outlet->from));
    page_add(visit, "</small></span>");
}

/* The next outlet hangs on the last one, in the same room, as cables mostly go. */
static void add_outlet_form(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const struct branch *branch = &house->branches[index];
    struct guide_form form = guide_form_new(visit, KIND_OUTLET);
    form.focus = !visit->post;
    form_add(&form.proposed, "branch", branch->id);
    if (branch->outlets.count > 0) {
        const struct outlet *last = &house->outlets[branch->outlets.index[branch->outlets.count - 1]];
        form_add(&form.proposed, "from", last->id);
        form_add(&form.proposed, "room", last->room == NO_INDEX ? "" : house->rooms[last->room].id);
    }
    page_add(visit, "<h2>The next outlet</h2>");
    guide_form_begin(&form, "/build/add");
    page_hidden(visit, "branch", branch->id);
    guide_form_fields(&form);
    guide_form_end(&form, "Add this outlet");
}

void view_guide_outlet(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    const size_t index = visit_find(visit, KIND_BRANCH, visit->post ? guide_asked(visit, "branch") : visit->rest);
    if (index == NO_INDEX) {
        return;
    }
    const struct branch *branch = &visit->house->branches[index];
    const char *path = arena_printf(visit->arena, "/build/outlets/%s", branch->id);
    const char *title = arena_printf(visit->arena, "Outlets of %s", branch->label);
    guide_begin(visit, path, title);
    page_add(visit, "<p>In the order in which the cable reaches them, from the panel outward.");
    page_add(visit,
             branch->wire.conductor == NULL ? "</p>" : " As the wire is known, each needs its length of cable.</p>");
    add_outlet_form(visit, index);
    page_add(visit, "<h2>So far</h2>");
    page_add(visit, branch->outlets.count == 0 ? "<p>None yet.</p>\n" : "");
    guide_list(visit, KIND_OUTLET, &branch->outlets, add_outlet);
    page_add(visit, "<p><a href=\"/build/outlets\">Outlets of another branch</a></p>\n");
    guide_end(visit, path);
}

/* ---- tariff */

/* When a period holds: `21:00-07:00, weekdays`. */
static void add_when(struct visit *visit, const struct house *house, size_t index)
{
    static const char *const keys[] = {"hours", "days", "months"};
    bool any = false;
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        struct text part = {0};
        if (guide_add_value(&part, house, KIND_PERIOD, index, keys[i])) {
            page_add(visit, any ? "; " : "");
            text_add(&visit->answer.body, text_string(&part));
            any = true;
        }
        text_done(&part);
    }
    page_add(visit, any ? "" : "all day");
}

static void add_period(struct visit *visit, size_t index)
{
    page_add(visit, "<span class=\"what\">");
    add_when(visit, visit->house, index);
    page_add(visit, "<small>%s %s a kWh</small></span>", visit->house->periods[index].price, visit->house->currency);
}

static void add_tariff(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const struct tariff *tariff = &house->tariffs[index];
    page_add(visit, "<span class=\"what\"><strong>%s</strong><small>", house_row_name(house, KIND_TARIFF, index));
    if (tariff->price != NULL) {
        page_add(visit, "%s %s a kWh", tariff->price, house->currency);
    }
    page_add(visit, tariff->blocks.count == 0 ? "" : "in blocks");
    if (tariff->standing != NULL) {
        page_add(visit, ", %s %s a day", tariff->standing, house->currency);
    }
    if (tariff->tax_percent != NULL) {
        page_add(visit, ", tax %s %%", tariff->tax_percent);
    }
    page_add(visit, house->tariff == index ? "; prices the energy of this house</small></span>" : "</small></span>");
}

void view_guide_tariff(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    guide_begin(visit, "/build/tariff", "What energy costs");
    page_add(visit, "<p>The price stands on the bill. With it every figure of energy is one of money, too.</p>");
    for (size_t i = 0; i < house->tariff_count; i++) {
        guide_list(visit, KIND_TARIFF, &(struct index_list){&i, 1}, add_tariff);
        if (house->tariffs[i].periods.count > 0) {
            guide_list(visit, KIND_PERIOD, &house->tariffs[i].periods, add_period);
        }
    }
    page_add(visit, house->tariff == NO_INDEX && house->tariff_count > 1
                        ? "<p>Several are known: <a href=\"/build/house\">choose the one</a> that holds.</p>"
                        : "");
    struct guide_form period = guide_form_new(visit, KIND_PERIOD);
    struct guide_form tariff = guide_form_new(visit, KIND_TARIFF);
    const size_t priced = next_period_tariff(house);
    if (priced != NO_INDEX) {
        form_add(&period.proposed, "tariff", house->tariffs[priced].id);
        add_form(&period, "Hours with another price", "Add these hours");
    }
    add_form(&tariff, house->tariff_count == 0 ? "The tariff" : "Another tariff", "Add this tariff");
    guide_end(visit, "/build/tariff");
}

/* ---- scenes */

static void add_scene(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const struct scene *scene = &house->scenes[index];
    page_add(visit, "<span class=\"what\"><a href=\"/?scene=%s\">%s</a><small>", scene->id,
             house_row_name(house, KIND_SCENE, index));
    for (size_t i = 0; i < scene->on.count; i++) {
        page_add(visit, "%s%s", i == 0 ? "" : ", ", house->appliances[scene->on.member[i].appliance].name);
    }
    page_add(visit, "</small></span>");
}

void view_guide_scenes(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    guide_begin(visit, "/build/scenes", "Scenes");
    page_add(visit, "<p>A scene is a moment worth looking at: which appliances are on at breakfast, on a cold evening. "
                    "The house and its branches can then be shown at that moment.</p>");
    guide_list(visit, KIND_SCENE, NULL, add_scene);
    if (house->appliance_count == 0) {
        page_add(visit, "<p>Add <a href=\"/build/appliances\">appliances</a> first.</p>\n");
    } else {
        struct guide_form form = guide_form_new(visit, KIND_SCENE);
        add_form(&form, "Another scene", "Add this scene");
    }
    guide_end(visit, "/build/scenes");
}
