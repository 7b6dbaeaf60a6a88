/* The answer of `demand` as JSON and text. */
#include "ampsum/show_demand.h"

#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"

/* ------------------------------------------------------------------ what is said besides ------------------ */

static void add_metered(const struct demand_metered *metered, struct text *text)
{
    text_printf(text, "The meter's largest mean over %d minutes is ", metered->minutes);
    text_add_rounded(text, metered->largest_w / 1000, 3);
    text_add(text, " kW, of readings that cover ");
    text_add_rounded(text, metered->covered_s / 3600 / 24, 1);
    text_printf(text, " days%s; it is taken at power factor 1.",
                metered->is_short ? ", fewer than the method asks for" : "");
}

static const char *take(struct text *text, struct arena *arena)
{
    const char *copy = arena_copy(arena, text_string(text));
    text_done(text);
    return copy;
}

static const char *category_note(const struct demand_taken *taken, struct arena *arena)
{
    struct text text = {0};
    text_printf(&text, "%s is taken for %s, as %s is; category=... in the load says otherwise.", taken->name,
                taken->category, taken->typical);
    return take(&text, arena);
}

static const char *with_stop(const char *note, struct arena *arena)
{
    struct text text = {0};
    text_printf(&text, "%s.", note);
    return take(&text, arena);
}

const char *const *show_demand_notes(const struct demand_answer *answer, struct arena *arena)
{
    const char *const *own = answer->demand->notes;
    size_t own_count = 0;
    size_t at = 0;
    while (own[own_count] != NULL) {
        own_count++;
    }
    const char **notes = arena_array(arena, own_count + 2 * answer->taken_count + 2, sizeof *notes);
    if (answer->metered.minutes > 0) {
        struct text text = {0};
        add_metered(&answer->metered, &text);
        notes[at++] = take(&text, arena);
    }
    for (size_t i = 0; i < answer->taken_count; i++) {
        const struct demand_taken *taken = &answer->taken[i];
        if (taken->category != NULL) {
            notes[at++] = category_note(taken, arena);
        }
        if (taken->note != NULL) {
            notes[at++] = with_stop(taken->note, arena);
        }
    }
    memcpy(notes + at, own, own_count * sizeof *notes);
    return notes;
}

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static json_t *lines_json(const struct demand_list *list, bool working)
{
    const struct show_demand_lines lines = {.list = list, .working = working};
    return show_json_array(&show_demand_line_rows, &lines, list->count);
}

static json_t *legs_json(const struct demand *demand)
{
    unsigned legs = 0;
    for (unsigned leg = 0; leg < 3; leg++) {
        legs |= isfinite(demand->leg_current_a[leg]) ? 1U << leg : 0;
    }
    return show_legs_json(legs, demand->leg_current_a);
}

json_t *show_demand_json(const struct demand_answer *answer, bool working)
{
    const struct demand *demand = answer->demand;
    json_t *json = json_answer("demand", answer->house->name);
    json_object_set_new(json, "method", json_text(demand_method_word(demand->method)));
    if (demand->panel != 0) {
        json_object_set_new(json, "panel", json_text(answer->house->panels[demand->panel].id));
    }
    json_object_set_new(json, "lines", lines_json(&demand->lines, working));
    json_object_set_new(json, "total_va", json_figure(demand->total_va));
    json_object_set_new(json, "current_a", json_figure(demand->current_a));
    json_object_set_new(json, "service_a", json_figure(demand->service_a));
    json_object_set_new(json, "neutral_va", json_figure(demand->neutral_va));
    if (working) {
        json_object_set_new(json, "neutral_lines", lines_json(&demand->neutral, true));
        json_object_set_new(json, "leg_current_a", legs_json(demand));
        json_object_set_new(json, "neutral_current_a", json_figure(demand->neutral_current_a));
    }
    struct arena *arena = arena_new();
    json_cautions(json, show_demand_notes(answer, arena));
    arena_free(arena);
    return json;
}

/* ------------------------------------------------------------------ the working --------------------------- */

static void add_figure(struct text *text, double value, const char *unit)
{
    text_add_rounded(text, value, 2);
    text_printf(text, " %s", unit);
}

/* `4500 VA x 40 % = 1800 VA`, or what became of a line that is not counted here. */
static void add_arithmetic(struct text *text, const struct demand_line *line)
{
    if (line->role == DEMAND_GATHERED) {
        text_add(text, line->how);
        text_add(text, line->how[0] != '\0' ? " = " : "");
        add_figure(text, line->load_va, "VA");
        text_add(text, ", counted with others below");
        return;
    }
    if (line->role == DEMAND_LEFT_OUT) {
        add_figure(text, line->load_va, "VA");
        text_printf(text, "%s%s", line->how[0] != '\0' ? "; " : "", line->how);
        return;
    }
    if (line->how[0] != '\0') {
        text_printf(text, "%s; ", line->how);
    }
    add_figure(text, line->load_va, "VA x ");
    text_add_rounded(text, line->factor * 100, 2);
    text_add(text, " % = ");
    add_figure(text, line->counted_va, "VA");
}

static void write_worked_lines(const struct demand_list *list, struct show_sources *sources, const struct page *page,
                               struct text *text)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct demand_line *line = &list->line[i];
        struct text head = {0};
        struct text sum = {0};
        text_printf(&head, "%zu. %s", i + 1, line->what);
        show_wrap(page, 4, text_string(&head), text);
        text_add(text, "    ");
        add_arithmetic(&sum, line);
        text_printf(&sum, "  [%zu]", show_source_number(sources, line->source));
        show_wrap(page, 6, text_string(&sum), text);
        text_done(&head);
        text_done(&sum);
    }
}

/* `3000 + 2100 + 8000 = 13100 VA` of the counted lines. */
static void write_sum(const struct demand_list *list, double total_va, const struct page *page, struct text *text)
{
    struct text sum = {0};
    size_t parts = 0;
    text_add(&sum, "Sum: ");
    for (size_t i = 0; i < list->count; i++) {
        if (list->line[i].role == DEMAND_COUNTED) {
            text_add(&sum, parts++ > 0 ? " + " : "");
            text_add_rounded(&sum, list->line[i].counted_va, 2);
        }
    }
    text_add(&sum, parts > 0 ? " = " : "");
    add_figure(&sum, total_va, "VA");
    show_wrap(page, 4, text_string(&sum), text);
    text_done(&sum);
}

static void write_legs(const struct demand *demand, struct text *text)
{
    size_t count = 0;
    struct text line = {0};
    for (unsigned leg = 0; leg < 3; leg++) {
        if (isfinite(demand->leg_current_a[leg])) {
            text_printf(&line, "%s %s ", count++ > 0 ? "," : "", legs_word(1U << leg));
            text_add_fixed(&line, demand->leg_current_a[leg], 1);
            text_add(&line, " A");
        }
    }
    if (isfinite(demand->neutral_line_a)) {
        text_add(&line, ", neutral ");
        text_add_fixed(&line, demand->neutral_line_a, 1);
        text_add(&line, " A");
    }
    if (count > 1) {
        text_printf(text, "Leg by leg:%s\n", text_string(&line));
    }
    text_done(&line);
}

static void write_working(const struct demand *demand, struct show_sources *sources, const struct page *page,
                          struct text *text)
{
    write_worked_lines(&demand->lines, sources, page, text);
    write_sum(&demand->lines, demand->total_va, page, text);
    if (demand->neutral.count > 0) {
        text_add(text, "\nNeutral\n");
        write_worked_lines(&demand->neutral, sources, page, text);
        write_sum(&demand->neutral, demand->neutral_va, page, text);
    }
}

/* ------------------------------------------------------------------ the result in words ------------------- */

static void write_current(const struct demand *demand, struct text *text)
{
    const bool product = strchr(demand->divisor, 'x') != NULL;
    text_add(text, demand->panel == 0 ? "Demand of the service: " : "Demand of the feeder: ");
    text_add_rounded(text, demand->total_va, 1);
    text_printf(text, " VA / %s%s%s = ", product ? "(" : "", demand->divisor, product ? ")" : "");
    text_add_fixed(text, demand->current_a, 1);
    text_add(text, " A\n");
}

static void write_neutral(const struct demand *demand, struct text *text)
{
    if (isfinite(demand->neutral_va)) {
        text_add(text, "Neutral: ");
        text_add_rounded(text, demand->neutral_va, 1);
        text_add(text, " VA = ");
        text_add_fixed(text, demand->neutral_current_a, 1);
        text_add(text, " A\n");
    }
}

static void write_size(const struct demand *demand, const struct page *page, struct text *text)
{
    if (!isfinite(demand->service_a)) {
        text_add(text, "It is above the largest standard size in the tables.\n");
        return;
    }
    struct text size = {0};
    text_add(&size, "By the standard sizes this would be calculated as ");
    text_add_rounded(&size, demand->service_a, 0);
    text_printf(&size, " A, which is no advice to fit it; %s", demand->service_source);
    show_wrap(page, 4, text_string(&size), text);
    text_done(&size);
}

static void write_breaker(const struct demand_answer *answer, struct text *text)
{
    const bool is_service = answer->demand->panel == 0;
    text_add_capital(text, is_service ? house_rule_set(answer->house)->main_device : "feeder's breaker");
    text_add(text, " in the house file: ");
    text_add_rounded(text, answer->breaker_a, 1);
    text_printf(text, " A%s\n", answer->is_above ? "; the demand is above it" : "");
    if (answer->is_above) {
        text_add(text, "That is no reason to change a breaker: fewer loads at once, or ask a licensed\n"
                       "electrician, who looks at the service as a whole.\n");
    }
}

static void write_result(const struct demand_answer *answer, bool working, const struct page *page, struct text *text)
{
    const struct demand *demand = answer->demand;
    write_current(demand, text);
    if (working) {
        write_legs(demand, text);
    }
    write_neutral(demand, text);
    write_size(demand, page, text);
    if (answer->lacks_area) {
        text_add(text, "The general load of the floor area is not in it: the house gives no floor_area.\n");
    }
    write_breaker(answer, text);
}

static void write_sources(const struct show_sources *sources, const struct page *page, struct text *text)
{
    text_add(text, "\nSources\n");
    for (size_t i = 0; i < sources->count; i++) {
        struct text line = {0};
        text_printf(&line, "[%zu] %s", i + 1, sources->source[i]);
        show_wrap(page, 4, text_string(&line), text);
        text_done(&line);
    }
}

void show_demand_text(const struct demand_answer *answer, bool working, const struct page *page, struct text *text)
{
    const struct demand *demand = answer->demand;
    struct arena *arena = arena_new();
    struct show_sources sources = {
        .source = arena_array(arena, demand->lines.count + demand->neutral.count + 1, sizeof *sources.source)};
    text_printf(text, "%s, %s method, %s rules\n\n",
                demand->panel == 0 ? answer->house->name : answer->house->panels[demand->panel].name,
                demand_method_word(demand->method), rules_word(answer->house->rules));
    if (working) {
        write_working(demand, &sources, page, text);
    } else {
        const struct show_demand_lines lines = {.list = &demand->lines, .sources = &sources};
        show_table_text(&show_demand_line_rows, &lines, demand->lines.count, page, text);
    }
    text_add_char(text, '\n');
    write_result(answer, working, page, text);
    write_sources(&sources, page, text);
    text_add_char(text, '\n');
    show_cautions_text(page, show_demand_notes(answer, arena), text);
    arena_free(arena);
}
