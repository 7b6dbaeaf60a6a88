/* The lines that a house has so far, as the guide lists them: what each kind of line says of itself is one row. */
#include <string.h>

#include "ampsum/answer_next.h"
#include "ampsum/keys.h"
#include "ampsum/values.h"
#include "guide.h"

/* Appends the value of a key as the house file writes it, with `before` it; false where it is not given. */
static bool add_value(struct text *html, const struct house *house, enum kind kind, size_t index, const char *name,
                      const char *before)
{
    size_t count = 0;
    const char *rows = house_rows(house, kind, &count);
    const char *row = rows + index * house_row_size(kind);
    const struct key *key = section_key(&sections[kind], name);
    if (!key_is_given(&sections[kind], key, row)) {
        return false;
    }
    struct text value = {0};
    value_write(key, house, row, &value);
    html_add(html, "%s%s", before, text_string(&value));
    text_done(&value);
    return true;
}

/* ---- what each says of itself */

static void tell_panel(struct text *html, const struct house *house, size_t index)
{
    html_add(html, "%g A", house->panels[index].breaker_a);
    if (index != 0) {
        html_add(html, ", fed from %s", house_row_name(house, KIND_PANEL, house->panels[index].from));
    }
}

static void tell_floor(struct text *html, const struct house *house, size_t index)
{
    html_add(html, "%s", house->rooms[index].floor);
}

static void tell_branch(struct text *html, const struct house *house, size_t index)
{
    const struct branch *branch = &house->branches[index];
    html_add(html, "%g A, %zu %s", branch->breaker_a, (size_t)branch->poles, branch->poles == 1 ? "pole" : "poles");
    if (house->system != SYSTEM_SINGLE_PHASE) {
        html_add(html, ", %s %s", branch->poles == 1 ? "leg" : "legs", legs_word(branch->legs));
    }
    if (branch->purpose != PURPOSE_GENERAL) {
        html_add(html, ", %s", purpose_word(branch->purpose));
    }
    text_add(html, branch->wire.conductor == NULL ? ", wire not known" : "");
}

static void tell_outlet(struct text *html, const struct house *house, size_t index)
{
    const struct outlet *outlet = &house->outlets[index];
    if (outlet->room != NO_INDEX) {
        html_add(html, "%s, ", house_row_name(house, KIND_ROOM, outlet->room));
    }
    html_add(html, add_value(html, house, KIND_OUTLET, index, "run", "") ? " of cable from %s" : "cable from %s",
             outlet->from == NO_INDEX ? "the panel" : house_row_name(house, KIND_OUTLET, outlet->from));
}

/* What it takes, as it was given: `1500 W`, `2 x 9 W`; and where it is. */
static void tell_appliance(struct text *html, const struct house *house, size_t index)
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
    add_value(html, house, KIND_APPLIANCE, index, keys[appliance->rating], "");
    html_add(html, ", on %s", house->branches[appliance->branch].label);
    if (appliance->outlet != NO_INDEX) {
        html_add(html, ", %s", house_row_name(house, KIND_OUTLET, appliance->outlet));
    }
    text_add(html, rating_is_typical(appliance) ? "; a typical rating" : "");
}

static void tell_scene(struct text *html, const struct house *house, size_t index)
{
    const struct scene_list *on = &house->scenes[index].on;
    for (size_t i = 0; i < on->count; i++) {
        html_add(html, i == 0 ? "%s" : ", %s", house->appliances[on->member[i].appliance].name);
    }
}

static void tell_tariff(struct text *html, const struct house *house, size_t index)
{
    const struct tariff *tariff = &house->tariffs[index];
    if (tariff->price != NULL) {
        html_add(html, "%s %s a kWh", tariff->price, house->currency);
    }
    text_add(html, tariff->blocks.count == 0 ? "" : "in blocks");
    if (tariff->standing != NULL) {
        html_add(html, ", %s %s a day", tariff->standing, house->currency);
    }
    if (tariff->tax_percent != NULL) {
        html_add(html, ", tax %s %%", tariff->tax_percent);
    }
    text_add(html, house->tariff == index ? "; prices the energy of this house" : "");
}

static void tell_period(struct text *html, const struct house *house, size_t index)
{
    html_add(html, "%s %s a kWh", house->periods[index].price, house->currency);
}

/* ---- what stands in front, and what it is called */

static void add_spaces(struct text *html, const struct house *house, size_t index)
{
    const struct position_list *position = &house->branches[index].position;
    text_add(html, "<span class=\"space\">");
    for (size_t i = 0; i < position->count; i++) {
        html_add(html, i == 0 ? "%zu" : ",%zu", (size_t)position->space[i]);
    }
    text_add(html, position->count == 0 ? "-</span> " : "</span> ");
}

/* When a period holds: `21:00-07:00; weekdays`. */
static void add_when(struct text *html, const struct house *house, size_t index)
{
    bool any = add_value(html, house, KIND_PERIOD, index, "hours", "");
    any = add_value(html, house, KIND_PERIOD, index, "days", any ? "; " : "") || any;
    any = add_value(html, house, KIND_PERIOD, index, "months", any ? "; " : "") || any;
    text_add(html, any ? "" : "all day");
}

typedef void tell(struct text *html, const struct house *house, size_t index);

/* What a line of that kind shows. */
static const struct line {
    tell *before;     /* NULL: nothing */
    const char *link; /* of its name, its ID behind it; NULL: none */
    tell *name;       /* NULL: its own */
    tell *told;
} lines[KIND_COUNT] = {
    [KIND_PANEL] = {.link = "/build/panel?panel=", .told = tell_panel},
    [KIND_ROOM] = {.told = tell_floor},
    [KIND_BRANCH] = {add_spaces, "/branch/", .told = tell_branch},
    [KIND_OUTLET] = {.told = tell_outlet},
    [KIND_APPLIANCE] = {.told = tell_appliance},
    [KIND_SCENE] = {.link = "/?scene=", .told = tell_scene},
    [KIND_TARIFF] = {.told = tell_tariff},
    [KIND_PERIOD] = {.name = add_when, .told = tell_period},
};

static void add_line(struct visit *visit, enum kind kind, size_t index)
{
    const struct house *house = visit->house;
    const struct line *line = &lines[kind];
    struct text *html = &visit->answer.body;
    struct text told = {0};
    if (line->before != NULL) {
        line->before(html, house, index);
    }
    text_add(html, kind == KIND_TARIFF ? "<span class=\"what\"><strong>" : "<span class=\"what\">");
    if (line->link != NULL) {
        html_add(html, "<a href=\"%s%s\">", line->link, house_row_id(house, kind, index));
    }
    if (line->name != NULL) {
        line->name(html, house, index);
    } else {
        html_add(html, "%s", house_row_name(house, kind, index));
    }
    text_add(html, line->link != NULL ? "</a>" : kind == KIND_TARIFF ? "</strong>" : "");
    line->told(&told, house, index);
    text_add(html, told.length > 0 ? "<small>" : "");
    text_add(html, text_string(&told));
    text_add(html, told.length > 0 ? "</small></span>" : "</span>");
    text_done(&told);
}

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

void guide_list(struct visit *visit, enum kind kind, const struct index_list *rows)
{
    size_t count = 0;
    house_rows(visit->house, kind, &count);
    count = rows == NULL ? count : rows->count;
    page_post(visit, "/build/remove", "lines");
    page_hidden(visit, "kind", kind_word(kind));
    page_add(visit, "<ul>");
    for (size_t i = 0; i < count; i++) {
        const size_t index = rows == NULL ? i : rows->index[i];
        page_add(visit, "<li>");
        add_line(visit, kind, index);
        add_buttons(visit, kind, index);
    }
    page_add(visit, "</ul></form>\n");
}
