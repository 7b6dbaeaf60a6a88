/* Houses of tests/outside/service.tsv; names and labels are ours. What is added stands last. */
#ifndef AMPSUM_TESTS_SERVICE_HOUSES_H
#define AMPSUM_TESTS_SERVICE_HOUSES_H

#include "demand_houses.h"

#define SERVICE(amperes) "[house]\nname = Example\nrules = us\nmain_breaker = " amperes " A\nfloor_area = 1500 ft2\n"
#define H1_LOADS                                                                                                       \
    PAIR("pair")                                                                                                       \
    BRANCH("one", "legs = A\n")                                                                                        \
    LOAD("range", "Range", "pair", "power = 12 kW\ncategory = range\n")                                                \
    LOAD("water", "Water heater", "pair", "power = 4.5 kW\nfixed = yes\ncategory = water-heating\n")                   \
    LOAD("dishwasher", "Dishwasher", "one", "power = 1.2 kW\nfixed = yes\n")                                           \
    LOAD("dryer", "Dryer", "pair", "power = 5 kW\ncategory = dryer\n")
#define COOLING                                                                                                        \
    LOAD("cool", "Cooling", "pair",                                                                                    \
         "apparent = 6.72 kVA\nfixed = yes\nbehaviour = motor\ncategory = air-conditioning\n")
#define CHARGER(rating) PAIR("new") LOAD("car", "Charger", "new", rating "\nfixed = yes\ncategory = vehicle\n")
#define SMALL_US(amperes) "[house]\nname = Example\nrules = us\nmain_breaker = " amperes " A\n"

static const struct named_house service_houses[] = {
    {"h1", SERVICE("100") H1_LOADS COOLING},
    {"h1-7200", SERVICE("100") H1_LOADS COOLING CHARGER("apparent = 7.2 kVA")},
    {"h1-9600", SERVICE("100") H1_LOADS COOLING CHARGER("current = 40 A")},
    {"h1-11520", SERVICE("100") H1_LOADS COOLING CHARGER("current = 48 A")},
    {"h1-cool-added", SERVICE("100") H1_LOADS COOLING},
    {"charger-5000", SMALL_US("200") CHARGER("power = 5 kW")},
    {"charger-14400", SMALL_US("200") CHARGER("power = 14.4 kW")},
    {"charger-7200-100", SMALL_US("100") CHARGER("power = 7.2 kW")},
    {"charger-9600-100", SMALL_US("100") CHARGER("power = 9.6 kW")},
    {"charger-7200-60", SMALL_US("60") CHARGER("power = 7.2 kW")},
    {"charger-50a", SMALL_US("100") CHARGER("current = 50 A")},
    {"bare-100", SMALL_US("100")},
    {"bare-400", SMALL_US("400")},
    {"four-heaters",
     SERVICE("200") PAIR("pair")
         LOAD("water", "Water heaters", "pair", "count = 4\npower = 4.5 kW\nfixed = yes\ncategory = water-heating\n")},
    {"uk-select",
     "[house]\nname = Example\nrules = uk\nvoltage = 230 V\nsupply_fuse = 60 A\n"
     "[branch up]\nlabel = up\nbreaker = 32 A\nlayout = ring\nreturn = 10 m\n"
     "[outlet up-1]\nbranch = up\nrun = 10 m\n"
     "[branch down]\nlabel = down\nbreaker = 32 A\nlayout = ring\nreturn = 10 m\n"
     "[outlet down-1]\nbranch = down\nrun = 10 m\n"
     "[branch lights]\nlabel = lights\nbreaker = 6 A\npurpose = lighting\n"
     "[branch lights-2]\nlabel = lights\nbreaker = 6 A\npurpose = lighting\n"
     "[branch water]\nlabel = water\nbreaker = 16 A\npurpose = dedicated\n"
     "[branch cooker]\nlabel = cooker\nbreaker = 32 A\npurpose = dedicated\ncooker_socket = yes\n"
     "[appliance l1]\nname = Lights\nbranch = lights\ncurrent = 6 A\ncategory = lighting\n"
     "[appliance l2]\nname = Lights\nbranch = lights-2\ncurrent = 6 A\ncategory = lighting\n"
     "[appliance w]\nname = Immersion\nbranch = water\ncurrent = 16 A\nfixed = yes\ncategory = water-heating\n"
     "[appliance c]\nname = Cooker\nbranch = cooker\ncurrent = 32 A\nfixed = yes\ncategory = cooking\n"
     "[appliance k]\nname = Kettle\noutlet = up-1\ncurrent = 13 A\n"
     "[appliance h]\nname = Heater\noutlet = down-1\ncurrent = 10 A\n"},
    {"uk-100", "[house]\nname = Example\nrules = uk\nvoltage = 230 V\nsupply_fuse = 100 A\n"},
};

#endif
