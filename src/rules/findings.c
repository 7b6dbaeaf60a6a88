#include "findings.h"

#include <string.h>

#include "contacts.h"

/* The checks in the order of the findings' numbers. A new finding is one row here, its check, and its reference row. */
static const struct {
    const char *id; /* of the finding that it adds */
    void (*check)(struct branch_case *branch_case);
} branch_checks[BRANCH_CHECKS] = {
    {"1", check_busiest_over},   {"2", check_all_over},         {"3", check_plug_in_share}, {"4", check_fixed_share},
    {"5", check_breaker_wire},   {"6", check_load_wire},        {"7", check_drop},          {"8", check_rated_voltage},
    {"9", check_plug_rating},    {"10", check_long_running},    {"11", check_starting},     {"12", check_protection},
    {"15", check_minimum},       {"16", check_operating_point}, {"17", check_receptacles},  {"18", check_neutral},
    {"19", check_motor_breaker}, {"20", check_spurs},           {"21", check_odd_size},
};

static void (*const panel_checks[])(struct panel_case *) = {
    check_feeder_wire, check_feeder_drop, check_panel_demand, check_leg_balance, check_panel_odd_size,
};

/* Whether the rows of a finding make no more than a note of it under that rule set, whatever the case. */
static bool is_note_alone(const char *id, const char *rules)
{
    for (size_t i = 0; i < ref_finding_count; i++) {
        const struct ref_finding *row = &ref_finding_rows[i];
        const bool meant = strcmp(row->id, id) == 0 && (strcmp(row->rules, rules) == 0 || strcmp(row->rules, "*") == 0);
        if (meant && strcmp(row->severity, severity_word(SEVERITY_NOTE)) != 0) {
            return false;
        }
    }
    return true;
}

struct limits limits_of(const char *rules, bool no_notes)
{
    struct limits limits = {
        .plug_in_share = reference_rule_value("plug-in-share", rules),
        .fixed_share = reference_rule_value("fixed-share", rules),
        .voltage_danger_over = reference_rule_value("voltage-danger-over", rules),
        .voltage_warning_over = reference_rule_value("voltage-warning-over", rules),
        .voltage_warning_under = reference_rule_value("voltage-warning-under", rules),
        .rounding_most = reference_rule_value("plate-rounding-most", rules),
        .shared_to_a = reference_receptacle_load_to_a(rules),
    };
    for (size_t i = 0; i < BRANCH_CHECKS; i++) {
        limits.left_out[i] = no_notes && is_note_alone(branch_checks[i].id, rules);
    }
    return limits;
}

void findings_of_branch(struct branch_case *branch_case)
{
    for (size_t i = 0; i < BRANCH_CHECKS; i++) {
        if (!branch_case->limits->left_out[i]) {
            branch_checks[i].check(branch_case);
        }
    }
}

void findings_of_panel(struct panel_case *panel_case)
{
    for (size_t i = 0; i < sizeof panel_checks / sizeof panel_checks[0]; i++) {
        panel_checks[i](panel_case);
    }
}

struct subject about_branch(const struct branch_case *branch_case)
{
    return (struct subject){KIND_BRANCH, branch_case->branch->id};
}

struct subject about_appliance(const struct appliance *appliance)
{
    return (struct subject){KIND_APPLIANCE, appliance->id};
}

struct subject about_panel(const struct panel_case *panel_case)
{
    return (struct subject){KIND_PANEL, panel_case->panel->id};
}

const struct appliance *load_appliance(const struct branch_case *branch_case, const struct load *load)
{
    return &branch_case->house->appliances[load->appliance];
}

void case_wire(struct branch_case *branch_case)
{
    if (!branch_case->wire_read) {
        branch_case->run = wire_run_of_branch(branch_case->house, branch_case->index);
        branch_case->limit = wire_limit_of(branch_case->house, &branch_case->run);
        branch_case->wire_read = true;
    }
}

bool branch_is_individual(const struct branch_case *branch_case)
{
    return branch_contacts(branch_case->house, branch_case->index) <= 1;
}
