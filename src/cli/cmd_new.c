/* A house file to begin with: what must stand in one, with a remark behind each line. */
#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "ampsum/show_new.h"
#include "ampsum/words.h"
#include "cli.h"

static const char *const examples[] = {"ampsum new my-home.ini", "ampsum new flat.ini --rules iec", NULL};

/* What is asked for. */
struct wanted {
    const char *rules;
    bool force;
};

static const struct option_spec options[] = {
    OPTION_RULES("which published limits hold ({first-set})", struct wanted, rules),
    OPTION_FORCE(struct wanted, force),
    {NULL, '\0', NULL, NULL},
};

/* A house file under that set's limits; `rules` NULL: under the first one's. */
static bool write_house(struct invocation *invocation, const char *path, const char *rules, bool force)
{
    const struct ref_rule_set *set = rules == NULL ? reference_rule_set_at(RULES_FIRST) : reference_rule_set(rules);
    struct text text = {0};
    show_new_house(set, &text);
    const bool written = file_write_whole(path, text_string(&text), text.length, force, &invocation->error);
    if (written) {
        text_add_harmless(&invocation->out, path);
        text_printf(&invocation->out, ": written, with %s rules (%s)%s\n", set->id, set->name,
                    rules == NULL ? "; for others: --rules" : "");
    }
    text_done(&text);
    return written;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    if (!invocation_operands(invocation, 1, 1) || !invocation_options(invocation, &wanted)) {
        return 2;
    }
    const char *path = invocation->operands[0];
    if (words_end_with(path, ".db")) {
        error_set(&invocation->error, ERROR_INPUT,
                  "new: %s: a house file ends in .ini; a house database is begun on a page: ampsum serve %s", path,
                  path);
        return 2;
    }
    if (!write_house(invocation, path, wanted.rules, wanted.force)) {
        return 2;
    }
    invocation->house_path = path;
    invocation_next(invocation, "ampsum check HOUSE");
    invocation_next(invocation, "ampsum help house");
    return 0;
}

const struct command command_new = {
    .name = "new",
    .operands = "FILE",
    .summary = "a house file to begin with: what must stand in it, each line with a remark",
    .examples = examples,
    .options = options,
    .run = run,
};
