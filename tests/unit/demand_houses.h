/* Houses of the published examples in tests/outside/demand.tsv; names and labels are ours. */
#ifndef AMPSUM_TESTS_DEMAND_HOUSES_H
#define AMPSUM_TESTS_DEMAND_HOUSES_H

#include "read_house.h"

#define US(area) "[house]\nname = Example\nrules = us\nmain_breaker = 200 A\n" area
#define UK "[house]\nname = Example\nrules = uk\nvoltage = 240 V\nmain_breaker = 100 A\n"
#define BRANCH(id, keys) "[branch " id "]\nlabel = " id "\nbreaker = 50 A\npurpose = dedicated\n" keys
#define PAIR(id) BRANCH(id, "poles = 2\nlegs = AB\n")
#define LOAD(id, name, branch, keys) "[appliance " id "]\nname = " name "\nbranch = " branch "\n" keys

#define D1A_LOADS                                                                                                      \
    PAIR("pair")                                                                                                       \
    LOAD("range", "Range", "pair", "power = 12 kW\ncategory = range\n")                                                \
    LOAD("dryer", "Dryer", "pair", "power = 5.5 kW\ncategory = dryer\n")
#define RANGES(count, kw)                                                                                              \
    US("") PAIR("pair") LOAD("r", "Range", "pair", "count = " count "\npower = " kw " kW\ncategory = range\n")

static const struct named_house demand_houses[] = {
    {"d1a", US("floor_area = 1500 ft2\n") D1A_LOADS},
    {"d1b", US("floor_area = 1500 ft2\n") D1A_LOADS BRANCH("one-a", "legs = A\n") BRANCH("one-b", "legs = B\n")
                LOAD("cool-small", "Room cooler", "pair",
                     "current = 6 A\nrated_voltage = 230 V\nbehaviour = motor\ncategory = air-conditioning\n")
                    LOAD("cool-large", "Window cooler", "one-a",
                         "current = 12 A\nrated_voltage = 115 V\nbehaviour = motor\ncategory = air-conditioning\n")
                        LOAD("disposer", "Disposer", "one-b",
                             "current = 8 A\nrated_voltage = 115 V\nbehaviour = motor\nfixed = yes\ncategory = motor\n")
                            LOAD("dishwasher", "Dishwasher", "one-b", "current = 10 A\nfixed = yes\n")},
    {"d2a",
     US("floor_area = 1500 ft2\n") PAIR("pair") BRANCH("one", "legs = A\n") LOAD("range", "Range with its oven", "pair",
                                                                                 "power = 12 kW\ncategory = range\n")
         LOAD("water", "Water heater", "pair", "power = 2.5 kW\nfixed = yes\ncategory = water-heating\n")
             LOAD("dishwasher", "Dishwasher", "one", "power = 1.2 kW\nfixed = yes\ncategory = cooking\n") LOAD(
                 "heat", "Room heaters", "pair", "count = 5\npower = 1.8 kW\nfixed = yes\ncategory = space-heating\n")
                 LOAD("dryer", "Dryer", "pair", "power = 5 kW\ncategory = dryer\n")
                     LOAD("cool", "Room cooler", "pair",
                          "current = 6 A\nrated_voltage = 230 V\nbehaviour = motor\ncategory = air-conditioning\n")},
    {"d2b",
     US("floor_area = 1500 ft2\n") PAIR("pair") BRANCH("one", "legs = A\n") LOAD(
         "ovens", "Wall ovens", "pair", "count = 2\npower = 4 kW\nfixed = yes\ncategory = cooking\n")
         LOAD("cooktop", "Cooktop", "pair", "power = 5.1 kW\nfixed = yes\ncategory = cooking\n") LOAD(
             "water",
             "Water heater",
             "pair",
             "power = 4.5 kW\nfixed = yes\ncategory = water-heating\n") LOAD("dishwasher", "Dishwasher", "one",
                                                                             "power = 1.2 kW\nfixed = yes\n")
             LOAD("dryer", "Washer and dryer", "pair", "power = 5 kW\ncategory = dryer\n") LOAD(
                 "cool",
                 "Room coolers",
                 "pair",
                 "count = 6\ncurrent = 7 A\nrated_voltage = 230 V\nbehaviour = motor\ncategory = air-conditioning\n")
                 LOAD("heat", "Bath heater", "pair", "power = 1.5 kW\nfixed = yes\ncategory = space-heating\n")},
    {"d2c",
     US("floor_area = 2000 ft2\n") PAIR("pair") BRANCH("one", "legs = A\n") LOAD("range", "Range", "pair",
                                                                                 "power = 12 kW\ncategory = range\n")
         LOAD("water", "Water heater", "pair", "power = 4.5 kW\nfixed = yes\ncategory = water-heating\n")
             LOAD("dishwasher", "Dishwasher", "one", "power = 1.2 kW\nfixed = yes\n")
                 LOAD("dryer", "Dryer", "pair", "power = 5 kW\ncategory = dryer\n")
                     LOAD("pump", "Compressor outside", "pair",
                          "current = 24 A\nbehaviour = motor\nfixed = yes\ncategory = space-heating\n")
                         LOAD("strips", "Strips", "pair", "power = 15 kW\nfixed = yes\ncategory = space-heating\n")},
    {"exam", US("floor_area = 2100 ft2\n") PAIR("pair") BRANCH("one", "legs = A\n")
                 LOAD("range", "Range", "pair", "power = 13 kW\ncategory = range\n")
                     LOAD("water", "Water heater", "pair", "power = 4.5 kW\nfixed = yes\ncategory = water-heating\n")
                         LOAD("dryer", "Dryer", "pair", "power = 5 kW\ncategory = dryer\n")
                             LOAD("disposer", "Disposer", "one", "current = 7.2 A\nbehaviour = motor\nfixed = yes\n")
                                 LOAD("dishwasher", "Dishwasher", "one", "power = 1.2 kW\nfixed = yes\n")
                                     LOAD("pump", "A Heat Pump", "pair",
                                          "current = 40 A\nbehaviour = motor\ncategory = heat-pump\n")
                                         LOAD("strips", "Strips", "pair",
                                              "power = 10 kW\nfixed = yes\ncategory = space-heating\n")},
    {"forum-2000", US("floor_area = 2000 ft2\n") D1A_LOADS},
    {"ovens-mixed",
     US("") PAIR("pair") LOAD("cooktop", "Cooktop", "pair", "power = 3 kW\nfixed = yes\ncategory = cooking\n")
         LOAD("oven", "Oven", "pair", "power = 6 kW\nfixed = yes\ncategory = cooking\n")
             LOAD("range", "Range", "pair", "power = 14 kW\ncategory = range\n")},
    {"ovens-two", US("") PAIR("pair") LOAD("a", "Oven", "pair", "power = 6.5 kW\nfixed = yes\ncategory = cooking\n")
                      LOAD("b", "Cooktop", "pair", "power = 5 kW\nfixed = yes\ncategory = cooking\n")},
    {"ranges-14", RANGES("10", "14")},
    {"ranges-15", RANGES("15", "15")},
    {"ranges-16", RANGES("24", "16")},
    {"ranges-d6b", RANGES("5", "11") LOAD("s", "Range", "pair", "count = 2\npower = 12 kW\ncategory = range\n")
                       LOAD("t", "Range", "pair", "count = 20\npower = 13.5 kW\ncategory = range\n")
                           LOAD("u", "Range", "pair", "count = 3\npower = 18 kW\ncategory = range\n")},
    {"heaters", US("") PAIR("pair") LOAD("w", "Water heaters", "pair",
                                         "count = 4\npower = 4.5 kW\nfixed = yes\ncategory = water-heating\n")},
    {"uk-cooker", UK BRANCH("cooker", "") LOAD("c", "Cooker", "cooker", "power = 12 kW\ncategory = range\n")},
    {"uk-range", UK BRANCH("cooker", "") LOAD("h", "Hob", "cooker", "count = 4\npower = 3 kW\ncategory = cooking\n")
                     LOAD("o", "Ovens", "cooker", "count = 2\npower = 2 kW\ncategory = cooking\n")},
    {"uk-small", UK BRANCH("cooker", "") LOAD("c", "Cooker", "cooker", "power = 5.8 kW\ncategory = cooking\n")},
    {"uk-house", UK "[branch s1]\nlabel = Down\nbreaker = 32 A\n[branch s2]\nlabel = Up\nbreaker = 32 A\n"
                    "[branch s3]\nlabel = Kitchen\nbreaker = 32 A\n" LOAD("a", "Lamp", "s1", "power = 60 W\n")
                        LOAD("b", "Kettle", "s2", "power = 3 kW\n") LOAD("c", "Iron", "s3", "power = 2 kW\n")},
};

#endif
