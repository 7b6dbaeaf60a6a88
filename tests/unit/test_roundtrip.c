/*
 * Properties of house files, on invented houses: what is written reads back as the same house; the order of sections
 * and of keys in them changes nothing but the order of rows.
 */
#include "runner.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"

/* ------------------------------------------------------------------ a random house ------------------------------- */

struct dice {
    uint64_t state;
};

static unsigned roll(struct dice *dice, unsigned sides)
{
    dice->state ^= dice->state << 13;
    dice->state ^= dice->state >> 7;
    dice->state ^= dice->state << 17;
    return (unsigned)(dice->state >> 33) % sides;
}

static const char *pick(struct dice *dice, const char *const *words, unsigned count)
{
    return words[roll(dice, count)];
}

#define PICK(dice, ...)                                                                                                \
    pick(dice, (const char *const[]){__VA_ARGS__}, sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *))

/* Adds `key = word`, most of the time not at all. */
#define MAYBE(dice, text, key, ...)                                                                                    \
    do {                                                                                                               \
        if (roll(dice, 3) == 0) {                                                                                      \
            text_printf(text, "%s = %s\n", key, PICK(dice, __VA_ARGS__));                                              \
        }                                                                                                              \
    } while (0)

enum rule_set { US, IEC, UK };

static void add_supply(struct dice *dice, struct text *text, enum rule_set rules)
{
    MAYBE(dice, text, "service_rating", "60", "1e2 A");
    MAYBE(dice, text, "service_wire", "16mm2 cu", "2 AWG al");
    MAYBE(dice, text, "service_run", "12.5 m", "40");
    MAYBE(dice, text, "generation", "yes", "no");
    MAYBE(dice, text, "built", "1850", "1999");
    MAYBE(dice, text, "pscc", "6 kA", "16000", "1234.5 A");
    if (rules == US) {
        MAYBE(dice, text, "code_edition", "2017", "2020", "2023", "2026");
        MAYBE(dice, text, "earthing", "grounded");
        if (roll(dice, 2) == 0) {
            text_printf(text, "transformer = %s\ntransformer_z = %s\n", PICK(dice, "25", "37.5 kVA", "50000 VA"),
                        PICK(dice, "0.5", "2 %", "20"));
        }
        return;
    }
    MAYBE(dice, text, "supply_fuse", "unknown", "80", "25 A");
    MAYBE(dice, text, "ground", "-2 C", "10", "20.25 \u00b0C");
    MAYBE(dice, text, "soil", "0.5", "2.5");
    MAYBE(dice, text, "earthing", "TN-S", "TN-C-S", "TT", "IT");
    MAYBE(dice, text, "ze", "0.35", "350 mohm", "0.8 \u03a9");
    MAYBE(dice, text, "electrode", "100", "0.1 kohm");
}

/* How the wire of a branch or feeder lies, and what its device can break. */
static void add_lay(struct dice *dice, struct text *text, enum rule_set rules)
{
    MAYBE(dice, text, "ambient", "-10", "45 C");
    MAYBE(dice, text, "grouped", "1", "7", "20");
    MAYBE(dice, text, "breaking", "6 kA", "10000", "22 kA");
    MAYBE(dice, text, "cpc", "same", "1.5 mm2", "14 AWG copper", "10mm\u00b2 al");
    if (rules == US) {
        MAYBE(dice, text, "cable", "nm-b", "nm", "uf-b", "ser", "thhn", "thwn", "tw", "mc", "knob-and-tube");
        MAYBE(dice, text, "terminals", "60", "75");
        return;
    }
    MAYBE(dice, text, "terminals", "70", "90");
    MAYBE(dice, text, "insulation", "pvc", "xlpe");
    MAYBE(dice, text, "in_insulation", "0", "0.5", "50 cm");
}

static void add_device(struct dice *dice, struct text *text, enum rule_set rules)
{
    if (rules == US) {
        MAYBE(dice, text, "trip", "inverse-time", "fuse");
        MAYBE(dice, text, "instantaneous", "180", "0.2 kA");
        return;
    }
    MAYBE(dice, text, "rcd_ma", "10", "30", "100", "300", "500");
    MAYBE(dice, text, "rcd_type", "general", "selective");
    MAYBE(dice, text, "zs_measured", "1.05", "900 mohm");
    MAYBE(dice, text, "measured_at", "-3", "20.5 C");
    if (rules == UK) {
        MAYBE(dice, text, "cooker_socket", "yes", "no");
    }
}

static void add_house(struct dice *dice, struct text *text, enum rule_set rules)
{
    text_printf(text, "[house]\nrules = %s\n", rules == US ? "us" : rules == IEC ? "iec" : "uk");
    text_add(text, rules == US ? "" : "system = split-phase\n");
    text_printf(text, "name = %s\nmain_breaker = %s\n", PICK(dice, "Ash Lane", "\u4e2d\u6587", "a # b"),
                PICK(dice, "100", "200 A", "0.4e3", "63.5"));
    MAYBE(dice, text, "voltage", "120", "0.115 kV", "127.017");
    MAYBE(dice, text, "frequency", "50", "60 Hz");
    MAYBE(dice, text, "floor_area", "1800", "84 m2", "1234.5678 ft2", "1e3");
    MAYBE(dice, text, "currency", "USD", "JPY", "BHD");
    MAYBE(dice, text, "billing_days", "28", "31");
    MAYBE(dice, text, "ambient", "-5 C", "40", "21.5 \u00b0C");
    add_supply(dice, text, rules);
}

static void add_branches(struct dice *dice, struct text *text, unsigned count, enum rule_set rules)
{
    for (unsigned i = 0; i < count; i++) {
        bool is_double = roll(dice, 4) == 0;
        text_printf(text, "[branch b%u]\nlabel = Branch %u\nposition = %u\nbreaker = %s\nlegs = %s\npoles = %s\n", i, i,
                    i + 1,
                    rules == US ? PICK(dice, "15", "20 A", "30", "12.5") : PICK(dice, "B16", "gG35 A", "C6.5", "32"),
                    is_double ? "AB" : PICK(dice, "A", "B"), is_double ? "2" : "1");
        MAYBE(dice, text, "wire", "14 AWG copper", "2.5mm\u00b2 Cu", "8 awg al", "1/0 AWG aluminum");
        MAYBE(dice, text, "method", "A1", "B2", "C");
        add_lay(dice, text, rules);
        add_device(dice, text, rules);
        MAYBE(dice, text, "length", "50", "12.345 m", "0", "0.1 km", "3.3333333333333333 ft");
        MAYBE(dice, text, "serves", "r0", "r1, r0", "r2,r1");
        MAYBE(dice, text, "purpose", "general", "laundry", "small-appliance");
        MAYBE(dice, text, "protection", "rcd", "afci,gfci", "gfci");
        for (unsigned j = 0; j < 3; j++) {
            text_printf(text, "[outlet b%u-%u]\nbranch = b%u\nrun = %s\n", i, j, i,
                        PICK(dice, "0", "7", "2.5 m", "1e-1"));
            if (j > 0 && roll(dice, 2) == 0) {
                text_printf(text, "from = b%u-%u\n", i, roll(dice, j));
            }
            MAYBE(dice, text, "room", "r0", "r1", "r2");
            MAYBE(dice, text, "name", "By the door", "x");
            MAYBE(dice, text, "rating", "15", "20 A");
            MAYBE(dice, text, "contacts", "1", "2");
            if (rules == UK) {
                MAYBE(dice, text, "spur", "yes", "no");
                MAYBE(dice, text, "fuse", "1", "3 A", "13");
            }
        }
    }
}

static void add_appliances(struct dice *dice, struct text *text, unsigned count, unsigned branches, enum rule_set rules)
{
    for (unsigned i = 0; i < count; i++) {
        text_printf(text, "[appliance a%u]\nname = Thing %u\n", i, i);
        unsigned branch = roll(dice, branches);
        if (roll(dice, 2) == 0) {
            text_printf(text, "outlet = b%u-%u\n", branch, roll(dice, 3));
        } else {
            text_printf(text, "branch = b%u\n", branch);
        }
        text_printf(text, "%s\n",
                    PICK(dice, "power = 1.5 kW", "power = 7.77", "apparent = 800 VA", "current = 250 mA",
                         "resistance = 14.4 \u03a9", rules == US ? "horsepower = 1/3 hp" : "power = 3 kW",
                         rules == US ? "horsepower = 0.5" : "current = 1"));
        MAYBE(dice, text, "rated_voltage", "115", "230 V");
        MAYBE(dice, text, "behaviour", "motor", "resistive", "electronic");
        MAYBE(dice, text, "start_factor", "1", "6.5");
        MAYBE(dice, text, "count", "1", "3", "10000");
        MAYBE(dice, text, "fixed", "yes", "no");
        MAYBE(dice, text, "continuous", "yes", "no");
        if (roll(dice, 2) == 0) {
            text_printf(text, "use = %s\nhours = %s\n",
                        PICK(dice, "06:00-09:00", "22:00-06:00, 12:00-13:00", "00:00-24:00"),
                        PICK(dice, "0", "0.7", "25 min", "100 s", "0.1"));
        }
        MAYBE(dice, text, "days", "all", "mon-fri", "fri-mon", "tue,thu", "weekend");
        MAYBE(dice, text, "months", "nov-mar", "jun", "jan,mar,may");
        MAYBE(dice, text, "duty", "33.333333", "0 %", "100");
        MAYBE(dice, text, "standby", "0", "0.5", "1.2e-3 kW");
        MAYBE(dice, text, "group", "climate", "other one");
        MAYBE(dice, text, "category", "lighting", "range", "other", "heat-pump", "pool", "medical", "generator");
        MAYBE(dice, text, "rating_from", "plate", "typical", "guess");
        MAYBE(dice, text, "control", "none", "setpoint", "on-off");
        if (rules == US) {
            MAYBE(dice, text, "minimum_ampacity", "12.5", "27.7 A");
            MAYBE(dice, text, "maximum_breaker", "45", "30 A");
        }
    }
}

static void add_money(struct dice *dice, struct text *text)
{
    if (roll(dice, 2) == 0) {
        text_add(text, "[tariff blocks]\nblocks = 350: 0.14, 1000.50 kWh: 1.9e-1, rest: 0.24\nstanding = 0.5300\n");
        MAYBE(dice, text, "tax", "5", "8.25 %");
    }
    if (roll(dice, 2) == 0) {
        text_add(text, "[tariff hours]\nprice = 0.300\n");
        text_add(text, "[period night]\ntariff = hours\nprice = 0.1\nhours = 23:00-07:00\n");
        text_add(text, "[period noon]\ntariff = hours\nprice = 0.4\nhours = 11:00-13:00\ndays = weekdays\n");
    }
    text_add(text, "[scene s]\non = a0, a1\n");
}

static void add_random_house(struct dice *dice, struct text *text)
{
    unsigned branches = 1 + roll(dice, 6);
    enum rule_set rules = (enum rule_set)roll(dice, 3);
    add_house(dice, text, rules);
    text_add(text, "[panel main]\nname = Hall\n");
    MAYBE(dice, text, "breaking", "10 kA");
    text_add(text, "[panel shed]\nbreaker = 60\npoles = 2\nlegs = AB\n");
    add_lay(dice, text, rules);
    for (unsigned i = 0; i < 3; i++) {
        text_printf(text, "[room r%u]\n", i);
        MAYBE(dice, text, "area", "12", "9.9 m2");
        MAYBE(dice, text, "floor", "Ground", "1");
        MAYBE(dice, text, "kind", "bath", "crawl-space", "other");
    }
    add_branches(dice, text, branches, rules);
    if (roll(dice, 2) == 0 && branches > 1) {
        text_add(text, "[branch n0]\nlabel = N\nbreaker = 20\nlegs = A\nshared_neutral = n1\ntied = no\n"
                       "[branch n1]\nlabel = N\nbreaker = 20\nlegs = B\n");
    }
    add_appliances(dice, text, 2 + roll(dice, 20), branches, rules);
    add_money(dice, text);
}

/* ------------------------------------------------------------------ same again ----------------------------------- */

static struct house *read_text_house(const char *string)
{
    struct house *house = NULL;
    struct error error = {0};
    bool good = housefile_read_house_bytes("h.ini", string, strlen(string), &house, &error);
    ck_assert_msg(good, "%s\nin:\n%s", error_message(&error), string);
    error_done(&error);
    return house;
}

static char *write_house(const struct house *house)
{
    struct document *document = house_document(house, "h.ini");
    struct text text = {0};
    document_write(document, &text);
    document_free(document);
    return text.bytes;
}

/* Every number and word of a row, but for the row numbers of others, to the last bit. */
static void compare_row(enum kind kind, const void *a, const void *b)
{
    const struct section *section = &sections[kind];
    for (size_t i = 0; i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        const char *left = (const char *)a + key->offset;
        const char *right = (const char *)b + key->offset;
        bool is_double = key->type == KEY_QUANTITY || key->type == KEY_RATIO || key->type == KEY_HORSEPOWER;
        bool is_int = key->type == KEY_WHOLE || key->type == KEY_CHOICE || key->type == KEY_DAYS ||
                      key->type == KEY_MONTHS || key->type == KEY_LEGS || key->type == KEY_PROTECTION;
        if (is_double || is_int || key->type == KEY_WIRE || key->type == KEY_PROTECTIVE) {
            size_t size = is_int ? sizeof(int) : sizeof(double); /* of a conductor its row */
            ck_assert_msg(memcmp(left, right, size) == 0, "%s %s differs", section->word, key->name);
        }
    }
}

START_TEST(written_house_reads_back)
{
    struct dice dice = {UINT64_C(88172645463325252) * (uint64_t)(_i + 1)};
    struct text string = {0};
    add_random_house(&dice, &string);
    struct house *house = read_text_house(text_string(&string));
    char *first = write_house(house);
    struct house *again = read_text_house(first);
    char *second = write_house(again);
    ck_assert_str_eq(first, second);
    for (int kind = KIND_HOUSE; kind < KIND_COUNT; kind++) {
        size_t count = 0;
        size_t count_again = 0;
        const char *rows = house_rows(house, (enum kind)kind, &count);
        const char *rows_again = house_rows(again, (enum kind)kind, &count_again);
        ck_assert_uint_eq(count, count_again);
        size_t size = house_row_size((enum kind)kind);
        for (size_t i = 0; i < count; i++) {
            ck_assert_str_eq(house_row_id(house, (enum kind)kind, i), house_row_id(again, (enum kind)kind, i));
            compare_row((enum kind)kind, rows + i * size, rows_again + i * size);
        }
    }
    free(first);
    free(second);
    text_done(&string);
    house_free(house);
    house_free(again);
}
END_TEST

static void swap_keys(struct document_section *section, size_t a, size_t b)
{
    struct document_key key = section->keys[a];
    section->keys[a] = section->keys[b];
    section->keys[b] = key;
}

static void shuffle(struct dice *dice, struct document *document)
{
    for (size_t i = document->section_count - 1; i > 0; i--) {
        size_t other = roll(dice, (unsigned)i + 1);
        struct document_section section = document->sections[i];
        document->sections[i] = document->sections[other];
        document->sections[other] = section;
    }
    for (size_t i = 0; i < document->section_count; i++) {
        struct document_section *section = &document->sections[i];
        for (size_t j = section->key_count; j > 1; j--) {
            swap_keys(section, j - 1, roll(dice, (unsigned)j));
        }
    }
}

START_TEST(order_of_sections_is_free)
{
    struct dice dice = {UINT64_C(2463534242) * (uint64_t)(_i + 1)};
    struct text string = {0};
    add_random_house(&dice, &string);
    struct house *house = read_text_house(text_string(&string));
    struct document *document = house_document(house, "h.ini");
    shuffle(&dice, document);
    struct house *shuffled = NULL;
    struct error error = {0};
    ck_assert_msg(house_build(document, &shuffled, &error), "%s", error_message(&error));
    for (int kind = KIND_HOUSE; kind < KIND_COUNT; kind++) {
        size_t count = 0;
        size_t count_shuffled = 0;
        const char *rows = house_rows(house, (enum kind)kind, &count);
        const char *rows_shuffled = house_rows(shuffled, (enum kind)kind, &count_shuffled);
        ck_assert_uint_eq(count, count_shuffled);
        size_t size = house_row_size((enum kind)kind);
        for (size_t i = 0; i < count; i++) {
            const char *id = house_row_id(house, (enum kind)kind, i);
            size_t there = kind == KIND_HOUSE ? 0 : house_find(shuffled, (enum kind)kind, id);
            ck_assert_msg(there != NO_INDEX, "%s is gone", id);
            compare_row((enum kind)kind, rows + i * size, rows_shuffled + there * size);
        }
    }
    for (size_t i = 0; i < house->appliance_count; i++) {
        size_t there = house_find(shuffled, KIND_APPLIANCE, house->appliances[i].id);
        ck_assert_str_eq(house->branches[house->appliances[i].branch].id,
                         shuffled->branches[shuffled->appliances[there].branch].id);
    }
    document_free(document);
    text_done(&string);
    house_free(house);
    house_free(shuffled);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("roundtrip");
    TCase *tcase = tcase_create("roundtrip");
    tcase_add_loop_test(tcase, written_house_reads_back, 0, 60);
    tcase_add_loop_test(tcase, order_of_sections_is_free, 0, 60);
    suite_add_tcase(suite, tcase);
    return suite;
}
