/* Demand by the published methods: printed examples line by line, and what must hold of any house. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/demand.h"
#include "demand_houses.h"
#include "fixture.h"
#include "read_house.h"

enum { FIELDS_MAX = 9, LINE_ROOM = 1024 };

/* ------------------------------------------------------------------ helpers ------------------------------- */

static struct house *read_case(const char *name)
{
    struct house *house = read_named(demand_houses, sizeof demand_houses / sizeof demand_houses[0], name);
    ck_assert_msg(house != NULL, "no case %s", name);
    return house;
}

static struct demand *demand_by(const struct house *house, enum demand_method method)
{
    struct demand_options options = {.method = method, .measured_va = NAN, .added_from = NO_INDEX};
    return demand_of(house, &options);
}

static const struct demand_line *line_of(const struct demand_list *list, const char *what)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->line[i].what, what) == 0) {
            return &list->line[i];
        }
    }
    return NULL;
}

static double counted_of(const struct demand *demand, const char *what)
{
    const struct demand_line *line = line_of(&demand->lines, what);
    ck_assert_msg(line != NULL, "no line %s", what);
    return line->counted_va;
}

static void assert_close(const char *what, double got, double want)
{
    ck_assert_msg(fabs(got - want) <= 1e-9 * fmax(1, fabs(want)), "%s: got %.12g, want %.12g", what, got, want);
}

/* ------------------------------------------------------------------ published examples -------------------- */

static double total_of(const struct demand *demand, const char *column)
{
    const struct {
        const char *name;
        double value;
    } totals[] = {
        {"total_va", demand->total_va},
        {"current_a", demand->current_a},
        {"service_a", demand->service_a},
        {"neutral_va", demand->neutral_va},
        {"leg_a", demand->leg_current_a[0]},
        {"leg_b", demand->leg_current_a[1]},
        {"neutral_line_a", demand->neutral_line_a},
        {"neutral_current_a", demand->neutral_current_a},
    };
    for (size_t i = 0; i < sizeof totals / sizeof totals[0]; i++) {
        if (strcmp(totals[i].name, column) == 0) {
            return totals[i].value;
        }
    }
    ck_abort_msg("no total %s", column);
    return NAN;
}

static double value_of(const struct house *house, const struct demand *demand, const char *what, const char *column)
{
    if (strcmp(what, "-") == 0) {
        return total_of(demand, column);
    }
    bool neutral = strncmp(what, "neutral ", 8) == 0;
    const struct demand_line *line = line_of(neutral ? &demand->neutral : &demand->lines, what + (neutral ? 8 : 0));
    if (line == NULL) {
        return NAN;
    }
    return strcmp(column, "load_va") == 0     ? line->load_va
           : strcmp(column, "counted_a") == 0 ? line->counted_va / house->voltage_v
                                              : line->counted_va;
}

/* id, case, method, line, column, want, tolerance, kind, source */
static void outside_row(char *const *field)
{
    enum demand_method method = DEMAND_STANDARD;
    while (method < DEMAND_METHOD_COUNT && strcmp(demand_method_word(method), field[2]) != 0) {
        method++;
    }
    ck_assert_msg(method < DEMAND_METHOD_COUNT, "%s: method %s", field[0], field[2]);
    struct house *house = read_case(field[1]);
    struct demand *demand = demand_by(house, method);
    double got = value_of(house, demand, field[3], field[4]);
    double want = strtod(field[5], NULL);
    double hair = 1e-9 * fabs(want);
    ck_assert_msg(fabs(got - want) <= strtod(field[6], NULL) + hair, "%s: got %.10g, want %s (%s)", field[0], got,
                  field[5], field[8]);
    demand_free(demand);
    house_free(house);
}

START_TEST(published_examples_come_out_line_by_line)
{
    char path[LINE_ROOM];
    char line[LINE_ROOM];
    const char *tests = getenv("AMPSUM_TESTS");
    ck_assert_ptr_nonnull(tests);
    snprintf(path, sizeof path, "%s/outside/demand.tsv", tests);
    FILE *rows = fopen(path, "r");
    ck_assert_ptr_nonnull(rows);
    int count = 0;
    while (fgets(line, sizeof line, rows) != NULL) {
        if (line[0] == '#' || strncmp(line, "id\t", 3) == 0) {
            continue;
        }
        line[strcspn(line, "\n")] = '\0';
        char *fields[FIELDS_MAX] = {0};
        ck_assert_int_eq(fixture_split(line, '\t', fields, FIELDS_MAX), FIELDS_MAX);
        outside_row(fields);
        count++;
    }
    fclose(rows);
    ck_assert_int_ge(count, 70);
}
END_TEST

/* ------------------------------------------------------------------ any house ----------------------------- */

static void check_sums(const struct demand *demand)
{
    double sum_va = 0;
    for (size_t i = 0; i < demand->lines.count; i++) {
        const struct demand_line *line = &demand->lines.line[i];
        assert_close(line->what, line->counted_va, line->load_va * line->factor);
        ck_assert_msg(line->source[0] != '\0', "%s: no source", line->what);
        ck_assert_msg(line->role == DEMAND_COUNTED || !(line->factor > 0), "%s: counted though left out", line->what);
        sum_va += line->counted_va;
    }
    assert_close("total", demand->total_va, sum_va);
    assert_close("current", demand->current_a, sum_va / demand->divisor_v);
    ck_assert(isnan(demand->service_a) || demand->service_a >= demand->heaviest_a * (1 - 1e-9));
    ck_assert(demand->heaviest_a >= demand->current_a);
}

static void check_house(const struct house *house)
{
    double *heaviest_a = calloc(house->panel_count, sizeof *heaviest_a);
    ck_assert_ptr_nonnull(heaviest_a);
    demand_panels(house, heaviest_a);
    for (size_t panel = 0; panel < house->panel_count; panel++) {
        for (enum demand_method method = DEMAND_STANDARD; method < DEMAND_METHOD_COUNT; method++) {
            if (!demand_method_exists(house->rules, method)) {
                continue;
            }
            struct demand_options options = {
                .method = method, .panel = panel, .measured_va = 7000, .added_from = house->appliance_count};
            struct demand *demand = demand_of(house, &options);
            check_sums(demand);
            if (method == demand_default_method(house->rules)) {
                assert_close("all panels at once", heaviest_a[panel], demand->heaviest_a);
            }
            demand_free(demand);
        }
    }
    free(heaviest_a);
}

START_TEST(lines_add_up_and_carry_sources)
{
    for (size_t i = 0; i < sizeof demand_houses / sizeof demand_houses[0]; i++) {
        struct house *house = read_text(demand_houses[i].text);
        check_house(house);
        house_free(house);
    }
    static const char *const files[] = {"us.ini", "uk.ini", "iec.ini"};
    for (size_t i = 0; i < 3; i++) {
        char path[LINE_ROOM];
        struct house *house = NULL;
        struct error error = {0};
        snprintf(path, sizeof path, "%s/%s", getenv("AMPSUM_DEMO"), files[i]);
        ck_assert_msg(housefile_read(path, &house, &error), "%s", error_message(&error));
        check_house(house);
        house_free(house);
    }
}
END_TEST

/* A chain and a fork of sub-panels, loads of many kinds on each. */
START_TEST(panels_at_once_agree_with_one_by_one)
{
    struct text text = {0};
    text_add(&text, US("floor_area = 1000 ft2\n"));
    for (int p = 1; p <= 9; p++) {
        text_printf(&text, "[panel p%d]\nbreaker = 60 A\npoles = 2\nlegs = AB\n", p);
        if (p > 1) {
            text_printf(&text, "from = p%d\n", p % 4 == 0 ? 1 : (p + 1) / 2);
        }
    }
    static const char *const kinds[] = {"range",   "dryer",         "vehicle", "space-heating", "air-conditioning",
                                        "cooking", "water-heating", "motor",   "lighting",      "other"};
    uint64_t state = 4711;
    for (int i = 0; i < 120; i++) {
        unsigned p = fixture_random(&state, 10);
        bool pair = fixture_random(&state, 2) == 0;
        text_printf(&text, "[branch b%d]\nlabel = b\nbreaker = 40 A\n%s", i,
                    pair                             ? "poles = 2\nlegs = AB\n"
                    : fixture_random(&state, 2) == 0 ? "legs = A\n"
                                                     : "legs = B\n");
        if (p > 0) {
            text_printf(&text, "panel = p%u\n", p);
        }
        text_printf(&text, "[appliance a%d]\nname = a\nbranch = b%d\npower = %u W\ncategory = %s\n", i, i,
                    100 + fixture_random(&state, 9000), kinds[fixture_random(&state, 10)]);
        text_add(&text, fixture_random(&state, 2) == 0 ? "fixed = yes\n" : "behaviour = motor\n");
        if (fixture_random(&state, 3) == 0) {
            text_printf(&text, "group = g%u\n", fixture_random(&state, 12));
        }
    }
    struct house *house = read_text(text_string(&text));
    check_house(house);
    house_free(house);
    text_done(&text);
}
END_TEST

/* ------------------------------------------------------------------ rules one by one ---------------------- */

static struct house *fixed_house(unsigned large, unsigned small)
{
    struct text text = {0};
    text_add(&text, US("") PAIR("pair"));
    text_printf(&text, LOAD("l", "Large", "pair", "power = 500 W\nfixed = yes\ncount = %u\n"), large);
    text_printf(&text, LOAD("s", "Small", "pair", "power = 499 W\nfixed = yes\ncount = %u\n"), small);
    struct house *house = read_text(text_string(&text));
    text_done(&text);
    return house;
}

/* 220.53 (2020): four or more of at least 500 W; smaller ones neither count nor are reduced. */
START_TEST(four_fixed_appliances_are_reduced)
{
    const struct {
        unsigned large, small;
        double factor;
    } rows[] = {{3, 1, 1}, {3, 9, 1}, {4, 1, 0.75}, {7, 2, 0.75}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct house *house = fixed_house(rows[i].large, rows[i].small);
        struct demand *demand = demand_by(house, DEMAND_STANDARD);
        double want_va = 500.0 * rows[i].large * rows[i].factor + 499.0 * rows[i].small;
        double general_va = 3000 + 0.35 * 1500; /* two small-appliance circuits and a laundry one, no floor area */
        assert_close("fixed", demand->total_va, want_va + general_va);
        demand_free(demand);
        house_free(house);
    }
}
END_TEST

START_TEST(small_dryers_and_vehicles_count_their_minimum)
{
    struct house *house =
        read_text(US("") PAIR("pair") LOAD("d", "Dryer", "pair", "power = 4.2 kW\ncategory = dryer\n")
                      LOAD("v", "Charger", "pair", "power = 3.3 kW\ncategory = vehicle\n")
                          LOAD("w", "Charger outside", "pair", "power = 9.6 kW\ncategory = vehicle\n"));
    struct demand *demand = demand_by(house, DEMAND_STANDARD);
    assert_close("dryer", counted_of(demand, "Clothes dryer"), 5000);
    assert_close("small charger", counted_of(demand, "Charger"), 7200);
    assert_close("large charger", counted_of(demand, "Charger outside"), 9600);
    demand_free(demand);
    house_free(house);
}
END_TEST

/* Editions renumbered floor area and its demand; the rule on vehicles came in 2023. */
START_TEST(an_edition_has_its_own_numbers)
{
    static const struct {
        const char *head;
        const char *area;
        const char *share;
        double charger_va;
    } rows[] = {
        {"code_edition = 2017\nfloor_area = 100 m2\n", "220.12 (2017 edition)", "Table 220.42 (2017 edition)", 3300},
        {"code_edition = 2020\nfloor_area = 100 m2\n", "220.14(J) (2020", "Table 220.42 (2020", 3300},
        {"code_edition = 2023\nfloor_area = 100 m2\n", "220.41 (2023", "Table 220.45 (2023", 7200},
        {"floor_area = 100 m2\n", "220.41 (2023", "Table 220.45 (2023", 7200},
        {"code_edition = 2026\nfloor_area = 100 m2\n", "220.41 (2023", "Table 220.45 (2023", 7200},
    };
    struct text text = {0};
    text_printf(&text, US("%s") PAIR("pair") LOAD("v", "Charger", "pair", "power = 3.3 kW\ncategory = vehicle\n"),
                rows[_i].head);
    struct house *house = read_text(text_string(&text));
    text_done(&text);
    struct demand *demand = demand_by(house, DEMAND_STANDARD);
    bool area = false;
    bool share = false;
    for (size_t i = 0; i < demand->lines.count; i++) {
        const char *source = demand->lines.line[i].source;
        area = area || strncmp(source, rows[_i].area, strlen(rows[_i].area)) == 0;
        share = share || strncmp(source, rows[_i].share, strlen(rows[_i].share)) == 0;
        ck_assert(rows[_i].charger_va > 3300 || strstr(source, "220.57") == NULL);
    }
    ck_assert(area && share);
    assert_close("charger", counted_of(demand, "Charger"), rows[_i].charger_va);
    demand_free(demand);
    house_free(house);
}
END_TEST

START_TEST(without_floor_area_the_answer_says_so)
{
    struct house *house = read_case("ovens-two");
    struct demand *demand = demand_by(house, DEMAND_STANDARD);
    bool said = false;
    for (size_t i = 0; demand->notes[i] != NULL; i++) {
        said = said || strstr(demand->notes[i], "floor_area") != NULL;
    }
    ck_assert(said);
    ck_assert_ptr_nonnull(
        line_of(&demand->lines, "General lighting and receptacles: left out, the house gives no floor_area"));
    demand_free(demand);
    house_free(house);
}
END_TEST

/* Of a group the largest; heating and cooling are compared after their factors, whatever their group. */
START_TEST(of_a_group_only_the_largest_counts)
{
    struct house *house = read_text(
        US("floor_area = 1000 ft2\n") PAIR("pair")
            LOAD("d", "Dryer", "pair", "power = 6 kW\ncategory = dryer\ngroup = share\n")
                LOAD("v", "Charger", "pair", "power = 9 kW\ncategory = vehicle\ngroup = share\n")
                    LOAD("h", "Furnace", "pair", "power = 6 kW\nfixed = yes\ncategory = space-heating\ngroup = air\n")
                        LOAD("c", "Cooler", "pair",
                             "power = 5 kW\nfixed = yes\ncategory = air-conditioning\ngroup = air\n"));
    struct demand *demand = demand_by(house, DEMAND_OPTIONAL);
    ck_assert_int_eq(line_of(&demand->lines, "Dryer")->role, DEMAND_LEFT_OUT);
    ck_assert_int_eq(line_of(&demand->lines, "Charger")->role, DEMAND_GATHERED);
    assert_close("cooling over 65 % of heating", counted_of(demand, "Air conditioning"), 5000);
    /* 3000 + 3000 + 1500 of general load and the charger: 16,500 VA */
    assert_close("total", demand->total_va, 10000 + 0.4 * 6500 + 5000);
    demand_free(demand);
    house_free(house);
}
END_TEST

START_TEST(added_heating_stands_beside_the_sum)
{
    struct house *house =
        read_text(US("floor_area = 1000 ft2\n") PAIR("pair")
                      LOAD("w", "Water heater", "pair", "power = 4.5 kW\nfixed = yes\ncategory = water-heating\n")
                          LOAD("h", "Heater", "pair", "power = 2 kW\nfixed = yes\ncategory = space-heating\n"));
    struct demand_options options = {.method = DEMAND_EXISTING, .measured_va = NAN, .added_from = NO_INDEX};
    struct demand *all_old = demand_of(house, &options);
    /* 7500 general + 4500 + 2000 = 14,000 VA: 8000 + 40 % of 6000 */
    assert_close("nothing added", all_old->total_va, 8000 + 0.4 * 6000);
    options.added_from = 1;
    struct demand *added = demand_of(house, &options);
    assert_close("heater added", added->total_va, 8000 + 0.4 * 4000 + 2000);
    demand_free(all_old);
    demand_free(added);
    house_free(house);
}
END_TEST

START_TEST(measured_demand_takes_a_quarter_more_and_the_added_load)
{
    struct house *house = read_case("d1a");
    struct demand_options options = {.method = DEMAND_MEASURED, .measured_va = 10000, .added_from = 1};
    struct demand *demand = demand_of(house, &options);
    assert_close("total", demand->total_va, 12500 + 5500);
    ck_assert(isnan(demand->neutral_va));
    demand_free(demand);
    house_free(house);
}
END_TEST

/* By hand: each unit of 1200 W at 120 V puts 10 A on the neutral of its leg, where nothing stands on the other. */
START_TEST(each_unit_of_a_load_is_on_the_neutral)
{
    double line_a[4];
    for (unsigned units = 1; units < 4; units++) {
        struct text text = {0};
        text_printf(&text,
                    "[house]\nname = x\nrules = us\nmain_breaker = 100 A\nfloor_area = 100 ft2\n"
                    "[branch f]\nlabel = F\nbreaker = 40 A\nlegs = A\n"
                    "[appliance h]\nname = Pump\nbranch = f\npower = 1200 W\nfixed = yes\ncount = %u\n",
                    units);
        struct house *house = read_text(text_string(&text));
        struct demand *demand = demand_by(house, DEMAND_STANDARD);
        line_a[units] = demand->neutral_line_a;
        demand_free(demand);
        house_free(house);
        text_done(&text);
    }
    assert_close("the second", line_a[2] - line_a[1], 10);
    assert_close("the third", line_a[3] - line_a[2], 10);
}
END_TEST

START_TEST(amperes_follow_the_supply)
{
    const struct {
        const char *keys;
        double divisor_v;
    } rows[] = {
        {"rules = us\n", 240},
        {"rules = us\nsystem = three-phase\n", 360},
        {"rules = us\nsystem = single-phase\n", 120},
        {"rules = iec\n", 230},
        {"rules = iec\nsystem = three-phase\n", 690},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_printf(&text, "[house]\nname = x\nmain_breaker = 63 A\n%s", rows[i].keys);
        struct house *house = read_text(text_string(&text));
        assert_close(rows[i].keys, demand_divisor_v(house, 0), rows[i].divisor_v);
        struct demand *demand = demand_by(house, demand_default_method(house->rules));
        check_sums(demand);
        demand_free(demand);
        house_free(house);
        text_done(&text);
    }
}
END_TEST

/* uk: what the kinds of Table 6.2 take from the house's keys. */
START_TEST(diversity_follows_the_keys)
{
    struct house *house = read_text(
        UK BRANCH("hot", "") BRANCH("lamps", "")
            BRANCH("fixed",
                   "") "[branch ring]\nlabel = Ring\nbreaker = 32 A\n[branch radial]\nlabel = Radial\nbreaker = 20 "
                       "A\n" LOAD("s", "Shower", "hot", "power = 9.6 kW\nfixed = yes\ncategory = water-heating\n")
                           LOAD("t", "Immersion", "hot", "power = 3 kW\nfixed = yes\ncategory = water-heating\n")
                               LOAD("l", "Lamps", "lamps", "power = 240 W\ncount = 5\ncategory = lighting\n")
                                   LOAD("h", "Panel heater", "fixed",
                                        "power = 4.8 kW\nfixed = yes\ncategory = space-heating\n")
                                       LOAD("n", "Night heater", "fixed",
                                            "power = 2.4 kW\nfixed = yes\ncontinuous = yes\ncategory = space-heating\n")
                                           LOAD("k", "Kettle", "ring", "power = 3 kW\ncategory = cooking\n")
                                               LOAD("f", "Fan", "ring", "power = 40 W\nfixed = yes\n")
                                                   LOAD("i", "Iron", "radial", "power = 2 kW\n"));
    struct demand *demand = demand_by(house, DEMAND_DIVERSITY);
    assert_close("shower 100 %", counted_of(demand, "Instantaneous water heaters"), 9600);
    assert_close("immersion 100 %", counted_of(demand, "Water heaters with thermostat"), 3000);
    assert_close("lighting 66 %", counted_of(demand, "Lighting, 5 of them"), 0.66 * 1200);
    assert_close("20 A of heating: 10 + half of 10", counted_of(demand, "Heating and power"), 15 * 240);
    assert_close("night heater 100 %", counted_of(demand, "Thermal storage heating"), 2400);
    assert_close("32 A + 40 % of 20 A",
                 counted_of(demand, "Ring and radial final circuits of standard kind, 2 of them"),
                 (32 + 0.4 * 20) * 240);
    ck_assert(isnan(demand->neutral_va));
    demand_free(demand);
    house_free(house);
}
END_TEST

/* A sub-panel has no floor area: its lighting and plug-in loads as connected, its own circuits only. */
START_TEST(a_feeder_carries_what_its_panel_has)
{
    struct house *house = read_text(
        US("floor_area = 2000 ft2\n") "[panel shed]\nbreaker = 60 A\npoles = 2\nlegs = AB\n"
                                      "[branch plugs]\nlabel = Plugs\nbreaker = 20 A\nlegs = A\npanel = shed\n"
                                      "[branch counter]\nlabel = Counter\nbreaker = 20 A\nlegs = B\npanel = "
                                      "shed\npurpose = small-appliance\n"
                                      "[branch home]\nlabel = Home\nbreaker = 20 A\nlegs = B\n" LOAD(
                                          "a", "Lamp", "plugs", "power = 700 W\ncategory = lighting\n")
                                          LOAD("b", "Kettle", "counter", "power = 1500 W\ncategory = cooking\n")
                                              LOAD("c", "Heater", "home",
                                                   "power = 1500 W\nfixed = yes\ncategory = space-heating\n"));
    struct demand_options options = {.method = DEMAND_STANDARD, .panel = 1, .measured_va = NAN, .added_from = NO_INDEX};
    struct demand *demand = demand_of(house, &options);
    assert_close("one counter circuit and the lamp", demand->total_va, 1500 + 700);
    assert_close("leg A: half the circuit and the lamp", demand->leg_current_a[0], 1500.0 / 240 + 700.0 / 120);
    assert_close("first size over it", demand->service_a, 15);
    demand_free(demand);
    house_free(house);
}
END_TEST

/* A heat pump is one by its category, whatever its name says; what feeds the house is no load. */
START_TEST(the_category_says_what_a_load_is)
{
    struct house *house =
        read_text(US("floor_area = 1000 ft2\n") PAIR("pair")
                      LOAD("a", "Heat pump", "pair", "power = 3 kW\nfixed = yes\ncategory = air-conditioning\n")
                          LOAD("b", "Box outside", "pair", "power = 4 kW\nfixed = yes\ncategory = heat-pump\n")
                              LOAD("g", "Spare", "pair", "power = 5 kW\nfixed = yes\ncategory = generator\n"));
    struct demand *demand = demand_by(house, DEMAND_OPTIONAL);
    assert_close("the pump", counted_of(demand, "Heat pump"), 4000);
    ck_assert_int_eq(line_of(&demand->lines, "Air conditioning: left out, the other is larger")->role, DEMAND_LEFT_OUT);
    assert_close("total", demand->total_va, 7500 + 4000);
    demand_free(demand);
    house_free(house);
}
END_TEST

/* uk: 5 A for the socket on the cooker's switch, once a circuit of cooking. */
START_TEST(a_socket_on_the_cookers_switch_adds_its_own)
{
    for (int socket = 0; socket < 2; socket++) {
        struct text text = {0};
        text_printf(&text,
                    UK BRANCH("cooker", "cooker_socket = %s\n")
                        LOAD("c", "Cooker", "cooker", "power = 12 kW\ncategory = range\n")
                            BRANCH("other", "cooker_socket = yes\n"),
                    socket == 0 ? "no" : "yes");
        struct house *house = read_text(text_string(&text));
        struct demand *demand = demand_by(house, DEMAND_DIVERSITY);
        assert_close("10 A, 30 % of 40 A, the socket", demand->total_va, 240 * (10 + 0.3 * 40 + (socket == 0 ? 0 : 5)));
        demand_free(demand);
        house_free(house);
        text_done(&text);
    }
}
END_TEST

/* By load a circuit counts what hangs on it, never more than its device; by device what its device is. */
START_TEST(a_circuit_counts_by_its_loads_or_its_device)
{
    struct house *house =
        read_text(UK "[branch s1]\nlabel = Down\nbreaker = 32 A\n[branch s2]\nlabel = Up\nbreaker = 16 A\n" LOAD(
            "a", "Kettle", "s1", "power = 2.4 kW\n") LOAD("b", "Heaters", "s2", "power = 2.4 kW\ncount = 2\n"));
    struct demand *by_device = demand_by(house, DEMAND_DIVERSITY);
    struct demand *by_load = demand_by(house, DEMAND_BY_LOAD);
    assert_close("by device", by_device->total_va, 240 * (32 + 0.4 * 16));
    assert_close("by load", by_load->total_va, 240 * (16 + 0.4 * 10));
    demand_free(by_device);
    demand_free(by_load);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("demand");
    TCase *tcase = tcase_create("demand");
    tcase_add_test(tcase, published_examples_come_out_line_by_line);
    tcase_add_test(tcase, lines_add_up_and_carry_sources);
    tcase_add_test(tcase, panels_at_once_agree_with_one_by_one);
    tcase_add_test(tcase, four_fixed_appliances_are_reduced);
    tcase_add_test(tcase, small_dryers_and_vehicles_count_their_minimum);
    tcase_add_loop_test(tcase, an_edition_has_its_own_numbers, 0, 5);
    tcase_add_test(tcase, without_floor_area_the_answer_says_so);
    tcase_add_test(tcase, of_a_group_only_the_largest_counts);
    tcase_add_test(tcase, added_heating_stands_beside_the_sum);
    tcase_add_test(tcase, measured_demand_takes_a_quarter_more_and_the_added_load);
    tcase_add_test(tcase, each_unit_of_a_load_is_on_the_neutral);
    tcase_add_test(tcase, amperes_follow_the_supply);
    tcase_add_test(tcase, diversity_follows_the_keys);
    tcase_add_test(tcase, a_feeder_carries_what_its_panel_has);
    tcase_add_test(tcase, the_category_says_what_a_load_is);
    tcase_add_test(tcase, a_socket_on_the_cookers_switch_adds_its_own);
    tcase_add_test(tcase, a_circuit_counts_by_its_loads_or_its_device);
    suite_add_tcase(suite, tcase);
    return suite;
}
