/* The answer of `demand` as JSON and text. */
#include "ampsum/show_demand.h"

#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static json_t *lines_json(const struct demand_list *list, bool working)
{
    static const struct demand_list none = {0};
    const struct show_demand_lines lines = {.list = list == NULL ? &none : list, .working = working};
    return show_json_array(&show_demand_line_rows, &lines, lines.list->count);
}

static json_t *legs_json(const struct demand *demand)
{
    unsigned legs = 0;
    for (unsigned leg = 0; demand != NULL && leg < 3; leg++) {
        legs |= isfinite(demand->leg_current_a[leg]) ? 1U << leg : 0;
    }
    return show_legs_json(legs, demand == NULL ? NULL : demand->leg_current_a);
}

/* The chosen method's own keys; null and empty where it does not apply. */
static void add_chosen_json(const struct demand_answer *answer, bool working, json_t *json)
{
    const struct demand *demand = answer->demand;
    json_object_set_new(json, "method", json_text(demand_method_word(answer->chosen->method)));
    if (answer->service->panel != 0) {
        json_object_set_new(json, "panel", json_text(answer->house->panels[answer->service->panel].id));
    }
    json_object_set_new(json, "lines", lines_json(demand == NULL ? NULL : &demand->lines, working));
    json_object_set_new(json, "total_va", json_figure(answer->chosen->total_va));
    json_object_set_new(json, "current_a", json_figure(answer->chosen->current_a));
    json_object_set_new(json, "service_a", json_figure(answer->service->rating_a));
    json_object_set_new(json, "neutral_va", json_figure(demand == NULL ? (double)NAN : demand->neutral_va));
    if (working) {
        json_object_set_new(json, "neutral_lines", lines_json(demand == NULL ? NULL : &demand->neutral, true));
        json_object_set_new(json, "leg_current_a", legs_json(demand));
        json_object_set_new(json, "neutral_current_a",
                            json_figure(demand == NULL ? (double)NAN : demand->neutral_current_a));
    }
}

#define ADDED(member) SHOW_IN(struct service, added, struct service_added, member)

static const struct show_column added_columns[] = {
    {.key = "what", .faces = SHOW_JSON, ADDED(what)},
    {.key = "load_va", .faces = SHOW_JSON, ADDED(load_va)},
    {.key = "continuous", .faces = SHOW_JSON, ADDED(continuous)},
};

static const struct show_rows added_rows = {added_columns, sizeof added_columns / sizeof added_columns[0]};

static json_t *largest_json(const struct service *service)
{
    json_t *all = json_object();
    for (size_t i = 0; i < service->method_count; i++) {
        const struct service_method *method = &service->methods[i];
        json_t *object = method->applies ? json_object() : json_null();
        if (method->applies) {
            json_object_set_new(object, "va", json_figure(method->largest.va));
            json_object_set_new(object, "current_a", json_figure(method->largest.current_a));
            json_object_set_new(object, "setting_a", json_figure(method->largest.setting_a));
        }
        json_object_set_new(all, method->word, object);
    }
    return all;
}

static json_t *managed_json(const struct service_managed *managed)
{
    if (managed == NULL) {
        return json_null();
    }
    json_t *object = json_object();
    json_object_set_new(object, "setpoint_a", json_figure(managed->setpoint_a));
    json_object_set_new(object, "hours", json_figure(managed->hours));
    json_object_set_new(object, "kwh", json_figure(managed->kwh));
    json_object_set_new(object, "short_kwh", json_figure(managed->short_kwh));
    return object;
}

json_t *show_demand_json(const struct demand_answer *answer, bool working)
{
    const struct service *service = answer->service;
    json_t *json = json_answer("demand", answer->house->name);
    add_chosen_json(answer, working, json);
    json_object_set_new(json, "rating_source", json_text(service_rating_word(service->rating_from)));
    json_object_set_new(json, "voltage_v", json_figure(service->voltage_v));
    json_object_set_new(json, "added", show_json_array(&added_rows, service, service->added_count));
    json_object_set_new(json, "methods", show_json_array(&show_demand_method_rows, answer, service->method_count));
    json_object_set_new(json, "largest_added", largest_json(service));
    json_object_set_new(json, "managed", managed_json(service->managed));
    json_object_set_new(json, "findings", show_findings_json(&service->findings));
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
    text_rounded(text, "", line->factor * 100, 2, " % = ");
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
    show_line(page, 0, 4, &sum, text);
}

static void write_legs(const struct demand *demand, struct text *text)
{
    size_t count = 0;
    struct text line = {0};
    for (unsigned leg = 0; leg < 3; leg++) {
        if (isfinite(demand->leg_current_a[leg])) {
            text_printf(&line, "%s %s ", count++ > 0 ? "," : "", legs_word(1U << leg));
            text_fixed(&line, "", demand->leg_current_a[leg], 1, " A");
        }
    }
    if (isfinite(demand->neutral_line_a)) {
        text_fixed(&line, ", neutral ", demand->neutral_line_a, 1, " A");
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

static void write_current(const struct demand_answer *answer, struct text *text)
{
    const struct demand *demand = answer->demand;
    const bool product = strchr(demand->divisor, 'x') != NULL;
    text_add(text, demand->panel == 0 ? "Demand of the service: " : "Demand of the feeder: ");
    text_add_rounded(text, demand->total_va, 1);
    text_printf(text, " VA / %s%s%s = ", product ? "(" : "", demand->divisor, product ? ")" : "");
    show_demand_current(answer, demand->current_a, 1, text);
    text_add(text, " A\n");
}

static void write_neutral(const struct demand *demand, struct text *text)
{
    if (isfinite(demand->neutral_va)) {
        text_rounded(text, "Neutral: ", demand->neutral_va, 1, " VA = ");
        text_fixed(text, "", demand->neutral_current_a, 1, " A\n");
    }
}

static void write_result(const struct demand_answer *answer, bool working, struct text *text)
{
    write_current(answer, text);
    if (working) {
        write_legs(answer->demand, text);
    }
    write_neutral(answer->demand, text);
}

static void write_sources(const struct show_sources *sources, const struct page *page, struct text *text)
{
    text_add(text, "\nSources\n");
    for (size_t i = 0; i < sources->count; i++) {
        struct text line = {0};
        text_printf(&line, "[%zu] %s", i + 1, sources->source[i]);
        show_line(page, 0, 4, &line, text);
    }
}

static void write_list(const char *heading, const char *const *sentence, const struct page *page, struct text *text)
{
    text_add(text, sentence[0] != NULL ? heading : "");
    for (size_t i = 0; sentence[i] != NULL; i++) {
        text_add(text, "  ");
        show_wrap(page, 2, sentence[i], text);
    }
}

/* The chosen method: its lines; nothing where it does not apply. */
static void write_chosen(const struct demand_answer *answer, bool working, struct show_sources *sources,
                         const struct page *page, struct text *text)
{
    const struct demand *demand = answer->demand;
    if (demand == NULL) {
        return;
    }
    if (working) {
        write_working(demand, sources, page, text);
    } else {
        const struct show_demand_lines lines = {.list = &demand->lines, .sources = sources};
        show_table_text(&show_demand_line_rows, &lines, demand->lines.count, page, text);
    }
    text_add_char(text, '\n');
    write_result(answer, working, text);
    write_sources(sources, page, text);
    text_add_char(text, '\n');
}

static void write_heading(const struct demand_answer *answer, const struct page *page, struct text *text)
{
    const size_t panel = answer->service->panel;
    struct text line = {0};
    text_printf(text, "%s, %s method, %s rules\n", panel == 0 ? answer->house->name : answer->house->panels[panel].name,
                demand_method_word(answer->chosen->method), rules_word(answer->house->rules));
    show_demand_sentence(answer, &line);
    show_wrap(page, 0, text_string(&line), text);
    text_add_char(text, '\n');
    text_done(&line);
}

static void write_methods(const struct demand_answer *answer, struct arena *arena, const struct page *page,
                          struct text *text)
{
    struct text line = {0};
    text_add(&line, "All methods side by side. ");
    show_demand_rating(answer, &line);
    show_line(page, 0, 0, &line, text);
    show_table_text(&show_demand_method_rows, answer, answer->service->method_count, page, text);
    write_list("", show_demand_methods(answer, arena), page, text);
    write_list("", show_demand_counting(answer, arena), page, text);
    write_list("", show_demand_method_sources(answer, arena), page, text);
    text_add_char(text, '\n');
}

static void write_findings(const struct demand_answer *answer, const struct page *page, struct text *text)
{
    if (answer->service->findings.count > 0) {
        text_add(text, "Findings\n");
        show_findings_text(&answer->service->findings, "service", true, page, text);
        text_add_char(text, '\n');
    }
}

void show_demand_text(const struct demand_answer *answer, bool working, const struct page *page, struct text *text)
{
    struct arena *arena = arena_new();
    const struct demand *demand = answer->demand;
    const size_t most = demand == NULL ? 0 : demand->lines.count + demand->neutral.count;
    struct show_sources sources = {.source = arena_array(arena, most + 1, sizeof *sources.source)};
    const char *const *control = show_demand_control(answer, arena);
    const char *const *taken = show_demand_taken(answer, arena);
    write_heading(answer, page, text);
    write_list("What was added, as it was taken\n", taken, page, text);
    text_add(text, taken[0] != NULL ? "\n" : "");
    write_chosen(answer, working, &sources, page, text);
    write_methods(answer, arena, page, text);
    write_list("Control\n", control, page, text);
    text_add(text, control[0] != NULL ? "\n" : "");
    write_findings(answer, page, text);
    write_list("To bring to the electrician\n", show_demand_bring(answer, arena), page, text);
    text_add_char(text, '\n');
    show_cautions_text(page, show_demand_cautions(answer, arena), text);
    arena_free(arena);
}
