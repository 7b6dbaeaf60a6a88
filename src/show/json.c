#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/show.h"

static json_t *made(json_t *value)
{
    if (value == NULL) {
        memory_fail();
    }
    return value;
}

json_t *json_figure(double value)
{
    if (!isfinite(value)) {
        return made(json_null());
    }
    if (value == floor(value) && fabs(value) < 1e15) {
        return made(json_integer((json_int_t)value));
    }
    return made(json_real(value));
}

json_t *json_text(const char *string)
{
    return made(string == NULL ? json_null() : json_string(string));
}

json_t *json_answer(const char *command, const char *house)
{
    json_t *answer = made(json_object());
    json_object_set_new(answer, "ampsum", json_integer(1));
    json_object_set_new(answer, "command", json_text(command));
    json_object_set_new(answer, "house", json_text(house));
    return answer;
}

void json_cautions(json_t *answer, const char *const *more)
{
    json_t *cautions = made(json_array());
    for (size_t i = 0; more != NULL && more[i] != NULL; i++) {
        json_array_append_new(cautions, json_text(more[i]));
    }
    for (size_t i = 0; show_cautions[i] != NULL; i++) {
        json_array_append_new(cautions, json_text(show_cautions[i]));
    }
    json_object_set_new(answer, "cautions", cautions);
}

void json_write(json_t *answer, struct text *text)
{
    char *printed = json_dumps(answer, JSON_COMPACT | JSON_REAL_PRECISION(15));
    json_decref(answer);
    if (printed == NULL) {
        memory_fail();
    }
    text_add(text, printed);
    text_add_char(text, '\n');
    free(printed);
}
