#include <math.h>
#include <string.h>

#include "cli.h"
#include "cost_choice.h"

static const char *const examples[] = {"ampsum cost demo-house/us.ini", NULL};

static const struct option_spec options[] = {
    {"by", '\0', "appliance|room|branch", "what a row is (default appliance)"},
    {"tariff", '\0', "ID", "price with another tariff of the house; repeated: side by side"},
    {"all", '\0', NULL, "every row, also those that use nothing"},
    {"shift", '\0', "A=HH:MM", "what the year costs when appliance A's windows start at HH:MM; may be repeated"},
    {"standby", '\0', NULL, "what standby costs: the year without it beside the year as it is"},
    {"loss", '\0', NULL, "what the wires lose, where they are known"},
    {NULL, '\0', NULL, NULL},
};

static json_t *row_json(const char *id, const struct energy_row *row, bool appliance)
{
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(id));
    json_object_set_new(object, "kwh_day", json_figure(row->kwh_day));
    json_object_set_new(object, "kwh_year", json_figure(row->kwh_year));
    json_object_set_new(object, "cost_year", json_text(row->cost_year));
    if (appliance) {
        json_object_set_new(object, "standby_kwh_year", json_figure(row->standby_kwh_year));
    }
    return object;
}

static json_t *rows_json(const struct house *house, enum kind kind, const struct energy_row *rows)
{
    size_t count = 0;
    house_rows(house, kind, &count);
    json_t *array = json_array();
    for (size_t i = 0; i < count; i++) {
        json_array_append_new(array, row_json(house_row_id(house, kind, i), &rows[i], kind == KIND_APPLIANCE));
    }
    return array;
}

static json_t *year_json(const struct energy_bill *bill)
{
    json_t *year = json_object();
    json_object_set_new(year, "kwh", json_figure(bill->kwh_year));
    json_object_set_new(year, "energy_cost", json_text(bill->energy_cost));
    json_object_set_new(year, "standing_cost", json_text(bill->standing_cost));
    json_object_set_new(year, "tax", json_text(bill->tax));
    json_object_set_new(year, "cost", json_text(bill->cost_year));
    return year;
}

static void write_json(struct invocation *invocation, const struct energy_bill *bill)
{
    const struct house *house = invocation->house;
    json_t *answer = json_answer("cost", house->name);
    json_object_set_new(answer, "currency", json_text(house->currency));
    json_object_set_new(answer, "year", year_json(bill));
    json_t *months = json_array();
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        json_t *object = json_object();
        json_object_set_new(object, "month", json_text(month_word(month)));
        json_object_set_new(object, "kwh", json_figure(bill->months[month].kwh));
        json_object_set_new(object, "cost", json_text(bill->months[month].cost));
        json_array_append_new(months, object);
    }
    json_object_set_new(answer, "months", months);
    json_object_set_new(answer, "appliances", rows_json(house, KIND_APPLIANCE, bill->appliances));
    json_object_set_new(answer, "rooms", rows_json(house, KIND_ROOM, bill->rooms));
    json_object_set_new(answer, "branches", rows_json(house, KIND_BRANCH, bill->branches));
    json_cautions(answer, NULL);
    json_write(answer, &invocation->out);
}

static const struct energy_row *rows_of(const struct energy_bill *bill, enum kind kind)
{
    switch (kind) {
    case KIND_ROOM:
        return bill->rooms;
    case KIND_BRANCH:
        return bill->branches;
    default:
        return bill->appliances;
    }
}

/* Indices of the rows, largest energy first; equal ones in file order (insertion keeps it). */
static size_t *by_energy(struct invocation *invocation, const struct energy_row *rows, size_t count)
{
    size_t *order = arena_array(invocation->arena, count, sizeof *order);
    for (size_t i = 0; i < count; i++) {
        order[i] = i;
    }
    if (count > 5000) { /* too many to read anyway: file order */
        return order;
    }
    for (size_t i = 1; i < count; i++) {
        size_t moved = order[i];
        size_t at = i;
        for (; at > 0 && rows[order[at - 1]].kwh_year < rows[moved].kwh_year; at--) {
            order[at] = order[at - 1];
        }
        order[at] = moved;
    }
    return order;
}

static struct table *cost_table(struct invocation *invocation, const struct energy_bill *bill, enum kind kind, bool all)
{
    const struct house *house = invocation->house;
    const struct energy_row *rows = rows_of(bill, kind);
    size_t count = 0;
    house_rows(house, kind, &count);
    size_t *order = by_energy(invocation, rows, count);
    struct table *table = table_new();
    table_column(table, "ID", "id", TABLE_LEFT, 0);
    table_column(table, "KWH/DAY", "kwh_day", TABLE_RIGHT, 0);
    table_column(table, "KWH/YEAR", "kwh_year", TABLE_RIGHT, 0);
    table_column(table, "STANDBY KWH/YEAR", "standby_kwh_year", TABLE_RIGHT, 0);
    table_column(table, house->currency, "cost_year", TABLE_RIGHT, 0);
    for (size_t i = 0; i < count; i++) {
        const struct energy_row *row = &rows[order[i]];
        if (!all && row->kwh_year <= 0) {
            continue;
        }
        table_row(table);
        table_text(table, house_row_id(house, kind, order[i]));
        table_number(table, row->kwh_day, 3);
        table_number(table, row->kwh_year, 1);
        table_number(table, row->standby_kwh_year, 1);
        table_text(table, row->cost_year);
    }
    return table;
}

static void write_months(struct invocation *invocation, const struct energy_bill *bill)
{
    struct table *table = table_new();
    table_column(table, "MONTH", "month", TABLE_LEFT, 0);
    table_column(table, "KWH", "kwh", TABLE_RIGHT, 0);
    table_column(table, invocation->house->currency, "cost", TABLE_RIGHT, 0);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        table_row(table);
        table_text(table, month_word(month));
        table_number(table, bill->months[month].kwh, 1);
        table_text(table, bill->months[month].cost);
    }
    invocation_table(invocation, table);
    table_free(table);
}

/* A database without a tariff gets one by a command, a house file by an editor. */
static bool lacks_tariff_command(const struct invocation *invocation)
{
    return invocation->house->tariff_count == 0 && store_is_database(invocation->house_path);
}

/* Why there is no price, and what would give one. */
static const char *why_unpriced(const struct invocation *invocation)
{
    if (invocation->house->tariff_count > 0) {
        return "no price, since none of the tariffs is chosen (--tariff ID, or `tariff` of the house)";
    }
    return lacks_tariff_command(invocation)
               ? "no tariff, so no price (`ampsum add` below, with your own price of a kWh)"
               : "no tariff, so no price (add a section [tariff flat] with price = 0.30, or your own)";
}

static void write_year(struct invocation *invocation, const struct energy_bill *bill)
{
    struct text *text = &invocation->out;
    const char *currency = invocation->house->currency;
    struct text line = {0};
    text_add(&line, "Year: ");
    text_add_fixed(&line, bill->kwh_year, 1);
    text_add(&line, " kWh; ");
    if (bill->cost_year == NULL) {
        text_add(&line, why_unpriced(invocation));
    } else {
        text_printf(&line, "energy %s + standing %s + tax %s = %s %s", bill->energy_cost, bill->standing_cost,
                    bill->tax, bill->cost_year, currency);
    }
    show_wrap(&invocation->page, 2, text_string(&line), text);
    text_done(&line);
    if (bill->cost_year != NULL) {
        text_printf(text, "Month: %s %s on average; day: ", bill->cost_month, currency);
        text_add_fixed(text, bill->kwh_day, 2);
        text_printf(text, " kWh, %s %s\n", bill->cost_day, currency);
    }
}

static void write_spread(struct invocation *invocation, const struct energy_bill *bill)
{
    const struct house *house = invocation->house;
    struct text names = {0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (bill->appliances[i].spread_over_day) {
            text_printf(&names, "%s%s", names.length > 0 ? ", " : "", house->appliances[i].id);
        }
    }
    if (names.length > 0) {
        struct text line = {0};
        text_printf(&line, "Hours without windows are spread evenly over 24 hours: %s.", text_string(&names));
        show_wrap(&invocation->page, 2, text_string(&line), &invocation->out);
        text_done(&line);
    }
    text_done(&names);
}

static void write_text(struct invocation *invocation, const struct energy_bill *bill, enum kind kind)
{
    struct text *text = &invocation->out;
    struct table *table = cost_table(invocation, bill, kind, option_given(invocation, "all"));
    invocation_table(invocation, table);
    if (table_count(table) == 0) {
        text_add(text, "Nothing uses energy yet: give appliances `use` windows, `hours` or `standby`.\n");
    }
    table_free(table);
    text_add_char(text, '\n');
    write_months(invocation, bill);
    text_add_char(text, '\n');
    write_year(invocation, bill);
    text_add(text, "Rows are energy charge and its tax, without the standing charge.\n");
    write_spread(invocation, bill);
    text_add_char(text, '\n');
    show_cautions_text(&invocation->page, NULL, text);
    const char *next[] = {"ampsum add HOUSE tariff flat price=0.30",
                          kind == KIND_ROOM ? "ampsum cost HOUSE --by branch" : "ampsum cost HOUSE --by room",
                          "ampsum check HOUSE", NULL};
    invocation_next(invocation, lacks_tariff_command(invocation) ? next : next + 1);
}

static bool read_kind(struct invocation *invocation, enum kind *ret_kind)
{
    const char *by = option_value(invocation, "by");
    if (by == NULL || strcmp(by, "appliance") == 0) {
        *ret_kind = KIND_APPLIANCE;
    } else if (strcmp(by, "room") == 0) {
        *ret_kind = KIND_ROOM;
    } else if (strcmp(by, "branch") == 0) {
        *ret_kind = KIND_BRANCH;
    } else {
        error_set(&invocation->error, ERROR_INPUT, "--by %s: expected appliance, room or branch", by);
        return false;
    }
    return true;
}

/* Several tariffs side by side: a row for each. */
static void compare_tariffs(struct invocation *invocation, const size_t *tariffs, size_t count)
{
    struct table *table = table_new();
    table_column(table, "TARIFF", "tariff", TABLE_LEFT, 0);
    table_column(table, "ENERGY", "energy_cost", TABLE_RIGHT, 0);
    table_column(table, "STANDING", "standing_cost", TABLE_RIGHT, 0);
    table_column(table, "TAX", "tax", TABLE_RIGHT, 0);
    table_column(table, "YEAR", "cost_year", TABLE_RIGHT, 0);
    table_column(table, "DAY", "cost_day", TABLE_RIGHT, 0);
    json_t *array = json_array();
    for (size_t i = 0; i < count; i++) {
        struct energy_bill bill;
        invocation_bill(invocation, invocation->house, tariffs[i], 0, &bill);
        const char *id = invocation->house->tariffs[tariffs[i]].id;
        table_row(table);
        const char *const cells[] = {id, bill.energy_cost, bill.standing_cost, bill.tax, bill.cost_year, bill.cost_day};
        for (size_t c = 0; c < sizeof cells / sizeof cells[0]; c++) {
            table_text(table, cells[c]);
        }
        json_t *object = json_object();
        json_object_set_new(object, "tariff", json_text(id));
        json_object_set_new(object, "year", year_json(&bill));
        json_array_append_new(array, object);
    }
    if (invocation->format == FORMAT_JSON) {
        json_t *answer = json_answer("cost", invocation->house->name);
        json_object_set_new(answer, "currency", json_text(invocation->house->currency));
        json_object_set_new(answer, "tariffs", array);
        json_cautions(answer, NULL);
        json_write(answer, &invocation->out);
    } else {
        json_decref(array);
        invocation_table(invocation, table);
    }
    table_free(table);
}

static int run(struct invocation *invocation)
{
    enum kind kind = KIND_APPLIANCE;
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) || !read_kind(invocation, &kind)) {
        return 2;
    }
    size_t count = option_count(invocation, "tariff");
    size_t *tariffs = arena_array(invocation->arena, count + 1, sizeof *tariffs);
    tariffs[0] = invocation->house->tariff;
    for (size_t i = 0; i < count; i++) {
        tariffs[i] = find_id(invocation, KIND_TARIFF, option_value_at(invocation, "tariff", i));
        if (tariffs[i] == NO_INDEX) {
            return 2;
        }
    }
    if (count > 1) {
        compare_tariffs(invocation, tariffs, count);
        return 0;
    }
    if (cost_choice_given(invocation)) {
        return cost_choice(invocation, tariffs[0]);
    }
    struct energy_bill bill;
    invocation_bill(invocation, invocation->house, tariffs[0], ENERGY_ALL, &bill);
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, &bill);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = cost_table(invocation, &bill, kind, true);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_text(invocation, &bill, kind);
    }
    return 0;
}

const struct command command_cost = {
    .name = "cost",
    .operands = "[HOUSE]",
    .summary = "energy and money by appliance, room, branch; day, month, year",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
