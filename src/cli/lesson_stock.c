#include "lesson_stock.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/stock.h"
#include "ampsum/written.h"

enum { SERIES_PARTS = 3, SERIES_DECADES = 3, SEVERAL_PARTS = 5, SEVERAL_KINDS = 6, ALIKE_PARTS = 12, FIGURES = 6 };

/* What was asked, and what was found. */
struct shelf {
    struct stock stock;
    struct stock_answer answer;
    mpq_t wanted;
    mpq_t voltage;
    bool has_voltage;
    mpq_t tolerance; /* 1/20 for 5 % */
    bool has_tolerance;
    mpq_t *node_v; /* answer.count entries each, where a voltage is given */
    mpq_t *node_w;
};

static void shelf_init(struct shelf *shelf)
{
    *shelf = (struct shelf){0};
    mpq_init(shelf->wanted);
    mpq_init(shelf->voltage);
    mpq_init(shelf->tolerance);
}

static void shelf_done(struct shelf *shelf)
{
    for (size_t i = 0; i < shelf->answer.count && shelf->node_v != NULL; i++) {
        mpq_clear(shelf->node_v[i]);
        mpq_clear(shelf->node_w[i]);
    }
    free(shelf->node_v);
    free(shelf->node_w);
    stock_answer_done(&shelf->answer);
    stock_done(&shelf->stock);
    mpq_clear(shelf->wanted);
    mpq_clear(shelf->voltage);
    mpq_clear(shelf->tolerance);
}

/* A value above 0 of an option, in the unit of its quantity; a bare number is in that unit. */
static bool read_value(struct invocation *invocation, const char *option, enum exact_quantity quantity, mpq_t ret)
{
    const char *string = option_value(invocation, option);
    struct answer answer;
    struct text fault = {0};
    answer_init(&answer);
    answer_read(string, &answer, &fault);
    bool ok =
        answer.form == ANSWER_NUMBER && mpq_sgn(answer.number) > 0 && (!answer.has_unit || answer.quantity == quantity);
    if (ok) {
        mpq_mul(ret, answer.number, answer.factor);
    } else {
        error_set(&invocation->error, ERROR_INPUT, "--%s '%s': %s", option, string,
                  fault.length > 0 ? text_string(&fault) : "expected a value above 0 with its unit");
    }
    answer_done(&answer);
    text_done(&fault);
    return ok;
}

static bool read_tolerance(struct invocation *invocation, struct shelf *shelf, unsigned series_percent)
{
    mpq_set_ui(shelf->tolerance, series_percent, 100);
    mpq_canonicalize(shelf->tolerance);
    shelf->has_tolerance = series_percent > 0;
    if (!option_given(invocation, "tolerance")) {
        return true;
    }
    const char *string = option_value(invocation, "tolerance");
    size_t length = strcspn(string, "%");
    char *number = arena_copy_length(invocation->arena, string, length);
    shelf->has_tolerance = exact_read(shelf->tolerance, number) && mpq_sgn(shelf->tolerance) >= 0 &&
                           mpq_cmp_ui(shelf->tolerance, 100, 1) < 0 && strlen(string) - length <= 1;
    if (!shelf->has_tolerance) {
        error_set(&invocation->error, ERROR_INPUT, "--tolerance '%s': expected a percentage below 100, such as 5%%",
                  string);
        return false;
    }
    mpz_mul_ui(mpq_denref(shelf->tolerance), mpq_denref(shelf->tolerance), 100);
    mpq_canonicalize(shelf->tolerance);
    return true;
}

static unsigned count_parts(const struct stock *stock, unsigned unlimited)
{
    unsigned parts = 0;
    for (size_t i = 0; i < stock->count; i++) {
        if (stock->parts[i].most == 0) {
            return unlimited;
        }
        parts += stock->parts[i].most;
    }
    return parts < STOCK_PARTS_MOST ? parts : STOCK_PARTS_MOST;
}

static bool read_parts(struct invocation *invocation, unsigned usual, unsigned *ret_most)
{
    *ret_most = usual;
    const char *string = option_value(invocation, "parts");
    if (string == NULL) {
        return true;
    }
    char *end;
    long parts = strtol(string, &end, 10);
    if (end == string || *end != '\0' || parts < 1 || parts > STOCK_PARTS_MOST) {
        error_set(&invocation->error, ERROR_INPUT, "--parts '%s': expected 1 to %d", string, STOCK_PARTS_MOST);
        return false;
    }
    *ret_most = (unsigned)parts;
    return true;
}

static bool read_shelf(struct invocation *invocation, struct shelf *shelf, unsigned *ret_most)
{
    const char *list = option_value(invocation, "stock");
    const char *series = option_value(invocation, "series");
    unsigned series_percent = 0;
    if (!option_given(invocation, "want") || (list == NULL) == (series == NULL)) {
        error_set(&invocation->error, ERROR_INPUT,
                  "lesson: expected --want R beside --stock 'R, R*n' or beside --series E6|E12|E24");
        return false;
    }
    if (!read_value(invocation, "want", EXACT_RESISTANCE, shelf->wanted)) {
        return false;
    }
    struct text fault = {0};
    bool ok = list == NULL ? stock_series(series, SERIES_DECADES, shelf->wanted, &shelf->stock, &series_percent)
                           : stock_read(list, &shelf->stock, &fault);
    if (!ok) {
        error_set(&invocation->error, ERROR_INPUT,
                  list == NULL ? "--series %s: expected E6, E12 or E24" : "--stock: %s",
                  list == NULL ? series : text_string(&fault));
    }
    text_done(&fault);
    size_t kinds = shelf->stock.count;
    unsigned usual = kinds == 1 ? ALIKE_PARTS : kinds <= SEVERAL_KINDS ? SEVERAL_PARTS : SERIES_PARTS;
    shelf->has_voltage = option_given(invocation, "voltage");
    return ok && read_tolerance(invocation, shelf, series_percent) &&
           read_parts(invocation, count_parts(&shelf->stock, usual), ret_most) &&
           (!shelf->has_voltage || read_value(invocation, "voltage", EXACT_VOLTAGE, shelf->voltage));
}

static void work_out_powers(struct shelf *shelf)
{
    size_t count = shelf->answer.count;
    shelf->node_v = memory_resize(NULL, count, sizeof *shelf->node_v);
    shelf->node_w = memory_resize(NULL, count, sizeof *shelf->node_w);
    for (size_t i = 0; i < count; i++) {
        mpq_init(shelf->node_v[i]);
        mpq_init(shelf->node_w[i]);
    }
    stock_powers(&shelf->answer, shelf->voltage, shelf->node_v, shelf->node_w);
}

static mpq_srcptr result_ohm(const struct shelf *shelf)
{
    return shelf->answer.nodes[shelf->answer.root].ohm;
}

/* 100 (result - wanted) / wanted */
static void error_percent(const struct shelf *shelf, mpq_t ret_percent)
{
    mpq_sub(ret_percent, result_ohm(shelf), shelf->wanted);
    mpq_div(ret_percent, ret_percent, shelf->wanted);
    mpz_mul_ui(mpq_numref(ret_percent), mpq_numref(ret_percent), 100);
    mpq_canonicalize(ret_percent);
}

/* The network with every part at one end of the tolerance: the resistance scales with all of its parts. */
static void at_tolerance(const struct shelf *shelf, bool high, mpq_t ret_ohm)
{
    mpq_set_ui(ret_ohm, 1, 1);
    (high ? mpq_add : mpq_sub)(ret_ohm, ret_ohm, shelf->tolerance);
    mpq_mul(ret_ohm, ret_ohm, result_ohm(shelf));
}

static void add_line(struct text *text, const char *what, const mpq_t value, enum exact_quantity quantity)
{
    text_printf(text, "  %-28s ", what);
    exact_figure(text, value, quantity, FIGURES);
    text_add_char(text, '\n');
}

static struct table *parts_table(const struct shelf *shelf)
{
    struct table *table = table_new();
    table_column(table, "PART", "part", TABLE_RIGHT, 0);
    table_column(table, "OHM", "resistance_ohm", TABLE_RIGHT, 0);
    if (shelf->has_voltage) {
        table_column(table, "VOLT", "voltage_v", TABLE_RIGHT, 0);
        table_column(table, "MUST STAND WATT", "power_w", TABLE_RIGHT, 0);
    }
    unsigned part = 0;
    for (size_t i = 0; i < shelf->answer.count; i++) {
        if (shelf->answer.nodes[i].kind != NETWORK_PART) {
            continue;
        }
        table_row(table);
        table_number(table, ++part, 0);
        table_number(table, mpq_get_d(shelf->answer.nodes[i].ohm), 3);
        if (shelf->has_voltage) {
            table_number(table, mpq_get_d(shelf->node_v[i]), 3);
            table_number(table, mpq_get_d(shelf->node_w[i]), 3);
        }
    }
    return table;
}

static void write_words(struct invocation *invocation, const struct shelf *shelf)
{
    struct text *out = &invocation->out;
    const struct stock_answer *answer = &shelf->answer;
    struct text network = {0};
    stock_words(&network, &shelf->stock, answer);
    text_printf(out, "%s\n\n", text_string(&network));
    stock_draw(out, &shelf->stock, answer);
    text_add_char(out, '\n');
    text_done(&network);
    add_line(out, "wanted", shelf->wanted, EXACT_RESISTANCE);
    add_line(out, answer->exact ? "made, exactly" : "made, the nearest", result_ohm(shelf), EXACT_RESISTANCE);
    mpq_t value;
    mpq_init(value);
    if (!answer->exact) {
        error_percent(shelf, value);
        text_printf(out, "  %-28s ", "off by");
        exact_write_decimal(out, value, 3);
        text_add(out, " %\n");
    }
    text_printf(out, "  %-28s %u\n", answer->exact ? "fewest parts" : "parts", answer->parts);
    if (shelf->has_tolerance) {
        at_tolerance(shelf, false, value);
        add_line(out, "all parts at the low end", value, EXACT_RESISTANCE);
        at_tolerance(shelf, true, value);
        add_line(out, "all parts at the high end", value, EXACT_RESISTANCE);
    }
    mpq_clear(value);
    if (!answer->exact) {
        text_printf(out,
                    answer->complete ? "\nNo network of up to %u parts makes it exactly.\n"
                                     : "\nNetworks of %u parts are too many to look at all; there may be a nearer "
                                       "one.\n",
                    answer->searched);
    }
    text_add_char(out, '\n');
}

static json_t *stock_json(const struct shelf *shelf)
{
    json_t *json = json_answer("lesson", NULL);
    struct text network = {0};
    mpq_t value;
    mpq_init(value);
    stock_words(&network, &shelf->stock, &shelf->answer);
    error_percent(shelf, value);
    json_object_set_new(json, "wanted_ohm", json_figure(mpq_get_d(shelf->wanted)));
    json_object_set_new(json, "resistance_ohm", json_figure(mpq_get_d(result_ohm(shelf))));
    json_object_set_new(json, "exact", json_boolean(shelf->answer.exact));
    json_object_set_new(json, "error_percent", json_figure(mpq_get_d(value)));
    json_object_set_new(json, "complete", json_boolean(shelf->answer.complete));
    json_object_set_new(json, "part_count", json_integer(shelf->answer.parts));
    json_object_set_new(json, "network", json_text(text_string(&network)));
    for (int high = 0; high < 2; high++) {
        at_tolerance(shelf, high == 1, value);
        json_object_set_new(json, high == 0 ? "low_ohm" : "high_ohm",
                            json_figure(shelf->has_tolerance ? mpq_get_d(value) : NAN));
    }
    json_t *parts = json_array();
    for (size_t i = 0; i < shelf->answer.count; i++) {
        if (shelf->answer.nodes[i].kind == NETWORK_PART) {
            json_t *part = json_object();
            json_object_set_new(part, "resistance_ohm", json_figure(mpq_get_d(shelf->answer.nodes[i].ohm)));
            json_object_set_new(part, "voltage_v", json_figure(shelf->has_voltage ? mpq_get_d(shelf->node_v[i]) : NAN));
            json_object_set_new(part, "power_w", json_figure(shelf->has_voltage ? mpq_get_d(shelf->node_w[i]) : NAN));
            json_array_append_new(parts, part);
        }
    }
    json_object_set_new(json, "parts", parts);
    json_cautions(json, NULL);
    mpq_clear(value);
    text_done(&network);
    return json;
}

static void write_answer(struct invocation *invocation, struct shelf *shelf)
{
    if (invocation->format == FORMAT_JSON) {
        json_write(stock_json(shelf), &invocation->out);
        return;
    }
    if (invocation->format == FORMAT_TABLE) {
        write_words(invocation, shelf);
    }
    struct table *table = parts_table(shelf);
    invocation_table(invocation, table);
    table_free(table);
    if (invocation->format == FORMAT_TABLE) {
        text_add_char(&invocation->out, '\n');
        show_cautions_text(&invocation->page, NULL, &invocation->out);
        static const char *const next[] = {"ampsum lesson -o FOLDER --kind stock   (worksheets that ask for it)", NULL};
        invocation_next(invocation, next);
    }
}

int lesson_stock(struct invocation *invocation)
{
    struct shelf shelf;
    unsigned parts_most = 0;
    shelf_init(&shelf);
    bool ok = invocation_operands(invocation, 0, 0) && read_shelf(invocation, &shelf, &parts_most);
    if (ok) {
        stock_find(&shelf.stock, shelf.wanted, parts_most, &shelf.answer);
        ok = shelf.answer.parts > 0;
        if (!ok) {
            error_set(&invocation->error, ERROR_INPUT,
                      "lesson: this stock cannot be searched: too many kinds of parts, or values too far apart");
        }
    }
    if (ok) {
        if (shelf.has_voltage) {
            work_out_powers(&shelf);
        }
        write_answer(invocation, &shelf);
    }
    shelf_done(&shelf);
    return ok ? 0 : 2;
}
