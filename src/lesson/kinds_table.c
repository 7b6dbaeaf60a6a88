/* The table of the kinds, and the names of their quantities. */
#include "kinds.h"

const char *const resistor_names[LOADS_MOST] = {"R1", "R2", "R3", "R4", "R5", "R6"};
const char *const current_names[LOADS_MOST] = {"I1", "I2", "I3", "I4", "I5", "I6"};
const char *const power_names[LOADS_MOST] = {"P1", "P2", "P3", "P4", "P5", "P6"};
const char *const resistor_of[LOADS_MOST] = {"asked.resistance-1 R1", "asked.resistance-1 R2", "asked.resistance-1 R3",
                                             "asked.resistance-1 R4", "asked.resistance-1 R5", "asked.resistance-1 R6"};
const char *const current_of[LOADS_MOST] = {"asked.current-1 I1", "asked.current-1 I2", "asked.current-1 I3",
                                            "asked.current-1 I4", "asked.current-1 I5", "asked.current-1 I6"};
const char *const power_of[LOADS_MOST] = {"asked.power-1 P1", "asked.power-1 P2", "asked.power-1 P3",
                                          "asked.power-1 P4", "asked.power-1 P5", "asked.power-1 P6"};

const struct kind_row kind_rows[LESSON_KIND_COUNT] = {
    [LESSON_UNEQUAL] = {"unequal", "opening.the-resistors-are-connected-in-parallel-across", NULL, build_unequal},
    [LESSON_EQUAL] = {"equal", "opening.equal-resistors-are-connected-in-parallel-across", NULL, build_equal},
    [LESSON_FIND_ONE] = {"find-one", "opening.resistors-are-connected-in-parallel-find-the-one", NULL, build_find_one},
    [LESSON_DIVIDE] = {"divide", "opening.a-current-divides-over-the-resistors-which-are", NULL, build_divide},
    [LESSON_TABLE] = {"table", "opening.the-loads-are-connected-in-parallel-complete-the", NULL, build_table},
    [LESSON_CHANGE] = {"change", "opening.the-resistors-are-connected-in-parallel-at-first",
                       "opening.the-resistors-are-connected-in-parallel-all-on", build_change},
    [LESSON_OPEN] = {"open", "opening.the-resistors-are-connected-in-parallel-then-a", NULL, build_open},
    [LESSON_TRIP] = {"trip", "opening.these-loads-are-on-at-the-same-time", NULL, build_trip},
    [LESSON_TWO_WAYS] = {"two-ways", "opening.the-resistors-are-connected-in-parallel-find-the", NULL, build_two_ways},
    [LESSON_ENERGY] = {"energy", "opening.find-the-energy-of-a-day-and-its-cost-t-is-the", NULL, build_energy},
    [LESSON_WIRE] = {"wire", "opening.the-loads-are-connected-in-parallel-at-the-end-of", NULL, build_wire},
    [LESSON_NEUTRAL] = {"neutral", "opening.the-first-load-is-connected-from-leg-a-to-the",
                        "opening.the-first-two-loads-are-connected-from-leg-a-to", build_neutral},
    [LESSON_POWER_FACTOR] = {"power-factor", "opening.the-machines-are-connected-in-parallel-p-is-power", NULL,
                             build_power_factor},
    [LESSON_STOCK] = {"stock", "opening.the-shelf-holds-many-parts-alike-make-the-wanted", NULL, build_stock},
    [LESSON_ONE_READING] = {"one-reading", "opening.the-resistors-are-connected-in-parallel-the R1", NULL,
                            build_one_reading},
    [LESSON_PRODUCT_SUM] = {"product-sum", "opening.the-resistors-are-connected-in-parallel-work-with", NULL,
                            build_product_sum},
    [LESSON_BOUNDS] = {"bounds", "opening.the-n-resistors-are-connected-in-parallel-say", NULL, build_bounds},
    [LESSON_CONDUCTANCE] = {"conductance", "opening.the-resistors-are-connected-in-parallel-across-2", NULL,
                            build_conductance},
    [LESSON_INTERNAL] = {"internal", "opening.the-source-has-a-resistance-r-of-its-own-in", NULL, build_internal},
    [LESSON_TOLERANCE] = {"tolerance", "opening.the-resistors-are-connected-in-parallel-across-3", NULL,
                          build_tolerance},
    [LESSON_JUNCTION] = {"junction", "opening.at-a-point-of-a-circuit-all-currents-but-one-are", NULL, build_junction},
    [LESSON_ARROWS] = {"arrows", "opening.the-resistors-are-connected-in-parallel-at-first",
                       "opening.the-resistors-are-connected-in-parallel-all-on-2", build_arrows},
    [LESSON_WITHIN] = {"within", "opening.alike-loads-are-to-be-connected-in-parallel", NULL, build_within},
    [LESSON_LADDER] = {"ladder", "opening.1-is-in-series-with-the-other-resistors-which-are R1", NULL, build_ladder},
    [LESSON_LOOP_IMPEDANCE] = {"loop-impedance", "opening.at-the-far-end-of-a-cable-the-line-touches-metal", NULL,
                               build_loop_impedance},
    [LESSON_LONGEST_RUN] = {"longest-run", "opening.a-cable-is-to-be-laid-that-feeds-a-far-outlet-at", NULL,
                            build_longest_run},
    [LESSON_PREFIXES] = {"prefixes", "opening.the-resistors-are-connected-in-parallel-across-4", NULL, build_prefixes},
    [LESSON_GRID] = {"grid", "opening.the-resistors-are-connected-in-parallel-fill-in", NULL, build_grid},
    [LESSON_CONTINUOUS] = {"continuous", "opening.these-loads-are-on-at-the-same-time-the-first-one",
                           "opening.these-loads-are-on-at-the-same-time-the-first-two", build_continuous},
    [LESSON_THREE_NEUTRAL] = {"three-neutral",
                              "opening.three-resistive-loads-are-connected-between-the L1 L2 L3 P1 P2 P3", NULL,
                              build_three_neutral},
    [LESSON_WHY] = {"why", "", NULL, build_why},
    [LESSON_IMPOSSIBLE] = {"impossible", "opening.the-resistors-are-connected-in-parallel-one-of", NULL,
                           build_impossible},
    [LESSON_FAULT] = {"fault", "opening.1-is-in-series-with-the-other-resistors-which-are-2 R1", NULL, build_fault},
    [LESSON_LAB] = {"lab", "opening.build-the-circuit-on-the-bench-at-a-low-voltage", NULL, build_lab},
};
