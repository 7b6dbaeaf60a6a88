#include "decide_view.h"

#include "ampsum/quantity.h"

void decide_line(struct invocation *invocation, int first, size_t indent, const char *string)
{
    text_printf(&invocation->out, "%*s", first, "");
    show_wrap(&invocation->page, indent, string, &invocation->out);
}

void decide_running_time(struct invocation *invocation, const struct freetext *load, int rules, struct text *text)
{
    const char *note = rules_running_time_note(rules, "say continuous=yes", invocation->arena);
    if (note != NULL && freetext_leaves_run_open(load)) {
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
