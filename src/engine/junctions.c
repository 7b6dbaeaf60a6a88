#include <math.h>

#include "ampsum/engine.h"

void branch_junctions(const struct house *house, size_t branch, const struct load *loads, double voltage_v,
                      double *ret_line_a)
{
    const struct branch *row = &house->branches[branch];
    double power_w = 0;
    double reactive_var = 0;
    for (size_t i = row->appliances.count; i-- > 0;) {
        if (loads[i].counted) {
            power_w += loads[i].draw.power_w;
            reactive_var += loads[i].draw.reactive_var;
        }
        ret_line_a[i] = draw_current_a(hypot(power_w, reactive_var), voltage_v, row->poles);
    }
}
