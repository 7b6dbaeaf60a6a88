/* Demand of the dwelling; energy and its cost. */
#include "ampsum/reference.h"
#include "ampsum/show_cost.h"
#include "ampsum/show_demand.h"
#include "report_parts.h"

void report_part_demand(const struct report *report)
{
    struct print_document *document = report->document;
    const struct demand_answer *answer = report->demand;
    struct text text = {0};
    report_annex(report, "Demand of the dwelling");
    if (answer == NULL) {
        text_printf(&text, "The %s rules have no rows for it.", rules_word(report->house->rules));
        report_paragraph(report, &text);
        return;
    }
    show_demand_sentence(answer, &text);
    report_paragraph(report, &text);
    paper_methods(document, answer);
    show_demand_rating(answer, &text);
    text_add_char(&text, '.');
    paper_plain(document, PRINT_BODY, &text);
    if (paper_has_lines(answer->chosen)) {
        struct show_sources sources = paper_room_for_sources(answer, document->arena);
        paper_method(document, answer, answer->chosen, &sources);
        paper_sources(document, &sources);
    }
    paper_items(document, show_demand_notes(answer, document->arena));
}

/* ------------------------------------------------------------------ cost ---------------------------------- */

static const char no_tariff[] = "No price is known: give the house a tariff, with the price of a kWh and the standing "
                                "charge from the electricity bill, and the report has money too.";
static const char no_choice[] = "No price is worked out: the house has several tariffs, and none of them is chosen as "
                                "its own.";

void report_bill(const struct report *report, struct text *text)
{
    const struct energy_bill *bill = report->bill;
    const char *currency = report->house->currency;
    text_fixed(text, "", bill->kwh_day, 1, " kWh a day on average over the year");
    if (bill->cost_year == NULL) {
        text_printf(text, ". %s", report->house->tariff_count > 0 ? no_choice : no_tariff);
    } else {
        text_printf(text, ", %s %s a day, %s %s a year, standing charge and tax included.", bill->cost_day, currency,
                    bill->cost_year, currency);
    }
}

static void add_year(const struct report *report)
{
    const struct energy_bill *bill = report->bill;
    struct text text = {0};
    text_fixed(&text, "", bill->kwh_day, 1, " kWh a day on average over the year, ");
    text_fixed(&text, "", bill->kwh_year, 0, " kWh a year.");
    if (bill->cost_year != NULL) {
        const char *currency = report->house->currency;
        text_printf(&text, " Energy %s %s, standing charge %s %s, tax %s %s: %s %s a year, %s %s a day.",
                    bill->energy_cost, currency, bill->standing_cost, currency, bill->tax, currency, bill->cost_year,
                    currency, bill->cost_day, currency);
    }
    report_paragraph(report, &text);
}

/* By appliance, the largest first; of very many the rest as a sum. */
static void add_appliances(const struct report *report, const struct cost_rows *by)
{
    const size_t shown = by->count < REPORT_LOADS_MOST ? by->count : REPORT_LOADS_MOST;
    print_rows(report->document, "By appliance, the largest first", &show_cost_rows, by, shown)->halves = true;
    if (shown < by->count) {
        struct text text = {0};
        text_printf(&text, "Left out are %zu that use less: together ", by->count - shown);
        text_fixed(&text, "", cost_rest(by, shown).kwh_year, 0, " kWh a year. `ampsum cost --format csv` lists all.");
        report_paragraph(report, &text);
    }
}

void report_part_cost(const struct report *report)
{
    enum { DRAWN_MOST = 10 };
    struct cost_answer answer;
    answer_cost(report->house, report->house->tariff, report->bill, &answer);
    report_annex(report, "Energy and cost");
    add_year(report);
    print_rows(report->document, "By month", &show_month_rows, &answer, MONTHS_IN_YEAR)->halves = true;
    if (report->house->room_count > 0) {
        print_rows(report->document, "By room, the largest first", &show_cost_rows, &answer.by[COST_BY_ROOM],
                   report->house->room_count)
            ->halves = true;
    }
    if (report->house->appliance_count > 0) {
        const struct picture picture = picture_energy(&answer, DRAWN_MOST, report->document->arena);
        print_picture(report->document, &picture);
        add_appliances(report, &answer.by[COST_BY_APPLIANCE]);
    }
    if (report->bill->cost_year != NULL) {
        print_paragraph(report->document,
                        "Cost of a row is its energy charge and the tax on it, without the standing charge; each "
                        "amount is rounded on its own.");
    }
    cost_answer_done(&answer);
}
