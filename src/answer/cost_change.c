/* What the year would cost with windows moved or without standby, and what the wires lose. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_choice.h"
#include "ampsum/answer_cost.h"
#include "ampsum/housefile.h"
#include "ampsum/values.h"
#include "ampsum/wiring.h"

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
static bool shift(const struct house *house, struct document *document, const char *value, struct error *error)
{
    const char *equals = strchr(value, '=');
    const int start_min = equals == NULL ? -1 : read_minute(equals + 1);
    if (start_min < 0) {
        error_set(error, ERROR_INPUT, "--shift %s: expected APPLIANCE=HH:MM, such as dryer=22:30", value);
        return false;
    }
    struct text id = {0};
    text_add_length(&id, value, (size_t)(equals - value));
    const size_t index = choice_find(house, KIND_APPLIANCE, text_string(&id), error);
    const struct window_list *use = index == NO_INDEX ? NULL : &house->appliances[index].use;
    const bool moves = use != NULL && use->count > 0;
    if (moves) {
        struct text windows = {0};
        moved_windows(use, start_min, &windows);
        document_set(document, document_find(document, "appliance", text_string(&id)), "use", text_string(&windows));
        text_done(&windows);
    } else if (use != NULL) {
        error_set(error, ERROR_INPUT, "--shift %s: %s has no `use` windows to move", value, text_string(&id));
    }
    text_done(&id);
    return moves;
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
static struct house *other_house(const struct house *house, const struct cost_change *question, struct error *error)
{
    struct document *document = house_document(house, "cost");
    struct house *other = NULL;
    bool good = true;
    for (size_t i = 0; good && i < question->shift_count; i++) {
        good = shift(house, document, question->shifts[i], error);
    }
    if (question->no_standby) {
        without_standby(document);
    }
    if (good) {
        house_build(document, &other, error);
    }
    document_free(document);
    return other;
}

/* Energy that all wires lose in a year, kWh; those that are not known are left out and counted. */
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

static void add_row(struct cost_changed *answer, struct cost_row row)
{
    row.difference = row.cost_then - row.cost;
    answer->rows[answer->count++] = row;
}

/* The wire's loss is priced with the year's mean price of a kWh, tax included: the file does not say when it falls. */
static void add_loss(struct cost_changed *answer, const struct energy_bill *now)
{
    struct cost_row row = {.what = COST_LOSS};
    row.kwh_then = wires_loss_kwh(answer->house, &row.unknown_wires);
    row.cost_then = row.kwh_then * ((money(now->cost_year) - money(now->standing_cost)) / now->kwh_year);
    add_row(answer, row);
}

static void add_change(struct cost_changed *answer, const struct cost_change *question, const struct energy_bill *now,
                       const struct energy_bill *then)
{
    const enum cost_what what = !question->no_standby       ? COST_MOVED
                                : question->shift_count > 0 ? COST_MOVED_NO_STANDBY
                                                            : COST_NO_STANDBY;
    add_row(answer, (struct cost_row){.what = what,
                                      .kwh = now->kwh_year,
                                      .kwh_then = then->kwh_year,
                                      .cost = money(now->cost_year),
                                      .cost_then = money(then->cost_year)});
}

bool answer_cost_change(const struct house *house, const struct cost_change *question, struct cost_changed *ret_answer,
                        struct error *error)
{
    *ret_answer = (struct cost_changed){.house = house, .decimals = cost_decimals(house)};
    struct house *other = other_house(house, question, error);
    if (other == NULL) {
        return false;
    }
    struct arena *arena = arena_new();
    struct energy_bill now;
    struct energy_bill then;
    energy_year_rows(house, question->tariff, ret_answer->decimals, 0, arena, &now);
    energy_year_rows(other, question->tariff, ret_answer->decimals, 0, arena, &then);
    if (question->shift_count > 0 || question->no_standby) {
        add_change(ret_answer, question, &now, &then);
    }
    if (question->loss) {
        add_loss(ret_answer, &now);
    }
    arena_free(arena);
    house_free(other);
    return true;
}

size_t cost_change_count(const struct cost_changed *answer)
{
    return answer->count - (cost_loss_row(answer) != NULL);
}

const struct cost_row *cost_loss_row(const struct cost_changed *answer)
{
    const struct cost_row *last = answer->count == 0 ? NULL : &answer->rows[answer->count - 1];
    return last != NULL && last->what == COST_LOSS ? last : NULL;
}

/* ---- the question as it is asked */

bool answer_cost_asked(const struct house *house, const struct cost_question *question, struct cost_asked *ret_answer,
                       struct error *error)
{
    struct cost_change change = question->change;
    *ret_answer = (struct cost_asked){.kind = COST_OF_YEAR};
    change.tariff = question->tariff_count > 0 ? question->tariffs[0] : house->tariff;
    if (question->tariff_count > 1) {
        ret_answer->kind = COST_OF_TARIFFS;
        answer_cost_tariffs(house, question->tariffs, question->tariff_count, &ret_answer->tariffs);
        return true;
    }
    if (change.shift_count > 0 || change.no_standby || change.loss) {
        ret_answer->kind = COST_OF_CHANGE;
        return answer_cost_change(house, &change, &ret_answer->changed, error);
    }
    answer_cost(house, change.tariff, NULL, &ret_answer->year);
    return true;
}

void cost_asked_done(struct cost_asked *answer)
{
    if (answer->kind == COST_OF_YEAR) {
        cost_answer_done(&answer->year);
    } else if (answer->kind == COST_OF_TARIFFS) {
        cost_tariffs_done(&answer->tariffs);
    }
}
