/*
 * The published figures behind fault current and disconnection; see reference.h for how the rows come here and what
 * `rules`, `metal` and `size` are.
 *
 * Checked: tests/unit/test_fault.c, tests/outside/fault.tsv.
 */
#ifndef AMPSUM_REFERENCE_FAULT_H
#define AMPSUM_REFERENCE_FAULT_H

#include <stdbool.h>

#include "ampsum/reference.h"

/* The earthing system of that word, NULL where the rule set does not know it. */
const struct ref_earthing *reference_earthing(const char *rules, const char *earthing);

/*
 * Times within which a fault must be cut off.
 *
 *   family     of ref_earthing: "TN", "TT"
 *   voltage_v  to earth
 *
 * NULL where the table has none (up to 50 V, another family, another rule set).
 */
const struct ref_disconnection *reference_disconnection(const char *rules, const char *family, double voltage_v);

/* True where the rule set holds a fault against a time, and so the loop's impedance against the device. */
bool reference_has_disconnection(const char *rules);

/*
 * Longest time, s, in which a residual current device opens at that multiple of its rated residual current: that of the
 * next lower multiple of the table. NAN below the rated current and for a kind that is not listed.
 */
double reference_residual_time_s(const char *kind, double multiple, const struct ref_residual_time **ret_row);

/*
 * Size of the protective conductor that usually goes with a line conductor (flat cable) or a breaker; NULL where the
 * rule set lists neither.
 */
const struct ref_protective_conductor *reference_protective_conductor(const char *rules, const char *line_size,
                                                                      const char *metal, double breaker_a);

/* Constants of the adiabatic equation for a metal; `american`: of that in circular mils. */
const struct ref_adiabatic *reference_adiabatic(const char *metal, bool american);

/* C of the point-to-point method; NAN where the size and metal is not listed. */
double reference_point_to_point_c(const char *size, const char *metal, const struct ref_point_to_point **ret_row);

#endif
