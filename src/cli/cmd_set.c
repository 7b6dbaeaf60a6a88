#include <string.h>

#include "ampsum/edit.h"
#include "edit_common.h"

static const char *const examples[] = {
    "ampsum set house.db appliance kettle power='1400 W' use='07:00-07:05'",
    "ampsum set house.db house tariff=flat",
    "ampsum set house.db appliance kettle --unset use",
    NULL,
};

/* What is asked for. */
struct wanted {
    const char *const *unset;
    size_t unset_count;
};

static const struct option_spec options[] = {
    {"unset", '\0', "KEY", "take a key out, so that its default holds; may be repeated",
     TO_WORDS(struct wanted, unset, unset_count)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "The keys are those of the house file; `house` takes no ID. All changes are stored, or none. `ampsum undo` takes "
    "them back.",
    NULL};

/* `house` has no ID: its pairs begin one word earlier. */
static size_t pairs_from(const struct invocation *invocation)
{
    return strcmp(invocation->operands[0], "house") == 0 ? 1 : 2;
}

static bool change(struct invocation *invocation, struct document *document, struct text *ret_what)
{
    const struct wanted *wanted = invocation->wanted;
    size_t from = pairs_from(invocation);
    const char *word = invocation->operands[0];
    const char *id = from == 1 ? "" : invocation->operands[1];
    for (size_t i = 0; i < wanted->unset_count; i++) {
        if (!edit_unset(document, word, id, wanted->unset[i], &invocation->error)) {
            return false;
        }
    }
    if (!edit_set(document, word, id, invocation->operands + from, invocation->operand_count - from,
                  &invocation->error)) {
        return false;
    }
    const char *name = document_value(document_find(document, "house", ""), "name");
    text_printf(ret_what, "%s %s: changed\n", word, from == 2 ? id : name == NULL ? "" : name);
    return true;
}

static bool has_change(struct invocation *invocation, const struct wanted *wanted)
{
    if (!invocation_operands(invocation, 1, invocation->operand_count)) {
        return false;
    }
    size_t from = pairs_from(invocation);
    if (!invocation_operands(invocation, from, invocation->operand_count)) {
        return false;
    }
    if (invocation->operand_count == from && wanted->unset_count == 0) {
        error_set(&invocation->error, ERROR_INPUT, "set: nothing to change, expected key=value or --unset KEY");
        return false;
    }
    return true;
}

static int run(struct invocation *invocation)
{
    invocation_house_path(invocation, invocation->operand_count);
    struct wanted wanted = {0};
    return invocation_options(invocation, &wanted) && has_change(invocation, &wanted) ? edit_run(invocation, change)
                                                                                      : 2;
}

const struct command command_set = {
    .name = "set",
    .operands = "[HOUSE] KIND ID key=value...",
    .summary = "change keys of a section in a house database",
    .examples = examples,
    .options = options,
    .details = details,
    .run = run,
};
