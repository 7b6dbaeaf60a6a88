#include "mark_expect.h"

#include "ampsum/mark.h"
#include "mark_view.h"

enum { FIGURES_USUAL = 3 };

static void add_json(json_t *answers, const char *written, const struct judgement *judgement)
{
    json_t *object = json_object();
    json_object_set_new(object, "written", json_text(written));
    json_object_set_new(object, "read_as",
                        judgement->read_as.length == 0 ? json_null() : json_text(text_string(&judgement->read_as)));
    mark_judgement_json(object, judgement);
    json_array_append_new(answers, object);
}

static void add_row(struct table *table, const char *written, const struct judgement *judgement)
{
    struct text points = {0};
    text_printf(&points, "%u of %u", judgement->points, judgement->points_most);
    table_row(table);
    table_text(table, written);
    table_text(table, text_string(&judgement->read_as));
    table_text(table, mark_verdict_word(judgement->verdict));
    table_number(table, judgement->points, 0);
    table_number(table, judgement->points_most, 0);
    table_text(table, text_string(&points));
    table_text(table, slip_word(judgement->slip));
    table_text(table, text_string(&judgement->remark));
    text_done(&points);
}

static struct table *new_table(void)
{
    struct table *table = table_new();
    table_column(table, "WRITTEN", "written", TABLE_LEFT, 24);
    table_column(table, "READ AS", "read_as", TABLE_LEFT, 0);
    table_column(table, "VERDICT", "verdict", TABLE_LEFT, 0);
    table_column(table, NULL, "points", TABLE_RIGHT, 0);
    table_column(table, NULL, "points_most", TABLE_RIGHT, 0);
    table_column(table, "POINTS", NULL, TABLE_RIGHT, 0);
    table_column(table, NULL, "slip", TABLE_LEFT, 0);
    table_column(table, "REMARK", "remark", TABLE_LEFT, 36);
    return table;
}

static void write_answer(struct invocation *invocation, const char *expect, unsigned figures, json_t *answers,
                         struct table *table)
{
    if (invocation->format != FORMAT_JSON) {
        json_decref(answers);
        invocation_table(invocation, table);
        return;
    }
    json_t *json = json_answer("mark", NULL);
    json_object_set_new(json, "expect", json_text(expect));
    json_object_set_new(json, "figures", json_integer(figures));
    json_object_set_new(json, "answers", answers);
    json_object_set_new(json, "cautions", json_array());
    json_write(json, &invocation->out);
}

int mark_expect_run(struct invocation *invocation, const struct lesson_scheme *scheme)
{
    const char *expect = option_value(invocation, "expect");
    const unsigned figures = scheme->figures_asked > 0 ? scheme->figures_asked : FIGURES_USUAL;
    if (!invocation_operands(invocation, 1, SIZE_MAX)) {
        return 2;
    }
    json_t *answers = json_array();
    struct table *table = new_table();
    struct text fault = {0};
    bool ok = true;
    for (size_t i = 0; i < invocation->operand_count && ok; i++) {
        struct judgement judgement = {0};
        const char *written = invocation->operands[i];
        ok = mark_expect(scheme, scheme->decimal_sign, expect, figures, written, &judgement, &fault);
        if (ok) {
            add_json(answers, written, &judgement);
            add_row(table, written, &judgement);
        }
        judgement_done(&judgement);
    }
    if (ok) {
        write_answer(invocation, expect, figures, answers, table);
    } else {
        json_decref(answers);
        error_set(&invocation->error, ERROR_INPUT, "--expect %s", text_string(&fault));
    }
    table_free(table);
    text_done(&fault);
    return ok ? 0 : 2;
}
