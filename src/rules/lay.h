/* What a wire carries by installation method, for wire_limit_of, and how a finding's text says it. */
#ifndef AMPSUM_RULES_LAY_H
#define AMPSUM_RULES_LAY_H

#include "ampsum/assess.h"
#include "ampsum/finding.h"

/* iec, uk: table by method, insulation and loaded conductors, times the factors of the place. The wire is given. */
struct wire_reading method_reading(const struct house *house, const struct wire_run *run);

/* Adds ", method C assumed, 35 degree C, 3 circuits together x 0.7" to the wire's name. */
void method_text(const struct finder *finder, const struct wire_run *run, const struct wire_reading *reading,
                 struct text *text);

#endif
