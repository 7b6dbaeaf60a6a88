#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/show.h"
#include "ampsum/words.h"

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

/* A name of a file is any bytes: what is no UTF-8 stands as a terminal shows it, \xE9. */
static json_t *any_bytes(const char *string)
{
    struct text text = {0};
    text_add_harmless(&text, string);
    json_t *json = json_string(text_string(&text));
    text_done(&text);
    return json;
}

json_t *json_text(const char *string)
{
    if (string == NULL) {
        return made(json_null());
    }
    return made(words_is_utf8(string, strlen(string)) ? json_string(string) : any_bytes(string));
}

json_t *json_answer(const char *command, const char *house)
{
    json_t *answer = made(json_object());
    json_object_set_new(answer, "ampsum", json_integer(1));
    json_object_set_new(answer, "command", json_text(command));
    json_object_set_new(answer, "house", json_text(house));
    return answer;
}

json_t *json_lines(const char *const *lines)
{
    json_t *array = made(json_array());
    for (size_t i = 0; lines[i] != NULL; i++) {
        json_array_append_new(array, json_text(lines[i]));
    }
    return array;
}

json_t *json_items(show_item *item, const void *of, size_t count)
{
    struct text text = {0};
    json_t *array = made(json_array());
    for (size_t i = 0; i < count; i++) {
        text_clear(&text);
        item(of, i, &text);
        json_array_append_new(array, json_text(text_string(&text)));
    }
    text_done(&text);
    return array;
}

void json_cautions(json_t *answer, const char *const *more)
{
    static const char *const none[] = {NULL};
    json_t *cautions = json_lines(more == NULL ? none : more);
    json_t *usual = json_lines(show_cautions);
    json_array_extend(cautions, usual);
    json_decref(usual);
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
