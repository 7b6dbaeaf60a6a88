#include "ampsum/edit.h"
#include "edit_common.h"

static const char *const examples[] = {"ampsum remove house.db appliance computer",
                                       "ampsum remove house.db branch garage --with-all", NULL};

/* What is asked for. */
struct wanted {
    bool with_all;
};

static const struct option_spec options[] = {
    {"with-all", '\0', NULL, "take along what hangs on it", TO_FLAG(struct wanted, with_all)},
    {NULL, '\0', NULL, NULL},
};

static bool change(struct invocation *invocation, struct document *document, struct text *ret_what)
{
    const struct wanted *wanted = invocation->wanted;
    struct edit_along_list along = {0};
    const bool removed = edit_remove(document, invocation->operands[0], invocation->operands[1], wanted->with_all,
                                     &along, &invocation->error);
    text_printf(ret_what, "%s %s: removed\n", invocation->operands[0], invocation->operands[1]);
    edit_along_text(&along, ret_what);
    edit_along_done(&along);
    return removed;
}

static int run(struct invocation *invocation)
{
    invocation_house_path(invocation, 2);
    struct wanted wanted = {0};
    return invocation_options(invocation, &wanted) && invocation_operands(invocation, 2, 2)
               ? edit_run(invocation, change)
               : 2;
}

const struct command command_remove = {
    .name = "remove",
    .operands = "[HOUSE] KIND ID",
    .summary = "remove a section from a house database",
    .examples = examples,
    .options = options,
    .run = run,
};
