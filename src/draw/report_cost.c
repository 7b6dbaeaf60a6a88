/* Demand of the dwelling; energy and its cost. */
#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_demand.h"
#include "report_parts.h"

void report_part_demand(const struct report *report)
{
    struct text text = {0};
    print_heading(report->document, 2, "Demand of the dwelling");
    if (report->demand == NULL) {
        text_printf(&text, "The %s rules have no rows for it.", rules_word(report->house->rules));
        report_paragraph(report, &text);
        return;
    }
    const struct demand *demand = report->demand->demand;
    const struct show_demand_lines lines = {.list = &demand->lines};
    text_printf(&text, "Method: %s. ", demand_method_word(demand->method));
    text_add_fixed(&text, demand->total_va, 0);
    text_printf(&text, " VA over %s is ", demand->divisor);
    text_add_fixed(&text, demand->current_a, 1);
    text_printf(&text, " A; the %s is ", house_rule_set(report->house)->main_device);
    text_add_rounded(&text, report->demand->breaker_a, 1);
    text_add(&text, " A.");
    report_paragraph(report, &text);
    print_rows(report->document, "Lines of the calculation", &show_demand_line_rows, &lines, demand->lines.count);
    const char *const *notes = show_demand_notes(report->demand, report->document->arena);
    for (size_t i = 0; notes[i] != NULL; i++) {
        print_item(report->document, NULL, notes[i]);
    }
}

/* ------------------------------------------------------------------ cost ---------------------------------- */

static void money(const struct report *report, struct print_table *table, const char *amount)
{
    print_cell(report->document, table, amount == NULL ? "-" : amount);
}

static void add_year(const struct report *report)
{
    const struct energy_bill *bill = report->bill;
    struct text text = {0};
    text_add_fixed(&text, bill->kwh_day, 1);
    text_add(&text, " kWh a day on average over the year, ");
    text_add_fixed(&text, bill->kwh_year, 0);
    text_add(&text, " kWh a year");
    if (bill->cost_year == NULL) {
        text_add(&text, "; no tariff, so no price.");
    } else {
        const char *currency = report->house->currency;
        text_printf(&text, ". Energy %s %s, standing charge %s %s, tax %s %s: %s %s a year, %s %s a day.",
                    bill->energy_cost, currency, bill->standing_cost, currency, bill->tax, currency, bill->cost_year,
                    currency, bill->cost_day, currency);
    }
    report_paragraph(report, &text);
}

static void add_months(const struct report *report)
{
    static const struct print_column columns[] = {{"Month", 30, false}, {"kWh", 20, true}, {"Cost", 20, true}};
    struct print_table *table = print_table_add(report->document, "By month", columns, 3);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        print_cell(report->document, table, month_word(month));
        print_number(report->document, table, report->bill->months[month].kwh, 1);
        money(report, table, report->bill->months[month].cost);
    }
}

static void add_rows(const struct report *report, enum kind kind, const char *caption, const struct energy_row *rows)
{
    static const struct print_column columns[] = {{"Name", 40, false},
                                                  {"kWh a day", 14, true},
                                                  {"kWh a year", 14, true},
                                                  {"of it standby", 16, true},
                                                  {"Cost a year", 16, true}};
    const struct house *house = report->house;
    const size_t count = kind == KIND_ROOM ? house->room_count : house->appliance_count;
    struct print_table *table = print_table_add(report->document, caption, columns, 5);
    for (size_t i = 0; i < count; i++) {
        const char *name = kind == KIND_ROOM ? house->rooms[i].name : house->appliances[i].name;
        print_cell(report->document, table, name != NULL ? name : house_row_id(house, kind, i));
        print_number(report->document, table, rows[i].kwh_day, 2);
        print_number(report->document, table, rows[i].kwh_year, 1);
        print_number(report->document, table, rows[i].standby_kwh_year, 1);
        money(report, table, rows[i].cost_year);
    }
}

void report_part_cost(const struct report *report)
{
    print_heading(report->document, 2, "Energy and cost");
    add_year(report);
    add_months(report);
    if (report->house->room_count > 0) {
        add_rows(report, KIND_ROOM, "By room", report->bill->rooms);
    }
    if (report->house->appliance_count > 0) {
        const struct picture picture = picture_energy(report->house, report->bill, report->document->arena);
        print_picture(report->document, &picture);
        add_rows(report, KIND_APPLIANCE, "By appliance", report->bill->appliances);
    }
    print_paragraph(report->document,
                    "Cost of a row is its energy charge and the tax on it, without the standing charge; each amount is "
                    "rounded on its own.");
}
