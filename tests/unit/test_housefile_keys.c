/* Keys of supply, circuits, rooms, outlets and plates: what they read, what they default to, what each fault names. */
#include "runner.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "housefile_rows.h"

#define ROWS(table) (int)(sizeof(table) / sizeof(table)[0])

#define UK_FUSE "[house]\nname = H\nrules = uk\nsupply_fuse = 80\n"
#define IEC_THREE "[house]\nname = H\nrules = iec\nmain_breaker = 63\nsystem = three-phase\n" /* line 6 */
#define UK_RING "[branch b]\nlabel = B\nbreaker = 32\nlayout = ring\nreturn = 5\n"            /* after UK: line 10 */
#define CHAIN "[outlet o]\nbranch = b\nrun = 5\n[outlet p]\nbranch = b\nrun = 5\nfrom = o\n"
#define PAIR "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\n[branch c]\nlabel = C\nbreaker = 20\nlegs = B\n"

/* ------------------------------------------------------------------ faults --------------------------------------- */

/* Contract, house-file.md, "What the newer errors name"; limits.md 0; fault.md 9. */
static const struct {
    const char *string;
    int line;
    const char *says;
} bad_rows[] = {
    /* an unknown word: the words of this house's rules, the nearest first */
    {US US_BRANCH "cable = nmb\n", 9, "unknown `nmb`, expected nm-b"},
    {US US_BRANCH "trip = fus\n", 9, "expected fuse or inverse-time"},
    {UK UK_BRANCH "trip = bs89\n", 8, "expected bs88, "},
    {IEC UK_BRANCH "method = D3\n", 8, "expected D, A1, A2, B1, B2, C, D1 or D2"},
    {UK "[room r]\nkind = bathroom\n", 6, "expected bath, kitchen"},
    {US US_BRANCH LAMP "category = heatpump\n", 13, "expected heat-pump"},
    {US US_BRANCH LAMP "control = maybe\n", 13, "expected none, setpoint or on-off"},
    {US US_BRANCH LAMP "rating_from = label\n", 13, "expected"},
    {UK "earthing = TNS\n", 5, "expected TN-S"},
    {US "code_edition = 2019\n", 5, "expected"},
    /* a key or word of other rules: whose it is, and what this house is */
    {UK UK_BRANCH "cable = nm-b\n", 8, "`cable` is of us rules; this house is uk"},
    {US "supply_fuse = 80 A\n", 5, "`supply_fuse` is of iec or uk rules; this house is us"},
    {US US_BRANCH "trip = gG\n", 9, "`gG` is of iec or uk rules; this house is us"},
    {UK UK_BRANCH "trip = fuse\n", 8, "`fuse` is of us rules; this house is uk"},
    {IEC UK_BRANCH "trip = bs3036\n", 8, "`bs3036` is of uk rules; this house is iec"},
    {IEC UK_BRANCH "method = 101\n", 8, "`101` is of uk rules; this house is iec"},
    {US US_BRANCH "method = 101\n", 9, "`101` is of uk rules; this house is us"},
    {US "ze = 0.3 ohm\n", 5, "`ze` is of iec or uk rules"},
    {US "electrode = 20\n", 5, "`electrode` is of iec or uk rules"},
    {US "ground = 10 C\n", 5, "`ground` is of iec or uk rules"},
    {US "soil = 1\n", 5, "`soil` is of iec or uk rules"},
    {US "earthing = TT\n", 5, "`TT` is of iec or uk rules"},
    {UK "earthing = grounded\n", 5, "`grounded` is of us rules"},
    {UK "code_edition = 2020\n", 5, "`code_edition` is of us rules"},
    {IEC "transformer = 50 kVA\n", 5, "`transformer` is of us rules"},
    {US US_BRANCH "insulation = xlpe\n", 9, "`insulation` is of iec or uk rules"},
    {US US_BRANCH "in_insulation = 1\n", 9, "`in_insulation` is of iec or uk rules"},
    {US US_BRANCH "rcd_ma = 30\n", 9, "`rcd_ma` is of iec or uk rules"},
    {US US_BRANCH "zs_measured = 1\n", 9, "`zs_measured` is of iec or uk rules"},
    {UK UK_BRANCH "instantaneous = 200\n", 8, "`instantaneous` is of us rules"},
    {IEC UK_BRANCH "cooker_socket = yes\n", 8, "`cooker_socket` is of uk rules; this house is iec"},
    {IEC UK_BRANCH "[outlet o]\nbranch = b\nspur = yes\n", 10, "`spur` is of uk rules"},
    {US US_BRANCH "[outlet o]\nbranch = b\nfuse = 13\n", 11, "`fuse` is of uk rules"},
    {UK UK_BRANCH LAMP "minimum_ampacity = 20\n", 12, "`minimum_ampacity` is of us rules"},
    {US US_BRANCH LAMP "connection = 2L+N\n", 13, "`connection` is of iec or uk rules"},
    {US US_BRANCH "terminals = 90\n", 9, "`90` is of iec or uk rules; this house is us, expected 60 or 75"},
    {UK UK_BRANCH "terminals = 75\n", 8, "expected"},
    /* neither main breaker nor supply fuse */
    {"\n[house]\nname = H\nrules = uk\n", 2, "neither main_breaker nor supply_fuse"},
    {"[house]\nname = H\nrules = iec\n", 1, "neither main_breaker nor supply_fuse"},
    {"[house]\nname = H\nrules = us\n", 1, "main_breaker is missing"},
    /* out of range */
    {US US_BRANCH "grouped = 21\n", 9, "whole number from 1 to 20"},
    {US US_BRANCH "grouped = 0\n", 9, "whole number from 1 to 20"},
    {US US_BRANCH "grouped = 1.5\n", 9, "whole number from 1 to 20"},
    {US US_BRANCH "[outlet o]\nbranch = b\ncontacts = 3\n", 11, "whole number from 1 to 2"},
    {US "built = 1700\n", 5, "whole number from 1850 to 2100"},
    {IEC_THREE "[branch b]\nlabel = B\nbreaker = 16\npoles = 3\nlegs = ABC\nthird_harmonic = 120 %\n", 11, "100%"},
    {UK UK_BRANCH "[outlet o]\nbranch = b\nfuse = 20 A\n", 10, "out of range, expected 1 A to 13 A"},
    {UK UK_BRANCH "[outlet o]\nbranch = b\nfuse = 0\n", 10, "out of range, expected 1 A to 13 A"},
    {US "transformer = 50\ntransformer_z = 25\n", 6, "out of range, expected 0.5% to 20%"},
    {US "transformer = 50\ntransformer_z = 0.2 %\n", 6, "out of range, expected 0.5% to 20%"},
    /* zero: above 0, and the unit */
    {UK "soil = 0\n", 5, "above 0 in K\u00b7m/W"},
    {UK "ze = 0\n", 5, "above 0 in ohm"},
    {UK "pscc = 0\n", 5, "above 0 in A"},
    {UK "electrode = 0 ohm\n", 5, "above 0 in ohm"},
    {US "transformer = 0\ntransformer_z = 2\n", 5, "above 0 in kVA"},
    {US US_BRANCH "breaking = 0\n", 9, "above 0 in A"},
    {UK UK_BRANCH "zs_measured = 0\n", 8, "above 0 in ohm"},
    {US "service_rating = 0\n", 5, "above 0 in A"},
    {UK "ze = -1\n", 5, "negative"},
    {UK "pscc = 16 MA\n", 5, "expected current in"},
    /* lists */
    {UK UK_BRANCH "rcd_ma = 31\n", 8, "expected 30, 10, 100, 300 or 500"},
    {US US_BRANCH "terminals = 61\n", 9, "expected 60 or 75"},
    /* both values */
    {US US_BRANCH "breaking = 15\n", 9, "below the device's rating of 20 A"},
    {US "[panel main]\nbreaking = 50\n", 6, "below the device's rating of 100 A"},
    {US US_BRANCH LAMP "minimum_ampacity = 20 A\nmaximum_breaker = 15 A\n", 14, "below minimum_ampacity = 20 A"},
    /* pairs */
    {US "transformer = 50 kVA\n", 5, "without transformer_z"},
    {US "transformer_z = 2\n", 5, "without transformer"},
    /* a rating with its trip */
    {UK "[branch b]\nlabel = B\nbreaker = B16\ntrip = C\n", 7, "so does trip = C, expected one of them"},
    {US "[branch b]\nlabel = B\nbreaker = B16\nlegs = A\n", 7,
     "of iec or uk rules; this house is us, expected the rating alone"},
    {UK "supply_fuse = maybe\n", 5, "or the word unknown"},
    {UK "[branch b]\nlabel = B\nbreaker = B\n", 7, "not a number"},
    {UK "[branch b]\nlabel = B\nbreaker = E16\n", 7, "not a number"},
    {UK "[branch b]\nlabel = B\nbreaker = B0\n", 7, "above 0"},
    {UK "[panel p]\nbreaker = B16\n", 6, "not a number"},
    /* shared neutrals */
    {US PAIR "shared_neutral = c\n", 13, "the branch itself"},
    {US PAIR "shared_neutral = d\n", 13, "no branch has the ID `d`"},
    {US PAIR "shared_neutral = b\npanel = p\n[panel p]\nbreaker = 60\npoles = 2\nlegs = AB\n", 13,
     "in panel main, this one in p"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = AB\npoles = 2\n[branch c]\nlabel = C\nbreaker = 20\nlegs = B\n"
        "shared_neutral = b\n",
     14, "1 and 2 poles, expected 1 pole on both"},
    {US PAIR "shared_neutral = b\n[branch d]\nlabel = D\nbreaker = 20\nlegs = A\nshared_neutral = c\n", 18,
     "one neutral for b, c, d, expected at most 2"},
    {US US_BRANCH "tied = yes\n", 9, "shares no neutral"},
    {US PAIR "shared_neutral = b\ntied = no\n[branch d]\nlabel = D\nbreaker = 20\nlegs = A\ntied = yes\n", 19,
     "shares no neutral"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\ntied = yes\n[branch c]\nlabel = C\nbreaker = 20\nlegs = B\n"
        "shared_neutral = b\ntied = no\n",
     15, "says yes at h.ini:9"},
    /* spurs */
    {UK UK_RING CHAIN "[outlet s]\nbranch = b\nrun = 2\nfrom = t\nspur = yes\n"
                      "[outlet t]\nbranch = b\nrun = 2\nfrom = s\nspur = yes\n",
     20, "a loop"},
    {UK UK_RING "[outlet o]\nbranch = b\nrun = 5\nspur = yes\n", 8, "a ring without outlets"},
    {UK UK_RING CHAIN "[outlet q]\nbranch = b\nrun = 5\nfrom = o\nspur = no\n", 20, "forks"},
    /* connections */
    {IEC_THREE "[branch b]\nlabel = B\nbreaker = 16\npoles = 3\nlegs = ABC\n" LAMP "connection = 2L+N\n", 15,
     "expected 2 poles and system = three-phase"},
    {IEC_THREE "[branch b]\nlabel = B\nbreaker = 16\nlegs = A\n" LAMP "connection = line-line\n", 14,
     "expected 2 poles"},
    {IEC UK_BRANCH LAMP "connection = 3L+N\n", 12, "expected 3 poles and system = three-phase"},
    {IEC UK_BRANCH "third_harmonic = 20\n", 8, "is of branches with 3 poles"},
    /* the rest */
    {US "[panel main]\nwire = 6 AWG copper\n", 6, "expected only name and breaking"},
    {US US_BRANCH "cpc = 11 AWG\n", 9, "or `same`"},
    {US US_BRANCH "ambient = -300 C\n", 9, "too small"},
    {US US_BRANCH "in_insulation = 1 C\n", 9, "in_insulation"},
    {UK "service_run = -3\n", 5, "negative"},
};

START_TEST(fault_names_its_line)
{
    struct error error = {0};
    struct house *house = read_string(bad_rows[_i].string, &error);
    ck_assert_msg(house == NULL, "no fault in:\n%s", bad_rows[_i].string);
    ck_assert_msg(message_has(error_message(&error), bad_rows[_i].line, bad_rows[_i].says),
                  "want line %d `%s`, got:\n%s\nin:\n%s", bad_rows[_i].line, bad_rows[_i].says, error_message(&error),
                  bad_rows[_i].string);
    ck_assert_ptr_nonnull(strstr(error_message(&error), "expected"));
    error_done(&error);
}
END_TEST

/* ------------------------------------------------------------------ values --------------------------------------- */

static struct house *good_house(const char *string)
{
    struct error error = {0};
    struct house *house = read_string(string, &error);
    ck_assert_msg(house != NULL, "%s\nin:\n%s", error_message(&error), string);
    return house;
}

/* What is written reads back, and is written alike. */
static const char *const same_rows[] = {
    "[house]\nname = H\nrules = uk\nsupply_fuse = unknown\n",
    "[house]\nname = H\nrules = uk\nmain_breaker = 100 A\nsupply_fuse = 80 A\nservice_rating = 60 A\n"
    "service_wire = 16 mm2 copper\nservice_run = 12 m\ngeneration = yes\nbuilt = 1962\nground = -2 C\nsoil = 1.5\n"
    "earthing = TN-C-S\nze = 0.35 ohm\nelectrode = 100 ohm\npscc = 16000 A\n",
    "[house]\nname = H\nrules = us\nmain_breaker = 100 A\ncode_edition = 2017\nearthing = grounded\n"
    "transformer = 25 kVA\ntransformer_z = 2%\n",
    "[house]\nname = H\nrules = us\nmain_breaker = 100 A\n\n[panel main]\nbreaking = 22000 A\n\n[branch b]\nlabel = B\n"
    "breaker = 20 A\ntrip = fuse\nlegs = A\nwire = 12 AWG copper\ncable = knob-and-tube\nterminals = 60\n"
    "ambient = -5 C\ngrouped = 4\nbreaking = 10000 A\ncpc = 14 AWG copper\ninstantaneous = 180 A\n",
    "[house]\nname = H\nrules = uk\nmain_breaker = 100 A\n\n[branch b]\nlabel = B\nbreaker = 32 A\ntrip = bs3036\n"
    "method = 101\nterminals = 90\ninsulation = xlpe\nin_insulation = 0.5 m\ncooker_socket = yes\ncpc = same\n"
    "rcd_ma = 100\nrcd_type = selective\nzs_measured = 1.2 ohm\nmeasured_at = -1 C\n",
    "[house]\nname = H\nrules = us\nmain_breaker = 100 A\n\n[branch b]\nlabel = B\nbreaker = 20 A\nlegs = A\n"
    "shared_neutral = c\ntied = no\n\n[branch c]\nlabel = C\nbreaker = 20 A\nlegs = B\n",
    "[house]\nname = H\nrules = uk\nmain_breaker = 100 A\n\n[room r]\nkind = crawl-space\n\n[branch b]\nlabel = B\n"
    "breaker = 32 A\n\n[outlet o]\nbranch = b\ncontacts = 1\nspur = yes\nfuse = 3 A\nzs_measured = 0.9 ohm\n"
    "measured_at = 25 C\n",
    "[house]\nname = H\nrules = us\nmain_breaker = 100 A\n\n[branch b]\nlabel = B\nbreaker = 20 A\nlegs = A\n\n"
    "[appliance a]\nname = A\nbranch = b\npower = 900 W\ncategory = heat-pump\nrating_from = plate\n"
    "minimum_ampacity = 27.7 A\nmaximum_breaker = 45 A\ncontrol = on-off\n",
    "[house]\nname = H\nrules = iec\nsystem = three-phase\nmain_breaker = 63 A\n\n[branch b]\nlabel = B\nbreaker = 16 "
    "A\n"
    "poles = 3\nlegs = ABC\nmethod = D2\nthird_harmonic = 33%\n\n[appliance a]\nname = A\nbranch = b\npower = 7200 W\n"
    "connection = 3L+N\n",
};

START_TEST(written_as_read)
{
    struct house *house = good_house(same_rows[_i]);
    char *written = write_house(house);
    ck_assert_str_eq(written, same_rows[_i]);
    free(written);
    house_free(house);
}
END_TEST

/* The same said otherwise. */
static const struct {
    const char *string;
    const char *written; /* part of it */
} other_rows[] = {
    {UK "[branch b]\nlabel = B\nbreaker = B16\n", "breaker = 16 A\ntrip = B\n"},
    {IEC "[branch b]\nlabel = B\nbreaker = gG35 A\n", "breaker = 35 A\ntrip = gG\n"},
    {UK UK_BRANCH "method = D1\n", "method = D\n"},
    {UK UK_BRANCH "cpc = 1.5mm\u00b2\n", "cpc = 1.5 mm2 copper\n"},
    {UK "pscc = 16 kA\n", "pscc = 16000 A\n"},
    {UK "ground = 10 \u00b0C\n", "ground = 10 C\n"},
    {US "transformer = 25000 VA\ntransformer_z = 2\n", "transformer = 25 kVA\n"},
    {US US_BRANCH "method = C\n", "method = C\n"}, /* of before: it read, and meant nothing */
};

START_TEST(said_otherwise)
{
    struct house *house = good_house(other_rows[_i].string);
    char *written = write_house(house);
    ck_assert_msg(strstr(written, other_rows[_i].written) != NULL, "want %s in:\n%s", other_rows[_i].written, written);
    free(written);
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ defaults ------------------------------------- */

START_TEST(supply_defaults)
{
    struct house *uk = good_house(UK_FUSE UK_BRANCH);
    ck_assert(isnan(uk->main_breaker_a) && uk->supply_fuse_a == 80 && uk->service_a == 80);
    ck_assert(uk->service_from == SERVICE_FROM_SUPPLY_FUSE && uk->panels[0].breaker_a == 80);
    ck_assert(uk->ground_c == 20 && uk->soil_km_per_w == 2.5 && uk->earthing == EARTHING_NOT_SAID);
    ck_assert(uk->code_edition == 0 && uk->generation == 0 && uk->built_year == 0 && isnan(uk->ze_ohm));
    house_free(uk);
    struct house *us = good_house(US US_BRANCH);
    ck_assert(us->service_a == 100 && us->service_from == SERVICE_FROM_MAIN_BREAKER && isnan(us->supply_fuse_a));
    ck_assert(us->earthing == EARTHING_GROUNDED && us->code_edition == 2023 && isnan(us->ground_c));
    house_free(us);
    struct house *both = good_house(UK "supply_fuse = 60\n");
    ck_assert(both->service_a == 60 && both->panels[0].breaker_a == 60);
    house_free(both);
    struct house *beside = good_house(UK "supply_fuse = unknown\n");
    ck_assert(beside->service_a == 100 && beside->supply_fuse_a == 0);
    house_free(beside);
    struct house *rated = good_house(UK "service_rating = 40\n");
    ck_assert(rated->service_a == 40 && rated->service_from == SERVICE_FROM_RATING &&
              rated->panels[0].breaker_a == 100);
    house_free(rated);
}
END_TEST

/* Contract, limits.md 0: an unknown fuse alone counts as 60 A (uk), 25 A (iec). */
START_TEST(unknown_fuse_is_assumed)
{
    static const struct {
        const char *string;
        double service_a;
    } rows[] = {{"[house]\nname = H\nrules = uk\nsupply_fuse = unknown\n", 60},
                {"[house]\nname = H\nrules = iec\nsupply_fuse = unknown\n", 25}};
    for (size_t i = 0; i < 2; i++) {
        struct house *house = good_house(rows[i].string);
        ck_assert(house->service_a == rows[i].service_a && house->service_from == SERVICE_ASSUMED);
        house_free(house);
    }
}
END_TEST

START_TEST(circuit_defaults)
{
    struct house *house = good_house(UK "ambient = 25 C\n[branch b]\nlabel = B\nbreaker = C20\nprotection = rcd\n"
                                        "[panel p]\nbreaker = 63\nambient = 40\n");
    const struct branch *branch = &house->branches[0];
    ck_assert(branch->trip == TRIP_C && branch->breaker_a == 20 && branch->terminals_c == 70);
    ck_assert(branch->insulation == INSULATION_PVC && branch->cable == CABLE_NOT_SAID && branch->ambient_c == 25);
    ck_assert(branch->grouped == 1 && branch->in_insulation_m == 0 && branch->tied == TIED_NOT_SAID);
    ck_assert(branch->rcd_ma == 30 && branch->rcd_type == RCD_GENERAL && branch->measured_at_c == 20);
    ck_assert(isnan(branch->breaking_a) && branch->cpc.conductor == NULL && !branch->cpc.same);
    ck_assert(branch->neutral_set == NO_INDEX && branch->third_harmonic_percent == 0);
    ck_assert(house->panels[1].ambient_c == 40 && house->panels[0].ambient_c == 25 && house->panels[1].grouped == 1);
    house_free(house);
    house = good_house(US US_BRANCH);
    ck_assert(house->branches[0].terminals_c == 0 && house->branches[0].rcd_ma == 0);
    house_free(house);
}
END_TEST

START_TEST(neutrals_make_sets)
{
    struct house *house =
        good_house(US_THREE "[branch a]\nlabel = A\nbreaker = 20\nlegs = A\n"
                            "[branch b]\nlabel = B\nbreaker = 20\nlegs = B\nshared_neutral = c\ntied = yes\n"
                            "[branch c]\nlabel = C\nbreaker = 20\nlegs = C\nshared_neutral = d\n"
                            "[branch d]\nlabel = D\nbreaker = 20\nlegs = A\n");
    ck_assert(house->branches[0].neutral_set == NO_INDEX && house->branches[0].tied == TIED_NOT_SAID);
    for (size_t i = 1; i < 4; i++) {
        ck_assert(house->branches[i].neutral_set == 1 && house->branches[i].tied == TIED_YES);
    }
    ck_assert(house_share_neutral(house, 1, 3) && !house_share_neutral(house, 0, 1) &&
              !house_share_neutral(house, 0, 0));
    house_free(house);
}
END_TEST

/* Contract, limits.md 0 and 5. */
START_TEST(outlets_have_contacts_and_spurs)
{
    static const struct {
        const char *string;
        int contacts;
    } rows[] = {{US US_BRANCH "[outlet o]\nbranch = b\n", 2},
                {US "[branch b]\nlabel = B\nbreaker = 30\nlegs = A\n[outlet o]\nbranch = b\n", 1},
                {UK UK_BRANCH "[outlet o]\nbranch = b\n", 2},
                {IEC UK_BRANCH "[outlet o]\nbranch = b\n", 1},
                {IEC UK_BRANCH "[outlet o]\nbranch = b\ncontacts = 2\n", 2}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct house *house = good_house(rows[i].string);
        ck_assert_int_eq(house->outlets[0].contacts, rows[i].contacts);
        house_free(house);
    }
    struct house *house = good_house(UK UK_RING "[outlet u]\nbranch = b\nrun = 1\nfrom = t\n" CHAIN
                                                "[outlet s]\nbranch = b\nrun = 2\nfrom = o\nspur = yes\n"
                                                "[outlet t]\nbranch = b\nrun = 2\nfrom = s\n"
                                                "[outlet f]\nbranch = b\nrun = 0\nfrom = p\nfuse = 13\n");
    static const bool spurs[] = {true, false, false, true, true, true};
    for (size_t i = 0; i < house->outlet_count; i++) {
        ck_assert_msg(house->outlets[i].is_spur == spurs[i], "%s", house->outlets[i].id);
    }
    house_free(house);
}
END_TEST

START_TEST(rooms_have_kinds)
{
    static const struct {
        const char *room;
        int kind;
    } rows[] = {{"[room bath-2]\n", ROOM_BATH},
                {"[room r]\nname = Guest bathroom\n", ROOM_BATH},
                {"[room garage]\nkind = living\n", ROOM_LIVING},
                {"[room r]\nname = Batholith\n", ROOM_OTHER},
                {"[room crawl-space]\n", ROOM_CRAWL_SPACE},
                {"[room r]\n", ROOM_OTHER}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text string = {0};
        text_printf(&string, "%s%s", US, rows[i].room);
        struct house *house = good_house(text_string(&string));
        ck_assert_msg(house->rooms[0].kind == rows[i].kind, "%s: %s", rows[i].room,
                      room_kind_word(house->rooms[0].kind));
        house_free(house);
        text_done(&string);
    }
}
END_TEST

/* Contract, house-file.md: a vehicle is continuous by itself. */
START_TEST(a_vehicle_is_continuous)
{
    struct house *house = good_house(UK UK_BRANCH LAMP "category = vehicle\n");
    ck_assert_int_eq(house->appliances[0].continuous, 1);
    house_free(house);
    house = good_house(UK UK_BRANCH LAMP "category = heat-pump\n");
    ck_assert_int_eq(house->appliances[0].continuous, 0);
    house_free(house);
}
END_TEST

/* The table of keys and the rows of the rule sets name the same keys. */
START_TEST(keys_of_rule_words_have_rows)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        for (size_t i = 0; i < sections[kind].key_count; i++) {
            const struct key *key = &sections[kind].keys[i];
            bool words = (key->flags & KEY_RULE_WORDS) != 0;
            ck_assert_msg(words == (key->type == KEY_CHOICE && reference_key_has_words(key->name)), "%s", key->name);
            for (size_t k = 0; words && k < ref_choice_count; k++) {
                const struct ref_choice *row = &ref_choice_rows[k];
                bool found = strcmp(row->key, key->name) != 0;
                for (const struct choice *choice = key->choices; !found && choice->word != NULL; choice++) {
                    found = strcmp(choice->word, row->word) == 0;
                }
                ck_assert_msg(found, "%s has no word %s", key->name, row->word);
            }
        }
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("housefile_keys");
    TCase *tcase = tcase_create("housefile_keys");
    tcase_add_loop_test(tcase, fault_names_its_line, 0, ROWS(bad_rows));
    tcase_add_loop_test(tcase, written_as_read, 0, ROWS(same_rows));
    tcase_add_loop_test(tcase, said_otherwise, 0, ROWS(other_rows));
    tcase_add_test(tcase, supply_defaults);
    tcase_add_test(tcase, unknown_fuse_is_assumed);
    tcase_add_test(tcase, circuit_defaults);
    tcase_add_test(tcase, neutrals_make_sets);
    tcase_add_test(tcase, outlets_have_contacts_and_spurs);
    tcase_add_test(tcase, rooms_have_kinds);
    tcase_add_test(tcase, a_vehicle_is_continuous);
    tcase_add_test(tcase, keys_of_rule_words_have_rows);
    suite_add_tcase(suite, tcase);
    return suite;
}
