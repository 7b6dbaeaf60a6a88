#include <math.h>

#include "ampsum/engine.h"

/* What a figure with two decimals can hide. */
static const double STEP_SEEN_A = 0.005;

bool branch_junctions(const struct house *house, size_t branch, const struct load *loads, double voltage_v,
                      double *ret_line_a)
{
    const struct branch *row = &house->branches[branch];
    double power_w = 0;
    double sum_a = 0;
    double reactive_var = 0;
    for (size_t i = row->appliances.count; i-- > 0;) {
        if (loads[i].counted) {
            sum_a += loads[i].current_a;
            power_w += loads[i].draw.power_w;
            reactive_var += loads[i].draw.reactive_var;
        }
        ret_line_a[i] = draw_current_a(hypot(power_w, reactive_var), voltage_v, row->poles);
    }
    return row->appliances.count == 0 || sum_a - ret_line_a[0] < STEP_SEEN_A;
}
