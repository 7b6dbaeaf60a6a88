/* A house file to begin with: what must stand in one, with a remark behind each line. */
#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/asset.h"
#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "ampsum/show_new.h"
#include "ampsum/words.h"
#include "cli.h"

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

static const char *demo_path(struct invocation *invocation, const char *folder, size_t index)
{
    return arena_printf(invocation->arena, "%s/%s", folder, demo_assets[index].name);
}

/* The folder, there or made; no file of it is there yet, or may go. */
static bool prepare_demo(struct invocation *invocation, const char *folder, bool force)
{
    if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
        error_set(&invocation->error, ERROR_INPUT, "new: the folder %s can't be made: %s", folder, strerror(errno));
        return false;
    }
    for (size_t i = 0; i < demo_assets_count && !force; i++) {
        const char *path = demo_path(invocation, folder, i);
        if (access(path, F_OK) == 0) {
            error_set(&invocation->error, ERROR_INPUT,
                      "new: %s is there already, and nothing was written; another folder, or --force", path);
            return false;
        }
    }
    return true;
}

static int run_demo(struct invocation *invocation, bool force)
{
    const char *folder = invocation->operand_count > 0 ? invocation->operands[0] : "demo-house";
    if (!prepare_demo(invocation, folder, force)) {
        return 2;
    }
    for (size_t i = 0; i < demo_assets_count; i++) {
        const struct asset *asset = &demo_assets[i];
        const char *path = demo_path(invocation, folder, i);
        if (!file_write_whole(path, asset->bytes, asset->length, true, &invocation->error)) {
            return 2;
        }
        text_add_harmless(&invocation->out, path);
        text_add(&invocation->out, ": written\n");
    }
    invocation->house_path = demo_path(invocation, folder, 0);
    invocation_next(invocation, "ampsum check HOUSE");
    invocation_next(invocation, "ampsum serve HOUSE");
    return 0;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    if (!invocation_options(invocation, &wanted) || !invocation_operands(invocation, wanted.demo ? 0 : 1, 1)) {
        return 2;
    }
    if (wanted.demo) {
        return run_demo(invocation, wanted.force);
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
