/* The answers of `cost`: rows by appliance, room and branch, by month, by tariff, and what a change would do. */
#include "ampsum/show_cost.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"

const char show_cost_parts[] = "Rows are energy charge and its tax, without the standing charge.";

/* ------------------------------------------------------------------ rows of energy ------------------------ */

static const struct cost_rows *by_of(const void *answer)
{
    return answer;
}

static const void *energy_at(const void *answer, size_t row)
{
    return &by_of(answer)->rows[by_of(answer)->order[row]];
}

static bool lacks_room(const struct cost_rows *by, size_t row)
{
    return by->kind == KIND_ROOM && by->order[row] == by->house->room_count;
}

static void get_id(const void *answer, size_t row, struct show_cell *cell)
{
    const struct cost_rows *by = answer;
    cell->words = lacks_room(by, row) ? "(no room given)" : house_row_id(by->house, by->kind, by->order[row]);
}

static void get_name(const void *answer, size_t row, struct show_cell *cell)
{
    const struct cost_rows *by = answer;
    const size_t index = by->order[row];
    if (lacks_room(by, row)) {
        cell->words = "no room given";
        return;
    }
    const char *name = by->kind == KIND_BRANCH ? by->house->branches[index].label
                       : by->kind == KIND_ROOM ? by->house->rooms[index].name
                                               : by->house->appliances[index].name;
    cell->words = name != NULL ? name : house_row_id(by->house, by->kind, index);
}

static void head_currency(const void *answer, struct text *text)
{
    text_add(text, by_of(answer)->house->currency);
}

static bool asks_standby(const void *answer)
{
    return by_of(answer)->kind == KIND_APPLIANCE;
}

/* People are told once that there is no price, and have no column of none. */
static bool is_priced(const void *answer)
{
    const struct cost_rows *by = answer;
    return by->count > 0 && by->rows[by->order[0]].cost_year != NULL;
}

#define ENERGY_OF(member) .at = energy_at, SHOW_FIELD(struct energy_row, member)

static const struct show_column cost_columns[] = {
    {.key = "id", .heading = "ID", .faces = SHOW_COMMAND, .get = get_id},
    {.title = "Name", .faces = SHOW_PRINT, .weight = 40, .get = get_name},
    {SHOW_NAMED("kwh_day", "KWH/DAY", "kWh a day", NULL), .decimals = 3, .weight = 14, .faces = SHOW_EVERY,
     ENERGY_OF(kwh_day)},
    {SHOW_NAMED("kwh_year", "KWH/YEAR", "kWh a year", NULL), .decimals = 1, .weight = 14, .faces = SHOW_EVERY,
     ENERGY_OF(kwh_year)},
    {SHOW_NAMED("standby_kwh_year", "STANDBY KWH/YEAR", "of it standby", NULL), .decimals = 1, .weight = 16,
     .faces = SHOW_ROWS | SHOW_PRINT, ENERGY_OF(standby_kwh_year)},
    {.key = "cost_year",
     .head = head_currency,
     .right = true,
     .weight = 16,
     .faces = SHOW_EVERY,
     .asked = is_priced,
     .asked_on = SHOW_TERMINAL | SHOW_PRINT,
     ENERGY_OF(cost_year)},
    {.key = "standby_kwh_year", .faces = SHOW_JSON, .asked = asks_standby, ENERGY_OF(standby_kwh_year)},
};

const struct show_rows show_cost_rows = SHOW_ROWS_OF(cost_columns);

/* ------------------------------------------------------------------ months -------------------------------- */

static void get_month(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    cell->words = month_word((int)row);
}

static void get_month_name(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    cell->words = month_name((int)row);
}

static void head_month_currency(const void *answer, struct text *text)
{
    text_add(text, ((const struct cost_answer *)answer)->house->currency);
}

#define MONTH(member)                                                                                                  \
    SHOW_POINTED(struct cost_answer, bill, struct energy_bill),                                                        \
        SHOW_EACH_IN(struct energy_bill, months, struct energy_month, member)

static const struct show_column month_columns[] = {
    {.key = "month", .heading = "MONTH", .faces = SHOW_TERMINAL | SHOW_JSON, .get = get_month},
    {.title = "Month", .weight = 30, .faces = SHOW_PRINT, .get = get_month_name},
    {SHOW_NAMED("kwh", "KWH", "kWh", NULL), .decimals = 1, .weight = 20,
     .faces = SHOW_TERMINAL | SHOW_JSON | SHOW_PRINT, MONTH(kwh)},
    {.key = "cost",
     .head = head_month_currency,
     .right = true,
     .weight = 20,
     .faces = SHOW_TERMINAL | SHOW_JSON | SHOW_PRINT,
     .known_on = SHOW_TERMINAL | SHOW_PRINT,
     MONTH(cost)},
};

const struct show_rows show_month_rows = SHOW_ROWS_OF(month_columns);

/* ------------------------------------------------------------------ JSON ---------------------------------- */

#define YEAR(member) .faces = SHOW_JSON, SHOW_FIELD(struct energy_bill, member)

static const struct show_column year_columns[] = {
    {.key = "kwh", YEAR(kwh_year)},
    {.key = "energy_cost", YEAR(energy_cost)},
    {.key = "standing_cost", YEAR(standing_cost)},
    {.key = "tax", YEAR(tax)},
    {.key = "cost", YEAR(cost_year)},
};
static const struct show_rows year_rows = SHOW_ROWS_OF(year_columns);

/* The rows of a kind in file order. */
static void take_rows(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    struct cost_rows rows = *(const struct cost_rows *)field;
    house_rows(rows.house, rows.kind, &rows.count); /* without the one for what has no room */
    size_t *order = memory_resize(NULL, rows.count, sizeof *order);
    for (size_t i = 0; i < rows.count; i++) {
        order[i] = i;
    }
    rows.order = order;
    cell->part = show_json_array(&show_cost_rows, &rows, rows.count);
    free(order);
}

static bool is_typical(const struct cost_answer *answer, size_t index)
{
    return answer->house->appliances[index].typical_time_s > 0;
}

static bool is_spread(const struct cost_answer *answer, size_t index)
{
    return answer->bill->appliances[index].spread_over_day;
}

/* IDs of the appliances for which it holds, in file order. */
static json_t *ids_json(const struct cost_answer *answer, bool (*holds)(const struct cost_answer *, size_t))
{
    json_t *array = json_array();
    for (size_t i = 0; i < answer->house->appliance_count; i++) {
        if (holds(answer, i)) {
            json_array_append_new(array, json_text(answer->house->appliances[i].id));
        }
    }
    return array;
}

static void get_left_out(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = ids_json(answer, cost_is_left_out);
}

static void get_typical(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = ids_json(answer, is_typical);
}

#define KIND(by_) .kind = SHOW_PART, .faces = SHOW_JSON, SHOW_TAKEN(struct cost_answer, by[by_], take_rows)
#define CURRENCY(type_) .key = "currency", .faces = SHOW_JSON, SHOW_TO(type_, house, struct house, currency)

static const struct show_column answer_columns[] = {
    {CURRENCY(struct cost_answer)},
    {.key = "year", SHOW_OBJECT(year_rows), SHOW_POINTED(struct cost_answer, bill, struct energy_bill)},
    {.key = "months", SHOW_ARRAY(show_month_rows, MONTHS_IN_YEAR)},
    {.key = "appliances", KIND(COST_BY_APPLIANCE)},
    {.key = "rooms", KIND(COST_BY_ROOM)},
    {.key = "branches", KIND(COST_BY_BRANCH)},
    {.key = "left_out", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_left_out},
    {.key = "typical_hours", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_typical},
};

static json_t *whole_json(const struct cost_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    return show_answer_json("cost", answer->house->name, &rows, answer, NULL);
}

/* ------------------------------------------------------------------ tariffs ------------------------------- */

#define BILL(member) SHOW_IN(struct cost_tariffs, rows, struct cost_tariff, bill.member)

/* Money of a bill, on terminal, CSV and page. */
#define MONEY(KEY, HEADING, TITLE, FIELD)                                                                              \
    {                                                                                                                  \
        .key = (KEY), .heading = (HEADING), .title = (TITLE), .right = true, .faces = SHOW_ROWS | SHOW_PAGE,           \
        BILL(FIELD)                                                                                                    \
    }

#define TARIFF(member) SHOW_VIA(struct cost_tariffs, rows, struct cost_tariff, tariff, struct tariff, member)

static const struct show_column tariff_columns[] = {
    {.key = "tariff", .heading = "TARIFF", .faces = SHOW_COMMAND, TARIFF(id)},
    {.title = "Tariff", .faces = SHOW_PAGE, TARIFF(name)},
    {.key = "year",
     SHOW_OBJECT(year_rows),
     SHOW_ELEMENT(struct cost_tariffs, rows, struct cost_tariff),
     SHOW_WITHIN(struct cost_tariff, bill)},
    MONEY("energy_cost", "ENERGY", "Energy", energy_cost),
    MONEY("standing_cost", "STANDING", "Standing", standing_cost),
    MONEY("tax", "TAX", "Tax", tax),
    MONEY("cost_year", "YEAR", "Year", cost_year),
    MONEY("cost_day", "DAY", "Day", cost_day),
};

const struct show_rows show_tariff_rows = SHOW_ROWS_OF(tariff_columns);

static json_t *tariffs_json(const struct cost_tariffs *answer)
{
    static const struct show_column whole[] = {
        {CURRENCY(struct cost_tariffs)},
        {.key = "tariffs", SHOW_LIST(show_tariff_rows, struct cost_tariffs, count)},
    };
    static const struct show_rows rows = SHOW_ROWS_OF(whole);
    return show_answer_json("cost", answer->house->name, &rows, answer, NULL);
}

/* ------------------------------------------------------------------ changes ------------------------------- */

static void add_left_out(const struct cost_row *change, const char *before, struct text *text)
{
    if (change->unknown_wires > 0) {
        text_printf(text, "%s%zu branch%s of unknown wire left out", before, change->unknown_wires,
                    change->unknown_wires == 1 ? "" : "es");
    }
}

static void get_what(const void *answer, size_t row, struct show_cell *cell)
{
    static const char *const words[] = {"windows moved", "without standby", "windows moved, no standby",
                                        "lost in the wires"};
    const struct cost_row *change = &((const struct cost_changed *)answer)->rows[row];
    text_add(show_made(cell), words[change->what]);
    add_left_out(change, " (", &cell->made);
    text_add(&cell->made, change->unknown_wires > 0 ? ")" : "");
    show_made_done(cell);
}

/* Money with the decimals of its currency; none where there is no price. */
static void set_money(const void *answer, double amount, struct show_cell *cell)
{
    if (isfinite(amount)) {
        text_add_fixed(show_made(cell), amount, ((const struct cost_changed *)answer)->decimals);
        show_made_done(cell);
    }
}

static void get_cost(const void *answer, size_t row, struct show_cell *cell)
{
    set_money(answer, ((const struct cost_changed *)answer)->rows[row].cost, cell);
}

static void get_cost_then(const void *answer, size_t row, struct show_cell *cell)
{
    set_money(answer, ((const struct cost_changed *)answer)->rows[row].cost_then, cell);
}

static void get_difference(const void *answer, size_t row, struct show_cell *cell)
{
    set_money(answer, ((const struct cost_changed *)answer)->rows[row].difference, cell);
}

static void head_change(const void *answer, struct text *text)
{
    text_add(text, ((const struct cost_changed *)answer)->house->currency);
}

bool show_change_is_priced(const struct cost_changed *answer)
{
    return answer->count > 0 && isfinite(answer->rows[0].cost_then);
}

static bool is_change_priced(const void *answer)
{
    return show_change_is_priced(answer);
}

/* Money as people read it, no column of it without a price; as text in JSON. */
#define MONEY_SAID(KEY, GET)                                                                                           \
    .key = (KEY), .right = true, .faces = SHOW_TERMINAL | SHOW_JSON | SHOW_PAGE, .asked = is_change_priced,            \
    .asked_on = SHOW_TERMINAL | SHOW_PAGE, .get = (GET)

#define CHANGE(member) SHOW_EACH_IN(struct cost_changed, rows, struct cost_row, member)

/* Energy on every face. */
#define ENERGY(KEY, HEADING, TITLE)                                                                                    \
    {                                                                                                                  \
        .key = #KEY, .heading = (HEADING), .title = (TITLE), .decimals = 1,                                            \
        .faces = SHOW_ROWS | SHOW_JSON | SHOW_PAGE, CHANGE(KEY)                                                        \
    }

/* Money in CSV, in full. */
#define AMOUNT(KEY)                                                                                                    \
    {                                                                                                                  \
        .key = #KEY, .faces = SHOW_CSV, CHANGE(KEY)                                                                    \
    }

static const struct show_column change_columns[] = {
    {SHOW_NAMED("what", "IN A YEAR", "In a year", NULL), .wrap = 26, .faces = SHOW_COMMAND | SHOW_PAGE,
     .get = get_what},
    ENERGY(kwh, "KWH NOW", "kWh now"),
    ENERGY(kwh_then, "THEN", "kWh then"),
    {.heading = "NOW", .title = "now", .head = head_change, MONEY_SAID("cost", get_cost)},
    {.heading = "THEN", .title = "Then", MONEY_SAID("cost_then", get_cost_then)},
    {.heading = "DIFFERENCE", .title = "Difference", MONEY_SAID("difference", get_difference)},
    AMOUNT(cost),
    AMOUNT(cost_then),
    AMOUNT(difference),
};

const struct show_rows show_change_rows = SHOW_ROWS_OF(change_columns);

static json_t *change_json(const struct cost_changed *answer)
{
    static const struct show_column whole[] = {
        {CURRENCY(struct cost_changed)},
        {.key = "rows", SHOW_LIST(show_change_rows, struct cost_changed, count)},
    };
    static const struct show_rows rows = SHOW_ROWS_OF(whole);
    return show_answer_json("cost", answer->house->name, &rows, answer, NULL);
}

json_t *show_cost_json(const struct cost_asked *answer)
{
    return answer->kind == COST_OF_YEAR      ? whole_json(&answer->year)
           : answer->kind == COST_OF_TARIFFS ? tariffs_json(&answer->tariffs)
                                             : change_json(&answer->changed);
}

struct table *show_cost_csv(const struct cost_asked *answer, enum cost_by by)
{
    const struct cost_rows *rows = &answer->year.by[by];
    return answer->kind == COST_OF_YEAR ? show_table(&show_cost_rows, SHOW_CSV, rows, rows->count)
           : answer->kind == COST_OF_TARIFFS
               ? show_table(&show_tariff_rows, SHOW_CSV, &answer->tariffs, answer->tariffs.count)
               : show_table(&show_change_rows, SHOW_CSV, &answer->changed, answer->changed.count);
}

/* ------------------------------------------------------------------ people -------------------------------- */

/* Why there is no price, and what would give one. */
static const char *why_unpriced(const struct cost_answer *answer, bool by_command)
{
    return answer->house->tariff_count > 0
               ? "no price, since none of the tariffs is chosen (--tariff ID, or `tariff` of the house)"
           : by_command ? "no tariff, so no price (`ampsum add` below, with your own price of a kWh)"
                        : "no tariff, so no price (add a section [tariff flat] with price = 0.30, or your own)";
}

static void write_year(const struct cost_answer *answer, bool by_command, const struct page *page, struct text *text)
{
    const struct energy_bill *bill = answer->bill;
    const char *currency = answer->house->currency;
    struct text line = {0};
    text_fixed(&line, "Year: ", bill->kwh_year, 1, " kWh; ");
    if (bill->cost_year == NULL) {
        text_add(&line, why_unpriced(answer, by_command));
    } else {
        text_printf(&line, "energy %s + standing %s + tax %s = %s %s", bill->energy_cost, bill->standing_cost,
                    bill->tax, bill->cost_year, currency);
    }
    show_line(page, 0, 2, &line, text);
    if (bill->cost_year != NULL) {
        text_printf(text, "Month: %s %s on average; day: ", bill->cost_month, currency);
        text_add_fixed(text, bill->kwh_day, 2);
        text_printf(text, " kWh, %s %s\n", bill->cost_day, currency);
    }
}

/* Appends the names of those for which it holds, behind `before`; of typical ones how long they run. */
static void list_appliances(const struct cost_answer *answer, bool (*holds)(const struct cost_answer *, size_t),
                            const char *before, bool names, struct text *text)
{
    bool any = false;
    for (size_t i = 0; i < answer->house->appliance_count; i++) {
        if (!holds(answer, i)) {
            continue;
        }
        const struct appliance *appliance = &answer->house->appliances[i];
        text_printf(text, "%s%s", any ? ", " : before, names ? appliance->name : appliance->id);
        if (holds == is_typical) {
            text_rounded(text, " ", appliance->typical_time_s / 3600, 2, " h a day");
        }
        any = true;
    }
    text_add(text, any ? "." : "");
}

void show_cost_spread(const struct cost_answer *answer, bool names, struct text *text)
{
    list_appliances(answer, is_spread, "Hours without windows are spread evenly over 24 hours: ", names, text);
}

void show_cost_left_out(const struct cost_answer *answer, bool names, struct text *text)
{
    list_appliances(answer, cost_is_left_out,
                    "Left out, since neither `use` nor `hours` says how long they run: ", names, text);
}

void show_cost_typical(const struct cost_answer *answer, bool names, struct text *text)
{
    list_appliances(answer, is_typical,
                    "Counted with hours that are typical of such a thing, since none were given: ", names, text);
}

void show_cost_dearest(const struct cost_answer *answer, struct text *text)
{
    const struct energy_month *months = answer->bill->months;
    const int both[] = {answer->most_month, answer->least_month};
    for (size_t i = 0; i < 2 && answer->most_month >= 0; i++) {
        const bool priced = months[both[i]].cost != NULL;
        text_add(text, i == 0 ? (priced ? "Dearest in " : "Most in ") : (priced ? "; cheapest in " : "; least in "));
        text_add(text, month_name(both[i]));
        text_fixed(text, ": ", months[both[i]].kwh, 0, " kWh");
        if (months[both[i]].cost != NULL) {
            text_printf(text, ", %s %s", months[both[i]].cost, answer->house->currency);
        }
    }
    text_add(text, answer->most_month >= 0 ? "." : "");
}

/* What is left out comes first, then what was only taken as typical. */
static void write_known(const struct cost_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    const size_t before = text->length;
    show_cost_left_out(answer, false, &line);
    show_line(page, 0, 2, &line, text);
    show_cost_typical(answer, false, &line);
    show_line(page, 0, 2, &line, text);
    text_add(text, text->length > before ? "\n" : "");
}

/* What it comes to, and when it is most. */
static void write_whole(const struct cost_answer *answer, bool by_command, const struct page *page, struct text *text)
{
    struct text line = {0};
    write_year(answer, by_command, page, text);
    show_cost_dearest(answer, &line);
    show_line(page, 0, 2, &line, text);
}

static void write_of_year(const struct cost_answer *answer, enum cost_by by, bool all, bool by_command,
                          const struct page *page, struct text *text)
{
    const struct cost_rows *rows = &answer->by[by];
    const size_t count = all ? rows->count : rows->used;
    struct text spread = {0};
    write_known(answer, page, text);
    write_whole(answer, by_command, page, text);
    text_add_char(text, '\n');
    show_table_text(&show_cost_rows, rows, count, page, text);
    text_add(text, count == 0 ? "Nothing uses energy yet: give appliances `use` windows, `hours` or `standby`.\n" : "");
    text_add_char(text, '\n');
    show_table_text(&show_month_rows, answer, MONTHS_IN_YEAR, page, text);
    text_add_char(text, '\n');
    const size_t before = text->length;
    if (answer->bill->cost_year != NULL) {
        text_printf(text, "%s\n", show_cost_parts);
    }
    show_cost_spread(answer, false, &spread);
    show_line(page, 0, 2, &spread, text);
    text_add(text, text->length > before ? "\n" : "");
    show_cautions_text(page, NULL, text);
}

void show_cost_loss(const struct cost_changed *answer, struct text *text)
{
    const struct cost_row *loss = cost_loss_row(answer);
    if (loss == NULL) {
        return;
    }
    if (loss->unknown_wires == answer->house->branch_count) {
        text_add(text, "What the wires lose is not known: wire and length are known of no branch.");
        return;
    }
    text_fixed(text, "Beside what the year counts, the wires lose ", loss->kwh_then, 1, " kWh a year");
    if (isfinite(loss->cost_then)) {
        text_add(text, ": ");
        text_add_fixed(text, loss->cost_then, answer->decimals);
        text_printf(text, " %s at the year's mean price of a kWh", answer->house->currency);
    }
    add_left_out(loss, "; ", text);
    text_add_char(text, '.');
}

static void write_change(const struct cost_changed *answer, const struct page *page, struct text *text)
{
    struct text loss = {0};
    const size_t count = cost_change_count(answer);
    if (count > 0) {
        show_table_text(&show_change_rows, answer, count, page, text);
        text_add_char(text, '\n');
    }
    show_cost_loss(answer, &loss);
    text_add(&loss, loss.length > 0 ? "\n" : "");
    show_line(page, 0, 2, &loss, text);
    show_cautions_text(page, NULL, text);
}

void show_cost_text(const struct cost_asked *answer, enum cost_by by, bool all, bool by_command,
                    const struct page *page, struct text *text)
{
    if (answer->kind == COST_OF_YEAR) {
        write_of_year(&answer->year, by, all, by_command, page, text);
    } else if (answer->kind == COST_OF_TARIFFS) {
        show_table_text(&show_tariff_rows, &answer->tariffs, answer->tariffs.count, page, text);
    } else {
        write_change(&answer->changed, page, text);
    }
}
