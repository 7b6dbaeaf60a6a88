#include "cli.h"
#include "supply_band.h"

static const char *const examples[] = {"ampsum check demo-house/us.ini",
                                       "ampsum check demo-house/us.ini --scene cold-evening", NULL};

static const struct option_spec options[] = {
    OPTIONS_BASIS,
    OPTION_SUPPLY,
    {"notes", '\0', NULL, "list notes too, beside dangers and warnings"},
    {"summary", '\0', NULL, "panels and number of verdicts alone: no line for each branch, no energy"},
    {NULL, '\0', NULL, NULL},
};

/* The ID of the first finding that the text shows, branches before panels; NULL where there is none. */
static const char *first_shown(const struct assessment *assessment, bool notes)
{
    const struct house *house = assessment->house;
    for (size_t i = 0; i < house->branch_count + house->panel_count; i++) {
        const struct finding_list *list = i < house->branch_count
                                              ? &assessment->branches[i].findings
                                              : &assessment->panels[i - house->branch_count].findings;
        for (size_t k = 0; k < list->count; k++) {
            if (notes || list->finding[k].severity != SEVERITY_NOTE) {
                return list->finding[k].id;
            }
        }
    }
    return NULL;
}

static void write_table(struct invocation *invocation, const struct assessment *assessment,
                        const struct energy_bill *bill)
{
    show_check_text(assessment, bill, &invocation->page, option_given(invocation, "summary"),
                    option_given(invocation, "notes"), &invocation->out);
    const struct house *house = invocation->house;
    struct text next = {0};
    for (size_t i = 0; i < house->branch_count; i++) {
        if (assessment->branches[i].verdict == assessment->status) {
            text_printf(&next, "ampsum branch HOUSE %s --working", house->branches[i].id);
            break;
        }
    }
    struct text rule = {0};
    const char *id = first_shown(assessment, option_given(invocation, "notes"));
    text_printf(&rule, "ampsum rules %s   (the source of the number in brackets)", id == NULL ? "" : id);
    const char *lines[] = {next.length > 0 ? text_string(&next) : "ampsum check --help",
                           id != NULL ? text_string(&rule) : NULL, NULL};
    invocation_next(invocation, lines);
    text_done(&rule);
    text_done(&next);
}

static int run(struct invocation *invocation)
{
    struct assess_options choice = {.wires = true, .loads = invocation->format == FORMAT_JSON};
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !invocation_basis(invocation, &choice)) {
        return 2;
    }
    if (supply_band_given(invocation)) {
        return supply_band(invocation, &choice, NO_INDEX);
    }
    if (!invocation_supply(invocation, &choice.supply_ratio)) {
        return 2;
    }
    bool summary = option_given(invocation, "summary") && invocation->format == FORMAT_TABLE;
    choice.no_texts = summary;
    struct energy_bill bill = {0};
    if (!summary) {
        invocation_bill(invocation, invocation->house, invocation->house->tariff, ENERGY_BRANCHES, &bill);
    }
    struct assessment *assessment = assess_house(invocation->house, &choice);
    if (invocation->format == FORMAT_JSON) {
        json_write(show_check_json(assessment, &bill), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = show_check_table(assessment, &bill);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_table(invocation, assessment, &bill);
    }
    int status = assessment->status == VERDICT_OVER ? 1 : 0;
    assess_free(assessment);
    return status;
}

const struct command command_check = {
    .name = "check",
    .operands = "[HOUSE]",
    .summary = "is any branch overloaded, how near is each, what does a day cost",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
