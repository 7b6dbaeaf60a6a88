/* Why there is no answer, in words. Each sets the fault and gives false. */
#ifndef AMPSUM_CIRCUIT_REFUSE_H
#define AMPSUM_CIRCUIT_REFUSE_H

#include "equation.h"

/* A known that the computed value does not fit. */
bool refuse_misfit(const struct circuit *circuit, const struct circuit_known *known,
                   const struct circuit_figure *computed, struct circuit_fault *fault);

/* Too few knowns. */
bool refuse_missing(const struct circuit *circuit, bool voltage, size_t missing, struct circuit_fault *fault);

/* The knowns say nothing of the unknown part. */
bool refuse_silent(const struct circuit *circuit, struct circuit_fault *fault);

/* No root above 0: `root` is the one that algebra gives, NULL for none. `alone`: the source is known, or not needed. */
bool refuse_roots(const struct equations *equations, const struct circuit_known *known, bool alone, mpq_srcptr root,
                  struct circuit_fault *fault);

#endif
