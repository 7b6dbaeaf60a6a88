/* Circuits: how they are read and refused, published problems, and random networks against node equations. */
#include "runner.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/circuit.h"
#include "ampsum/exact.h"
#include "node_equations.h"

static const char *const e24[] = {"1.0", "1.1", "1.2", "1.3", "1.5", "1.6", "1.8", "2.0", "2.2", "2.4", "2.7", "3.0",
                                  "3.3", "3.6", "3.9", "4.3", "4.7", "5.1", "5.6", "6.2", "6.8", "7.5", "8.2", "9.1"};

/* What a test asks: up to two knowns and one fault. */
struct asked {
    const char *source;
    const char *circuit;
    const char *known[2];
    const char *opened;
    const char *shorted;
};

static struct circuit_task task_of(const struct asked *asked)
{
    const size_t knowns = (asked->known[0] != NULL) + (asked->known[1] != NULL ? 1U : 0U);
    return (struct circuit_task){
        .input = {.source = asked->source, .circuit = asked->circuit, .knowns = asked->known, .known_count = knowns},
        .opened = &asked->opened,
        .opened_count = asked->opened != NULL,
        .shorted = &asked->shorted,
        .shorted_count = asked->shorted != NULL,
        .series = "E24",
        .preferred = e24,
        .preferred_count = sizeof e24 / sizeof e24[0],
        .style = {.figures = CIRCUIT_FIGURES_DEFAULT}};
}

static void work_on(const struct circuit_task *task, struct circuit_work *work)
{
    struct circuit_fault fault = {0};
    const bool good = circuit_work(task, work, &fault);
    ck_assert_msg(good, "%s: %s", task->input.circuit, text_string(&fault.message));
}

static const struct circuit_figure *figure_of(const struct circuit_work *work, const char *name,
                                              enum circuit_quantity quantity)
{
    const size_t node = name == NULL ? work->circuit.root : circuit_named(&work->circuit, name);
    ck_assert_uint_ne(node, CIRCUIT_NONE);
    return &work->answer.solutions[0].figures.node[node].cell[quantity];
}

/* ------------------------------------------------------------------ reading ------------------------------- */

/* By the grammar and its table of matters (contract, circuits.md, A1). */
static const struct {
    const char *circuit;
    const char *read_as;
    const char *ohm; /* of the whole, as a fraction */
    size_t notes;
} reading_rows[] = {
    {"8 + (20 | 30)", "R1 + (R2 | R3)", "20", 0},
    {"8 + 20 | 30", "R1 + (R2 | R3)", "20", 1},
    {"20|30||60//60", "R1 | R2 | R3 | R4", "60/7", 0},
    {"20 \xE2\x80\x96 30 \xE2\x88\xA5 60", "R1 | R2 | R3", "10", 0},
    {"8 + 3 x 10", "R1 + R2 + R3 + R4", "38", 0},
    {"3 x 10", "R1 | R2 | R3", "10/3", 0},
    {"8 + (3 x 10)", "R1 + (R2 | R3 | R4)", "34/3", 0},
    {"3\xC3\x97"
     "10 in series",
     "R1 + R2 + R3", "30", 0},
    {"4 | 3 x 10", "R1 | R2 | R3 | R4", "20/11", 0},
    {"4 | 3 x 10 in series", "R1 | (R2 + R3 + R4)", "60/17", 0},
    {"2 x (10 + 20)", "(R1 + R2) | (R3 + R4)", "15", 0},
    {"2 x (10 + 20) in series", "R1 + R2 + R3 + R4", "60", 0},
    {"2 x (3 x 10) in series", "(R1 | R2 | R3) + (R4 | R5 | R6)", "20/3", 0},
    {"8 + (3 x 10 in series)", "R1 + R2 + R3 + R4", "38", 0},
    {"(((5)))", "R1", "5", 0},
    {"(4 + 6) + (5 + 5)", "R1 + R2 + R3 + R4", "20", 0},
    {"(4 | 6) | 12", "R1 | R2 | R3", "2", 0},
    {"6 x 1.6k in parallel + 4 x 2.4k in parallel", "(R1 | R2 | R3 | R4 | R5 | R6) + (R7 | R8 | R9 | R10)", "2600/3",
     0},
    {"3 x lamp=240 + 5", "lamp1 + lamp2 + lamp3 + R1", "725", 0},
    {"R2=5 + 6 + 7 + r1=8", "R2 + R3 + R4 + r1", "26", 0},
    {"4k7 + 1R5 + 2M2", "R1 + R2 + R3", "4409403/2", 0},
    {"4.7 k + 4.7 kohm + 4.7K\xCE\xA9 + 2 Ohms + 3R + 500 m", "R1 + R2 + R3 + R4 + R5 + R6", "28211/2", 0},
    {"2/3 + 1 / 3", "R1 + R2", "1", 0},
    {"1.5e1 + 25E-1", "R1 + R2", "35/2", 0},
    {"0.1 S + 5 mS", "R1 + R2", "210", 0},
    {"1500 W at 120 V + 2 A at 12 V + 2.4kW at 12V", "R1 + R2 + R3", "783/50", 0},
    {"4 in series", "R1", "4", 1},
};

START_TEST(circuits_are_read_as_the_grammar_says)
{
    const struct asked asked = {.circuit = reading_rows[_i].circuit};
    const struct circuit_task task = task_of(&asked);
    struct circuit_work work;
    struct text text = {0};
    work_on(&task, &work);
    circuit_label(&work.circuit, work.circuit.root, &text);
    ck_assert_str_eq(text_string(&text), reading_rows[_i].read_as);
    text_clear(&text);
    exact_write_fraction(&text, figure_of(&work, NULL, CIRCUIT_R)->value);
    ck_assert_str_eq(text_string(&text), reading_rows[_i].ohm);
    ck_assert_uint_eq(work.circuit.note_count, reading_rows[_i].notes);
    text_done(&text);
    circuit_work_done(&work);
}
END_TEST

/* Every fault of the contract's table (circuits.md, A5): its status and what its message holds. */
static const struct {
    struct asked asked;
    enum circuit_status status;
    const char *holds;
    const char *holds_too;
} fault_rows[] = {
    {{.circuit = "(4 + 6"}, CIRCUIT_INPUT, "bracket", "\n  ^"},
    {{.circuit = "4 + 6)"}, CIRCUIT_INPUT, "bracket", "\n       ^"},
    {{.circuit = ")"}, CIRCUIT_INPUT, "bracket", NULL},
    {{.circuit = "4 +"}, CIRCUIT_INPUT, "a part was expected", NULL},
    {{.circuit = "| 4"}, CIRCUIT_INPUT, "a part was expected", NULL},
    {{.circuit = "4 + | 6"}, CIRCUIT_INPUT, "a part was expected", "\n      ^"},
    {{.circuit = ""}, CIRCUIT_INPUT, "a part was expected", NULL},
    {{.circuit = "lamp"}, CIRCUIT_INPUT, "a part was expected", NULL},
    {{.circuit = "4 6"}, CIRCUIT_INPUT, "+ or | was expected", "\n    ^"},
    {{.circuit = "(4 6)"}, CIRCUIT_INPUT, "+ or | was expected", NULL},
    {{.circuit = "4 + 0"}, CIRCUIT_INPUT, "0 ohm is a short circuit: use --short", "\n      ^"},
    {{.circuit = "0 S"}, CIRCUIT_INPUT, "--open", NULL},
    {{.circuit = "12 V + 3"}, CIRCUIT_INPUT, "V", "ohm"},
    {{.source = "12 V", .circuit = "4", .known = {"I = 3 V"}}, CIRCUIT_INPUT, "A", "I is in A"},
    {{.source = "12 V", .circuit = "4", .known = {"I = 3"}}, CIRCUIT_INPUT, "unit", "I is in A"},
    {{.circuit = "5 foo"}, CIRCUIT_INPUT, "foo", "ohm"},
    {{.circuit = "4 + -5"}, CIRCUIT_INPUT, "minus", NULL},
    {{.source = "-12 V", .circuit = "4"}, CIRCUIT_INPUT, "minus", NULL},
    {{.source = "0 V", .circuit = "4"}, CIRCUIT_INPUT, "0 V", NULL},
    {{.source = "12", .circuit = "4"}, CIRCUIT_INPUT, "12 V", NULL},
    {{.source = "12 ohm", .circuit = "4"}, CIRCUIT_INPUT, "V", NULL},
    {{.circuit = "2,5 + 3"}, CIRCUIT_INPUT, "comma", "point"},
    {{.circuit = "1,500 + 3"}, CIRCUIT_INPUT, "comma", "point"},
    {{.circuit = "4, 3"}, CIRCUIT_INPUT, "comma", "point"},
    {{.circuit = "3*10"}, CIRCUIT_INPUT, "write 3 x 10", NULL},
    {{.circuit = "4 - 6"}, CIRCUIT_INPUT, "series is written +", NULL},
    {{.circuit = "4 -- 6"}, CIRCUIT_INPUT, "series is written +", NULL},
    {{.circuit = "4 \xE2\x88\x92 6"}, CIRCUIT_INPUT, "series is written +", "\n    ^"},
    {{.circuit = "lamp=5 + LAMP=6"}, CIRCUIT_INPUT, "twice", "LAMP"},
    {{.circuit = "3 x lamp=5 + lamp2=6"}, CIRCUIT_INPUT, "twice", "lamp2"},
    {{.circuit = "101 x 5"}, CIRCUIT_INPUT, "100", NULL},
    {{.circuit = "4294967297 x (4294967297 x 5)"}, CIRCUIT_INPUT, "100", NULL},
    {{.circuit = "(((((((((((((((((((((5)))))))))))))))))))))"}, CIRCUIT_INPUT, "20", NULL},
    {{.circuit = "3 x lamp2=5"}, CIRCUIT_INPUT, "lamp2", "digit"},
    {{.circuit = "total=5"}, CIRCUIT_INPUT, "total", NULL},
    {{.circuit = "a23456789012345678901=5"}, CIRCUIT_INPUT, "20", NULL},
    {{.circuit = "1500 W | 20"}, CIRCUIT_INPUT, "write 1500 W at 120 V", NULL},
    {{.source = "? V", .circuit = "Waffle=60 W"}, CIRCUIT_INPUT, "write Waffle=60 W at 120 V", NULL},
    {{.source = "12 V", .circuit = "5 A"}, CIRCUIT_INPUT, "write 5 A at 120 V", NULL},
    {{.circuit = "1500 W at 120"}, CIRCUIT_INPUT, "at 120 V", NULL},
    {{.source = "12 V", .circuit = "4", .known = {"I(lamp) = 3 A"}}, CIRCUIT_INPUT, "lamp", "R1"},
    {{.source = "12 V", .circuit = "heater=4 + 5", .opened = "heatr"}, CIRCUIT_INPUT, "heatr", "heater"},
    {{.source = "12 V", .circuit = "heater=4 + 5", .shorted = "R7"}, CIRCUIT_INPUT, "R7", "R1"},
    {{.circuit = "1e13"}, CIRCUIT_INPUT, "1e12", NULL},
    {{.circuit = "1e-13"}, CIRCUIT_INPUT, "1e-12", NULL},
    {{.circuit = "1e999999999999999999999"}, CIRCUIT_INPUT, "1e12", NULL},
    {{.circuit = "4\t\x01"}, CIRCUIT_INPUT, "character", NULL},
    {{.source = "12 V", .circuit = "4 | ?"}, CIRCUIT_UNDETERMINED, "1 known is missing", "--know"},
    {{.source = "? V", .circuit = "4"}, CIRCUIT_UNDETERMINED, "1 known is missing", "--know"},
    {{.source = "? V", .circuit = "4 | ?"}, CIRCUIT_UNDETERMINED, "2 knowns are missing", "--know"},
    {{.source = "? V", .circuit = "4 | ?", .known = {"R = 3 ohm"}}, CIRCUIT_UNDETERMINED, "1 known is missing", NULL},
    {{.circuit = "? + ?"}, CIRCUIT_UNDETERMINED, "two parts", NULL},
    {{.circuit = "2 x ?"}, CIRCUIT_UNDETERMINED, "two parts", NULL},
    {{.source = "12 V", .circuit = "4 | ?", .known = {"I1 = 3 A"}}, CIRCUIT_UNDETERMINED, "1 known is missing", "R2"},
    {{.circuit = "4 + ?", .known = {"I = 3 A", "I1 = 3 A"}}, CIRCUIT_UNDETERMINED, "1 known is missing", "R2"},
    {{.circuit = "900k + ?", .known = {"R = 0.500 Mohm"}}, CIRCUIT_IMPOSSIBLE, "-400000 ohm", "-400 kohm"},
    {{.circuit = "145 | ?", .known = {"R = 150 ohm"}},
     CIRCUIT_IMPOSSIBLE,
     "-4350 ohm",
     "in parallel the total is below every part: 150 ohm is above 145 ohm"},
    {{.source = "12 V", .circuit = "145 | ?", .known = {"I = 0.08 A"}},
     CIRCUIT_IMPOSSIBLE,
     "12 V / 0.08 A = 150 ohm",
     "-4350 ohm"},
    {{.source = "12 V", .circuit = "4 + ?", .known = {"P2 = 10 W"}}, CIRCUIT_IMPOSSIBLE, "at most 9 W, at 4 ohm", NULL},
    {{.source = "12 V", .circuit = "4 + ?", .known = {"V1 = 13 V"}}, CIRCUIT_IMPOSSIBLE, "between", "12 V"},
    {{.source = "12 V", .circuit = "4 + 6", .known = {"I = 1.3 A"}}, CIRCUIT_CONTRADICTION, "1.2 A", "1.3 A"},
    {{.source = "12 V", .circuit = "4 | ?", .known = {"I = 4.5 A", "R = 2.6 ohm"}},
     CIRCUIT_CONTRADICTION,
     "2.667 ohm",
     "2.6 ohm"},
};

START_TEST(every_fault_has_its_status_and_message)
{
    const struct circuit_task task = task_of(&fault_rows[_i].asked);
    struct circuit_fault fault = {0};
    struct circuit_work work;
    ck_assert_msg(!circuit_work(&task, &work, &fault), "%s is taken", task.input.circuit);
    const char *message = text_string(&fault.message);
    ck_assert_msg(fault.status == fault_rows[_i].status, "%s: %s", circuit_status_word(fault.status), message);
    ck_assert_msg(strstr(message, fault_rows[_i].holds) != NULL, "%s", message);
    ck_assert_msg(fault_rows[_i].holds_too == NULL || strstr(message, fault_rows[_i].holds_too) != NULL, "%s", message);
    text_done(&fault.message);
    circuit_work_done(&work);
}
END_TEST

/* Who typed into a field is told without the option of the command, and of which field it is. */
START_TEST(a_fault_is_said_to_who_typed_into_a_field)
{
    static const struct {
        const char *message;
        const char *said;
    } rows[] = {{"--open R9: no such part", "R9: no such part"}, {"--", "--"}, {"R2: 0 ohm", "R2: 0 ohm"}, {"", ""}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct circuit_fault fault = {0};
        text_add(&fault.message, rows[i].message);
        ck_assert_str_eq(circuit_fault_said(&fault), rows[i].said);
        text_done(&fault.message);
    }
    ck_assert_ptr_null(circuit_about_word(CIRCUIT_ABOUT_ANY));
    ck_assert_str_eq(circuit_about_word(CIRCUIT_ABOUT_BREAKER), "breaker");
}
END_TEST

/* More is known than needed: what was written may stand for the value, half a unit of its last place to either side. */
START_TEST(a_further_known_fits_by_the_digits_written)
{
    static const struct {
        const char *known;
        bool fits;
    } rows[] = {{"R = 2.7 ohm", true},  {"R = 3 ohm", true},     {"R = 2.67 ohm", true}, {"R = 2.6667 ohm", true},
                {"R = 2.6 ohm", false}, {"R = 2.66 ohm", false}, {"R = 8/3 ohm", true},  {"R = 2.0 ohm", false},
                {"I1 = 3.0 A", true},   {"I1 = 3.1 A", false},   {"P2 = 0.018 kW", true}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct asked asked = {.source = "12 V", .circuit = "4 | ?", .known = {"I = 4.5 A", rows[i].known}};
        const struct circuit_task task = task_of(&asked);
        struct circuit_fault fault = {0};
        struct circuit_work work;
        ck_assert_msg(circuit_work(&task, &work, &fault) == rows[i].fits, "%s", rows[i].known);
        text_done(&fault.message);
        circuit_work_done(&work);
    }
}
END_TEST

/* 12 V with 1 ohm of its own on 3 ohm, by hand: 12 / 4 = 3 A, 12 - 3 = 9 V, 5 - 3 = 2 A of the breaker, 1 / 4 S. */
START_TEST(terminals_breaker_and_stock_stand_beside_the_figures)
{
    const struct asked asked = {.source = "12 V", .circuit = "3", .known = {NULL}};
    struct circuit_task task = task_of(&asked);
    struct circuit_work work;
    task.input.internal = "1 ohm";
    task.breaker = "5 A";
    work_on(&task, &work);
    ck_assert_int_eq(work.beside[0].terminal_v.state, CIRCUIT_FINITE);
    ck_assert_double_eq(exact_double(work.beside[0].terminal_v.value), 9);
    ck_assert_double_eq(exact_double(work.beside[0].headroom_a.value), 2);
    ck_assert_int_eq(work.beside[0].with_stock.state, CIRCUIT_NO_FIGURE);
    ck_assert_double_eq(circuit_conductance_s(figure_of(&work, NULL, CIRCUIT_R)), 0.25);
    circuit_work_done(&work);
}
END_TEST

/* 10 V and 3 A ask for 10/3 ohm, 7/3 beside 1; the nearest of E24 is 2.4, which lets 10 / 3.4 A through. */
START_TEST(the_part_on_sale_gives_its_own_figure)
{
    const struct asked asked = {.source = "10 V", .circuit = "1 + ?", .known = {"I = 3 A"}};
    const struct circuit_task task = task_of(&asked);
    struct circuit_work work;
    work_on(&task, &work);
    ck_assert_double_eq(exact_double(work.stock[0]), 2.4);
    ck_assert_double_eq_tol(exact_double(work.beside[0].with_stock.value), 10 / 3.4, 1e-12);
    ck_assert_int_eq(work.beside[0].terminal_v.state, CIRCUIT_NO_FIGURE);
    ck_assert_int_eq(work.beside[0].headroom_a.state, CIRCUIT_NO_FIGURE);
    ck_assert_double_eq_tol(exact_double(figure_of(&work, NULL, CIRCUIT_I)->value), 3, 1e-12);
    circuit_work_done(&work);
}
END_TEST

START_TEST(a_power_may_fit_two_resistances)
{
    const struct asked asked = {.source = "12 V", .circuit = "4 + ?", .known = {"P2 = 8 W"}};
    const struct asked closer = {.source = "12 V", .circuit = "4 + ?", .known = {"P2 = 8 W", "I = 1 A"}};
    struct circuit_task task = task_of(&asked);
    struct circuit_work work;
    work_on(&task, &work);
    ck_assert_uint_eq(work.answer.count, 2);
    ck_assert_int_eq(mpq_cmp_ui(work.answer.solutions[0].ohm[work.circuit.unknown], 2, 1), 0);
    ck_assert_int_eq(mpq_cmp_ui(work.answer.solutions[1].ohm[work.circuit.unknown], 8, 1), 0);
    circuit_work_done(&work);
    task = task_of(&closer);
    work_on(&task, &work);
    ck_assert_uint_eq(work.answer.count, 1);
    ck_assert_int_eq(mpq_cmp_ui(work.answer.solutions[0].ohm[work.circuit.unknown], 8, 1), 0);
    circuit_work_done(&work);
}
END_TEST

/* V = sqrt(180 W x 7 ohm): not rational, so no fraction, and 40 digits of the root. */
START_TEST(a_root_is_carried_to_forty_digits)
{
    const struct asked asked = {.source = "180 W", .circuit = "7"};
    const struct circuit_task task = task_of(&asked);
    struct circuit_work work;
    struct text text = {0};
    mpq_t square;
    mpq_init(square);
    work_on(&task, &work);
    const struct circuit_figure *voltage = figure_of(&work, NULL, CIRCUIT_V);
    ck_assert(voltage->irrational && figure_of(&work, NULL, CIRCUIT_I)->irrational);
    ck_assert(!figure_of(&work, NULL, CIRCUIT_R)->irrational);
    mpq_mul(square, voltage->value, voltage->value);
    exact_write_decimal(&text, square, 39);
    ck_assert_str_eq(text_string(&text), "1260.00000000000000000000000000000000000");
    text_done(&text);
    mpq_clear(square);
    circuit_work_done(&work);
}
END_TEST

/* IEC 60063 numbers: the nearer one by difference, the smaller of two equally near, across a decade. */
START_TEST(the_nearest_stock_value_is_found)
{
    static const struct {
        const char *wanted;
        const char *stock;
    } rows[] = {{"8", "41/5"},     {"24", "24"},     {"95", "91"},
                {"96", "100"},     {"955/10", "91"}, {"1/3", "33/100"},
                {"9999", "10000"}, {"105/100", "1"}, {"1/1000000", "1/1000000"}};
    mpq_t wanted;
    mpq_t stock;
    mpq_t expected;
    mpq_inits(wanted, stock, expected, NULL);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        mpq_set_str(wanted, rows[i].wanted, 10);
        mpq_set_str(expected, rows[i].stock, 10);
        mpq_canonicalize(wanted);
        mpq_canonicalize(expected);
        circuit_stock(wanted, e24, sizeof e24 / sizeof e24[0], stock);
        ck_assert_msg(mpq_equal(stock, expected), "%s: %g", rows[i].wanted, mpq_get_d(stock));
    }
    mpq_clears(wanted, stock, expected, NULL);
}
END_TEST

/* ------------------------------------------------------------------ figures as written -------------------- */

START_TEST(figures_have_their_fitting_prefix)
{
    static const struct {
        const char *value;
        unsigned figures;
        const char *want;
    } rows[] = {{"144/10000", 4, "14.4 mA"},
                {"4700", 4, "4.7 kA"},
                {"999999/1000", 4, "1 kA"},
                {"1", 4, "1 A"},
                {"9999/10000", 4, "999.9 mA"},
                {"1/1000000", 4,
                 "1 \xC2\xB5"
                 "A"},
                {"8/3", 4, "2.667 A"},
                {"8/3", 2, "2.7 A"},
                {"0", 4, "0 A"},
                {"-25/1000", 4, "-25 mA"},
                {"2200000", 4, "2.2 MA"},
                {"1/3000", 3,
                 "333 \xC2\xB5"
                 "A"}};
    mpq_t value;
    mpq_init(value);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        mpq_set_str(value, rows[i].value, 10);
        mpq_canonicalize(value);
        const struct circuit_style style = {.figures = rows[i].figures};
        circuit_write_value(&text, value, CIRCUIT_I, &style);
        if (strcmp(rows[i].want, "1 kA") != 0) {
            ck_assert_str_eq(text_string(&text), rows[i].want);
        } else { /* rounded up to the next prefix */
            ck_assert_msg(strncmp(text_string(&text), "1.000 kA", 8) == 0 || strcmp(text_string(&text), "1 kA") == 0,
                          "%s", text_string(&text));
        }
        text_done(&text);
    }
    mpq_clear(value);
}
END_TEST

/* ------------------------------------------------------------------ published problems -------------------- */

static double half_digit_of(const char *printed)
{
    const char *point = strchr(printed, '.');
    const char *exponent = strchr(printed, 'e');
    const size_t length = exponent == NULL ? strlen(printed) : (size_t)(exponent - printed);
    const double decimals = point == NULL || point > printed + length ? 0 : (double)(printed + length - point - 1);
    return 0.5 * pow(10, (exponent == NULL ? 0 : strtod(exponent + 1, NULL)) - decimals);
}

/* `R1`, or `R1|R2` for the group of both. */
static size_t node_named(const struct circuit *circuit, const char *name)
{
    char first[64];
    snprintf(first, sizeof first, "%.*s", (int)strcspn(name, "|"), name);
    const size_t node = circuit_named(circuit, first);
    ck_assert_msg(node != CIRCUIT_NONE, "no part %s", first);
    return strchr(name, '|') == NULL ? node : circuit->nodes[node].parent;
}

static double wanted_value(const struct circuit_work *work, const char *name)
{
    const struct circuit *circuit = &work->circuit;
    const struct circuit_figures *figures = &work->answer.solutions[0].figures;
    const struct circuit_figure *total = figures->node[circuit->root].cell;
    char inner[64] = "";
    const char *bracket = strchr(name, '(');
    if (bracket != NULL) {
        snprintf(inner, sizeof inner, "%.*s", (int)strcspn(bracket + 1, ")"), bracket + 1);
    }
    if (strcmp(name, "terminal") == 0) {
        return exact_double(total[CIRCUIT_V].value) -
               exact_double(figures->node[circuit_named(circuit, "r")].cell[CIRCUIT_V].value);
    }
    if (strcmp(name, "over") == 0) {
        return mpq_cmp(total[CIRCUIT_I].value, work->breaker_a) > 0;
    }
    if (strncmp(name, "share", 5) == 0) {
        return 100 * exact_double(figures->node[node_named(circuit, inner)].cell[CIRCUIT_I].value) /
               exact_double(total[CIRCUIT_I].value);
    }
    const char *const letters = "RVIP";
    const char *letter = strchr(letters, name[0]);
    ck_assert_msg(letter != NULL, "%s is not known to this test", name);
    const size_t node = inner[0] == '\0' ? circuit->root : node_named(circuit, inner);
    return exact_double(figures->node[node].cell[letter - letters].value);
}

static void take_options(char *options, struct asked *asked, struct circuit_task *task)
{
    char *know = strstr(options, "know=");
    if (know != NULL) {
        asked->known[0] = know + 5;
        *know = '\0';
    }
    *task = task_of(asked);
    char *save = NULL;
    for (char *option = strtok_r(options, " ", &save); option != NULL; option = strtok_r(NULL, " ", &save)) {
        char *value = strchr(option, '=');
        if (value != NULL) {
            *value++ = '\0';
            const char **to = strcmp(option, "breaker") == 0    ? &task->breaker
                              : strcmp(option, "internal") == 0 ? &task->input.internal
                                                                : &task->input.wire;
            *to = value;
        }
    }
}

static void check_wanted(const char *id, const struct circuit_work *work, char *wanted, const char *from)
{
    char *save = NULL;
    for (char *want = strtok_r(wanted, " ", &save); want != NULL; want = strtok_r(NULL, " ", &save)) {
        char *equals = strrchr(want, '=');
        *equals = '\0';
        const double got = wanted_value(work, want);
        ck_assert_msg(fabs(got - strtod(equals + 1, NULL)) <= half_digit_of(equals + 1) * (1 + 1e-9),
                      "%s: %s = %.8g, printed %s (%s)", id, want, got, equals + 1, from);
    }
}

static void check_published(char *line)
{
    char *field[8] = {0};
    for (size_t i = 0; i < 8; i++) {
        field[i] = line;
        line = strchr(line, '\t');
        ck_assert_msg(line != NULL || i == 7, "%s: a field is missing", field[0]);
        if (line != NULL) {
            *line++ = '\0';
        }
    }
    ck_assert_str_eq(field[5], "half digit");
    struct asked asked = {.source = strcmp(field[1], "-") == 0 ? NULL : field[1], .circuit = field[2]};
    struct circuit_task task;
    struct circuit_work work;
    struct circuit_fault fault = {0};
    take_options(field[3], &asked, &task);
    const bool good = circuit_work(&task, &work, &fault);
    if (strncmp(field[4], "impossible=", 11) == 0) {
        ck_assert_int_eq(fault.status, CIRCUIT_IMPOSSIBLE);
        ck_assert_msg(strstr(text_string(&fault.message), field[4] + 11) != NULL, "%s", text_string(&fault.message));
    } else {
        ck_assert_msg(good, "%s: %s", field[0], text_string(&fault.message));
        check_wanted(field[0], &work, field[4], field[7]);
    }
    text_done(&fault.message);
    circuit_work_done(&work);
}

START_TEST(published_circuits_come_out_as_printed)
{
    struct text path = {0};
    text_printf(&path, "%s/outside/solve.tsv", getenv("AMPSUM_TESTS") == NULL ? "tests" : getenv("AMPSUM_TESTS"));
    FILE *file = fopen(text_string(&path), "r");
    ck_assert_ptr_nonnull(file);
    char *line = NULL;
    size_t capacity = 0;
    int count = 0;
    while (getline(&line, &capacity, file) > 0) {
        line[strcspn(line, "\r\n")] = '\0';
        if (line[0] != '#' && strncmp(line, "id\t", 3) != 0) {
            check_published(line);
            count++;
        }
    }
    ck_assert_int_eq(count, 33);
    free(line);
    fclose(file);
    text_done(&path);
}
END_TEST

/* `10k | 30k` by product over sum (NEETS question 38), and that the other methods are taken where they are asked. */
START_TEST(the_method_asked_for_is_used)
{
    static const struct {
        const char *circuit;
        enum circuit_method method;
        enum step_kind kind;
    } rows[] = {{"10k | 30k", CIRCUIT_BY_SIZE, STEP_PRODUCT_OVER_SUM},
                {"4 x 100", CIRCUIT_BY_SIZE, STEP_RESISTANCE_EQUAL},
                {"12k | 20k | 30k", CIRCUIT_BY_SIZE, STEP_RESISTANCE_PARALLEL},
                {"12k | 20k | 30k", CIRCUIT_BY_PRODUCT, STEP_PRODUCT_OVER_SUM},
                {"10k | 30k", CIRCUIT_BY_RECIPROCAL, STEP_RESISTANCE_PARALLEL},
                {"4 x 100", CIRCUIT_BY_CONDUCTANCE, STEP_CONDUCTANCE_SUM}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct asked asked = {.circuit = rows[i].circuit};
        struct circuit_task task = task_of(&asked);
        struct circuit_work work;
        struct steps steps = {0};
        task.style.method = rows[i].method;
        work_on(&task, &work);
        circuit_steps_main(&work.circuit, &work.answer.solutions[0], &work.style, &steps);
        ck_assert_uint_ge(steps.count, 1);
        ck_assert_msg(steps.step[0].kind == rows[i].kind, "%s: %s", rows[i].circuit, steps.step[0].formula);
        steps_done(&steps);
        circuit_work_done(&work);
    }
}
END_TEST

/* ------------------------------------------------------------------ random networks ----------------------- */

enum { NETWORKS = 10000 };

static void solve_network(const char *circuit, const char *source, struct circuit_work *work)
{
    const struct asked asked = {.source = source, .circuit = circuit};
    const struct circuit_task task = task_of(&asked);
    work_on(&task, work);
}

START_TEST(random_networks_agree_with_node_equations)
{
    uint64_t state = 20 + (uint64_t)_i;
    for (int n = 0; n < NETWORKS / 10; n++) {
        struct network network;
        struct circuit_work work;
        struct circuit_figures second;
        network_random(&state, 12, &network);
        network_solve(&network);
        solve_network(text_string(&network.circuit), "60 V", &work);
        ck_assert_uint_eq(work.circuit.part_count, network.count);
        for (size_t i = 0; i < network.count; i++) {
            const struct circuit_figure *cells = work.answer.solutions[0].figures.node[work.circuit.parts[i]].cell;
            ck_assert_msg(mpq_equal(cells[CIRCUIT_R].value, network.part[i].ohm) &&
                              mpq_equal(cells[CIRCUIT_V].value, network.part[i].volt) &&
                              mpq_equal(cells[CIRCUIT_I].value, network.part[i].ampere),
                          "%s: part %zu differs", text_string(&network.circuit), i + 1);
        }
        ck_assert(mpq_equal(figure_of(&work, NULL, CIRCUIT_I)->value, network.ampere));
        ck_assert(circuit_second_way(&work.circuit, &work.answer.solutions[0], &second));
        circuit_figures_done(&second);
        circuit_work_done(&work);
        network_done(&network);
    }
}
END_TEST

/* The knowns that a network with its part `hidden` unknown is given: R, V, I or P of a part or of the whole. */
static bool write_known(const struct circuit_work *work, size_t node, enum circuit_quantity quantity, struct text *text)
{
    static const char *const units[] = {"ohm", "V", "A", "W"};
    const struct circuit_figure *figure = &work->answer.solutions[0].figures.node[node].cell[quantity];
    text_clear(text);
    text_add(text, circuit_letter(quantity));
    if (node != work->circuit.root) {
        text_printf(text, "(%s)", work->circuit.nodes[node].name);
    }
    text_add(text, " = ");
    exact_write_fraction(text, figure->value);
    text_printf(text, " %s", units[quantity]);
    return true;
}

static bool holds_value(const struct circuit_work *work, const mpq_t ohm)
{
    for (size_t i = 0; i < work->answer.count; i++) {
        if (mpq_equal(work->answer.solutions[i].ohm[work->circuit.unknown], ohm)) {
            return true;
        }
    }
    return false;
}

/* Hides a part (and the source), gives what is known of the rest, and expects the circuit again. */
static int check_put_back(uint64_t *state, bool source_too)
{
    struct network network;
    struct circuit_work work;
    struct circuit_work again;
    struct text known[2] = {{0}, {0}};
    network_random(state, 8, &network);
    solve_network(text_string(&network.circuit), "60 V", &work);
    const size_t hidden = network_pick(state, network.count);
    for (size_t k = 0; k < 2; k++) {
        const size_t place = network_pick(state, network.count + 1);
        const size_t node = place == network.count ? work.circuit.root : work.circuit.parts[place];
        const size_t least = source_too ? CIRCUIT_V : CIRCUIT_R;
        write_known(&work, node, (enum circuit_quantity)(least + network_pick(state, CIRCUIT_QUANTITIES - least)),
                    &known[k]);
    }
    network_hide(&network, hidden);
    const struct asked asked = {.source = source_too ? "? V" : "60 V",
                                .circuit = text_string(&network.circuit),
                                .known = {text_string(&known[0]), source_too ? text_string(&known[1]) : NULL}};
    const struct circuit_task task = task_of(&asked);
    struct circuit_fault fault = {0};
    const bool found = circuit_work(&task, &again, &fault);
    /* What says nothing of the hidden part is told as such, and never as impossible or a contradiction. */
    ck_assert_msg(found || fault.status == CIRCUIT_UNDETERMINED, "%s, %s, %s: %s", asked.circuit, asked.known[0],
                  text_string(&known[1]), text_string(&fault.message));
    ck_assert_msg(!found || holds_value(&again, network.part[hidden].ohm), "%s, %s, %s: another value", asked.circuit,
                  asked.known[0], text_string(&known[1]));
    text_done(&fault.message);
    text_done(&known[0]);
    text_done(&known[1]);
    circuit_work_done(&again);
    circuit_work_done(&work);
    network_done(&network);
    return found;
}

START_TEST(every_known_put_back_gives_the_circuit_again)
{
    uint64_t state = 7 + (uint64_t)_i;
    int found = 0;
    for (int n = 0; n < NETWORKS / 10; n++) {
        found += check_put_back(&state, n % 2 == 1);
    }
    ck_assert_int_gt(found, NETWORKS / 20);
}
END_TEST

static bool near(const struct circuit_figure *figure, const struct circuit_figure *limit)
{
    if (figure->state != CIRCUIT_FINITE) {
        return true;
    }
    const double one = exact_double(figure->value);
    const double two = exact_double(limit->value);
    return fabs(one - two) <= 1e-9 * (fabs(one) + fabs(two)) + 1e-15;
}

/* An open path is the limit of a resistance that grows, a short one that of a resistance that shrinks. */
START_TEST(a_fault_is_the_limit_of_a_resistance)
{
    uint64_t state = 99;
    mpq_t extreme;
    mpq_init(extreme);
    for (int n = 0; n < 1000; n++) {
        struct network network;
        struct circuit_work work;
        struct circuit_figures after;
        struct circuit_figures limit;
        network_random(&state, 8, &network);
        solve_network(text_string(&network.circuit), "60 V", &work);
        const struct circuit_solution *solution = &work.answer.solutions[0];
        const size_t node = work.circuit.parts[network_pick(&state, network.count)];
        enum circuit_break *broken = calloc(work.circuit.node_count, sizeof *broken);
        ck_assert_ptr_nonnull(broken);
        broken[node] = n % 2 == 0 ? CIRCUIT_OPENED : CIRCUIT_SHORTED;
        circuit_solve(&work.circuit, solution->voltage, solution->ohm, broken, &after);
        mpq_set_ui(extreme, 1, 1);
        mpz_ui_pow_ui(n % 2 == 0 ? mpq_numref(extreme) : mpq_denref(extreme), 10, 40);
        mpq_set(solution->ohm[node], extreme);
        circuit_solve(&work.circuit, solution->voltage, solution->ohm, NULL, &limit);
        for (size_t i = 0; i < work.circuit.part_count && !after.source_shorted; i++) {
            const size_t part = work.circuit.parts[i];
            ck_assert_msg(near(&after.node[part].cell[CIRCUIT_V], &limit.node[part].cell[CIRCUIT_V]) &&
                              near(&after.node[part].cell[CIRCUIT_I], &limit.node[part].cell[CIRCUIT_I]),
                          "%s: part %zu", text_string(&network.circuit), i + 1);
        }
        circuit_figures_done(&after);
        circuit_figures_done(&limit);
        free(broken);
        circuit_work_done(&work);
        network_done(&network);
    }
    mpq_clear(extreme);
}
END_TEST

/* Two gaps in a row leave what stands across either open; a short across the bare source has no figure. */
START_TEST(what_no_rule_gives_has_no_figure)
{
    struct circuit_work work;
    enum circuit_break broken[3] = {CIRCUIT_WHOLE};
    struct circuit_figures after;
    solve_network("4 + 6", "12 V", &work);
    for (size_t i = 0; i < 2; i++) {
        broken[work.circuit.parts[i]] = CIRCUIT_OPENED;
    }
    circuit_solve(&work.circuit, work.answer.solutions[0].voltage, NULL, broken, &after);
    ck_assert_int_eq(after.node[work.circuit.root].cell[CIRCUIT_R].state, CIRCUIT_INFINITE);
    ck_assert_int_eq(mpq_sgn(after.node[work.circuit.parts[0]].cell[CIRCUIT_I].value), 0);
    ck_assert_int_eq(after.node[work.circuit.parts[0]].cell[CIRCUIT_V].state, CIRCUIT_NO_FIGURE);
    circuit_figures_done(&after);
    circuit_work_done(&work);
    solve_network("4 | 6", "12 V", &work);
    broken[work.circuit.parts[0]] = CIRCUIT_SHORTED;
    broken[work.circuit.parts[1]] = CIRCUIT_WHOLE;
    circuit_solve(&work.circuit, work.answer.solutions[0].voltage, NULL, broken, &after);
    ck_assert(after.source_shorted);
    ck_assert_int_eq(after.node[work.circuit.root].cell[CIRCUIT_I].state, CIRCUIT_NO_FIGURE);
    circuit_figures_done(&after);
    circuit_work_done(&work);
}
END_TEST

/* Takes a figure into the least or greatest seen so far. */
static void widen(mpq_t least, mpq_t greatest, const struct circuit_figure *figure, bool first)
{
    if (first || mpq_cmp(figure->value, least) < 0) {
        mpq_set(least, figure->value);
    }
    if (first || mpq_cmp(figure->value, greatest) > 0) {
        mpq_set(greatest, figure->value);
    }
}

/* The bounds of one quantity of a node over all corners of the parts, each low or high. */
static void check_corners(struct circuit_work *work, size_t node, enum circuit_quantity quantity,
                          const struct circuit_bounds *bounds)
{
    const struct circuit *circuit = &work->circuit;
    mpq_t *ohm = malloc(circuit->node_count * sizeof *ohm);
    mpq_t least;
    mpq_t greatest;
    mpq_t factor;
    ck_assert_ptr_nonnull(ohm);
    mpq_inits(least, greatest, factor, NULL);
    for (size_t i = 0; i < circuit->node_count; i++) {
        mpq_init(ohm[i]);
    }
    for (unsigned corner = 0; corner < 1U << circuit->part_count; corner++) {
        struct circuit_figures figures;
        for (size_t i = 0; i < circuit->part_count; i++) {
            mpq_set_ui(factor, corner >> i & 1U ? 105 : 95, 100);
            mpq_canonicalize(factor);
            mpq_mul(ohm[circuit->parts[i]], circuit->nodes[circuit->parts[i]].ohm, factor);
        }
        circuit_solve(circuit, circuit->source_v, ohm, NULL, &figures);
        widen(least, greatest, &figures.node[node].cell[quantity], corner == 0);
        circuit_figures_done(&figures);
    }
    ck_assert(mpq_equal(bounds->least.node[node].cell[quantity].value, least));
    ck_assert(mpq_equal(bounds->greatest.node[node].cell[quantity].value, greatest));
    for (size_t i = 0; i < circuit->node_count; i++) {
        mpq_clear(ohm[i]);
    }
    mpq_clears(least, greatest, factor, NULL);
    free(ohm);
}

START_TEST(tolerance_corners_are_the_widest_of_all_corners)
{
    uint64_t state = 5;
    mpq_t percent;
    mpq_init(percent);
    mpq_set_ui(percent, 5, 1);
    for (int n = 0; n < 60; n++) {
        struct network network;
        struct circuit_work work;
        struct circuit_bounds bounds;
        network_random(&state, 6, &network);
        solve_network(text_string(&network.circuit), "60 V", &work);
        circuit_tolerance(&work.circuit, &work.answer.solutions[0], percent, &bounds);
        check_corners(&work, work.circuit.root, CIRCUIT_R, &bounds);
        check_corners(&work, work.circuit.root, CIRCUIT_I, &bounds);
        check_corners(&work, work.circuit.root, CIRCUIT_P, &bounds);
        for (size_t i = 0; i < work.circuit.part_count; i++) {
            check_corners(&work, work.circuit.parts[i], CIRCUIT_V, &bounds);
            check_corners(&work, work.circuit.parts[i], CIRCUIT_I, &bounds);
        }
        circuit_bounds_done(&bounds);
        circuit_work_done(&work);
        network_done(&network);
    }
    mpq_clear(percent);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("circuit");
    TCase *reading = tcase_create("reading");
    tcase_add_loop_test(reading, circuits_are_read_as_the_grammar_says, 0,
                        (int)(sizeof reading_rows / sizeof reading_rows[0]));
    tcase_add_loop_test(reading, every_fault_has_its_status_and_message, 0,
                        (int)(sizeof fault_rows / sizeof fault_rows[0]));
    tcase_add_test(reading, a_fault_is_said_to_who_typed_into_a_field);
    tcase_add_test(reading, a_further_known_fits_by_the_digits_written);
    suite_add_tcase(suite, reading);
    TCase *figures = tcase_create("figures");
    tcase_add_test(figures, terminals_breaker_and_stock_stand_beside_the_figures);
    tcase_add_test(figures, the_part_on_sale_gives_its_own_figure);
    tcase_add_test(figures, a_power_may_fit_two_resistances);
    tcase_add_test(figures, a_root_is_carried_to_forty_digits);
    tcase_add_test(figures, the_nearest_stock_value_is_found);
    tcase_add_test(figures, figures_have_their_fitting_prefix);
    tcase_add_test(figures, published_circuits_come_out_as_printed);
    tcase_add_test(figures, the_method_asked_for_is_used);
    suite_add_tcase(suite, figures);
    TCase *networks = tcase_create("networks");
    tcase_set_timeout(networks, 100);
    tcase_add_loop_test(networks, random_networks_agree_with_node_equations, 0, 10);
    tcase_add_loop_test(networks, every_known_put_back_gives_the_circuit_again, 0, 10);
    tcase_add_test(networks, a_fault_is_the_limit_of_a_resistance);
    tcase_add_test(networks, what_no_rule_gives_has_no_figure);
    tcase_add_test(networks, tolerance_corners_are_the_widest_of_all_corners);
    suite_add_tcase(suite, networks);
    return suite;
}
