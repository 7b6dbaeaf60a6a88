#include "housefile_rows.h"

#include <stdio.h>
#include <string.h>

struct house *read_string(const char *string, struct error *error)
{
    struct house *house = NULL;
    housefile_read_house_bytes("h.ini", string, strlen(string), &house, error);
    return house;
}

bool message_has(const char *messages, int line, const char *says)
{
    char prefix[40];
    snprintf(prefix, sizeof prefix, line > 0 ? "h.ini:%d: " : "h.ini: ", line);
    for (const char *at = messages; at != NULL; at = strchr(at, '\n')) {
        at += *at == '\n';
        const char *end = strchr(at, '\n');
        const char *found = strstr(at, says);
        if (strncmp(at, prefix, strlen(prefix)) == 0 && found != NULL && (end == NULL || found < end)) {
            return true;
        }
    }
    return false;
}

char *write_house(const struct house *house)
{
    struct document *document = house_document(house, "written");
    struct text text = {0};
    document_write(document, &text);
    document_free(document);
    return text.bytes;
}
