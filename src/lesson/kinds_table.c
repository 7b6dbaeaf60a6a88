/* The table of the kinds, and the names of their quantities. */
#include "kinds.h"

const char *const resistor_names[LOADS_MOST] = {"R1", "R2", "R3", "R4", "R5", "R6"};
const char *const current_names[LOADS_MOST] = {"I1", "I2", "I3", "I4", "I5", "I6"};
const char *const power_names[LOADS_MOST] = {"P1", "P2", "P3", "P4", "P5", "P6"};
const char *const resistor_of[LOADS_MOST] = {"resistance R1", "resistance R2", "resistance R3",
                                             "resistance R4", "resistance R5", "resistance R6"};
const char *const current_of[LOADS_MOST] = {"current I1", "current I2", "current I3",
                                            "current I4", "current I5", "current I6"};
const char *const power_of[LOADS_MOST] = {"power P1", "power P2", "power P3", "power P4", "power P5", "power P6"};

const struct kind_row kind_rows[LESSON_KIND_COUNT] = {
    [LESSON_UNEQUAL] = {"unequal", "unequal resistors in parallel",
                        "The resistors are connected in parallel across the supply.", NULL, build_unequal},
    [LESSON_EQUAL] = {"equal", "equal resistors in parallel",
                      "Equal resistors are connected in parallel across the supply.", NULL, build_equal},
    [LESSON_FIND_ONE] = {"find-one", "one resistor of a parallel set from the total",
                         "Resistors are connected in parallel. Find the one whose marking cannot be read.", NULL,
                         build_find_one},
    [LESSON_DIVIDE] = {"divide", "a current that divides over parallel resistors",
                       "A current divides over the resistors, which are connected in parallel.", NULL, build_divide},
    [LESSON_TABLE] = {"table", "resistance, voltage, current and power of each load and the total",
                      "The loads are connected in parallel. Complete the table of resistance, voltage, current and "
                      "power.",
                      NULL, build_table},
    [LESSON_CHANGE] = {"change", "a load is added or removed: what changes, and what does not",
                       "The resistors are connected in parallel; at first all but the last one are on. Then the last "
                       "one is switched on "
                       "too.",
                       "The resistors are connected in parallel, all on. Then the last one is switched off.",
                       build_change},
    [LESSON_OPEN] = {"open", "one path is opened by a fault",
                     "The resistors are connected in parallel. Then a fault opens the path of the last one.", NULL,
                     build_open},
    [LESSON_TRIP] = {"trip", "is the total current above the breaker's rating?", "These loads are on at the same time.",
                     NULL, build_trip},
    [LESSON_TWO_WAYS] = {"two-ways", "two ways to the total current that must agree",
                         "The resistors are connected in parallel. Find the total current in two ways.", NULL,
                         build_two_ways},
    [LESSON_ENERGY] = {"energy", "energy and cost of a day",
                       "Find the energy of a day and its cost; t is the time on in a day.", NULL, build_energy},
    [LESSON_WIRE] = {"wire", "a wire in series with parallel loads, and how lamps dim",
                     "The loads are connected in parallel at the end of a long wire, which has a resistance of its "
                     "own.",
                     NULL, build_wire},
    [LESSON_NEUTRAL] =
        {"neutral", "the neutral of a split-phase circuit",
         "The first load is connected from leg A to the neutral, the second from leg B to the neutral.",
         "The first two loads are connected from leg A to the neutral, the next two from leg B to the neutral.",
         build_neutral},
    [LESSON_POWER_FACTOR] = {"power-factor", "loads with reactive power, and the power factor of the whole",
                             "The machines are connected in parallel. P is power, Q reactive power (lagging).", NULL,
                             build_power_factor},
    [LESSON_STOCK] = {"stock", "a wanted resistance from parts alike",
                      "The shelf holds many parts alike. Make the wanted resistance from as few as you can, in series, "
                      "in parallel or both.",
                      NULL, build_stock},
    [LESSON_ONE_READING] = {"one-reading", "the source from one reading, and the rest from that",
                            "The resistors are connected in parallel; the source is not known, but the current in R1 "
                            "was read.",
                            NULL, build_one_reading},
    [LESSON_PRODUCT_SUM] = {"product-sum", "resistors in parallel by product over sum, two at a time",
                            "The resistors are connected in parallel. Work with product over sum, two at a time.", NULL,
                            build_product_sum},
    [LESSON_BOUNDS] = {"bounds", "between which resistances the whole must lie",
                       "The n resistors are connected in parallel. Say first between which bounds their resistance "
                       "together must lie, then work it out.",
                       NULL, build_bounds},
    [LESSON_CONDUCTANCE] = {"conductance", "conductances that add up, and currents by their shares",
                            "The resistors are connected in parallel across the supply. Work with conductances.", NULL,
                            build_conductance},
    [LESSON_INTERNAL] = {"internal", "a source with a resistance of its own",
                         "The source has a resistance r of its own, in series with the load.", NULL, build_internal},
    [LESSON_TOLERANCE] =
        {"tolerance", "least and greatest of parts with a tolerance",
         "The resistors are connected in parallel across the supply; each may be off by its tolerance, "
         "as a share of 1.",
         NULL, build_tolerance},
    [LESSON_JUNCTION] = {"junction", "the missing current at a point, and its direction",
                         "At a point of a circuit all currents but one are marked.", NULL, build_junction},
    [LESSON_ARROWS] = {"arrows", "what rises, falls and stays when a path is opened or added",
                       "The resistors are connected in parallel; at first all but the last one are on. Then the last "
                       "one is switched on too.",
                       "The resistors are connected in parallel, all on. Then a fault opens the path of the last one.",
                       build_arrows},
    [LESSON_WITHIN] = {"within", "how many alike loads keep within the breaker's rating",
                       "Alike loads are to be connected in parallel behind one breaker.", NULL, build_within},
    [LESSON_LADDER] = {"ladder", "a resistor in front of a parallel group",
                       "R1 is in series with the other resistors, which are connected in parallel with each other.",
                       NULL, build_ladder},
    [LESSON_LOOP_IMPEDANCE] = {"loop-impedance",
                               "the loop of an earth fault, its current, and whether the device opens",
                               "At the far end of a cable the line touches metal that the protective conductor earths. "
                               "The conductors are hot, and the voltage is as low as it may be.",
                               NULL, build_loop_impedance},
    [LESSON_LONGEST_RUN] = {"longest-run", "the longest run of cable at which the device still opens",
                            "A cable is to be laid that feeds a far outlet. At an earth fault there the device is to "
                            "open at once, the conductors being hot and the voltage as low as it may be.",
                            NULL, build_longest_run},
    [LESSON_PREFIXES] = {"prefixes", "kilohms, milliamperes and milliwatts, kilowatts",
                         "The resistors are connected in parallel across the supply. Mind the prefixes.", NULL,
                         build_prefixes},
    [LESSON_GRID] =
        {"grid", "the table of resistance, voltage, current and power, with empty cells",
         "The resistors are connected in parallel. Fill in what is missing in the table; its last row is that "
         "of all together.",
         NULL, build_grid},
    [LESSON_CONTINUOUS] =
        {"continuous", "the planning current where something may be on for long",
         "These loads are on at the same time. The first one may be on for 3 hours or more, and counts for more.",
         "These loads are on at the same time. The first two may be on for 3 hours or more, and count for more.",
         build_continuous},
    [LESSON_THREE_NEUTRAL] =
        {"three-neutral", "the neutral of three phases, with equal and unequal loads",
         "Three resistive loads are connected between the phases L1, L2, L3 and the neutral, one to "
         "each: at first three equal ones, P each; then P1, P2 and P3.",
         NULL, build_three_neutral},
    [LESSON_WHY] = {"why", "the right one of four reasons", "Why?", NULL, build_why},
    [LESSON_IMPOSSIBLE] = {"impossible", "the one of five figures that cannot be, and the bound it breaks",
                           "The resistors are connected in parallel. One of the figures below cannot be, whatever the "
                           "others are.",
                           NULL, build_impossible},
    [LESSON_FAULT] = {"fault", "the faulty part, and its fault, from readings",
                      "R1 is in series with the other resistors, which are connected in parallel with each other. One "
                      "thing is wrong in the circuit as it was built: the readings tell what, and where.",
                      NULL, build_fault},
    [LESSON_LAB] =
        {"lab", "what is measured beside what is computed",
         "Build the circuit on the bench at a low voltage, compute, measure, and find how far the reading is "
         "off, in per cent of the computed figure.",
         NULL, build_lab},
};
