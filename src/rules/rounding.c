/* A plate is printed with few digits: what its own rounding may hide. Limits 8. */
#include <math.h>

#include "ampsum/decimal.h"
#include "findings.h"

/* The figure that the house file gives, in the unit of its field; NAN for a size of a published table. */
static double given_figure(const struct appliance *appliance)
{
    switch (appliance->rating) {
    case RATING_POWER:
        return appliance->power_w;
    case RATING_APPARENT:
        return appliance->apparent_va;
    case RATING_CURRENT:
        return appliance->current_a;
    case RATING_RESISTANCE:
        return appliance->resistance_ohm;
    default:
        return NAN;
    }
}

/* As below, of a number with many digits or a large exponent, as it is written. */
static double written_digits(double value)
{
    struct text text = {0};
    text_add_number(&text, value);
    double digits = 0;
    double zeros = 1; /* what zeros, of which it is not known yet whether another digit follows, multiply by */
    for (const char *at = text_string(&text); (*at >= '0' && *at <= '9') || *at == '.'; at++) {
        if (*at == '.') {
            continue;
        }
        if (*at == '0') {
            zeros *= 10;
        } else {
            digits = digits * zeros * 10 + (*at - '0');
            zeros = 1;
        }
    }
    text_done(&text);
    return digits;
}

/* The digits of a number from its first to its last that is no zero, as a whole number: 7400 and 0.74 give 74. */
static double significant_digits(double value)
{
    struct decimal decimal;
    if (!decimal_short(value, &decimal)) {
        return written_digits(value);
    }
    while (decimal.digits > 0 && decimal.digits % 10 == 0) {
        decimal.digits /= 10;
    }
    return (double)decimal.digits;
}

double plate_rounding(double most_percent, const struct appliance *appliance)
{
    const double value = given_figure(appliance);
    if (!(value > 0) || appliance->rating_from == RATING_FROM_TYPICAL) {
        return 0;
    }
    return fmin(0.5 / significant_digits(value), most_percent / 100);
}

double rounded_planning_a(const struct branch_case *branch_case, const struct load *loads)
{
    double sum_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const double hidden =
            plate_rounding(branch_case->limits->rounding_most, load_appliance(branch_case, &loads[i]));
        sum_a += loads[i].counted ? loads[i].planning_a * (1 - hidden) : 0;
    }
    return sum_a;
}

const char *rounding_text(const struct finder *finder, bool hair)
{
    return hair && !finder->no_texts ? "; within the plate's own rounding" : "";
}
