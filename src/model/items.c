#include "ampsum/items.h"

#include <string.h>

void items_init(struct items *items, const char *list)
{
    *items = (struct items){.next = list};
}

void items_done(struct items *items)
{
    text_done(&items->item);
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

bool items_next(struct items *items, struct text *fault)
{
    if (items->next == NULL) {
        return false;
    }
    const char *start = items->next + strspn(items->next, " \t");
    const char *comma = strchr(start, ',');
    const char *end = comma != NULL ? comma : start + strlen(start);
    items->next = comma != NULL ? comma + 1 : NULL;
    while (end > start && is_blank(end[-1])) {
        end--;
    }
    if (end == start) {
        bool is_last = items->next == NULL;
        text_add(fault, is_last && items->item.length > 0 ? "a trailing comma, expected another entry or no comma"
                                                          : "an empty entry, expected something between commas");
        items->is_faulty = true;
        return false;
    }
    text_clear(&items->item);
    text_add_length(&items->item, start, (size_t)(end - start));
    return true;
}

char *item_split(char *item, char mark)
{
    char *at = strchr(item, mark);
    if (at == NULL) {
        return NULL;
    }
    char *after = at + 1 + strspn(at + 1, " \t");
    while (at > item && is_blank(at[-1])) {
        at--;
    }
    *at = '\0';
    return after;
}

size_t items_most(const char *list)
{
    size_t count = 1;
    for (; *list != '\0'; list++) {
        count += *list == ',';
    }
    return count;
}
