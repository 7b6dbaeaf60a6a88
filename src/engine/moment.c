#include "ampsum/engine.h"
#include "ampsum/values.h"

void moment_add(struct text *text, struct moment at)
{
    if (at.month < 0) {
        text_add_char(text, '-');
        return;
    }
    const char *day = day_word(at.minute / MINUTES_IN_DAY);
    text_printf(text, "%c%s ", day[0] - 'a' + 'A', day + 1);
    clock_add(text, at.minute % MINUTES_IN_DAY);
}

void moment_say(struct text *text, struct moment at)
{
    text_printf(text, "%s in %s, ", day_name(at.minute / MINUTES_IN_DAY), month_name(at.month));
    clock_add(text, at.minute % MINUTES_IN_DAY);
}

void branch_moment_add(struct text *text, const struct house *house, size_t branch, struct moment at)
{
    if (at.month >= 0 && !branch_has_times(house, branch)) {
        text_add(text, "any time");
    } else {
        moment_add(text, at);
    }
}
