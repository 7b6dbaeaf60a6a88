#include "demand_view.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "ampsum/reference.h"

static json_t *line_json(const struct demand_line *line)
{
    json_t *object = json_object();
    json_object_set_new(object, "what", json_text(line->what));
    json_object_set_new(object, "load_va", json_figure(line->load_va));
    json_object_set_new(object, "factor", json_figure(line->factor));
    json_object_set_new(object, "counted_va", json_figure(line->counted_va));
    json_object_set_new(object, "source", json_text(line->source));
    return object;
}

static json_t *lines_json(const struct demand_list *list, bool working)
{
    json_t *array = json_array();
    for (size_t i = 0; i < list->count; i++) {
        json_t *object = line_json(&list->line[i]);
        if (working) {
            json_object_set_new(object, "working", json_text(list->line[i].how));
        }
        json_array_append_new(array, object);
    }
    return array;
}

static json_t *legs_json(const struct demand *demand)
{
    json_t *legs = json_object();
    for (unsigned leg = 0; leg < 3; leg++) {
        if (isfinite(demand->leg_current_a[leg])) {
            json_object_set_new(legs, legs_word(1U << leg), json_figure(demand->leg_current_a[leg]));
        }
    }
    return legs;
}

void demand_view_json(struct invocation *invocation, const struct demand *demand, const char *const *notes)
{
    bool working = option_given(invocation, "working");
    json_t *answer = json_answer("demand", invocation->house->name);
    json_object_set_new(answer, "method", json_text(demand_method_word(demand->method)));
    if (demand->panel != 0) {
        json_object_set_new(answer, "panel", json_text(invocation->house->panels[demand->panel].id));
    }
    json_object_set_new(answer, "lines", lines_json(&demand->lines, working));
    json_object_set_new(answer, "total_va", json_figure(demand->total_va));
    json_object_set_new(answer, "current_a", json_figure(demand->current_a));
    json_object_set_new(answer, "service_a", json_figure(demand->service_a));
    json_object_set_new(answer, "neutral_va", json_figure(demand->neutral_va));
    if (working) {
        json_object_set_new(answer, "neutral_lines", lines_json(&demand->neutral, true));
        json_object_set_new(answer, "leg_current_a", legs_json(demand));
        json_object_set_new(answer, "neutral_current_a", json_figure(demand->neutral_current_a));
    }
    json_cautions(answer, notes);
    json_write(answer, &invocation->out);
}

/* Number of a source among those met so far; a new one is kept. */
static size_t source_number(const char **sources, size_t *count, const char *source)
{
    for (size_t i = 0; i < *count; i++) {
        if (strcmp(sources[i], source) == 0) {
            return i + 1;
        }
    }
    sources[*count] = source;
    return ++*count;
}

static void line_cells(struct table *table, const struct demand_line *line, size_t source)
{
    struct text mark = {0};
    text_printf(&mark, "[%zu]", source);
    table_row(table);
    table_text(table, line->what);
    table_number(table, line->load_va, 0);
    if (line->role == DEMAND_COUNTED) {
        struct text factor = {0};
        text_add_rounded(&factor, line->factor * 100, 1);
        text_add(&factor, " %");
        table_text(table, text_string(&factor));
        table_number(table, line->counted_va, 0);
        text_done(&factor);
    } else {
        table_text(table, line->role == DEMAND_GATHERED ? "in the sum" : "left out");
        table_text(table, "-");
    }
    table_text(table, text_string(&mark));
    text_done(&mark);
}

static void write_table(struct invocation *invocation, const struct demand *demand, const char **sources,
                        size_t *source_count)
{
    struct table *table = table_new();
    table_column(table, "WHAT", "what", TABLE_LEFT, 34);
    table_column(table, "LOAD VA", "load_va", TABLE_RIGHT, 0);
    table_column(table, "FACTOR", "factor", TABLE_RIGHT, 0);
    table_column(table, "COUNTED VA", "counted_va", TABLE_RIGHT, 0);
    table_column(table, "SOURCE", "source", TABLE_LEFT, 0);
    for (size_t i = 0; i < demand->lines.count; i++) {
        const struct demand_line *line = &demand->lines.line[i];
        line_cells(table, line, source_number(sources, source_count, line->source));
    }
    invocation_table(invocation, table);
    table_free(table);
}

void demand_view_csv(struct invocation *invocation, const struct demand *demand)
{
    struct table *table = table_new();
    table_column(table, NULL, "what", TABLE_LEFT, 0);
    table_column(table, NULL, "load_va", TABLE_RIGHT, 0);
    table_column(table, NULL, "factor", TABLE_RIGHT, 0);
    table_column(table, NULL, "counted_va", TABLE_RIGHT, 0);
    table_column(table, NULL, "working", TABLE_LEFT, 0);
    table_column(table, NULL, "source", TABLE_LEFT, 0);
    for (size_t i = 0; i < demand->lines.count; i++) {
        const struct demand_line *line = &demand->lines.line[i];
        table_row(table);
        table_text(table, line->what);
        table_number(table, line->load_va, 0);
        table_number(table, line->factor, 3);
        table_number(table, line->counted_va, 0);
        table_text(table, line->how);
        table_text(table, line->source);
    }
    invocation_table(invocation, table);
    table_free(table);
}

/* ---- the working */

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

static void write_worked_lines(struct invocation *invocation, const struct demand_list *list, const char **sources,
                               size_t *source_count)
{
    struct text *text = &invocation->out;
    for (size_t i = 0; i < list->count; i++) {
        const struct demand_line *line = &list->line[i];
        struct text head = {0};
        struct text sum = {0};
        text_printf(&head, "%zu. %s", i + 1, line->what);
        show_wrap(&invocation->page, 4, text_string(&head), text);
        text_add(text, "    ");
        add_arithmetic(&sum, line);
        text_printf(&sum, "  [%zu]", source_number(sources, source_count, line->source));
        show_wrap(&invocation->page, 6, text_string(&sum), text);
        text_done(&head);
        text_done(&sum);
    }
}

/* `3000 + 2100 + 8000 = 13100 VA` of the counted lines. */
static void write_sum(struct invocation *invocation, const char *what, const struct demand_list *list, double total_va)
{
    struct text sum = {0};
    size_t parts = 0;
    text_printf(&sum, "%s: ", what);
    for (size_t i = 0; i < list->count; i++) {
        if (list->line[i].role == DEMAND_COUNTED) {
            text_add(&sum, parts++ > 0 ? " + " : "");
            text_add_rounded(&sum, list->line[i].counted_va, 2);
        }
    }
    text_add(&sum, parts > 0 ? " = " : "");
    add_figure(&sum, total_va, "VA");
    show_wrap(&invocation->page, 4, text_string(&sum), &invocation->out);
    text_done(&sum);
}

static void write_legs(struct text *text, const struct demand *demand)
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

/* ---- the result in words */

static void write_result(struct invocation *invocation, const struct demand *demand, bool working)
{
    struct text *text = &invocation->out;
    text_add(text, demand->panel == 0 ? "Demand of the service: " : "Demand of the feeder: ");
    text_add_rounded(text, demand->total_va, 1);
    text_printf(text, " VA / %s%s%s = ", strchr(demand->divisor, 'x') != NULL ? "(" : "", demand->divisor,
                strchr(demand->divisor, 'x') != NULL ? ")" : "");
    text_add_fixed(text, demand->current_a, 1);
    text_add(text, " A\n");
    if (working) {
        write_legs(text, demand);
    }
    if (isfinite(demand->neutral_va)) {
        text_add(text, "Neutral: ");
        text_add_rounded(text, demand->neutral_va, 1);
        text_add(text, " VA = ");
        text_add_fixed(text, demand->neutral_current_a, 1);
        text_add(text, " A\n");
    }
    const struct house *house = invocation->house;
    double breaker_a = demand->panel == 0 ? house->service_a : house->panels[demand->panel].breaker_a;
    if (isfinite(demand->service_a)) {
        struct text size = {0};
        text_add(&size, "By the standard sizes this would be calculated as ");
        text_add_rounded(&size, demand->service_a, 0);
        text_printf(&size, " A, which is no advice to fit it; %s", demand->service_source);
        show_wrap(&invocation->page, 4, text_string(&size), text);
        text_done(&size);
    } else {
        text_add(text, "It is above the largest standard size in the tables.\n");
    }
    if (!isfinite(house->floor_area_m2) && demand->panel == 0 && demand_takes_area(house)) {
        text_add(text, "The general load of the floor area is not in it: the house gives no floor_area.\n");
    }
    text_add_capital(text, demand->panel == 0 ? house_rule_set(house)->main_device : "feeder's breaker");
    text_add(text, " in the house file: ");
    text_add_rounded(text, breaker_a, 1);
    const bool above = demand->heaviest_a > breaker_a * (1 + 1e-9);
    text_printf(text, " A%s\n", above ? "; the demand is above it" : "");
    if (above) {
        text_add(text, "That is no reason to change a breaker: fewer loads at once, or ask a licensed\n"
                       "electrician, who looks at the service as a whole.\n");
    }
}

static void write_sources(struct invocation *invocation, const char *const *sources, size_t count)
{
    text_add(&invocation->out, "\nSources\n");
    for (size_t i = 0; i < count; i++) {
        struct text line = {0};
        text_printf(&line, "[%zu] %s", i + 1, sources[i]);
        show_wrap(&invocation->page, 4, text_string(&line), &invocation->out);
        text_done(&line);
    }
}

void demand_view_text(struct invocation *invocation, const struct demand *demand, const char *const *notes)
{
    struct text *text = &invocation->out;
    bool working = option_given(invocation, "working");
    size_t source_count = 0;
    const char **sources =
        arena_array(invocation->arena, demand->lines.count + demand->neutral.count + 1, sizeof *sources);
    text_printf(text, "%s, %s method, %s rules\n\n",
                demand->panel == 0 ? invocation->house->name : invocation->house->panels[demand->panel].name,
                demand_method_word(demand->method), rules_word(invocation->house->rules));
    if (working) {
        write_worked_lines(invocation, &demand->lines, sources, &source_count);
        write_sum(invocation, "Sum", &demand->lines, demand->total_va);
        if (demand->neutral.count > 0) {
            text_add(text, "\nNeutral\n");
            write_worked_lines(invocation, &demand->neutral, sources, &source_count);
            write_sum(invocation, "Sum", &demand->neutral, demand->neutral_va);
        }
    } else {
        write_table(invocation, demand, sources, &source_count);
    }
    text_add_char(text, '\n');
    write_result(invocation, demand, working);
    write_sources(invocation, sources, source_count);
    text_add_char(text, '\n');
    show_cautions_text(&invocation->page, notes, text);
    const char *const next[] = {working ? "ampsum check HOUSE" : "ampsum demand HOUSE --working", NULL};
    invocation_next(invocation, next);
}
