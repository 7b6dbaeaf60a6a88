#include "findings.h"

#include "contacts.h"

/* The checks in the order of the findings' numbers. A new finding is one row here, its check, and its reference row. */
static void (*const branch_checks[])(struct branch_case *) = {
    check_busiest_over,    /* 1 */
    check_all_over,        /* 2 */
    check_plug_in_share,   /* 3 */
    check_fixed_share,     /* 4 */
    check_breaker_wire,    /* 5 */
    check_load_wire,       /* 6 */
    check_drop,            /* 7 */
    check_rated_voltage,   /* 8 */
    check_plug_rating,     /* 9 */
    check_long_running,    /* 10 */
    check_starting,        /* 11 */
    check_protection,      /* 12 */
    check_minimum,         /* 15 */
    check_operating_point, /* 16 */
    check_receptacles,     /* 17 */
    check_neutral,         /* 18 */
    check_motor_breaker,   /* 19 */
    check_spurs,           /* 20 */
    check_odd_size,        /* 21 */
};

static void (*const panel_checks[])(struct panel_case *) = {
    check_feeder_wire,
    check_feeder_drop,
    check_panel_demand,
    check_leg_balance,
    check_panel_odd_size,
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
