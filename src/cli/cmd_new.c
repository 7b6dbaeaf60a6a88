/* A house file to begin with: what must stand in one, with a remark behind each line. */
#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "ampsum/show_new.h"
#include "ampsum/words.h"
#include "cli.h"
#include "demo.h"

static const char *const examples[] = {"ampsum new my-home.ini", "ampsum new flat.ini --rules iec", "ampsum new --demo",
                                       NULL};

/* What is asked for. */
struct wanted {
    const char *rules;
    bool demo;
    bool force;
};

static const struct option_spec options[] = {
    OPTION_RULES("which published limits hold ({first-set})", struct wanted, rules),
    {"demo", '\0', NULL, "the demo houses that the examples of every help name, in a folder (demo-house)",
     TO_FLAG(struct wanted, demo)},
    OPTION_FORCE(struct wanted, force),
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "With --demo, FILE names the folder. Their homes are invented; us.ini has a branch that is over.", NULL};

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
    if (!invocation_options(invocation, &wanted) || !invocation_operands(invocation, wanted.demo ? 0 : 1, 1)) {
        return 2;
    }
    if (wanted.demo) {
        return demo_write(invocation, wanted.force);
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
    .details = details,
    .run = run,
};
