#include "ampsum/markup.h"

#include <string.h>

#include "ampsum/words.h"

static const char *entity_of(char character)
{
    switch (character) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

/* Printable ASCII without an entity: most of any text, so it goes in whole runs. */
static size_t plain_run(const char *string)
{
    size_t length = 0;
    while (string[length] >= ' ' && string[length] <= '~' && entity_of(string[length]) == NULL) {
        length++;
    }
    return length;
}

void markup_add(struct text *text, const char *string)
{
    for (const char *at = string == NULL ? "" : string; *at != '\0';) {
        const size_t run = plain_run(at);
        text_add_length(text, at, run);
        at += run;
        if (*at == '\0') {
            break;
        }
        const char *entity = entity_of(*at);
        const bool space = *at == '\n' || *at == '\t';
        const size_t bytes = space ? 1 : words_drawable_bytes(at);
        if (entity != NULL) {
            text_add(text, entity);
        } else if (bytes == 0) {
            text_add(text, "\xEF\xBF\xBD");
        } else {
            text_add_length(text, at, bytes);
        }
        at += bytes > 0 ? bytes : words_undrawable_bytes(at);
    }
}
