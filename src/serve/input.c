#include "input.h"

#include <string.h>

#include "ampsum/reference.h"

void page_rows(struct visit *visit, enum kind kind, const char *chosen)
{
    size_t count = 0;
    house_rows(visit->house, kind, &count);
    for (size_t i = 0; i < count; i++) {
        page_option(visit, house_row_id(visit->house, kind, i), house_row_name(visit->house, kind, i), chosen);
    }
}

static void add_options(struct visit *visit, const struct input *input, const char *chosen)
{
    if (input->options != NULL) {
        input->options(visit, input, chosen);
        return;
    }
    if (input->none != NULL) {
        page_option(visit, "", input->none, chosen);
    }
    page_rows(visit, input->rows, chosen);
}

void page_input(struct visit *visit, const struct input *input, const char *value)
{
    const bool choice = input->options != NULL || input->rows != KIND_HOUSE;
    struct text label = {0};
    reference_fill(&label, input->label, visit->house == NULL ? NULL : rules_word(visit->house->rules));
    page_add(visit, "<label>%s%s ", text_string(&label), input->needed ? " (needed)" : "");
    page_add(visit, choice ? "<select name=\"%s\"" : "<input name=\"%s\"", input->name);
    text_done(&label);
    if (!choice) {
        page_add(visit, " value=\"%s\"", value);
    }
    if (input->example != NULL) {
        page_add(visit, " placeholder=\"%s\"", input->example);
    }
    text_add(&visit->answer.body, input->needed ? " required" : "");
    text_add(&visit->answer.body, input->more == NULL ? "" : input->more);
    text_add_char(&visit->answer.body, '>');
    if (choice) {
        add_options(visit, input, value);
        page_add(visit, "</select>");
    }
    page_add(visit, "</label> ");
}

void page_inputs(struct visit *visit, const struct input *inputs, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        page_input(visit, &inputs[i], form_value(&visit->query, inputs[i].name));
    }
}

void page_more_inputs(struct visit *visit, const struct input *input, const char *further, size_t least)
{
    size_t count = 0;
    const char *const *sent = form_all(&visit->query, input->name, visit->arena, &count);
    for (size_t i = 0; i <= count || i < least; i++) {
        struct input line = *input;
        line.label = arena_printf(visit->arena, "%s %zu", input->label, i + 1);
        line.example = i == 0 ? input->example : further;
        page_input(visit, &line, i < count ? sent[i] : "");
    }
}

void page_hidden(struct visit *visit, const char *name, const char *value)
{
    page_add(visit, "<input type=\"hidden\" name=\"%s\" value=\"%s\">", name, value);
}

void page_switch(struct visit *visit, const struct appliance *appliance, size_t units, bool named)
{
    const bool one = appliance->count == 1;
    page_add(visit,
             one ? "<label><input type=\"checkbox\" name=\"on\" value=\"%s\""
                 : "<label><input type=\"number\" name=\"n-%s\"",
             appliance->id);
    if (named) {
        page_add(visit, " id=\"on-%s\"", appliance->id);
    }
    if (one) {
        page_add(visit, units > 0 ? " checked> %s</label>" : "> %s</label>", appliance->name);
    } else {
        page_add(visit, " min=\"0\" max=\"%zu\" value=\"%zu\"> of %zu %s</label>", (size_t)appliance->count, units,
                 (size_t)appliance->count, appliance->name);
    }
}
