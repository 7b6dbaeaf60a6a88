/* The answer of `demand` as JSON and text. */
#include "ampsum/show_demand.h"

#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static bool has_working(const void *answer)
{
    return ((const struct demand_answer *)answer)->working;
}

static bool is_feeder(const void *answer)
{
    return ((const struct demand_answer *)answer)->service->panel != 0;
}

static const void *service_at(const void *answer, size_t row)
{
    (void)row;
    return ((const struct demand_answer *)answer)->service;
}

static const void *panel_at(const void *answer, size_t row)
{
    const struct demand_answer *demand = answer;
    (void)row;
    return &demand->house->panels[demand->service->panel];
}

/* Of the demand that there is: lists are empty where the method does not apply. */
static json_t *lines_json(const struct demand_answer *answer, bool neutral)
{
    const struct demand *demand = answer->demand;
    const struct show_demand_lines lines = {.list = demand == NULL ? NULL
                                                    : neutral      ? &demand->neutral
                                                                   : &demand->lines,
                                            .working = answer->working};
    return demand == NULL ? json_array() : show_json_array(&show_demand_line_rows, &lines, lines.list->count);
}

static void get_lines(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = lines_json(answer, false);
}

static void get_neutral_lines(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = lines_json(answer, true);
}

static void get_leg_currents(const void *answer, size_t row, struct show_cell *cell)
{
    const struct demand *demand = ((const struct demand_answer *)answer)->demand;
    unsigned legs = 0;
    (void)row;
    for (unsigned leg = 0; demand != NULL && leg < 3; leg++) {
        legs |= isfinite(demand->leg_current_a[leg]) ? 1U << leg : 0;
    }
    cell->part = show_legs_json(legs, demand == NULL ? NULL : demand->leg_current_a);
}

#define ADDED(member) .faces = SHOW_JSON, SHOW_IN(struct service, added, struct service_added, member)

static const struct show_column added_columns[] = {
    {.key = "what", ADDED(what)},
    {.key = "load_va", ADDED(load_va)},
    {.key = "continuous", ADDED(continuous)},
};
static const struct show_rows added_rows = SHOW_ROWS_OF(added_columns);

/* NULL where the method does not apply. */
static const void *largest_at(const void *service, size_t row)
{
    const struct service_method *method = &((const struct service *)service)->methods[row];
    return method->applies ? &method->largest : NULL;
}

#define LARGEST(member) .faces = SHOW_JSON, SHOW_FIELD(struct service_largest, member)

static const struct show_column load_columns[] = {
    {.key = "va", LARGEST(va)},
    {.key = "current_a", LARGEST(current_a)},
    {.key = "setting_a", LARGEST(setting_a)},
};
static const struct show_rows load_rows = SHOW_ROWS_OF(load_columns);

static const struct show_column largest_columns[] = {
    {.faces = SHOW_JSON, SHOW_IN(struct service, methods, struct service_method, word)},
    {.at = largest_at, SHOW_OBJECT(load_rows)},
};
static const struct show_rows largest_rows = SHOW_ROWS_OF(largest_columns);

#define MANAGED(member) .faces = SHOW_JSON, SHOW_FIELD(struct service_managed, member)

static const struct show_column managed_columns[] = {
    {.key = "setpoint_a", MANAGED(setpoint_a)},
    {.key = "hours", MANAGED(hours)},
    {.key = "kwh", MANAGED(kwh)},
    {.key = "short_kwh", MANAGED(short_kwh)},
};
static const struct show_rows managed_rows = SHOW_ROWS_OF(managed_columns);

static SHOW_WORD_TAKE(take_method, enum demand_method,
                      demand_method_word) static SHOW_WORD_TAKE(take_rating, enum service_rating_from,
                                                                service_rating_word)

    static void get_methods(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = show_json_array(&show_demand_method_rows, answer,
                                 ((const struct demand_answer *)answer)->service->method_count);
}

#define CHOSEN SHOW_POINTED(struct demand_answer, chosen, struct service_method)
#define DEMAND SHOW_POINTED(struct demand_answer, demand, struct demand)
#define SERVICE(member) .faces = SHOW_JSON, .at = service_at, SHOW_FIELD(struct service, member)
#define MADE .kind = SHOW_PART, .faces = SHOW_JSON

/* The chosen method's figures are null and its lists empty where it does not apply. */
static const struct show_column answer_columns[] = {
    {.key = "method", .faces = SHOW_JSON, CHOSEN, SHOW_TAKEN(struct service_method, method, take_method)},
    {.key = "panel", .faces = SHOW_JSON, .asked = is_feeder, .at = panel_at, SHOW_FIELD(struct panel, id)},
    {.key = "lines", MADE, .get = get_lines},
    {.key = "total_va", .faces = SHOW_JSON, CHOSEN, SHOW_FIELD(struct service_method, total_va)},
    {.key = "current_a", .faces = SHOW_JSON, CHOSEN, SHOW_FIELD(struct service_method, current_a)},
    {.key = "service_a", SERVICE(rating_a)},
    {.key = "neutral_va", .faces = SHOW_JSON, DEMAND, SHOW_FIELD(struct demand, neutral_va)},
    {.key = "neutral_lines", MADE, .asked = has_working, .get = get_neutral_lines},
    {.key = "leg_current_a", MADE, .asked = has_working, .get = get_leg_currents},
    {.key = "neutral_current_a",
     .faces = SHOW_JSON,
     .asked = has_working,
     DEMAND,
     SHOW_FIELD(struct demand, neutral_current_a)},
    {.key = "rating_source",
     .faces = SHOW_JSON,
     .at = service_at,
     SHOW_TAKEN(struct service, rating_from, take_rating)},
    {.key = "voltage_v", SERVICE(voltage_v)},
    {.key = "added", .at = service_at, SHOW_LIST(added_rows, struct service, added_count)},
    {.key = "methods", MADE, .get = get_methods},
    {.key = "largest_added", .at = service_at, SHOW_KEYED(largest_rows, struct service, method_count)},
    {.key = "managed",
     .at = service_at,
     SHOW_POINTED(struct service, managed, struct service_managed),
     SHOW_OBJECT(managed_rows)},
    {.key = "findings", .at = service_at, SHOW_FINDINGS(struct service, findings)},
};

json_t *show_demand_json(const struct demand_answer *answer, bool working)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    struct demand_answer shown = *answer;
    struct arena *arena = arena_new();
    shown.working = working;
    json_t *json = show_answer_json("demand", answer->house->name, &rows, &shown, show_demand_notes(answer, arena));
    arena_free(arena);
    return json;
}

/* ------------------------------------------------------------------ the working --------------------------- */

/* `4500 VA x 40 % = 1800 VA`, or what became of a line that is not counted here. */
static void add_arithmetic(struct text *text, const struct demand_line *line)
{
    if (line->role == DEMAND_GATHERED) {
        text_say(text, "%s%s%.2g VA, counted with others below", line->how, line->how[0] != '\0' ? " = " : "",
                 line->load_va);
        return;
    }
    if (line->role == DEMAND_LEFT_OUT) {
        text_say(text, "%.2g VA%s%s", line->load_va, line->how[0] != '\0' ? "; " : "", line->how);
        return;
    }
    text_say(text, "%s%s%.2g VA x %.2g %% = %.2g VA", line->how, line->how[0] != '\0' ? "; " : "", line->load_va,
             line->factor * 100, line->counted_va);
}

static void write_worked_lines(const struct demand_list *list, struct show_sources *sources, const struct page *page,
                               struct text *text)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct demand_line *line = &list->line[i];
        struct text sum = {0};
        show_say(page, 0, 4, text, "%zu. %s", i + 1, line->what);
        add_arithmetic(&sum, line);
        text_printf(&sum, "  [%zu]", show_source_number(sources, line->source));
        show_line(page, 4, 6, &sum, text);
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
    text_say(&sum, "%s%.2g VA", parts > 0 ? " = " : "", total_va);
    show_line(page, 0, 4, &sum, text);
}

static void write_legs(const struct demand *demand, struct text *text)
{
    size_t count = 0;
    struct text line = {0};
    for (unsigned leg = 0; leg < 3; leg++) {
        if (isfinite(demand->leg_current_a[leg])) {
            text_say(&line, "%s %s %.1f A", count++ > 0 ? "," : "", legs_word(1U << leg), demand->leg_current_a[leg]);
        }
    }
    if (isfinite(demand->neutral_line_a)) {
        text_say(&line, ", neutral %.1f A", demand->neutral_line_a);
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
    text_say(text, "Demand of the %s: %.1g VA / %s%s%s = ", demand->panel == 0 ? "service" : "feeder", demand->total_va,
             product ? "(" : "", demand->divisor, product ? ")" : "");
    show_demand_current(answer, demand->current_a, 1, text);
    text_add(text, " A\n");
}

static void write_neutral(const struct demand *demand, struct text *text)
{
    if (isfinite(demand->neutral_va)) {
        text_say(text, "Neutral: %.1g VA = %.1f A\n", demand->neutral_va, demand->neutral_current_a);
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
        show_say(page, 0, 4, text, "[%zu] %s", i + 1, sources->source[i]);
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
    show_line(page, 0, 0, &line, text);
    text_add_char(text, '\n');
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
