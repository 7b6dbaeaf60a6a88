/* What went wrong with a form: which field it is about, and how the page says it. */
#include <string.h>

#include "guide.h"

/* The line of the form that became the section; else the first of its kind, whose values made another line wrong. */
static const struct form_line *line_of(const struct visit *visit, const struct error_fault *fault)
{
    const struct form_line *first = NULL;
    for (const struct form_line *line = visit->lines; line != NULL && fault->section != NULL; line = line->next) {
        if (strcmp(kind_word(line->kind), fault->section) == 0) {
            if (strcmp(line->id, fault->id) == 0) {
                return line;
            }
            first = line;
        }
    }
    return first;
}

const struct guide_field *guide_fault_field(struct visit *visit, const struct error_fault *fault)
{
    const struct form_line *line = fault->key == NULL ? NULL : line_of(visit, fault);
    return line == NULL ? NULL : guide_field_of(line->kind, fault->key);
}

const char *guide_fault_prefix(const struct visit *visit, const struct error_fault *fault)
{
    const struct form_line *line = line_of(visit, fault);
    return line == NULL ? "" : line->prefix;
}

const char *guide_fault_reason(struct visit *visit, const struct error_fault *fault)
{
    const size_t length = fault->value == NULL ? 0 : strlen(fault->value);
    const bool marked = length > 0 && fault->reason[0] == '`' && strncmp(fault->reason + 1, fault->value, length) == 0;
    if (marked && fault->reason[1 + length] == '`') {
        return arena_printf(visit->arena, "%s%s", fault->value, fault->reason + length + 2);
    }
    return length == 0 ? fault->reason : arena_printf(visit->arena, "%s: %s", fault->value, fault->reason);
}

void guide_fault_set(struct visit *visit, enum kind kind, const char *key, const char *reason)
{
    const struct error_fault fault = {
        .section = kind_word(kind), .key = key, .id = visit->lines == NULL ? "" : visit->lines->id, .reason = reason};
    error_done(&visit->error);
    error_set(&visit->error, ERROR_INPUT, "%s: %s", key, reason);
    error_add_fault(&visit->error, &fault);
}

void guide_fault_keep(struct visit *visit, const char *key)
{
    struct error all = visit->error;
    visit->error = (struct error){0};
    for (size_t i = 0; i < all.fault_count; i++) {
        const struct guide_field *field = guide_fault_field(visit, &all.faults[i]);
        if (field != NULL && strcmp(field->key, key) == 0) {
            error_set(&visit->error, ERROR_INPUT, "%s", all.faults[i].reason);
            error_add_fault(&visit->error, &all.faults[i]);
        }
    }
    error_done(&all);
}

/* `Kitchen outlets, Space in the panel`: what is wrong stands in another line than the one that was sent. */
static const char *place_of(struct visit *visit, const struct error_fault *fault)
{
    const struct section *section = fault->section == NULL ? NULL : section_named(fault->section);
    if (section == NULL) {
        return "";
    }
    const char *name = visit_name(visit, section->kind, fault->id);
    const struct guide_field *field = fault->key == NULL ? NULL : guide_field_of(section->kind, fault->key);
    const char *label = field == NULL ? fault->key : guide_field_label(visit, field);
    return arena_printf(visit->arena, "%s%s%s: ", name, name[0] == '\0' || label == NULL ? "" : ", ",
                        label == NULL ? "" : label);
}

static void add_item(struct visit *visit, const struct error_fault *fault)
{
    const struct guide_field *field = guide_fault_field(visit, fault);
    if (field == NULL) {
        page_add(visit, "%s%s", place_of(visit, fault), guide_fault_reason(visit, fault));
        return;
    }
    page_add(visit, "<a href=\"#%s%s-%s\">%s</a>: %s", guide_fault_prefix(visit, fault), kind_word(field->kind),
             field->key, guide_field_label(visit, field), guide_fault_reason(visit, fault));
}

void guide_fault_items(struct visit *visit, const char *tag)
{
    const struct error *error = &visit->error;
    for (size_t i = 0; i < error->fault_count; i++) {
        page_add(visit, "<%s>", tag);
        add_item(visit, &error->faults[i]);
        page_add(visit, "</%s>", tag);
    }
    const char *at = error_message(error);
    for (const char *line = NULL; error->fault_count == 0 && (line = arena_line(visit->arena, &at)) != NULL;) {
        page_add(visit, "<%s>%s</%s>", tag, line, tag);
    }
}

/* It takes the focus, so that who can't see it hears it first. */
void guide_fault_box(struct visit *visit)
{
    page_add(visit, "<div role=\"alert\" class=\"fault\" tabindex=\"-1\" autofocus><p><strong>That can't be stored. "
                    "Nothing was changed.</strong></p><ul class=\"plain\">");
    guide_fault_items(visit, "li");
    page_add(visit, "</ul></div>\n");
}
