#include "runner.h"

#include <math.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "ampsum/values.h"

#define ROWS(table) (int)(sizeof(table) / sizeof(table)[0])

/* ------------------------------------------------------------------ small houses --------------------------------- */

static void give(enum kind kind, const char *name, struct house *house, void *row, const char *value)
{
    const struct key *key = section_key(&sections[kind], name);
    ck_assert_msg(key != NULL, "no key %s", name);
    struct text fault = {0};
    ck_assert_msg(value_read(key, value, house, row, &fault), "%s = %s: %s", name, value, text_string(&fault));
    text_done(&fault);
    uint64_t *given = kind == KIND_HOUSE ? &house->given : row;
    *given |= key_bit(&sections[kind], key);
}

static struct house *house_of(const char *rules, const char *system)
{
    struct house *house = house_new();
    give(KIND_HOUSE, "name", house, house, "H");
    give(KIND_HOUSE, "rules", house, house, rules);
    give(KIND_HOUSE, "main_breaker", house, house, "100");
    if (system != NULL) {
        give(KIND_HOUSE, "system", house, house, system);
    }
    return house;
}

/* One branch of that many poles, with one appliance on it. */
static struct appliance *add_appliance(struct house *house, const char *poles)
{
    struct branch *branch = house_add_rows(house, KIND_BRANCH, 1);
    branch->id = "b";
    give(KIND_BRANCH, "poles", house, branch, poles);
    struct appliance *appliance = house_add_rows(house, KIND_APPLIANCE, 1);
    appliance->id = "a";
    appliance->branch = 0;
    return appliance;
}

/* ------------------------------------------------------------------ defaults of the house ------------------------- */

/* Contract, house-file.md, [house] and "Nominal voltage of a branch". */
static const struct {
    const char *rules;
    const char *system; /* NULL: not given */
    int want_system;
    double voltage_v;
    int frequency_hz;
    const char *currency;
    unsigned legs;
    double two_pole_v;
    double three_pole_v; /* NAN: there is none */
} supply_rows[] = {
    {"us", NULL, SYSTEM_SPLIT_PHASE, 120, 60, "USD", LEG_A | LEG_B, 240, NAN},
    {"us", "single-phase", SYSTEM_SINGLE_PHASE, 120, 60, "USD", LEG_A, 120, NAN},
    {"us", "three-phase", SYSTEM_THREE_PHASE, 120, 60, "USD", LEG_A | LEG_B | LEG_C, 207.8460969, 207.8460969},
    {"iec", NULL, SYSTEM_SINGLE_PHASE, 230, 50, "EUR", LEG_A, 230, NAN},
    {"iec", "split-phase", SYSTEM_SPLIT_PHASE, 230, 50, "EUR", LEG_A | LEG_B, 460, NAN},
    {"iec", "three-phase", SYSTEM_THREE_PHASE, 230, 50, "EUR", LEG_A | LEG_B | LEG_C, 398.3716857, 398.3716857},
    {"uk", NULL, SYSTEM_SINGLE_PHASE, 230, 50, "GBP", LEG_A, 230, NAN},
};

START_TEST(supply_has_its_defaults)
{
    struct house *house = house_of(supply_rows[_i].rules, supply_rows[_i].system);
    house_finish(house);
    ck_assert_int_eq(house->system, supply_rows[_i].want_system);
    ck_assert(house->voltage_v == supply_rows[_i].voltage_v);
    ck_assert_int_eq(house->frequency_hz, supply_rows[_i].frequency_hz);
    ck_assert_str_eq(house->currency, supply_rows[_i].currency);
    ck_assert_uint_eq(house_system_legs(house), supply_rows[_i].legs);
    ck_assert_uint_eq(house->panels[0].legs, supply_rows[_i].legs);
    ck_assert(house->panels[0].breaker_a == 100);
    ck_assert_str_eq(house->panels[0].id, "main");
    ck_assert_int_eq(house->billing_days, 30);
    ck_assert(house->ambient_c == 30);
    ck_assert(house->tariff == NO_INDEX);
    ck_assert(house_circuit_voltage_v(house, 1) == supply_rows[_i].voltage_v);
    ck_assert_double_eq_tol(house_circuit_voltage_v(house, 2), supply_rows[_i].two_pole_v, 1e-6);
    if (!isnan(supply_rows[_i].three_pole_v)) {
        ck_assert_double_eq_tol(house_circuit_voltage_v(house, 3), supply_rows[_i].three_pole_v, 1e-6);
    }
    house_free(house);
}
END_TEST

START_TEST(given_supply_stays)
{
    struct house *house = house_of("us", NULL);
    give(KIND_HOUSE, "voltage", house, house, "115");
    give(KIND_HOUSE, "frequency", house, house, "50 Hz");
    give(KIND_HOUSE, "currency", house, house, "CAD");
    give(KIND_HOUSE, "billing_days", house, house, "31");
    give(KIND_HOUSE, "ambient", house, house, "-5 C");
    house_finish(house);
    ck_assert(house->voltage_v == 115 && house->frequency_hz == 50 && house->billing_days == 31);
    ck_assert(house->ambient_c == -5);
    ck_assert_str_eq(house->currency, "CAD");
    house_free(house);
}
END_TEST

START_TEST(only_tariff_is_taken)
{
    for (size_t count = 0; count < 3; count++) {
        struct house *house = house_of("us", NULL);
        house_add_rows(house, KIND_TARIFF, count);
        house_finish(house);
        ck_assert(house->tariff == (count == 1 ? 0 : NO_INDEX));
        house_free(house);
    }
}
END_TEST

/* ------------------------------------------------------------------ defaults of branches -------------------------- */

static const struct {
    const char *rules;
    int trip;
    int method;
    unsigned legs;
} branch_rows[] = {
    {"us", TRIP_INVERSE_TIME, -1, 0}, {"iec", TRIP_B, METHOD_B2, LEG_A}, {"uk", TRIP_B, METHOD_C, LEG_A}};

START_TEST(branch_has_its_defaults)
{
    struct house *house = house_of(branch_rows[_i].rules, NULL);
    struct branch *branch = house_add_rows(house, KIND_BRANCH, 1);
    house_finish(house);
    ck_assert_int_eq(branch->trip, branch_rows[_i].trip);
    ck_assert_int_eq(branch->method, branch_rows[_i].method);
    ck_assert_int_eq(branch->poles, 1);
    ck_assert_uint_eq(branch->legs, branch_rows[_i].legs);
    ck_assert(branch->panel == 0 && branch->layout == LAYOUT_RADIAL && branch->purpose == PURPOSE_GENERAL);
    ck_assert(isnan(branch->length_m) && branch->wire.conductor == NULL && branch->protection == 0);
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ defaults of appliances ------------------------ */

/* Contract, house-file.md, [appliance ID]. */
static const struct {
    const char *key; /* beside power = 100, or the rating itself */
    const char *value;
    int behaviour;
    double power_factor;
    int rating;
} rating_rows[] = {
    {"power", "100", BEHAVIOUR_RESISTIVE, 1, RATING_POWER},
    {"apparent", "100", BEHAVIOUR_RESISTIVE, 1, RATING_APPARENT},
    {"current", "2", BEHAVIOUR_RESISTIVE, 1, RATING_CURRENT},
    {"resistance", "10", BEHAVIOUR_RESISTIVE, 1, RATING_RESISTANCE},
    {"horsepower", "1/2", BEHAVIOUR_MOTOR, 0.8, RATING_HORSEPOWER},
};

START_TEST(rating_decides)
{
    struct house *house = house_of("us", NULL);
    struct appliance *appliance = add_appliance(house, "2");
    give(KIND_APPLIANCE, rating_rows[_i].key, house, appliance, rating_rows[_i].value);
    house_finish(house);
    ck_assert_int_eq(appliance->rating, rating_rows[_i].rating);
    ck_assert_int_eq(appliance->behaviour, rating_rows[_i].behaviour);
    ck_assert(appliance->power_factor == rating_rows[_i].power_factor);
    ck_assert(appliance->rated_voltage_v == 240 && appliance->start_factor == 6 && appliance->count == 1);
    ck_assert(appliance->duty_percent == 100 && appliance->standby_w == 0 && appliance->fixed == 0);
    ck_assert(appliance->days == DAYS_ALL && appliance->months == MONTHS_ALL);
    ck_assert_int_eq(appliance->category, CATEGORY_OTHER);
    ck_assert(isnan(appliance->motor_current_a) == (rating_rows[_i].rating != RATING_HORSEPOWER));
    house_free(house);
}
END_TEST

/* NFPA 70 Table 430.248, single-phase motors, 1/2 hp: 9.8 A at 115 V, 4.9 A at 230 V; the column nearest to the rated
 * voltage (check-values-us.md). */
static const struct {
    const char *poles;
    const char *rated_voltage;
    double want_a;
} motor_rows[] = {{"1", NULL, 9.8}, {"2", NULL, 4.9}, {"2", "115", 9.8}, {"1", "230 V", 4.9}};

START_TEST(motor_takes_its_column)
{
    struct house *house = house_of("us", NULL);
    struct appliance *appliance = add_appliance(house, motor_rows[_i].poles);
    give(KIND_APPLIANCE, "horsepower", house, appliance, "0.5");
    if (motor_rows[_i].rated_voltage != NULL) {
        give(KIND_APPLIANCE, "rated_voltage", house, appliance, motor_rows[_i].rated_voltage);
    }
    house_finish(house);
    ck_assert_double_eq_tol(appliance->motor_current_a, motor_rows[_i].want_a, 1e-9);
    house_free(house);
}
END_TEST

static const struct {
    const char *use;   /* NULL: not given */
    const char *hours; /* NULL: not given */
    const char *continuous;
    double want_s;
    int want_continuous;
} time_rows[] = {
    {NULL, NULL, NULL, 0, 0},
    {NULL, "3", NULL, 10800, 1},
    {NULL, "2.99", NULL, 10764, 0},
    {"06:00-09:00", NULL, NULL, 10800, 1},
    {"06:00-08:59", NULL, NULL, 10740, 0},
    {"06:00-08:00, 17:00-19:00", NULL, NULL, 14400, 0}, /* four hours, but never three at a stretch */
    {"22:00-01:00", NULL, NULL, 10800, 1},
    {"00:00-24:00", NULL, NULL, 86400, 1},
    {"06:00-10:00", "1", NULL, 3600, 1}, /* the window decides, not the hours in it */
    {"06:00-08:00", "0", NULL, 0, 0},
    {"06:00-10:00", NULL, "no", 14400, 0},
    {NULL, NULL, "yes", 0, 1},
};

START_TEST(time_decides_continuous)
{
    struct house *house = house_of("us", NULL);
    struct appliance *appliance = add_appliance(house, "1");
    const char *const values[] = {time_rows[_i].use, time_rows[_i].hours, time_rows[_i].continuous};
    const char *const keys[] = {"use", "hours", "continuous"};
    for (size_t i = 0; i < 3; i++) {
        if (values[i] != NULL) {
            give(KIND_APPLIANCE, keys[i], house, appliance, values[i]);
        }
    }
    house_finish(house);
    ck_assert(appliance->on_time_s == time_rows[_i].want_s);
    ck_assert_int_eq(appliance->continuous, time_rows[_i].want_continuous);
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ what belongs together ------------------------- */

START_TEST(lists_keep_file_order)
{
    enum { BRANCHES = 7, APPLIANCES = 100 };
    struct house *house = house_of("us", NULL);
    house_add_rows(house, KIND_BRANCH, BRANCHES);
    house_add_rows(house, KIND_ROOM, 2);
    house->rooms[0].id = "r";
    house->rooms[1].id = "s";
    house_add_rows(house, KIND_OUTLET, 1);
    house->outlets[0] = (struct outlet){.id = "o", .branch = 3, .room = 1, .from = NO_INDEX};
    house_add_rows(house, KIND_APPLIANCE, APPLIANCES);
    for (size_t i = 0; i < APPLIANCES; i++) {
        house->appliances[i].branch = i * i % BRANCHES;
        house->appliances[i].group = i % 3 == 0 ? "x" : i % 5 == 0 ? "y" : NULL;
    }
    house->appliances[5].outlet = 0; /* from branch 4 to the outlet's */
    house->appliances[6].room = 0;
    house_finish(house);
    size_t total = 0;
    for (size_t b = 0; b < BRANCHES; b++) {
        const struct index_list *list = &house->branches[b].appliances;
        total += list->count;
        for (size_t i = 0; i < list->count; i++) {
            ck_assert(house->appliances[list->index[i]].branch == b);
            ck_assert(i == 0 || list->index[i] > list->index[i - 1]);
        }
    }
    ck_assert_uint_eq(total, APPLIANCES);
    ck_assert(house->appliances[5].branch == 3 && house->appliances[5].room == 1);
    ck_assert_uint_eq(house->branches[3].outlets.count, 1);
    ck_assert_uint_eq(house->group_count, 2);
    ck_assert(house->appliances[0].group_index == house->appliances[99].group_index);
    ck_assert(house->appliances[0].group_index != house->appliances[5].group_index);
    ck_assert(house->appliances[1].group_index == NO_INDEX);
    struct index_list rooms = house_branch_serves(house, 3, house->arena);
    ck_assert(rooms.count == 1 && rooms.index[0] == 1);
    rooms = house_branch_serves(house, 36 % BRANCHES, house->arena);
    ck_assert(rooms.count == 1 && rooms.index[0] == 0);
    house->branches[3].serves = (struct index_list){(size_t[]){0}, 1};
    rooms = house_branch_serves(house, 3, house->arena);
    ck_assert(rooms.count == 1 && rooms.index[0] == 0);
    house_free(house);
}
END_TEST

START_TEST(rows_are_found_by_id)
{
    struct house *house = house_of("us", NULL);
    struct room *rooms = house_add_rows(house, KIND_ROOM, 2);
    rooms[0].id = "attic";
    rooms[1].id = "hall";
    ck_assert(house_find(house, KIND_ROOM, "hall") == 1 && house_find(house, KIND_ROOM, "ha") == NO_INDEX);
    ck_assert(house_find(house, KIND_PANEL, "main") == 0);
    ck_assert_str_eq(house_nearest_id(house, KIND_ROOM, "hal"), "hall");
    ck_assert_ptr_null(house_nearest_id(house, KIND_ROOM, "workshop"));
    ck_assert_ptr_null(house_nearest_id(house, KIND_SCENE, "hall"));
    ck_assert_str_eq(house_row_id(house, KIND_ROOM, 0), "attic");
    ck_assert_str_eq(house_row_id(house, KIND_HOUSE, 0), "");
    house_finish(house);
    ck_assert_str_eq(rooms[1].name, "hall");
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ values ---------------------------------------- */

/* How a value is written once it was read: contract, house-file.md, sections. */
static const struct {
    enum kind kind;
    const char *key;
    const char *value;
    const char *want;
} value_rows[] = {
    {KIND_HOUSE, "floor_area", "100", "100 ft2"},
    {KIND_HOUSE, "frequency", "50 Hz", "50"},
    {KIND_BRANCH, "wire", "12awg cu", "12 AWG copper"},
    {KIND_BRANCH, "wire", "1/0 AWG aluminum", "1/0 AWG aluminium"},
    {KIND_BRANCH, "wire", "2.50mm\u00b2 Copper", "2.5 mm2 copper"},
    {KIND_BRANCH, "wire", "250 KCMIL al", "250 kcmil aluminium"},
    {KIND_BRANCH, "position", "7, 5", "7,5"},
    {KIND_BRANCH, "legs", "AC", "AC"},
    {KIND_BRANCH, "protection", "rcd,gfci", "gfci, rcd"},
    {KIND_BRANCH, "length", "50", "50 ft"},
    {KIND_APPLIANCE, "horsepower", "1/3", "1/3 hp"},
    {KIND_APPLIANCE, "horsepower", "0.75 hp", "3/4 hp"},
    {KIND_APPLIANCE, "horsepower", "1.5", "1.5 hp"},
    {KIND_APPLIANCE, "use", "17:00-22:30,06:30 - 07:10", "17:00-22:30, 06:30-07:10"},
    {KIND_APPLIANCE, "use", "18:00-00:00", "18:00-24:00"},
    {KIND_APPLIANCE, "use", "22:00-06:00", "22:00-06:00"},
    {KIND_APPLIANCE, "days", "mon,tue,wed,thu,fri", "weekdays"},
    {KIND_APPLIANCE, "days", "sun,sat", "weekend"},
    {KIND_APPLIANCE, "days", "mon-sun", "all"},
    {KIND_APPLIANCE, "days", "mon, wed, fri", "mon,wed,fri"},
    {KIND_APPLIANCE, "days", "tue-thu, mon-wed", "mon-thu"},
    {KIND_APPLIANCE, "days", "sat-mon", "sat-mon"},
    {KIND_APPLIANCE, "months", "nov-mar", "nov-mar"},
    {KIND_APPLIANCE, "months", "jan,feb", "jan,feb"},
    {KIND_APPLIANCE, "months", "jun-aug, dec", "jun-aug,dec"},
    {KIND_APPLIANCE, "months", "feb-jan", "all"},
    {KIND_APPLIANCE, "hours", "42 min", "0.7 h"},
    {KIND_APPLIANCE, "duty", "30", "30%"},
    {KIND_APPLIANCE, "count", "2.0", "2"},
    {KIND_APPLIANCE, "fixed", "yes", "yes"},
    {KIND_APPLIANCE, "power", "1.5 kW", "1500 W"},
    {KIND_TARIFF, "price", "0.30", "0.3"},
    {KIND_TARIFF, "tax", "8.250 %", "8.25%"},
    {KIND_TARIFF, "blocks", "350:0.140,1000 kWh: 0.19 ,rest:0.24", "350: 0.14, 1000: 0.19, rest: 0.24"},
};

START_TEST(value_is_spelled_one_way)
{
    struct house *house = house_of("us", NULL);
    enum kind kind = value_rows[_i].kind;
    const struct key *key = section_key(&sections[kind], value_rows[_i].key);
    void *row = kind == KIND_HOUSE ? (void *)house : house_add_rows(house, kind, 1);
    give(kind, key->name, house, row, value_rows[_i].value);
    struct text first = {0};
    value_write(key, house, row, &first);
    ck_assert_str_eq(text_string(&first), value_rows[_i].want);
    give(kind, key->name, house, row, text_string(&first));
    struct text second = {0};
    value_write(key, house, row, &second);
    ck_assert_str_eq(text_string(&first), text_string(&second));
    text_done(&first);
    text_done(&second);
    house_free(house);
}
END_TEST

/* Every set of days and of months is written so that it reads back. */
START_TEST(days_and_months_come_back)
{
    struct house *house = house_of("us", NULL);
    struct appliance *appliance = house_add_rows(house, KIND_APPLIANCE, 1);
    static const char *const keys[] = {"days", "months"};
    static const unsigned all[] = {DAYS_ALL, MONTHS_ALL};
    for (size_t k = 0; k < 2; k++) {
        const struct key *key = section_key(&sections[KIND_APPLIANCE], keys[k]);
        unsigned *field = k == 0 ? &appliance->days : &appliance->months;
        for (unsigned bits = 1; bits <= all[k]; bits++) {
            *field = bits;
            struct text text = {0};
            value_write(key, house, appliance, &text);
            *field = 0;
            give(KIND_APPLIANCE, keys[k], house, appliance, text_string(&text));
            ck_assert_msg(*field == bits, "%s read as %u, not %u", text_string(&text), *field, bits);
            text_done(&text);
        }
    }
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ the key table --------------------------------- */

START_TEST(key_table_is_whole)
{
    for (size_t s = 0; s < KIND_COUNT; s++) {
        ck_assert(sections[s].kind == (enum kind)s && sections[s].key_count <= 64);
        ck_assert(section_named(sections[s].word) == &sections[s]);
        for (size_t k = 0; k < sections[s].key_count; k++) {
            const struct key *key = &sections[s].keys[k];
            ck_assert(section_key(&sections[s], key->name) == key);
            ck_assert_msg(key->meaning != NULL && strlen(key->meaning) > 0, "%s has no meaning", key->name);
            ck_assert_msg((key->flags & KEY_REQUIRED) == 0 || key->fallback == NULL, "%s is required", key->name);
            ck_assert(key->type != KEY_CHOICE || key_choice(key, 0).word != NULL);
            ck_assert(key->offset < house_row_size((enum kind)s));
        }
    }
    ck_assert_ptr_null(section_named("rooms"));
    ck_assert_ptr_null(section_key(&sections[KIND_ROOM], "colour"));
}
END_TEST

START_TEST(a_row_is_found_from_wherever_one_looks)
{
    struct house *house = house_of("us", NULL);
    static const char *const ids[] = {"a", "b", "c"};
    struct branch *branches = house_add_rows(house, KIND_BRANCH, 3);
    for (size_t i = 0; i < 3; i++) {
        branches[i].id = ids[i];
    }
    for (size_t near = 0; near < 5; near++) {
        for (size_t i = 0; i < 3; i++) {
            ck_assert_uint_eq(house_find_near(house, KIND_BRANCH, ids[i], near), i);
        }
        ck_assert_uint_eq(house_find_near(house, KIND_BRANCH, "d", near), NO_INDEX);
    }
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("model");
    TCase *tcase = tcase_create("model");
    tcase_add_test(tcase, a_row_is_found_from_wherever_one_looks);
    tcase_add_loop_test(tcase, supply_has_its_defaults, 0, ROWS(supply_rows));
    tcase_add_test(tcase, given_supply_stays);
    tcase_add_test(tcase, only_tariff_is_taken);
    tcase_add_loop_test(tcase, branch_has_its_defaults, 0, ROWS(branch_rows));
    tcase_add_loop_test(tcase, rating_decides, 0, ROWS(rating_rows));
    tcase_add_loop_test(tcase, motor_takes_its_column, 0, ROWS(motor_rows));
    tcase_add_loop_test(tcase, time_decides_continuous, 0, ROWS(time_rows));
    tcase_add_test(tcase, lists_keep_file_order);
    tcase_add_test(tcase, rows_are_found_by_id);
    tcase_add_loop_test(tcase, value_is_spelled_one_way, 0, ROWS(value_rows));
    tcase_add_test(tcase, days_and_months_come_back);
    tcase_add_test(tcase, key_table_is_whole);
    suite_add_tcase(suite, tcase);
    return suite;
}
