#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "ampsum/housefile.h"
#include "housefile_rows.h"

/* ------------------------------------------------------------------ valid though unusual -------------------------- */

static const char *const good_rows[] = {
    US,
    US US_BRANCH,
    US US_BRANCH LAMP,
    US "[tariff t]\nprice = 0.1\n[tariff u]\nprice = 0\n",
    US "[tariff t]\nprice = 0.1\n",
    US_THREE "[branch b]\nlabel = B\nbreaker = 20\npoles = 2\nlegs = AC\n",
    US_THREE "[branch b]\nlabel = B\nbreaker = 20\npoles = 3\nlegs = ABC\n",
    US_SINGLE UK_BRANCH,
    IEC "system = split-phase\n[branch b]\nlabel = B\nbreaker = 16\npoles = 2\nlegs = AB\n",
    IEC "[branch b]\nlabel = B\nbreaker = 16\npoles = 2\nlegs = A\n",
    IEC "[branch b]\nlabel = B\nbreaker = 16\npoles = 2\n",
    IEC "[branch b]\nlabel = B\nbreaker = 16\nwire = 12 AWG copper\ntrip = D\nmethod = A1\n",
    US US_BRANCH "wire = 2.5 mm2 cu\nlength = 0\n",
    US US_BRANCH "wire = 12awg Copper\n[outlet o]\nbranch = b\nrun = 0\n",
    US US_BRANCH "wire = 1/0 AWG aluminum\n",
    US US_BRANCH "wire = 250 kcmil al\n",
    US US_BRANCH "wire = 2.5 mm\u00b2 copper\n",
    UK UK_BRANCH "poles = 2\nlayout = ring\nreturn = 5\nwire = 2.5 mm2 copper\n[outlet o]\nbranch = b\nrun = 5\n"
                 "[outlet p]\nbranch = b\nrun = 5\nfrom = o\n",
    "\xEF\xBB\xBF" US US_BRANCH,
    "[house]\r\nname = H\r\nrules = us\r\nmain_breaker = 100\r\n",
    "  [house]  \n\t name\t=\tH;1 \t; comment\nrules=us\n  main_breaker = 100 A ;x\n",
    US "[ branch \t b ] ; comment\nlabel = B ;comment\nbreaker = 20 ; =\nlegs = A\n",
    US "[branch b];comment\nlabel = B\nbreaker = 20\nlegs = A",
    US "[panel main]\nname = Hall\n",
    US "[panel main]\n",
    US US_BRANCH LAMP "hours = 0\nduty = 0\nstandby = 0\n",
    US US_BRANCH LAMP "use = 00:00-24:00\nhours = 24\n",
    US US_BRANCH LAMP "use = 22:00-06:00, 06:00-22:00\n",
    US US_BRANCH LAMP "use = 22:00 - 00:00 ,\t00:00-06:00\n",
    US US_BRANCH LAMP "days = mon-wed, tue-fri\nmonths = nov-mar, jan, dec-feb\n",
    US US_BRANCH LAMP "days = weekend, mon\n",
    US US_BRANCH LAMP "room = r\n[room r]\n",
    US US_BRANCH "[room r]\n[outlet o]\nbranch = b\n" LAMP "outlet = o\nroom = r\n",
    US US_BRANCH "[appliance a]\nname = A\nbranch = b\nresistance = 10\npower_factor = 1\n",
    US US_BRANCH "[appliance a]\nname = A\nbranch = b\nhorsepower = 1/2 hp\n",
    US US_BRANCH "[appliance a]\nname = a # b; c=d \"e\" [f]\nbranch = b\npower = 1\ngroup = x\n",
    US US_BRANCH LAMP "count = 3\n[scene s]\non = lamp * 3\n",
    US "frequency = 50Hz\ncurrency = JPY\nambient = -10 \u00b0C\nvoltage = 0.12 kV\n",
    US "[tariff t]\nblocks = 350: 0.14 , 1000 kWh:0.19, rest: 0.24\n",
    US "[tariff t]\nblocks = rest: 0.24\n",
    US "[tariff t]\n[period p]\ntariff = t\nprice = 1\n",
    US "[tariff t]\n[period p]\ntariff = t\nprice = 1\nhours = 22:00-06:00\n[period q]\ntariff = t\nprice = 2\n"
       "hours = 06:00-22:00\n",
    US "[tariff t]\n[period p]\ntariff = t\nprice = 1\ndays = weekdays\n[period q]\ntariff = t\nprice = 2\n"
       "days = weekend\n",
    US "[tariff t]\nprice = 1\n[period p]\ntariff = t\nprice = 1\nmonths = nov-mar\nhours = 22:00-06:00\n"
       "[period q]\ntariff = t\nprice = 2\nmonths = apr-oct\nhours = 22:00-06:00\n",
    US "[room abcdefghijklmnopqrstuvwxyzabcdefghijklmn]\n", /* 40 */
    US US_BRANCH "[appliance abcdefghijklmnopqrstuvwxyz0123456789-abc]\nname = A\nbranch = b\npower = 1\n",
};

START_TEST(unusual_is_read)
{
    struct error error = {0};
    struct house *house = read_string(good_rows[_i], &error);
    ck_assert_msg(house != NULL, "%s\nin:\n%s", error_message(&error), good_rows[_i]);
    house_free(house);
    error_done(&error);
}
END_TEST

/* Document, text and house come back the same: what is valid is a fixed point from the first writing on. */
START_TEST(unusual_is_written_back)
{
    struct error error = {0};
    struct house *house = read_string(good_rows[_i], &error);
    ck_assert_ptr_nonnull(house);
    char *first = write_house(house);
    struct house *again = read_string(first, &error);
    ck_assert_msg(again != NULL, "%s\nin:\n%s", error_message(&error), first);
    char *second = write_house(again);
    ck_assert_str_eq(first, second);
    free(first);
    free(second);
    house_free(house);
    house_free(again);
}
END_TEST

/* An outlet that says `from = panel` is the same house as one that says nothing: a database keeps no difference. */
START_TEST(from_panel_is_not_kept)
{
    static const char *const lines[] = {"", "from = panel\n"};
    for (size_t i = 0; i < 2; i++) {
        struct text string = {0};
        struct error error = {0};
        text_printf(&string, US US_BRANCH "[outlet o]\nbranch = b\nrun = 4\n%s", lines[i]);
        struct house *house = read_string(text_string(&string), &error);
        ck_assert_msg(house != NULL, "%s", error_message(&error));
        ck_assert(!key_is_given(&sections[KIND_OUTLET], section_key(&sections[KIND_OUTLET], "from"), house->outlets));
        ck_assert(house->outlets[0].from == NO_INDEX);
        house_free(house);
        text_done(&string);
    }
}
END_TEST

/* ------------------------------------------------------------------ lines ----------------------------------------- */

/* libraries.md, section 3: what inih by itself would cut, join or drop. Each gives the name that must come back. */
static const struct {
    const char *string;
    const char *want;
} name_rows[] = {
    {"[house]\nname = Ash Lane\n", "Ash Lane"},
    {"[house]\nname = a;b\n", "a;b"},
    {"[house]\nname = a # b\n", "a # b"},
    {"[house]\nname = \"a\" ; b\n", "\"a\""},
    {"[house]\nname = a\t; b\n", "a"},
    {"[house]\nname=a = b: c\n", "a = b: c"},
    {"[house]\n   name = indented\n", "indented"},
    {"[house]\r\nname = crlf\r\n", "crlf"},
    {"\xEF\xBB\xBF[house]\nname = mark\n", "mark"},
    {"[  house\t]\nname = blanks\n", "blanks"},
    {"[house] ; comment ] with a bracket\nname = comment\n", "comment"},
    {"[house]\n#name = a\n;name = b\n  # name = c\nname = d\n", "d"},
    {"[house]\nname = \u00c5ngstr\u00f6m \u4e2d\u6587\n", "\u00c5ngstr\u00f6m \u4e2d\u6587"},
    {"[house]\nname = ends in \u00c5\n", "ends in \u00c5"},
    {"[house]\nname = [x]\n", "[x]"},
};

START_TEST(name_comes_back_whole)
{
    struct text string = {0};
    text_printf(&string, "%srules = us\nmain_breaker = 100\n", name_rows[_i].string);
    struct error error = {0};
    struct house *house = read_string(text_string(&string), &error);
    ck_assert_msg(house != NULL, "%s", error_message(&error));
    ck_assert_str_eq(house->name, name_rows[_i].want);
    house_free(house);
    text_done(&string);
}
END_TEST

/* A name that makes its line `length` bytes long. */
static char *long_line(size_t length, const char *start, const char *fill)
{
    struct text text = {0};
    text_add(&text, US "[room a]\n");
    size_t before = text.length;
    text_add(&text, start);
    while (text.length - before + strlen(fill) <= length) {
        text_add(&text, fill);
    }
    while (text.length - before < length) {
        text_add(&text, "x");
    }
    text_add(&text, "\n[room b]\nname = after\n");
    return text.bytes;
}

static const size_t whole_lengths[] = {198, 199, 200, 201, 255, 256, 1023, 1024, 4000, 4094, 4095, 4096};

START_TEST(long_line_works)
{
    static const char *const fills[] = {"x", "\u20ac", "breaker=40 "};
    for (size_t i = 0; i < 3; i++) {
        char *string = long_line(whole_lengths[_i], "name=", fills[i]);
        struct error error = {0};
        struct house *house = read_string(string, &error);
        ck_assert_msg(house != NULL, "%s", error_message(&error));
        ck_assert_uint_eq(strlen(house->rooms[0].name), whole_lengths[_i] - strlen("name="));
        ck_assert_str_eq(house->rooms[1].name, "after");
        char *written = write_house(house);
        struct house *again = read_string(written, &error);
        ck_assert_msg(again != NULL, "%s", error_message(&error));
        ck_assert_str_eq(again->rooms[0].name, house->rooms[0].name);
        free(string);
        free(written);
        house_free(house);
        house_free(again);
    }
}
END_TEST

static const char *const too_long_rows[] = {"name = ", "; ", "[room ", "", "   "};

START_TEST(too_long_line_is_refused)
{
    char *string = long_line(4097, too_long_rows[_i], "x");
    struct error error = {0};
    ck_assert_ptr_null(read_string(string, &error));
    ck_assert_msg(message_has(error_message(&error), 6, "more than 4096 bytes"), "%s", error_message(&error));
    error_done(&error);
    free(string);
}
END_TEST

/* A comment of 205 bytes that ends in a key must not come to life behind inih's 200 bytes. */
START_TEST(long_comment_stays_a_comment)
{
    char *string = long_line(205, ";", "breaker=40 ");
    struct error error = {0};
    struct house *house = read_string(string, &error);
    ck_assert_msg(house != NULL, "%s", error_message(&error));
    ck_assert_str_eq(house->rooms[0].name, "a");
    house_free(house);
    free(string);
}
END_TEST

START_TEST(nul_byte_names_its_line)
{
    static const char string[] = US "[room a]\nname = A\0B\n";
    struct house *house = NULL;
    struct error error = {0};
    ck_assert(!housefile_read_house_bytes("h.ini", string, sizeof string - 1, &house, &error));
    ck_assert_msg(message_has(error_message(&error), 6, "NUL byte"), "%s", error_message(&error));
    ck_assert_ptr_null(house);
    error_done(&error);
}
END_TEST

/* ------------------------------------------------------------------ files ----------------------------------------- */

static const struct {
    const char *path;
    const char *says;
} file_rows[] = {
    {"/nonexistent/h.ini", "/nonexistent/h.ini: No such file"},
    {"/", "/: a directory"},
    {"/dev/null", "/dev/null: empty"},
    {"/dev/zero", "/dev/zero: more than 16 MiB"},
};

START_TEST(file_that_is_none_is_refused)
{
    struct house *house = NULL;
    struct error error = {0};
    ck_assert(!housefile_read(file_rows[_i].path, &house, &error));
    ck_assert_msg(strstr(error_message(&error), file_rows[_i].says) == error_message(&error), "%s",
                  error_message(&error));
    ck_assert_int_eq(error_exit_status(&error), 2);
    ck_assert_ptr_null(house);
    error_done(&error);
}
END_TEST

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

#if defined(__has_feature)
#define HAS_SANITIZER (__has_feature(address_sanitizer) != 0)
#elif defined(__SANITIZE_ADDRESS__)
#define HAS_SANITIZER true
#else
#define HAS_SANITIZER false
#endif

/* What 10 MB of rubbish can be made of; each must be refused within two seconds of processor time, ten times that where
 * a sanitizer looks at every step. */
static const struct {
    const char *start;
    const char *unit;
} rubbish_rows[] = {
    {"", "x"},
    {"", "x\n"},
    {"", "\x01\x02\xff\x00"},
    {"", "[\n"},
    {US, "[room a]\n"},
    {US, "[branch b]\nlegs = Q\n"},
    {US "[room a]\n", "name = A\n"},
    {US "[room a]\n", "nmae = A\n"},
    {US, "[appliance a]\nbranch = abcdefghijklmnopqrstuvwxyzabcdefghijklmn\n"},
    {US "[branch b]\nserves = ", "a,"},
    {US "[tariff t]\n", "[period p]\ntariff = t\nprice = 1\n"},
};

START_TEST(rubbish_is_refused_soon)
{
    struct text string = {0};
    text_add(&string, rubbish_rows[_i].start);
    size_t size = strlen(rubbish_rows[_i].unit);
    while (string.length < 10 * 1000 * 1000) {
        text_add_length(&string, rubbish_rows[_i].unit, size > 0 ? size : 1);
    }
    struct house *house = NULL;
    struct error error = {0};
    double start_s = seconds();
    ck_assert(!housefile_read_house_bytes("h.ini", string.bytes, string.length, &house, &error));
    double took_s = seconds() - start_s;
    ck_assert_msg(took_s < (HAS_SANITIZER ? 20 : 2), "row %d took %.2f s", _i, took_s);
    ck_assert_uint_lt(error.message.length, 51 * 700);
    error_done(&error);
    text_done(&string);
}
END_TEST

START_TEST(more_than_the_limit_is_refused)
{
    struct text string = {0};
    text_add(&string, US);
    while (string.length <= HOUSEFILE_BYTES_MOST) {
        text_add(&string, "; comment comment comment comment comment comment comment\n");
    }
    struct house *house = NULL;
    struct error error = {0};
    ck_assert(!housefile_read_house_bytes("h.ini", string.bytes, string.length, &house, &error));
    ck_assert(message_has(error_message(&error), 0, "16 MiB"));
    error_done(&error);
    string.length = HOUSEFILE_BYTES_MOST;
    string.bytes[string.length - 1] = '\n';
    ck_assert_msg(housefile_read_house_bytes("h.ini", string.bytes, string.length, &house, &error), "%s",
                  error_message(&error));
    house_free(house);
    text_done(&string);
}
END_TEST

/* Every file of tests/housefiles: good ones are read, bad ones say what their first line announces. */
static void check_sample(const char *path, bool is_good)
{
    struct house *house = NULL;
    struct error error = {0};
    bool good = housefile_read(path, &house, &error);
    ck_assert_msg(good == is_good, "%s: %s", path, error_message(&error));
    house_free(house);
    error_done(&error);
}

static const struct {
    const char *name;
    bool is_good;
} sample_rows[] = {{"us-split-phase.ini", true}, {"iec-three-phase.ini", true}, {"uk-ring.ini", true},
                   {"us-three-phase.ini", true}, {"many-faults.ini", false},    {"no-house.ini", false}};

START_TEST(sample_is_read)
{
    const char *tests = getenv("AMPSUM_TESTS");
    ck_assert_ptr_nonnull(tests);
    struct text path = {0};
    text_printf(&path, "%s/housefiles/%s", tests, sample_rows[_i].name);
    check_sample(text_string(&path), sample_rows[_i].is_good);
    text_done(&path);
}
END_TEST

#define ROWS(table) (int)(sizeof(table) / sizeof(table)[0])

Suite *make_suite(void)
{
    Suite *suite = suite_create("housefile");
    TCase *tcase = tcase_create("housefile");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, unusual_is_read, 0, ROWS(good_rows));
    tcase_add_loop_test(tcase, unusual_is_written_back, 0, ROWS(good_rows));
    tcase_add_test(tcase, from_panel_is_not_kept);
    tcase_add_loop_test(tcase, name_comes_back_whole, 0, ROWS(name_rows));
    tcase_add_loop_test(tcase, long_line_works, 0, ROWS(whole_lengths));
    tcase_add_loop_test(tcase, too_long_line_is_refused, 0, ROWS(too_long_rows));
    tcase_add_test(tcase, long_comment_stays_a_comment);
    tcase_add_test(tcase, nul_byte_names_its_line);
    tcase_add_loop_test(tcase, file_that_is_none_is_refused, 0, ROWS(file_rows));
    tcase_add_loop_test(tcase, rubbish_is_refused_soon, 0, ROWS(rubbish_rows));
    tcase_add_test(tcase, more_than_the_limit_is_refused);
    tcase_add_loop_test(tcase, sample_is_read, 0, ROWS(sample_rows));
    suite_add_tcase(suite, tcase);
    return suite;
}
