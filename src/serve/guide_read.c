/* What a form of the guide brought, as a line that can be put into a document. */
#include <string.h>

#include "ampsum/typed.h"
#include "guide.h"

void guide_rating_units(struct visit *visit, const char *chosen)
{
    const char *unit = NULL;
    for (size_t i = 0; (unit = typed_plate_unit(i)) != NULL; i++) {
        page_option(visit, unit, unit, chosen);
    }
}

/* ---- values as they were sent */

static bool is_named(const struct field *field, const char *prefix, const char *key)
{
    const size_t length = strlen(prefix);
    return strncmp(field->name, prefix, length) == 0 && strcmp(field->name + length, key) == 0;
}

/* The ID of `n-ID`, the number of units of an appliance that are on in a scene; NULL where the field is none. */
static const char *units_of(const struct field *field, const char *prefix)
{
    const size_t length = strlen(prefix);
    const bool is_number = strncmp(field->name, prefix, length) == 0 && strncmp(field->name + length, "n-", 2) == 0;
    return is_number && strcmp(field->value, "0") != 0 && field->value[0] != '\0' ? field->name + length + 2 : NULL;
}

const char *guide_posted(struct visit *visit, const char *prefix, const char *key)
{
    struct text list = {0};
    for (size_t i = 0; i < visit->body.count; i++) {
        const struct field *field = &visit->body.field[i];
        const char *several = strcmp(key, "on") == 0 ? units_of(field, prefix) : NULL;
        const char *value = field->value + strspn(field->value, " ");
        if (several != NULL) {
            text_printf(&list, "%s%s*%s", list.length > 0 ? ", " : "", several, field->value);
        } else if (is_named(field, prefix, key) && value[0] != '\0') {
            text_add(&list, list.length > 0 ? ", " : "");
            text_add(&list, value);
        }
    }
    return arena_text(visit->arena, &list);
}

static bool was_posted(const struct visit *visit, const char *prefix, const char *key)
{
    for (size_t i = 0; i < visit->body.count; i++) {
        if (is_named(&visit->body.field[i], prefix, key)) {
            return true;
        }
    }
    return false;
}

/* ---- the line */

/* What goes wrong later is about one of these. */
static void keep_line(struct visit *visit, enum kind kind, const char *id, const char *prefix)
{
    struct form_line *line = arena_take(visit->arena, sizeof *line);
    *line = (struct form_line){kind, prefix, arena_copy(visit->arena, id), visit->lines};
    visit->lines = line;
}

struct typed_line guide_line(struct visit *visit, enum kind kind, const char *id, const char *prefix)
{
    struct typed_pair *pairs = arena_array(visit->arena, guide_field_count + 1, sizeof *pairs);
    struct typed_line line = {.kind = kind, .id = id, .pairs = pairs, .house = visit->house};
    line.is_new = form_value(&visit->body, "id")[0] == '\0' && kind != KIND_HOUSE;
    for (size_t i = 0; i < guide_field_count; i++) {
        const char *key = guide_fields[i].key;
        if (guide_fields[i].kind == kind && was_posted(visit, prefix, key)) {
            pairs[line.count++] = (struct typed_pair){guide_key(key), guide_posted(visit, prefix, key)};
        }
    }
    if (kind == KIND_APPLIANCE) {
        pairs[line.count++] = (struct typed_pair){"unit", guide_posted(visit, prefix, "unit")};
    }
    return line;
}

bool guide_apply(struct visit *visit, struct document *document, enum kind kind, const char *id, const char *prefix)
{
    const struct typed_line line = guide_line(visit, kind, id, prefix);
    keep_line(visit, kind, id, prefix);
    return typed_line_put(&line, document, visit->arena, &visit->error);
}
