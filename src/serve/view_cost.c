/* What the year costs, what would change it, and where the energy goes. */
#include "view_cost.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"

enum { ROWS_SHOWN = 20 }; /* longer tables are opened by hand */

const char *cost_day_name(int weekday)
{
    static const char *const names[] = {"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
    return names[weekday];
}

const char *cost_month_name(int month)
{
    static const char *const names[] = {"January", "February", "March",     "April",   "May",      "June",
                                        "July",    "August",   "September", "October", "November", "December"};
    return names[month];
}

void cost_links(struct visit *visit, const char *path)
{
    static const char *const links[][2] = {{"/cost", "The cost of the year"}, {"/cost/day", "The course of a day"}};
    struct text *html = &visit->answer.body;
    html_add(html, "<p class=\"scenes\">");
    for (size_t i = 0; i < sizeof links / sizeof links[0]; i++) {
        if (strcmp(links[i][0], path) == 0) {
            html_add(html, "<strong>%s</strong> ", links[i][1]);
        } else {
            html_add(html, "<a href=\"%s\">%s</a> ", links[i][0], links[i][1]);
        }
    }
    html_add(html, "</p>\n");
}

void cost_paragraph(struct text *html, const char *class, struct text *sentence)
{
    if (sentence->length > 0) {
        html_add(html, class == NULL ? "<p>" : "<p class=\"%s\">", class);
        html_add(html, "%s</p>\n", text_string(sentence));
    }
    text_clear(sentence);
}

/* ---- what the query asks of the command ---- */

struct words {
    const char **word; /* NULL-ended, in the visit's arena */
    size_t count;
};

static void add_word(struct visit *visit, struct words *words, const char *option, const char *value)
{
    struct text text = {0};
    text_printf(&text, "%s%s%s", option, value == NULL ? "" : "=", value == NULL ? "" : value);
    words->word[words->count++] = arena_copy(visit->arena, text_string(&text));
    text_done(&text);
}

static struct words begin_words(struct visit *visit)
{
    enum { OWN = 8 }; /* words beside those of the query */
    struct words words = {arena_array(visit->arena, visit->query.count + OWN, sizeof(char *)), 0};
    words.word[words.count++] = "cost";
    words.word[words.count++] = visit->site->path;
    words.word[words.count++] = "--format=json";
    return words;
}

/* `shift=APPLIANCE=HH:MM`, repeated; and the form's `move` and `start`, which are one more. */
static void add_shifts(struct visit *visit, struct words *words)
{
    const char *move = form_value(&visit->query, "move");
    for (size_t i = 0; i < visit->query.count; i++) {
        if (strcmp(visit->query.field[i].name, "shift") == 0) {
            add_word(visit, words, "--shift", visit->query.field[i].value);
        }
    }
    if (move[0] != '\0') {
        struct text shift = {0};
        text_printf(&shift, "%s=%s", move, form_value(&visit->query, "start"));
        add_word(visit, words, "--shift", text_string(&shift));
        text_done(&shift);
    }
}

static struct energy_bill tariff_bill(struct visit *visit, size_t tariff, unsigned rows)
{
    const struct ref_currency *currency = reference_currency(visit->house->currency);
    struct energy_bill bill;
    energy_year_rows(visit->house, tariff, currency == NULL ? 2 : currency->minor_units, rows, visit->arena, &bill);
    return bill;
}

static json_t *run(struct visit *visit, struct words *words)
{
    words->word[words->count] = NULL;
    return visit_run_json(visit, words->word);
}

/* The answer of `cost --format json` with the options of the query: tariff, shift, standby, loss. */
void api_cost(struct visit *visit)
{
    struct words words = begin_words(visit);
    for (size_t i = 0; i < visit->query.count; i++) {
        const struct field *field = &visit->query.field[i];
        if (strcmp(field->name, "tariff") == 0 && field->value[0] != '\0') {
            add_word(visit, &words, "--tariff", field->value);
        }
    }
    add_shifts(visit, &words);
    if (form_has(&visit->query, "standby")) {
        add_word(visit, &words, "--standby", NULL);
    }
    if (form_has(&visit->query, "loss")) {
        add_word(visit, &words, "--loss", NULL);
    }
    json_t *json = run(visit, &words);
    if (json == NULL) {
        visit_refuse(visit, 422, "No answer", error_message(&visit->error));
        return;
    }
    visit_json(visit, json);
}

/* ---- the page ---- */

static const char *word_of(const json_t *object, const char *key)
{
    const char *string = json_string_value(json_object_get(object, key));
    return string == NULL ? "-" : string;
}

/* A table whose rows are set below one another where the page is narrow; the cells then carry their headings. */
static void add_head(struct text *html, const char *caption, const char *const *headings)
{
    html_add(html, "<table class=\"stack\"><caption>%s</caption><thead><tr>", caption);
    for (size_t i = 0; headings[i] != NULL; i++) {
        html_add(html, i == 0 ? "<th scope=\"col\">%s</th>" : "<th scope=\"col\" class=\"n\">%s</th>", headings[i]);
    }
    html_add(html, "</tr></thead><tbody>\n");
}

static void add_money(struct text *html, const char *heading, const char *money)
{
    html_add(html, "<td class=\"n\" data-label=\"%s\">%s</td>", heading, money == NULL ? "-" : money);
}

static void add_energy(struct text *html, const char *heading, double kwh, bool fine)
{
    html_add(html, fine ? "<td class=\"n\" data-label=\"%s\">%.2f</td>" : "<td class=\"n\" data-label=\"%s\">%.1f</td>",
             heading, kwh);
}

static void add_year(struct visit *visit, const struct energy_bill *bill, size_t tariff)
{
    struct text *html = &visit->answer.body;
    const char *currency = visit->house->currency;
    html_add(html, "<h2>The year</h2><p>%.1f kWh a year, %.2f kWh a day", bill->kwh_year, bill->kwh_day);
    if (bill->cost_year == NULL) {
        html_add(html, visit->house->tariff_count > 0 ? "; no price, since none of the tariffs is chosen."
                                                      : "; no tariff, so no price.");
        html_add(html, visit->site->read_only ? "</p>\n"
                                              : " It is given under <a href=\"/build\">Rooms and branches</a>.</p>\n");
        return;
    }
    html_add(html, ". By the tariff %s: energy %s, standing charge %s, tax %s: ", visit->house->tariffs[tariff].name,
             bill->energy_cost, bill->standing_cost, bill->tax);
    html_add(html, "<strong>%s %s a year</strong>, %s %s a month on average, %s %s a day.</p>\n", bill->cost_year,
             currency, bill->cost_month, currency, bill->cost_day, currency);
}

static void add_form(struct visit *visit, size_t tariff)
{
    struct text *html = &visit->answer.body;
    const struct house *house = visit->house;
    html_add(html, "<form class=\"fields\" action=\"/cost\">");
    const char *chosen = tariff == NO_INDEX ? "" : house->tariffs[tariff].id;
    if (house->tariff_count > 0) {
        html_add(html, "<label>Tariff <select name=\"tariff\">");
        if (house->tariff == NO_INDEX) {
            page_option(html, "", "none chosen", chosen);
        }
        for (size_t i = 0; i < house->tariff_count; i++) {
            page_option(html, house->tariffs[i].id, house->tariffs[i].name, chosen);
        }
        html_add(html, "</select></label>");
    }
    html_add(html, "<label>What if this ran at another time? <select name=\"move\">");
    page_option(html, "", "nothing is moved", form_value(&visit->query, "move"));
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (house->appliances[i].use.count > 0) {
            page_option(html, house->appliances[i].id, house->appliances[i].name, form_value(&visit->query, "move"));
        }
    }
    html_add(html,
             "</select></label><label>Its times of use begin at <input type=\"time\" name=\"start\" value=\"%s\">"
             "</label><p><button>Work it out</button></p></form>\n",
             form_value(&visit->query, "start"));
}

static const char *const choice_headings[] = {"In a year", "kWh now", "kWh then", "Now", "Then", "Difference", NULL};

static void add_choice_rows(struct visit *visit, const json_t *rows)
{
    struct text *html = &visit->answer.body;
    size_t i = 0;
    const json_t *row = NULL;
    json_array_foreach(rows, i, row)
    {
        html_add(html, "<tr><th scope=\"row\">%s</th>", word_of(row, "what"));
        add_energy(html, choice_headings[1], json_number_value(json_object_get(row, "kwh")), false);
        add_energy(html, choice_headings[2], json_number_value(json_object_get(row, "kwh_then")), false);
        add_money(html, choice_headings[3], word_of(row, "cost"));
        add_money(html, choice_headings[4], word_of(row, "cost_then"));
        add_money(html, choice_headings[5], word_of(row, "difference"));
        html_add(html, "</tr>\n");
    }
}

/* The rows of `cost --shift`, and of `cost --standby --loss`; NULL with visit->error set. */
static json_t *choice_rows(struct visit *visit, const char *tariff, bool shifted)
{
    struct words words = begin_words(visit);
    if (tariff != NULL) {
        add_word(visit, &words, "--tariff", tariff);
    }
    if (shifted) {
        add_shifts(visit, &words);
    } else {
        add_word(visit, &words, "--standby", NULL);
        add_word(visit, &words, "--loss", NULL);
    }
    json_t *answer = run(visit, &words);
    json_t *rows = json_incref(json_object_get(answer, "rows"));
    json_decref(answer);
    return rows;
}

static void add_choices(struct visit *visit, const json_t *moved, const json_t *usual)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<h2>What would change it</h2>");
    if (usual == NULL) {
        html_add(html, "<p>Not known now: %s.</p>", error_message(&visit->error));
        return;
    }
    struct text caption = {0};
    text_printf(&caption, "Money in %s", visit->house->currency);
    add_head(html, text_string(&caption), choice_headings);
    add_choice_rows(visit, moved);
    add_choice_rows(visit, usual);
    html_add(html, "</tbody></table>\n");
    text_done(&caption);
}

static void add_tariffs(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    const struct house *house = visit->house;
    static const char *const headings[] = {"Tariff", "Energy", "Standing", "Tax", "Year", "Day", NULL};
    struct text caption = {0};
    if (house->tariff_count < 2) {
        return;
    }
    text_printf(&caption, "The tariffs side by side, %s", house->currency);
    add_head(html, text_string(&caption), headings);
    for (size_t i = 0; i < house->tariff_count; i++) {
        const struct energy_bill bill = tariff_bill(visit, i, 0);
        const char *const cells[] = {bill.energy_cost, bill.standing_cost, bill.tax, bill.cost_year, bill.cost_day};
        html_add(html, "<tr><th scope=\"row\">%s</th>", house->tariffs[i].name);
        for (size_t j = 0; j < sizeof cells / sizeof cells[0]; j++) {
            add_money(html, headings[j + 1], cells[j]);
        }
        html_add(html, "</tr>\n");
    }
    html_add(html, "</tbody></table>\n");
    text_done(&caption);
}

static void add_months(struct visit *visit, const struct energy_bill *bill)
{
    struct text *html = &visit->answer.body;
    html_add(html,
             "<table><caption>By month</caption><thead><tr><th scope=\"col\">Month</th><th scope=\"col\" "
             "class=\"n\">kWh</th><th scope=\"col\" class=\"n\">%s</th></tr></thead><tbody>\n",
             visit->house->currency);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        html_add(html, "<tr><th scope=\"row\">%s</th><td class=\"n\">%.1f</td><td class=\"n\">%s</td></tr>",
                 cost_month_name(month), bill->months[month].kwh,
                 bill->months[month].cost == NULL ? "-" : bill->months[month].cost);
    }
    html_add(html, "</tbody></table>\n");
}

/* Rows by energy, largest first; equal ones in file order. */
struct ranked {
    double kwh_year;
    size_t index;
};

static int by_energy(const void *left, const void *right)
{
    const struct ranked *a = left;
    const struct ranked *b = right;
    if (a->kwh_year != b->kwh_year) {
        return a->kwh_year > b->kwh_year ? -1 : 1;
    }
    return a->index < b->index ? -1 : a->index > b->index;
}

static const char *row_name(const struct house *house, enum kind kind, size_t index)
{
    if (kind == KIND_BRANCH) {
        return house->branches[index].label;
    }
    return kind == KIND_ROOM ? house->rooms[index].name : house->appliances[index].name;
}

/* The rows that use energy, ranked; their number. */
static size_t rank(struct visit *visit, enum kind kind, const struct energy_row *rows, struct ranked **ret_ranked)
{
    size_t count = 0;
    size_t used = 0;
    house_rows(visit->house, kind, &count);
    *ret_ranked = arena_array(visit->arena, count + 1, sizeof **ret_ranked);
    for (size_t i = 0; i < count; i++) {
        if (rows[i].kwh_year > 0) {
            (*ret_ranked)[used++] = (struct ranked){rows[i].kwh_year, i};
        }
    }
    qsort(*ret_ranked, used, sizeof **ret_ranked, by_energy);
    return used;
}

static void add_rows(struct visit *visit, enum kind kind, const char *what, const struct energy_row *rows)
{
    struct text *html = &visit->answer.body;
    struct ranked *ranked = NULL;
    const size_t count = rank(visit, kind, rows, &ranked);
    const char *const headings[] = {what, "kWh a day", "kWh a year", "of it standby", visit->house->currency, NULL};
    if (count == 0) {
        return;
    }
    html_add(html, "<details%s", count <= ROWS_SHOWN ? " open" : "");
    html_add(html, "><summary>By %s (%zu)</summary>", kind_word(kind), count);
    add_head(html, "In a year, the largest first", headings);
    for (size_t i = 0; i < count; i++) {
        const struct energy_row *row = &rows[ranked[i].index];
        html_add(html, "<tr><th scope=\"row\">%s</th>", row_name(visit->house, kind, ranked[i].index));
        add_energy(html, headings[1], row->kwh_day, true);
        add_energy(html, headings[2], row->kwh_year, false);
        add_energy(html, headings[3], row->standby_kwh_year, false);
        add_money(html, headings[4], row->cost_year);
        html_add(html, "</tr>\n");
    }
    html_add(html, "</tbody></table></details>\n");
}

static void add_spread(struct visit *visit, const struct energy_bill *bill)
{
    struct text line = {0};
    for (size_t i = 0; i < visit->house->appliance_count; i++) {
        if (bill->appliances[i].spread_over_day) {
            text_add(&line, line.length > 0 ? ", " : "Hours without windows are spread evenly over 24 hours: ");
            text_add(&line, visit->house->appliances[i].name);
        }
    }
    text_add(&line, line.length > 0 ? "." : "");
    cost_paragraph(&visit->answer.body, "help", &line);
    text_done(&line);
}

static void add_where(struct visit *visit, const struct energy_bill *bill)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<h2>Where the energy goes</h2>");
    if (bill->kwh_year > 0) {
        html_add(html, "<p class=\"help\">Rows are energy charge and its tax, without the standing charge.</p>");
    } else {
        html_add(html, "<p>Nothing uses energy yet: give appliances times of use, hours or standby.</p>");
    }
    add_rows(visit, KIND_APPLIANCE, "Appliance", bill->appliances);
    add_rows(visit, KIND_ROOM, "Room", bill->rooms);
    add_rows(visit, KIND_BRANCH, "Branch", bill->branches);
    add_months(visit, bill);
    add_spread(visit, bill);
}

/* The tariff asked for, else the house's; false with the refusal made. */
static bool find_tariff(struct visit *visit, size_t *ret_tariff)
{
    const char *id = form_value(&visit->query, "tariff");
    *ret_tariff = visit->house->tariff;
    if (id[0] == '\0') {
        return true;
    }
    *ret_tariff = visit_find(visit, KIND_TARIFF, id);
    return *ret_tariff != NO_INDEX;
}

void view_cost(struct visit *visit)
{
    size_t tariff = NO_INDEX;
    if (!find_tariff(visit, &tariff)) {
        return;
    }
    const char *id = tariff == NO_INDEX ? NULL : visit->house->tariffs[tariff].id;
    const bool shifted = form_value(&visit->query, "move")[0] != '\0' || form_has(&visit->query, "shift");
    json_t *moved = shifted ? choice_rows(visit, id, true) : NULL;
    if (shifted && moved == NULL) {
        visit_refuse(visit, 422, "That can't be worked out", error_message(&visit->error));
        return;
    }
    json_t *usual = choice_rows(visit, id, false);
    const struct energy_bill bill =
        tariff == visit->house->tariff ? *visit_bill(visit) : tariff_bill(visit, tariff, ENERGY_ALL);
    page_begin(visit, "The cost of the year");
    cost_links(visit, "/cost");
    add_year(visit, &bill, tariff);
    add_form(visit, tariff);
    add_choices(visit, moved, usual);
    add_tariffs(visit);
    add_where(visit, &bill);
    page_end(visit);
    json_decref(moved);
    json_decref(usual);
}
