/* The fields of a form that asks without changing anything: described once as a row, drawn and read back by it. */
#include <string.h>

#include "ampsum/steps.h"
#include "site.h"

void page_inputs(struct visit *visit, const struct input *inputs, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        page_add(visit, "<label>%s<input name=\"%s\" value=\"%s\" placeholder=\"%s\"></label>", inputs[i].label,
                 inputs[i].name, form_value(&visit->query, inputs[i].name), inputs[i].example);
    }
}

void page_more_inputs(struct visit *visit, const struct input *input, const char *further, size_t least)
{
    size_t lines = 0;
    for (size_t i = 0; i < visit->query.count; i++) {
        const struct field *field = &visit->query.field[i];
        if (strcmp(field->name, input->name) == 0 && field->value[0] != '\0') {
            page_add(visit, "<label>%s %zu<input name=\"%s\" value=\"%s\"></label>", input->label, ++lines, input->name,
                     field->value);
        }
    }
    do {
        page_add(visit, "<label>%s %zu<input name=\"%s\" placeholder=\"%s\"></label>", input->label, lines + 1,
                 input->name, lines == 0 ? input->example : further);
    } while (++lines < least);
}

void page_steps(struct visit *visit, const struct steps *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct text line = {0};
        step_write(&line, &steps->step[i], true);
        page_add(visit, "<li>%s</li>", text_string(&line));
        text_done(&line);
    }
}
