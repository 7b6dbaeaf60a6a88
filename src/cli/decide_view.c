#include "decide_view.h"

#include "ampsum/quantity.h"

void decide_id(const struct appliance *appliance, unsigned units, struct text *text)
{
    text_add(text, appliance->id);
    if (appliance->count > 1) {
        text_printf(text, "*%u", units);
    }
}

void decide_name(const struct appliance *appliance, unsigned units, struct text *text)
{
    if (appliance->count > 1) {
        text_printf(text, "%u x ", units);
    }
    text_add(text, appliance->name);
}

static const struct appliance *appliance_of(const struct house *house, size_t branch, size_t load)
{
    return &house->appliances[house->branches[branch].appliances.index[load]];
}

void decide_names(const struct house *house, size_t branch, const struct combos_set *set, struct text *text)
{
    for (size_t i = 0; i < set->part_count; i++) {
        if (i > 0) {
            text_add(text, i + 1 == set->part_count ? " and " : ", ");
        }
        decide_name(appliance_of(house, branch, set->parts[i].load), set->parts[i].units, text);
    }
}

json_t *decide_ids_json(const struct house *house, size_t branch, const struct combos_set *set)
{
    json_t *array = json_array();
    for (size_t i = 0; i < set->part_count; i++) {
        struct text id = {0};
        decide_id(appliance_of(house, branch, set->parts[i].load), set->parts[i].units, &id);
        json_array_append_new(array, json_text(text_string(&id)));
        text_done(&id);
    }
    return array;
}

void decide_ids(const struct house *house, size_t branch, const struct combos_set *set, const char *separator,
                struct text *text)
{
    for (size_t i = 0; i < set->part_count; i++) {
        text_add(text, i > 0 ? separator : "");
        decide_id(appliance_of(house, branch, set->parts[i].load), set->parts[i].units, text);
    }
}

void decide_ampere(double value_a, struct text *text)
{
    text_add_fixed(text, value_a, 1);
    text_add(text, " A");
}

void decide_line(struct invocation *invocation, int first, size_t indent, const char *string)
{
    text_printf(&invocation->out, "%*s", first, "");
    show_wrap(&invocation->page, indent, string, &invocation->out);
}

void decide_running_time(struct invocation *invocation, const struct freetext *load, int rules, struct text *text)
{
    const char *note = rules_running_time_note(rules, "say continuous=yes", invocation->arena);
    if (note != NULL && freetext_lacks_times(load) && !freetext_says(load, "continuous")) {
        struct text line = {0};
        text_printf(&line, "%s.", note);
        show_wrap(&invocation->page, 2, text_string(&line), text);
        text_done(&line);
    }
}

bool decide_whole(struct invocation *invocation, const char *option, long least, long most, long otherwise,
                  long *ret_value)
{
    *ret_value = otherwise;
    const char *value = option_value(invocation, option);
    struct text fault = {0};
    bool good = value == NULL || quantity_read_whole(value, least, most, ret_value, &fault);
    if (!good) {
        error_set(&invocation->error, ERROR_INPUT, "--%s %s: %s", option, value, text_string(&fault));
    }
    text_done(&fault);
    return good;
}
