#include "supply_band.h"

#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_check.h"

enum { LOW, NOMINAL, HIGH, ENDS };

bool supply_band_given(const struct invocation *invocation)
{
    const char *value = option_value(invocation, "supply");
    return value != NULL && strcmp(value, "band") == 0;
}

/* Larger is worse: the verdict first, then the planning current, then the drop. */
static bool is_worse(const struct branch_assessment *a, const struct branch_assessment *b)
{
    if (a->verdict != b->verdict) {
        return a->verdict > b->verdict;
    }
    if (exceeds(a->all.planning_a, b->all.planning_a) || exceeds(b->all.planning_a, a->all.planning_a)) {
        return a->all.planning_a > b->all.planning_a;
    }
    return exceeds(a->drop_percent, b->drop_percent);
}

static void add_branch(struct table *table, json_t *array, struct assessment *const *ends, size_t index)
{
    static const char *const words[ENDS] = {"low", "nominal", "high"};
    const struct branch *branch = &ends[NOMINAL]->house->branches[index];
    const struct branch_assessment *low = &ends[LOW]->branches[index];
    const struct branch_assessment *high = &ends[HIGH]->branches[index];
    const char *worse = is_worse(high, low) ? "high" : is_worse(low, high) ? "low" : "the same";
    const struct branch_assessment *worst = is_worse(high, low) ? high : low;
    table_row(table);
    table_text(table, branch->id);
    table_number(table, branch->breaker_a, 0);
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(branch->id));
    json_object_set_new(object, "breaker_a", json_figure(branch->breaker_a));
    for (int end = LOW; end < ENDS; end++) {
        const struct branch_assessment *result = &ends[end]->branches[index];
        table_number(table, result->all.planning_a, 2);
        json_t *figures = show_json(&show_figure_rows, &result->all, 0);
        json_object_set_new(figures, "voltage_v", json_figure(result->voltage_v));
        json_object_set_new(figures, "status", json_text(verdict_word(result->verdict)));
        json_object_set_new(figures, "drop_percent", json_figure(result->drop_percent));
        json_object_set_new(object, words[end], figures);
    }
    table_number(table, low->all.power_w, 0);
    table_number(table, high->all.power_w, 0);
    table_text(table, worse);
    table_text(table, verdict_word(worst->verdict));
    json_object_set_new(object, "worse", json_text(worse));
    json_object_set_new(object, "status", json_text(verdict_word(worst->verdict)));
    json_array_append_new(array, object);
}

static struct table *band_table(void)
{
    struct table *table = table_new();
    table_column(table, "BRANCH", "id", TABLE_LEFT, 0);
    table_column(table, "BREAKER", "breaker_a", TABLE_RIGHT, 0);
    table_column(table, "LOW A", "low_planning_a", TABLE_RIGHT, 0);
    table_column(table, "NOMINAL A", "nominal_planning_a", TABLE_RIGHT, 0);
    table_column(table, "HIGH A", "high_planning_a", TABLE_RIGHT, 0);
    table_column(table, "LOW W", "low_power_w", TABLE_RIGHT, 0);
    table_column(table, "HIGH W", "high_power_w", TABLE_RIGHT, 0);
    table_column(table, "WORSE", "worse", TABLE_LEFT, 0);
    table_column(table, "VERDICT", "status", TABLE_LEFT, 0);
    return table;
}

static void write_text(struct invocation *invocation, const struct table *table, const double *ratios)
{
    const struct house *house = invocation->house;
    struct text *text = &invocation->out;
    struct text line = {0};
    text_printf(&line, "%s: everything on, planning current at ", house->name);
    text_add_rounded(&line, house->voltage_v * ratios[LOW], 1);
    text_add(&line, " V, ");
    text_add_rounded(&line, house->voltage_v, 1);
    text_add(&line, " V and ");
    text_add_rounded(&line, house->voltage_v * ratios[HIGH], 1);
    text_add(&line, " V line to neutral");
    show_wrap(&invocation->page, 0, text_string(&line), text);
    text_add_char(text, '\n');
    text_done(&line);
    table_write_terminal(table, invocation->page.width, invocation->page.utf8, text);
    text_add_char(text, '\n');
    show_wrap(&invocation->page, 0,
              "Resistive loads draw more at high voltage, constant-power ones at low. The verdict is that of the worse "
              "end. The band is the published one: `ampsum rules supply-over`, `ampsum rules supply-under`.",
              text);
    text_add_char(text, '\n');
    show_cautions_text(&invocation->page, NULL, text);
    static const char *const next[] = {"ampsum check HOUSE --supply high", "ampsum check HOUSE --supply low", NULL};
    invocation_next(invocation, next);
}

static void write_json(struct invocation *invocation, json_t *array, const double *ratios)
{
    json_t *answer = json_answer(invocation->command->name, invocation->house->name);
    json_object_set_new(answer, "supply", json_text("band"));
    json_object_set_new(answer, "low_v", json_figure(invocation->house->voltage_v * ratios[LOW]));
    json_object_set_new(answer, "high_v", json_figure(invocation->house->voltage_v * ratios[HIGH]));
    json_object_set(answer, "branches", array);
    json_cautions(answer, NULL);
    json_write(answer, &invocation->out);
}

int supply_band(struct invocation *invocation, const struct assess_options *choice, size_t branch)
{
    const struct house *house = invocation->house;
    const char *rules = rules_word(house->rules);
    const double ratios[ENDS] = {1 - reference_rule_value("supply-under", rules) / 100, 1,
                                 1 + reference_rule_value("supply-over", rules) / 100};
    struct assessment *ends[ENDS];
    for (int end = LOW; end < ENDS; end++) {
        struct assess_options options = *choice;
        options.supply_ratio = ratios[end];
        options.loads = false;
        ends[end] = assess_house(house, &options);
    }
    struct table *table = band_table();
    json_t *array = json_array();
    for (size_t i = 0; i < house->branch_count; i++) {
        if (branch == NO_INDEX || branch == i) {
            add_branch(table, array, ends, i);
        }
    }
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, array, ratios);
    } else if (invocation->format == FORMAT_CSV) {
        invocation_table(invocation, table);
    } else {
        write_text(invocation, table, ratios);
    }
    int status = ends[LOW]->status == VERDICT_OVER || ends[HIGH]->status == VERDICT_OVER ? 1 : 0;
    for (int end = LOW; end < ENDS; end++) {
        assess_free(ends[end]);
    }
    table_free(table);
    json_decref(array);
    return status;
}
