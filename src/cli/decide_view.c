#include "decide_view.h"

#include "ampsum/quantity.h"

void decide_line(struct invocation *invocation, int first, size_t indent, const char *string)
{
    text_printf(&invocation->out, "%*s", first, "");
    show_wrap(&invocation->page, indent, string, &invocation->out);
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
