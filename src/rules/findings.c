#include "findings.h"

#include <stdarg.h>
#include <string.h>

#include "ampsum/text.h"

/* The checks in the order of the findings' numbers. A new finding is one row here, its check, and its reference row. */
static void (*const branch_checks[])(struct branch_case *) = {
    check_busiest_over, check_all_over,   check_plug_in_share, check_fixed_share,     check_breaker_wire,
    check_load_wire,    check_drop,       check_rated_voltage, check_plug_rating,     check_long_running,
    check_starting,     check_protection, check_minimum,       check_operating_point,
};

static void (*const panel_checks[])(struct panel_case *) = {
    check_feeder_wire,
    check_panel_demand,
    check_leg_balance,
};

struct limits limits_of(const char *rules)
{
    return (struct limits){
        .plug_in_share = reference_rule_value("plug-in-share", rules),
        .fixed_share = reference_rule_value("fixed-share", rules),
        .voltage_danger_over = reference_rule_value("voltage-danger-over", rules),
        .voltage_warning_over = reference_rule_value("voltage-warning-over", rules),
        .voltage_warning_under = reference_rule_value("voltage-warning-under", rules),
    };
}

void findings_of_branch(struct branch_case *branch_case)
{
    for (size_t i = 0; i < sizeof branch_checks / sizeof branch_checks[0]; i++) {
        branch_checks[i](branch_case);
    }
}

void findings_of_panel(struct panel_case *panel_case)
{
    for (size_t i = 0; i < sizeof panel_checks / sizeof panel_checks[0]; i++) {
        panel_checks[i](panel_case);
    }
}

static enum severity severity_from_word(const char *word)
{
    if (strcmp(word, "danger") == 0) {
        return SEVERITY_DANGER;
    }
    return strcmp(word, "warning") == 0 ? SEVERITY_WARNING : SEVERITY_NOTE;
}

/* The row of this rule set, else the one for every rule set. */
static const struct ref_finding *finding_row(int number, const char *rules, const char *variant)
{
    const struct ref_finding *common = NULL;
    for (size_t i = 0; i < ref_finding_count; i++) {
        const struct ref_finding *row = &ref_finding_rows[i];
        if (row->number != number || strcmp(row->variant, variant) != 0) {
            continue;
        }
        if (strcmp(row->rules, rules) == 0) {
            return row;
        }
        if (strcmp(row->rules, "*") == 0) {
            common = row;
        }
    }
    return common;
}

static const char *source_line(struct arena *arena, const struct ref_finding *row)
{
    struct text line = {0};
    if (strcmp(row->clause, row->edition) == 0) {
        text_add(&line, row->source);
    } else if (strcmp(row->edition, "common practice") == 0) {
        text_printf(&line, "%s; %s", row->clause, row->source);
    } else {
        text_printf(&line, "%s (%s edition), %s", row->clause, row->edition, row->source);
    }
    const char *copy = arena_copy(arena, text_string(&line));
    text_done(&line);
    return copy;
}

static struct finding *finding_append(struct arena *arena, struct finding_list *list)
{
    if (list->count == list->capacity) {
        size_t capacity = list->capacity == 0 ? 4 : list->capacity * 2;
        struct finding *moved = arena_array(arena, capacity, sizeof *moved);
        if (list->count > 0) {
            memcpy(moved, list->finding, list->count * sizeof *moved);
        }
        list->finding = moved;
        list->capacity = capacity;
    }
    return &list->finding[list->count++];
}

void finding_add(struct assessment *assessment, struct finding_list *list, const char *rules, int number,
                 const char *variant, const char *format, ...)
{
    const struct ref_finding *row = finding_row(number, rules, variant);
    if (row == NULL) {
        return;
    }
    struct finding *finding = finding_append(assessment->arena, list);
    *finding =
        (struct finding){.number = number, .severity = severity_from_word(row->severity), .text = "", .row = row};
    if (assessment->options.no_texts) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    struct text text = {0};
    text_printf_list(&text, format, arguments);
    va_end(arguments);
    finding->text = arena_copy(assessment->arena, text_string(&text));
    text_done(&text);
    finding->source = source_line(assessment->arena, row);
}

const char *figure(struct assessment *assessment, double value)
{
    if (assessment->options.no_texts) {
        return "";
    }
    struct text text = {0};
    text_add_rounded(&text, value, 2);
    const char *copy = arena_copy(assessment->arena, text_string(&text));
    text_done(&text);
    return copy;
}

const struct appliance *load_appliance(const struct branch_case *branch_case, const struct load *load)
{
    return &branch_case->house->appliances[load->appliance];
}

bool branch_is_individual(const struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    if (branch->purpose == PURPOSE_DEDICATED) {
        return true;
    }
    return branch->outlets.count == 1;
}
