#include "ampsum/edit.h"
#include "edit_common.h"

static const char *const examples[] = {
    "ampsum add house.db appliance lamp name='Desk lamp' power='9 W' branch=study",
    "ampsum add house.db room attic name=Attic",
    NULL,
};

static const char *const details[] = {"KIND is panel, room, branch, outlet, appliance, scene, tariff or period; the "
                                      "keys are those of the house file. All "
                                      "of it is stored, or nothing. `ampsum undo` takes it back.",
                                      NULL};

static bool change(struct invocation *invocation, struct document *document, struct text *ret_what)
{
    text_printf(ret_what, "%s %s: added\n", invocation->operands[0], invocation->operands[1]);
    return edit_add(document, invocation->operands[0], invocation->operands[1], invocation->operands + 2,
                    invocation->operand_count - 2, &invocation->error);
}

static int run(struct invocation *invocation)
{
    invocation_house_path(invocation, invocation->operand_count);
    return invocation_operands(invocation, 2, invocation->operand_count) ? edit_run(invocation, change) : 2;
}

const struct command command_add = {
    .name = "add",
    .operands = "[HOUSE] KIND ID key=value...",
    .summary = "add a section to a house database",
    .examples = examples,
    .details = details,
    .run = run,
};
