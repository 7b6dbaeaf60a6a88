#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "cli.h"

static const char *const examples[] = {"ampsum typical kettle", "ampsum typical heater --rules us", NULL};

static const struct option_spec options[] = {
    {"rules", '\0', "us|iec|uk", "ratings usual there only"},
    {NULL, '\0', NULL, NULL},
};

enum { TYPICAL_MOST = 400 };

static struct table *typical_table(const struct ref_typical *const *rows, size_t count, json_t *array)
{
    struct table *table = table_new();
    table_column(table, "ID", "id", TABLE_LEFT, 0);
    table_column(table, "WHAT", "name", TABLE_LEFT, 22);
    table_column(table, "FOR", "rules", TABLE_LEFT, 0);
    table_column(table, "LOW W", "low_w", TABLE_RIGHT, 0);
    table_column(table, "TYPICAL W", "typical_w", TABLE_RIGHT, 0);
    table_column(table, "HIGH W", "high_w", TABLE_RIGHT, 0);
    table_column(table, "H/DAY", "hours_day", TABLE_RIGHT, 0);
    table_column(table, "STANDBY W", "standby_w", TABLE_RIGHT, 0);
    table_column(table, NULL, "source", TABLE_LEFT, 0);
    for (size_t i = 0; i < count; i++) {
        const struct ref_typical *row = rows[i];
        table_row(table);
        table_text(table, row->id);
        table_text(table, row->name);
        table_text(table, strcmp(row->rules, "*") == 0 ? "all" : row->rules);
        table_number(table, row->low_w, 0);
        table_number(table, row->typical_w, 0);
        table_number(table, row->high_w, 0);
        table_number(table, row->hours_day, 2);
        table_number(table, row->standby_w, 1);
        table_text(table, row->source);
        json_t *object = json_object();
        json_object_set_new(object, "id", json_text(row->id));
        json_object_set_new(object, "name", json_text(row->name));
        json_object_set_new(object, "rules", json_text(row->rules));
        json_object_set_new(object, "low_w", json_figure(row->low_w));
        json_object_set_new(object, "typical_w", json_figure(row->typical_w));
        json_object_set_new(object, "high_w", json_figure(row->high_w));
        json_object_set_new(object, "hours_day", json_figure(row->hours_day));
        json_object_set_new(object, "standby_w", json_figure(row->standby_w));
        json_object_set_new(object, "edition", json_text(row->edition));
        json_object_set_new(object, "source", json_text(row->source));
        json_array_append_new(array, object);
    }
    return table;
}

/* The sources of the rows, each once. */
static void write_sources(struct invocation *invocation, const struct ref_typical *const *rows, size_t count)
{
    text_add(&invocation->out, "\nSources\n");
    for (size_t i = 0; i < count; i++) {
        bool seen = false;
        for (size_t j = 0; j < i; j++) {
            seen = seen ||
                   (strcmp(rows[j]->source, rows[i]->source) == 0 && strcmp(rows[j]->edition, rows[i]->edition) == 0);
        }
        if (!seen) {
            struct text line = {0};
            text_printf(&line, "%s, %s", rows[i]->source, rows[i]->edition);
            text_add(&invocation->out, "  ");
            show_wrap(&invocation->page, 4, text_string(&line), &invocation->out);
            text_done(&line);
        }
    }
}

/* The first of them on a plug, as a question to the house. */
static void write_next(struct invocation *invocation, const struct ref_typical *row)
{
    struct text line = {0};
    struct text load = {0};
    text_printf(&load, "%s, ", row->name);
    text_add_rounded(&load, isfinite(row->typical_w) ? row->typical_w : row->high_w, 0);
    text_add(&load, " W");
    text_add(&line, "ampsum place house.db ");
    add_shell_path(&line, text_string(&load));
    const char *const next[] = {text_string(&line), NULL};
    invocation_next(invocation, next);
    text_done(&line);
    text_done(&load);
}

static const char *const more_cautions[] = {
    "Typical ratings stand in until the nameplate is read: the appliance's own plate decides.", NULL};

static void write_answer(struct invocation *invocation, const struct ref_typical *const *rows, size_t count, bool near)
{
    json_t *array = json_array();
    struct table *table = typical_table(rows, count, array);
    if (invocation->format == FORMAT_JSON) {
        json_t *answer = json_answer("typical", NULL);
        json_object_set(answer, "rows", array);
        json_cautions(answer, more_cautions);
        json_write(answer, &invocation->out);
    } else {
        if (near && invocation->format == FORMAT_TABLE) {
            text_printf(&invocation->out, "Nothing is called '%s'; the nearest:\n", invocation->operands[0]);
        }
        invocation_table(invocation, table);
    }
    if (invocation->format == FORMAT_TABLE) {
        write_sources(invocation, rows, count);
        text_add_char(&invocation->out, '\n');
        show_cautions_text(&invocation->page, more_cautions, &invocation->out);
        write_next(invocation, rows[0]);
    }
    json_decref(array);
    table_free(table);
}

static int run(struct invocation *invocation)
{
    const char *rules = NULL;
    if (!invocation_operands(invocation, 1, 1) || !invocation_rule_set(invocation, &rules)) {
        return 2;
    }
    const struct ref_typical *rows[TYPICAL_MOST];
    bool near = false;
    size_t count = reference_typical_find(invocation->operands[0], rules, rows, TYPICAL_MOST, &near);
    if (count == 0 && rules != NULL &&
        reference_typical_find(invocation->operands[0], NULL, rows, TYPICAL_MOST, &near) > 0) {
        error_set(&invocation->error, ERROR_INPUT, "%s: the %s rules have no typical rating for it",
                  invocation->operands[0], rules);
        return 2;
    }
    if (count == 0) {
        error_set(&invocation->error, ERROR_INPUT,
                  "%s: no typical rating is near this word; expected an appliance's name such as kettle or heater",
                  invocation->operands[0]);
        return 2;
    }
    write_answer(invocation, rows, count, near);
    return 0;
}

const struct command command_typical = {
    .name = "typical",
    .operands = "WORD",
    .summary = "typical ratings with their source, to use until the nameplate is read",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
