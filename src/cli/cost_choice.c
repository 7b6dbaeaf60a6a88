#include "cost_choice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "ampsum/values.h"
#include "ampsum/wiring.h"

bool cost_choice_given(const struct invocation *invocation)
{
    return option_given(invocation, "shift") || option_given(invocation, "standby") || option_given(invocation, "loss");
}

/* Minute of the day of `HH:MM`; -1 where it is none. */
static int read_minute(const char *string)
{
    if (strlen(string) != 5 || strspn(string, "0123456789") != 2 || string[2] != ':' ||
        strspn(string + 3, "0123456789") != 2) {
        return -1;
    }
    int hour = (string[0] - '0') * 10 + string[1] - '0';
    int minute = (string[3] - '0') * 10 + string[4] - '0';
    return hour < 24 && minute < 60 ? hour * 60 + minute : -1;
}

/* The windows moved so that the first one starts at `start_min`, as the house file writes them. */
static void moved_windows(const struct window_list *use, int start_min, struct text *text)
{
    int by_min = start_min - use->window[0].start_min;
    for (size_t i = 0; i < use->count; i++) {
        const struct window *window = &use->window[i];
        int length_min = window->end_min - window->start_min;
        length_min = length_min <= 0 ? length_min + MINUTES_IN_DAY : length_min;
        int start = ((window->start_min + by_min) % MINUTES_IN_DAY + MINUTES_IN_DAY) % MINUTES_IN_DAY;
        int end = (start + length_min) % MINUTES_IN_DAY;
        if (length_min == MINUTES_IN_DAY) {
            start = 0;
        }
        text_add(text, i > 0 ? ", " : "");
        clock_add_span(text, start, end == 0 ? MINUTES_IN_DAY : end);
    }
}

/* Moves the windows of `APPLIANCE=HH:MM` in the document. */
static bool shift(struct invocation *invocation, struct document *document, const char *value)
{
    const char *equals = strchr(value, '=');
    int start_min = equals == NULL ? -1 : read_minute(equals + 1);
    if (start_min < 0) {
        error_set(&invocation->error, ERROR_INPUT, "--shift %s: expected APPLIANCE=HH:MM, such as dryer=22:30", value);
        return false;
    }
    char *id = arena_copy_length(invocation->arena, value, (size_t)(equals - value));
    size_t index = find_id(invocation, KIND_APPLIANCE, id);
    if (index == NO_INDEX) {
        return false;
    }
    const struct window_list *use = &invocation->house->appliances[index].use;
    if (use->count == 0) {
        error_set(&invocation->error, ERROR_INPUT, "--shift %s: %s has no `use` windows to move", value, id);
        return false;
    }
    struct text windows = {0};
    moved_windows(use, start_min, &windows);
    document_set(document, document_find(document, "appliance", id), "use", text_string(&windows));
    text_done(&windows);
    return true;
}

/* Takes `standby` out of every appliance. */
static void without_standby(struct document *document)
{
    for (size_t i = 0; i < document->section_count; i++) {
        if (strcmp(document->sections[i].word, "appliance") == 0) {
            document_set(document, &document->sections[i], "standby", NULL);
        }
    }
}

/* The house as it would be; NULL with the error set. */
static struct house *other_house(struct invocation *invocation)
{
    struct document *document = house_document(invocation->house, "cost");
    struct house *other = NULL;
    bool good = true;
    for (size_t i = 0; good && i < option_count(invocation, "shift"); i++) {
        good = shift(invocation, document, option_value_at(invocation, "shift", i));
    }
    if (option_given(invocation, "standby")) {
        without_standby(document);
    }
    if (good) {
        house_build(document, &other, &invocation->error);
    }
    document_free(document);
    return other;
}

/* Energy that all wires lose in a year, kWh; NAN parts (wires not known) are left out and counted. */
static double wires_loss_kwh(const struct house *house, size_t *ret_unknown)
{
    double sum_kwh = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        double ohm_per_km = wire_ohm_per_km(house, house->branches[i].wire);
        struct wiring wiring = {0};
        double loss_kwh = wiring_init(&wiring, house, i, ohm_per_km) ? wiring_loss_kwh_year(&wiring) : NAN;
        wiring_done(&wiring);
        *ret_unknown += isnan(loss_kwh) ? 1 : 0;
        sum_kwh += isnan(loss_kwh) ? 0 : loss_kwh;
    }
    return sum_kwh;
}

/* Money as printed, taken as a number for the difference of two bills. */
static double money(const char *string)
{
    return string == NULL ? (double)NAN : strtod(string, NULL);
}

/* One line of the answer: what, energy and money of now, of the choice, and the difference. */
static void add_row(struct table *table, json_t *rows, const char *what, double now_kwh, double then_kwh, double now,
                    double then, int decimals)
{
    table_row(table);
    table_text(table, what);
    table_number(table, now_kwh, 1);
    table_number(table, then_kwh, 1);
    table_number(table, now, decimals);
    table_number(table, then, decimals);
    table_number(table, then - now, decimals);
    json_t *object = json_object();
    struct text text = {0};
    json_object_set_new(object, "what", json_text(what));
    json_object_set_new(object, "kwh", json_figure(now_kwh));
    json_object_set_new(object, "kwh_then", json_figure(then_kwh));
    const double amounts[] = {now, then, then - now};
    static const char *const keys[] = {"cost", "cost_then", "difference"};
    for (size_t i = 0; i < 3; i++) {
        text_clear(&text);
        if (isfinite(amounts[i])) {
            text_add_fixed(&text, amounts[i], decimals);
        }
        json_object_set_new(object, keys[i], json_text(text.length > 0 ? text_string(&text) : NULL));
    }
    text_done(&text);
    json_array_append_new(rows, object);
}

static struct table *choice_table(const char *currency)
{
    struct table *table = table_new();
    struct text heading = {0};
    table_column(table, "IN A YEAR", "what", TABLE_LEFT, 26);
    table_column(table, "KWH NOW", "kwh", TABLE_RIGHT, 0);
    table_column(table, "THEN", "kwh_then", TABLE_RIGHT, 0);
    text_printf(&heading, "%s NOW", currency);
    table_column(table, text_string(&heading), "cost", TABLE_RIGHT, 0);
    table_column(table, "THEN", "cost_then", TABLE_RIGHT, 0);
    table_column(table, "DIFFERENCE", "difference", TABLE_RIGHT, 0);
    text_done(&heading);
    return table;
}

static void write_answer(struct invocation *invocation, struct table *table, json_t *rows)
{
    if (invocation->format == FORMAT_JSON) {
        json_t *answer = json_answer("cost", invocation->house->name);
        json_object_set_new(answer, "currency", json_text(invocation->house->currency));
        json_object_set(answer, "rows", rows);
        json_cautions(answer, NULL);
        json_write(answer, &invocation->out);
        return;
    }
    invocation_table(invocation, table);
    if (invocation->format == FORMAT_TABLE) {
        text_add_char(&invocation->out, '\n');
        show_cautions_text(&invocation->page, NULL, &invocation->out);
        static const char *const next[] = {"ampsum cost HOUSE", "ampsum check HOUSE", NULL};
        invocation_next(invocation, next);
    }
}

/* The wire's loss is priced with the year's mean price of a kWh, tax included: the file does not say when it falls. */
static void add_loss(struct invocation *invocation, const struct energy_bill *now, struct table *table, json_t *rows,
                     int decimals)
{
    size_t unknown = 0;
    double loss_kwh = wires_loss_kwh(invocation->house, &unknown);
    double mean = (money(now->cost_year) - money(now->standing_cost)) / now->kwh_year;
    struct text what = {0};
    text_add(&what, "lost in the wires");
    if (unknown > 0) {
        text_printf(&what, " (%zu branch%s of unknown wire left out)", unknown, unknown == 1 ? "" : "es");
    }
    add_row(table, rows, text_string(&what), 0, loss_kwh, 0, loss_kwh * mean, decimals);
    text_done(&what);
}

int cost_choice(struct invocation *invocation, size_t tariff)
{
    const struct ref_currency *currency = reference_currency(invocation->house->currency);
    int decimals = currency == NULL ? 2 : currency->minor_units;
    struct house *other = other_house(invocation);
    if (other == NULL) {
        return 2;
    }
    struct energy_bill now;
    struct energy_bill then;
    invocation_bill(invocation, invocation->house, tariff, 0, &now);
    invocation_bill(invocation, other, tariff, 0, &then);
    struct table *table = choice_table(invocation->house->currency);
    json_t *rows = json_array();
    if (option_given(invocation, "shift") || option_given(invocation, "standby")) {
        const char *what = !option_given(invocation, "standby") ? "windows moved"
                           : option_given(invocation, "shift")  ? "windows moved, no standby"
                                                                : "without standby";
        add_row(table, rows, what, now.kwh_year, then.kwh_year, money(now.cost_year), money(then.cost_year), decimals);
    }
    if (option_given(invocation, "loss")) {
        add_loss(invocation, &now, table, rows, decimals);
    }
    write_answer(invocation, table, rows);
    json_decref(rows);
    table_free(table);
    house_free(other);
    return 0;
}
