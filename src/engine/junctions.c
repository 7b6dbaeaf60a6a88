#include <math.h>

#include "terms.h"

/* What a figure with two decimals can hide. */
static const double STEP_SEEN_A = 0.005;

bool branch_junctions(const struct house *house, size_t branch, const struct load *loads, double voltage_v,
                      double *ret_line_a)
{
    const struct branch *row = &house->branches[branch];
    struct draw all = {0};
    struct draw star = {0};
    double sum_a = 0;
    for (size_t i = row->appliances.count; i-- > 0;) {
        if (loads[i].counted) {
            sum_a += loads[i].current_a;
            draw_add(&all, loads[i].draw);
            if (house->appliances[loads[i].appliance].connected == CONNECTION_2L_N) {
                draw_add(&star, loads[i].draw);
            }
        }
        ret_line_a[i] = line_a(all, star, voltage_v, row->poles);
    }
    return row->appliances.count == 0 || sum_a - ret_line_a[0] < STEP_SEEN_A;
}
