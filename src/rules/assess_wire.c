#include "assess_wire.h"

#include <math.h>

void assess_branch_wire(struct assessment *assessment, size_t index, const struct load *loads)
{
    (void)loads;
    assessment->branches[index].drop_percent = NAN;
    assessment->branches[index].loss_w = NAN;
}

void assess_feeder_wire(struct assessment *assessment, size_t index)
{
    assessment->panels[index].feeder_drop_percent = NAN;
}
