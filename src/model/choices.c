/* The words of the house file that stand for a value, and the words of a value. */
#include "choices.h"

#include <string.h>

const struct choice system_choices[] = {{"single-phase", SYSTEM_SINGLE_PHASE},
                                        {"split-phase", SYSTEM_SPLIT_PHASE},
                                        {"three-phase", SYSTEM_THREE_PHASE},
                                        {NULL, 0}};
const struct choice frequency_choices[] = {{"50", 50}, {"60", 60}, {NULL, 0}};
const struct choice trip_choices[] = {{"inverse-time", TRIP_INVERSE_TIME},
                                      {"B", TRIP_B},
                                      {"C", TRIP_C},
                                      {"D", TRIP_D},
                                      {"fuse", TRIP_FUSE},
                                      {"gG", TRIP_GG},
                                      {"bs3036", TRIP_BS3036},
                                      {"bs88", TRIP_BS88},
                                      {NULL, 0}};
const struct choice poles_choices[] = {{"1", 1}, {"2", 2}, {"3", 3}, {NULL, 0}};
const struct choice method_choices[] = {
    {"A1", METHOD_A1},   {"A2", METHOD_A2},   {"B1", METHOD_B1},   {"B2", METHOD_B2},   {"C", METHOD_C},
    {"D", METHOD_D},     {"D1", METHOD_D},    {"D2", METHOD_D2},   {"A", METHOD_A},     {"B", METHOD_B},
    {"100", METHOD_100}, {"101", METHOD_101}, {"102", METHOD_102}, {"103", METHOD_103}, {NULL, 0}};
const struct choice cable_choices[] = {{"nm-b", CABLE_NM_B},
                                       {"nm", CABLE_NM},
                                       {"uf-b", CABLE_UF_B},
                                       {"ser", CABLE_SER},
                                       {"thhn", CABLE_THHN},
                                       {"thwn", CABLE_THWN},
                                       {"tw", CABLE_TW},
                                       {"mc", CABLE_MC},
                                       {"knob-and-tube", CABLE_KNOB_AND_TUBE},
                                       {NULL, 0}};
const struct choice terminals_choices[] = {{"60", 60}, {"70", 70}, {"75", 75}, {"90", 90}, {NULL, 0}};
const struct choice insulation_choices[] = {{"pvc", INSULATION_PVC}, {"xlpe", INSULATION_XLPE}, {NULL, 0}};
const struct choice rcd_ma_choices[] = {{"10", 10}, {"30", 30}, {"100", 100}, {"300", 300}, {"500", 500}, {NULL, 0}};
const struct choice rcd_type_choices[] = {{"general", RCD_GENERAL}, {"selective", RCD_SELECTIVE}, {NULL, 0}};
const struct choice edition_choices[] = {{"2017", 2017}, {"2020", 2020}, {"2023", 2023}, {"2026", 2026}, {NULL, 0}};
const struct choice earthing_choices[] = {{"TN-S", EARTHING_TN_S}, {"TN-C-S", EARTHING_TN_C_S},     {"TT", EARTHING_TT},
                                          {"IT", EARTHING_IT},     {"grounded", EARTHING_GROUNDED}, {NULL, 0}};
const struct choice room_kind_choices[] = {{"bath", ROOM_BATH},
                                           {"kitchen", ROOM_KITCHEN},
                                           {"laundry", ROOM_LAUNDRY},
                                           {"garage", ROOM_GARAGE},
                                           {"outdoors", ROOM_OUTDOORS},
                                           {"basement", ROOM_BASEMENT},
                                           {"crawl-space", ROOM_CRAWL_SPACE},
                                           {"bedroom", ROOM_BEDROOM},
                                           {"living", ROOM_LIVING},
                                           {"hall", ROOM_HALL},
                                           {"utility", ROOM_UTILITY},
                                           {"pool", ROOM_POOL},
                                           {"other", ROOM_OTHER},
                                           {NULL, 0}};
const struct choice rating_from_choices[] = {
    {"plate", RATING_FROM_PLATE}, {"typical", RATING_FROM_TYPICAL}, {"guess", RATING_FROM_GUESS}, {NULL, 0}};
const struct choice connection_choices[] = {
    {"line-line", CONNECTION_LINE_LINE}, {"2L+N", CONNECTION_2L_N}, {"3L+N", CONNECTION_3L_N}, {NULL, 0}};
const struct choice control_choices[] = {
    {"none", CONTROL_NONE}, {"setpoint", CONTROL_SETPOINT}, {"on-off", CONTROL_ON_OFF}, {NULL, 0}};
const struct choice layout_choices[] = {{"radial", LAYOUT_RADIAL}, {"ring", LAYOUT_RING}, {NULL, 0}};
const struct choice purpose_choices[] = {{"general", PURPOSE_GENERAL},
                                         {"lighting", PURPOSE_LIGHTING},
                                         {"small-appliance", PURPOSE_SMALL_APPLIANCE},
                                         {"laundry", PURPOSE_LAUNDRY},
                                         {"bathroom", PURPOSE_BATHROOM},
                                         {"dedicated", PURPOSE_DEDICATED},
                                         {NULL, 0}};
const struct choice behaviour_choices[] = {
    {"resistive", BEHAVIOUR_RESISTIVE}, {"electronic", BEHAVIOUR_ELECTRONIC}, {"motor", BEHAVIOUR_MOTOR}, {NULL, 0}};
const struct choice yesno_choices[] = {{"yes", 1}, {"no", 0}, {NULL, 0}};
const struct choice category_choices[] = {{"lighting", CATEGORY_LIGHTING},
                                          {"cooking", CATEGORY_COOKING},
                                          {"range", CATEGORY_RANGE},
                                          {"dryer", CATEGORY_DRYER},
                                          {"laundry", CATEGORY_LAUNDRY},
                                          {"water-heating", CATEGORY_WATER_HEATING},
                                          {"space-heating", CATEGORY_SPACE_HEATING},
                                          {"air-conditioning", CATEGORY_AIR_CONDITIONING},
                                          {"vehicle", CATEGORY_VEHICLE},
                                          {"refrigeration", CATEGORY_REFRIGERATION},
                                          {"motor", CATEGORY_MOTOR},
                                          {"heat-pump", CATEGORY_HEAT_PUMP},
                                          {"pool", CATEGORY_POOL},
                                          {"medical", CATEGORY_MEDICAL},
                                          {"generator", CATEGORY_GENERATOR},
                                          {"other", CATEGORY_OTHER},
                                          {NULL, 0}};

const char *system_word(int system)
{
    return choice_word(system_choices, system);
}

const char *trip_word(int trip)
{
    return choice_word(trip_choices, trip);
}

const char *method_word(int method)
{
    return choice_word(method_choices, method);
}

const char *purpose_word(int purpose)
{
    return choice_word(purpose_choices, purpose);
}

const char *category_word(int category)
{
    return choice_word(category_choices, category);
}

const char *cable_word(int cable)
{
    return choice_word(cable_choices, cable);
}

const char *insulation_word(int insulation)
{
    return choice_word(insulation_choices, insulation);
}

const char *rcd_type_word(int type)
{
    return choice_word(rcd_type_choices, type);
}

const char *earthing_word(int earthing)
{
    return choice_word(earthing_choices, earthing);
}

const char *room_kind_word(int kind)
{
    return choice_word(room_kind_choices, kind);
}

int choice_value(const struct choice *choices, const char *word, int otherwise)
{
    for (; choices->word != NULL; choices++) {
        if (strcmp(choices->word, word) == 0) {
            return choices->value;
        }
    }
    return otherwise;
}
