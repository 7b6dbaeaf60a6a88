/*
 * If a wire touches metal: how large the current is, whether the device opens, whether the wire survives. Plain numbers
 * in, plain numbers out; knows neither house nor tables. Definitions: contract, fault.md section 3 and 4.
 *
 * Two opposite worst cases, never mixed: the largest current (cold wire, strongest supply, at the device) says whether
 * the device can break it; the smallest (hot wire, weakest supply, at the far end) whether it opens.
 *
 * An argument that is NAN (not known) gives NAN. Nothing here fails, allocates or keeps anything.
 *
 * Checked: tests/unit/test_fault.c, tests/outside/fault.tsv.
 */
#ifndef AMPSUM_FAULT_H
#define AMPSUM_FAULT_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Earth-fault loop impedance, ohm: Zs = Ze + ct (R1 + R2).
 *
 *   external_ohm     Ze, up to the origin, >= 0
 *   conductors_ohm   R1 + R2 at 20 degree C, line and protective conductor, of feeder and branch
 *   hot_factor       ct, 1 for the cold loop
 *
 * Reactance is left out below 35 mm2 (common practice; published loop tables do the same).
 */
double fault_loop_ohm(double external_ohm, double conductors_ohm, double hot_factor);

/* Current of a fault, ampere: c U0 / Z. `voltage_factor` c: Cmin for the smallest, Cmax for the largest. */
double fault_current_a(double voltage_factor, double voltage_v, double loop_ohm);

/* Impedance behind the origin, ohm, that gives the declared prospective current there: Cmax U0 / Ipf. */
double fault_source_ohm(double voltage_factor, double voltage_v, double prospective_a);

/*
 * Largest loop impedance at which a device opens at once, ohm: Zs,max = Cmin U0 / (k In), k the upper end of the
 * device's instantaneous band. BS 7671 Table 41.3, from the text of its notes.
 */
double fault_largest_loop_ohm(double voltage_factor, double voltage_v, double instantaneous_multiple, double rating_a);

/*
 * Longest run of a radial at which the device still opens, metre: (Zs,max - Ze) / (ct (r1 + r2)), r in ohm per
 * kilometre at 20 degree C. 0 where Ze alone is too much; `external_ohm` holds what lies before the branch, hot.
 */
double fault_longest_m(double largest_loop_ohm, double external_ohm, double conductors_ohm_per_km, double hot_factor);

/*
 * Longest run by the conventional method, metre, for a supply of which nothing is known:
 * L = share U0 Sph / (rho (1 + m) Ia), m = Sph / Spe, share of the voltage that is left at the start of the run.
 *
 *   resistivity_ohm_mm2_per_m  rho of the warm conductor
 *   opening_a                  Ia, the current at which the device opens at once
 */
double fault_conventional_longest_m(double share, double voltage_v, double line_mm2, double protective_mm2,
                                    double resistivity_ohm_mm2_per_m, double opening_a);

/*
 * k of the adiabatic equation, A s^(1/2) / mm2: factor sqrt(ln(1 + (final - initial) / (beta + initial))).
 * IEC 60364-5-54 annex A; `factor` and `beta` are the metal's constants there.
 */
double fault_adiabatic_k(double factor, double beta_c, double initial_c, double final_c);

/*
 * The same from the equation for American cables, (I/A)^2 t = factor log10((final + beta) / (initial + beta)) with A in
 * circular mils: ICEA P-32-382.
 */
double fault_adiabatic_k_cmil(double factor, double beta_c, double initial_c, double final_c);

/* Smallest conductor that a current leaves whole, mm2: I sqrt(t) / k, for times up to 5 s. */
double fault_smallest_area_mm2(double current_a, double time_s, double k);

/*
 * Fault current at the terminals of a transformer, ampere, from its nameplate: full-load current times 100 / (%Z
 * tolerance). For a winding between two lines of a single-phase transformer; line to neutral is a factor of its own.
 *
 *   tolerance  of the printed impedance, 0.9 for ten percent below
 */
double fault_transformer_a(double power_va, double voltage_v, bool three_phase, double impedance_percent,
                           double tolerance);

/*
 * The point-to-point method along a conductor: I' = I / (1 + f), f = legs L I / (C n V).
 *
 *   legs         2 out and back (between lines, line to neutral), sqrt 3 for three phases
 *   length_ft    L
 *   c            C of the conductor, 1000 / (ohm per 1000 ft)
 *   parallel     n conductors side by side, >= 1
 *   voltage_v    V between lines, or line to neutral with I the current line to neutral
 */
double fault_point_to_point_a(double current_a, double legs, double length_ft, double c, double parallel,
                              double voltage_v);

#endif
