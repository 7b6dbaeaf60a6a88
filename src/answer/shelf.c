/* The question of `lesson --stock` and `lesson --series`. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_lesson.h"
#include "ampsum/arena.h"
#include "ampsum/written.h"

enum { SERIES_PARTS = 3, SERIES_DECADES = 3, SEVERAL_PARTS = 5, SEVERAL_KINDS = 6, ALIKE_PARTS = 12 };

/* ---- what was asked */

/* A value above 0 of an option, in the unit of its quantity; a bare number is in that unit. */
static bool read_value(const char *option, const char *string, enum exact_quantity quantity, mpq_t ret,
                       struct error *error)
{
    struct answer answer;
    struct text fault = {0};
    answer_init(&answer);
    answer_read(string, &answer, &fault);
    const bool good =
        answer.form == ANSWER_NUMBER && mpq_sgn(answer.number) > 0 && (!answer.has_unit || answer.quantity == quantity);
    if (good) {
        mpq_mul(ret, answer.number, answer.factor);
    } else {
        error_set(error, ERROR_INPUT, "--%s '%s': %s", option, string,
                  fault.length > 0 ? text_string(&fault) : "expected a value above 0 with its unit");
    }
    answer_done(&answer);
    text_done(&fault);
    return good;
}

/* `5%` as 1/20; without it that of the series, if there is one. */
static bool read_tolerance(const char *string, unsigned series_percent, struct shelf_answer *answer, mpq_t ret,
                           struct error *error)
{
    mpq_set_ui(ret, series_percent, 100);
    mpq_canonicalize(ret);
    answer->has_tolerance = series_percent > 0;
    if (string == NULL) {
        return true;
    }
    const size_t length = strcspn(string, "%");
    struct text number = {0};
    text_add_length(&number, string, length);
    answer->has_tolerance = exact_read(ret, text_string(&number)) && mpq_sgn(ret) >= 0 && mpq_cmp_ui(ret, 100, 1) < 0 &&
                            strlen(string) - length <= 1;
    text_done(&number);
    if (!answer->has_tolerance) {
        error_set(error, ERROR_INPUT, "--tolerance '%s': expected a percentage below 100, such as 5%%", string);
        return false;
    }
    mpz_mul_ui(mpq_denref(ret), mpq_denref(ret), 100);
    mpq_canonicalize(ret);
    return true;
}

/* As many parts as a search takes without long waiting; all of a counted stock. */
static unsigned usual_parts(const struct stock *stock)
{
    unsigned parts = 0;
    for (size_t i = 0; i < stock->count; i++) {
        if (stock->parts[i].most == 0) {
            return stock->count == 1 ? ALIKE_PARTS : stock->count <= SEVERAL_KINDS ? SEVERAL_PARTS : SERIES_PARTS;
        }
        parts += stock->parts[i].most;
    }
    return parts < STOCK_PARTS_MOST ? parts : STOCK_PARTS_MOST;
}

static bool read_parts(const char *string, unsigned usual, unsigned *ret_most, struct error *error)
{
    *ret_most = usual;
    if (string == NULL) {
        return true;
    }
    char *end;
    const long parts = strtol(string, &end, 10);
    if (end == string || *end != '\0' || parts < 1 || parts > STOCK_PARTS_MOST) {
        error_set(error, ERROR_INPUT, "--parts '%s': expected 1 to %d", string, STOCK_PARTS_MOST);
        return false;
    }
    *ret_most = (unsigned)parts;
    return true;
}

static bool read_stock(const struct shelf_question *question, struct shelf_answer *answer, unsigned *ret_percent,
                       struct error *error)
{
    struct text fault = {0};
    bool good;
    if (question->stock == NULL) {
        good = stock_series(question->series, SERIES_DECADES, answer->wanted, &answer->stock, ret_percent);
        text_printf(&fault, "--series %s: expected E6, E12 or E24", question->series);
    } else {
        text_add(&fault, "--stock: ");
        good = stock_read(question->stock, &answer->stock, &fault);
    }
    if (!good) {
        error_set(error, ERROR_INPUT, "%s", text_string(&fault));
    }
    text_done(&fault);
    return good;
}

static bool read_question(const struct shelf_question *question, struct shelf_answer *answer, mpq_t tolerance,
                          mpq_t voltage, unsigned *ret_most, struct error *error)
{
    unsigned percent = 0;
    if (question->want == NULL || (question->stock == NULL) == (question->series == NULL)) {
        error_set(error, ERROR_INPUT,
                  "lesson: expected --want R beside --stock 'R, R*n' or beside --series E6|E12|E24");
        return false;
    }
    answer->has_voltage = question->voltage != NULL;
    return read_value("want", question->want, EXACT_RESISTANCE, answer->wanted, error) &&
           read_stock(question, answer, &percent, error) &&
           read_tolerance(question->tolerance, percent, answer, tolerance, error) &&
           read_parts(question->parts, usual_parts(&answer->stock), ret_most, error) &&
           (!answer->has_voltage || read_value("voltage", question->voltage, EXACT_VOLTAGE, voltage, error));
}

/* ---- what comes out */

/* The network with every part at one end of the tolerance: the resistance scales with all of its parts. */
static void find_ends(struct shelf_answer *answer, const mpq_t tolerance)
{
    mpq_set_ui(answer->low, 1, 1);
    mpq_sub(answer->low, answer->low, tolerance);
    mpq_mul(answer->low, answer->low, answer->made);
    mpq_set_ui(answer->high, 1, 1);
    mpq_add(answer->high, answer->high, tolerance);
    mpq_mul(answer->high, answer->high, answer->made);
}

static void find_error(struct shelf_answer *answer)
{
    mpq_sub(answer->error_percent, answer->made, answer->wanted);
    mpq_div(answer->error_percent, answer->error_percent, answer->wanted);
    mpz_mul_ui(mpq_numref(answer->error_percent), mpq_numref(answer->error_percent), 100);
    mpq_canonicalize(answer->error_percent);
}

static void find_parts(struct shelf_answer *answer, const mpq_t voltage)
{
    const size_t count = answer->found.count;
    mpq_t *across_v = memory_resize(NULL, count, sizeof *across_v);
    mpq_t *power_w = memory_resize(NULL, count, sizeof *power_w);
    answer->parts = memory_resize(NULL, count, sizeof *answer->parts);
    for (size_t i = 0; i < count; i++) {
        mpq_init(across_v[i]);
        mpq_init(power_w[i]);
    }
    if (answer->has_voltage) {
        stock_powers(&answer->found, voltage, across_v, power_w);
    }
    for (size_t i = 0; i < count; i++) {
        if (answer->found.nodes[i].kind == NETWORK_PART) {
            answer->parts[answer->part_count++] = (struct shelf_part){
                mpq_get_d(answer->found.nodes[i].ohm), answer->has_voltage ? mpq_get_d(across_v[i]) : (double)NAN,
                answer->has_voltage ? mpq_get_d(power_w[i]) : (double)NAN};
        }
        mpq_clear(across_v[i]);
        mpq_clear(power_w[i]);
    }
    free(across_v);
    free(power_w);
}

static bool find(struct shelf_answer *answer, unsigned parts_most, const mpq_t tolerance, const mpq_t voltage,
                 struct error *error)
{
    stock_find(&answer->stock, answer->wanted, parts_most, &answer->found);
    if (answer->found.parts == 0) {
        error_set(error, ERROR_INPUT,
                  "lesson: this stock cannot be searched: too many kinds of parts, or values too far apart");
        return false;
    }
    mpq_set(answer->made, answer->found.nodes[answer->found.root].ohm);
    find_error(answer);
    find_ends(answer, tolerance);
    find_parts(answer, voltage);
    return true;
}

bool answer_shelf(const struct shelf_question *question, struct shelf_answer *ret_answer, struct error *error)
{
    unsigned parts_most = 0;
    mpq_t tolerance;
    mpq_t voltage;
    *ret_answer = (struct shelf_answer){0};
    mpq_inits(tolerance, voltage, ret_answer->wanted, ret_answer->made, ret_answer->error_percent, ret_answer->low,
              ret_answer->high, NULL);
    const bool good = read_question(question, ret_answer, tolerance, voltage, &parts_most, error) &&
                      find(ret_answer, parts_most, tolerance, voltage, error);
    mpq_clears(tolerance, voltage, NULL);
    return good;
}

void shelf_answer_done(struct shelf_answer *answer)
{
    free(answer->parts);
    stock_answer_done(&answer->found);
    stock_done(&answer->stock);
    mpq_clears(answer->wanted, answer->made, answer->error_percent, answer->low, answer->high, NULL);
}
