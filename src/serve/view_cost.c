/* What the year costs, what would change it, and where the energy goes. */
#include "input.h"

#include <string.h>

#include "ampsum/answer_choice.h"
#include "ampsum/show_cost.h"

enum { ROWS_SHOWN = 6 }; /* longer tables are opened by hand */

void cost_links(struct visit *visit, const char *path)
{
    static const char *const links[][2] = {{"/cost", "The cost of the year"}, {"/cost/day", "The course of a day"}};
    page_add(visit, "<p class=\"scenes\">");
    for (size_t i = 0; i < sizeof links / sizeof links[0]; i++) {
        if (strcmp(links[i][0], path) == 0) {
            page_add(visit, "<strong>%s</strong> ", links[i][1]);
        } else {
            page_add(visit, "<a href=\"%s\">%s</a> ", links[i][0], links[i][1]);
        }
    }
    page_add(visit, "</p>\n");
}

/* ---- what the query asks */

/* `shift=APPLIANCE=HH:MM`, repeated; and the form's `move` and `start`, which are one more. */
static struct cost_change read_change(struct visit *visit, size_t tariff)
{
    const char *move = form_value(&visit->query, "move");
    const char **shifts = arena_array(visit->arena, visit->query.count + 1, sizeof *shifts);
    struct cost_change change = {.tariff = tariff, .shifts = shifts};
    for (size_t i = 0; i < visit->query.count; i++) {
        if (strcmp(visit->query.field[i].name, "shift") == 0) {
            shifts[change.shift_count++] = visit->query.field[i].value;
        }
    }
    if (move[0] != '\0') {
        shifts[change.shift_count++] = arena_printf(visit->arena, "%s=%s", move, form_value(&visit->query, "start"));
    }
    return change;
}

/* The tariffs named; NULL with the error set. */
static size_t *read_tariffs(struct visit *visit, size_t *ret_count)
{
    const char *const *ids = form_all(&visit->query, "tariff", visit->arena, ret_count);
    size_t *tariffs = arena_array(visit->arena, *ret_count, sizeof *tariffs);
    for (size_t i = 0; i < *ret_count; i++) {
        tariffs[i] = choice_find(visit->house, KIND_TARIFF, ids[i], &visit->error);
        if (tariffs[i] == NO_INDEX) {
            return NULL;
        }
    }
    return tariffs;
}

/* The answer of `cost --format json` with the options of the query: tariff, shift, standby, loss. */
void api_cost(struct visit *visit)
{
    struct cost_question question = {.change = read_change(visit, NO_INDEX)};
    struct cost_asked answer;
    question.change.no_standby = form_has(&visit->query, "standby");
    question.change.loss = form_has(&visit->query, "loss");
    question.tariffs = read_tariffs(visit, &question.tariff_count);
    if (question.tariffs == NULL) {
        visit_json_if(visit, NULL);
        return;
    }
    const bool good = answer_cost_asked(visit->house, &question, &answer, &visit->error);
    visit_json_if(visit, good ? show_cost_json(&answer) : NULL);
    cost_asked_done(&answer);
}

/* ---- the page */

static void add_year(struct visit *visit, const struct energy_bill *bill, size_t tariff)
{
    const char *currency = visit->house->currency;
    page_add(visit, "<h2>The year</h2><p>%.1f kWh a year, %.2f kWh a day", bill->kwh_year, bill->kwh_day);
    if (bill->cost_year == NULL) {
        page_add(visit, visit->house->tariff_count > 0 ? "; no price, since none of the tariffs is chosen."
                                                       : "; no tariff, so no price.");
        page_add(visit, visit->site->read_only ? "</p>\n"
                                               : " It is given under <a href=\"/build\">Rooms and branches</a>.</p>\n");
        return;
    }
    page_add(visit, ". By the tariff %s: energy %s, standing charge %s, tax %s: ", visit->house->tariffs[tariff].name,
             bill->energy_cost, bill->standing_cost, bill->tax);
    page_add(visit, "<strong>%s %s a year</strong>, %s %s a month on average, %s %s a day.</p>\n", bill->cost_year,
             currency, bill->cost_month, currency, bill->cost_day, currency);
}

/* Those that have times of use. */
static void add_movable(struct visit *visit, const struct input *input, const char *chosen)
{
    (void)input;
    page_option(visit, "", "nothing is moved", chosen);
    for (size_t i = 0; i < visit->house->appliance_count; i++) {
        const struct appliance *appliance = &visit->house->appliances[i];
        if (appliance->use.count > 0) {
            page_option(visit, appliance->id, appliance->name, chosen);
        }
    }
}

/* The months beside the mean one. */
static void add_season(struct visit *visit, const struct cost_answer *answer)
{
    struct text line = {0};
    show_cost_dearest(answer, &line);
    page_paragraph(visit, "season", &line);
}

static void add_form(struct visit *visit, size_t tariff)
{
    static const struct input moved[] = {
        {"move", "What if this ran at another time?", .options = add_movable},
        {"start", "Its times of use begin at", .more = " type=\"time\""},
    };
    const struct house *house = visit->house;
    page_add(visit, "<form class=\"fields\" action=\"/cost\">");
    if (house->tariff_count > 0) {
        const struct input tariffs = {"tariff", "Tariff", .rows = KIND_TARIFF,
                                      .none = house->tariff == NO_INDEX ? "none chosen" : NULL};
        page_input(visit, &tariffs, tariff == NO_INDEX ? "" : house->tariffs[tariff].id);
    }
    page_inputs(visit, moved, sizeof moved / sizeof moved[0]);
    page_add(visit, "<p><button>Work it out</button></p></form>\n");
}

/* The year with windows moved, where that was asked; without standby, and what the wires lose. */
static void add_changes(struct visit *visit, const struct cost_changed *moved, size_t tariff)
{
    struct cost_changed shown = *moved;
    struct cost_changed usual;
    const struct cost_change question = {.tariff = tariff, .no_standby = true, .loss = true};
    page_add(visit, "<h2>What would change it</h2>");
    if (!answer_cost_change(visit->house, &question, &usual, &visit->error)) {
        page_add(visit, "<p>Not known now: %s.</p>", error_message(&visit->error));
        return;
    }
    for (size_t i = 0; i < usual.count; i++) {
        shown.rows[shown.count++] = usual.rows[i];
    }
    const char *caption = show_change_is_priced(&shown)
                              ? arena_printf(visit->arena, "Money in %s", visit->house->currency)
                              : "Energy alone, since there is no price";
    struct text loss = {0};
    show_html_table(&show_change_rows, caption, &shown, cost_change_count(&shown), &visit->answer.body);
    show_cost_loss(&shown, &loss);
    page_paragraph(visit, NULL, &loss);
}

static void add_tariffs(struct visit *visit)
{
    const size_t count = visit->house->tariff_count;
    size_t *tariffs = arena_array(visit->arena, count, sizeof *tariffs);
    struct cost_tariffs answer;
    if (count < 2) {
        return;
    }
    for (size_t i = 0; i < count; i++) {
        tariffs[i] = i;
    }
    answer_cost_tariffs(visit->house, tariffs, count, &answer);
    const char *caption = arena_printf(visit->arena, "The tariffs side by side, %s", visit->house->currency);
    show_html_table(&show_tariff_rows, caption, &answer, count, &visit->answer.body);
    cost_tariffs_done(&answer);
}

static void add_rows(struct visit *visit, const struct cost_rows *rows)
{
    if (rows->used > 0) {
        const char *summary = arena_printf(visit->arena, "By %s (%zu)", kind_word(rows->kind), rows->used);
        page_fold_table(visit, rows->used <= ROWS_SHOWN, summary, &show_cost_rows, "In a year, the largest first", rows,
                        rows->used);
    }
}

static void add_where(struct visit *visit, const struct cost_answer *answer)
{
    struct text line = {0};
    page_add(visit, "<h2>Where the energy goes</h2>");
    if (answer->bill->kwh_year > 0) {
        page_add(visit, "<p class=\"help\">%s</p>", show_cost_parts);
    } else {
        page_add(visit, "<p>Nothing uses energy yet: give appliances times of use, hours or standby.</p>");
    }
    for (int by = 0; by < COST_KINDS; by++) {
        add_rows(visit, &answer->by[by]);
    }
    if (answer->bill->kwh_year > 0) {
        show_html_table(&show_month_rows, "By month", answer, MONTHS_IN_YEAR, &visit->answer.body);
    }
    show_cost_spread(answer, true, &line);
    page_paragraph(visit, "help", &line);
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

/* What is left out comes first, then what was only taken as typical. */
static void add_known(struct visit *visit, const struct cost_answer *answer)
{
    struct text line = {0};
    show_cost_left_out(answer, true, &line);
    page_paragraph(visit, "known", &line);
    show_cost_typical(answer, true, &line);
    page_paragraph(visit, "known", &line);
}

void view_cost(struct visit *visit)
{
    size_t tariff = NO_INDEX;
    struct cost_changed changed = {.house = visit->house, .decimals = cost_decimals(visit->house)};
    struct cost_answer answer;
    if (!find_tariff(visit, &tariff)) {
        return;
    }
    const struct cost_change moved = read_change(visit, tariff);
    if (moved.shift_count > 0 && !answer_cost_change(visit->house, &moved, &changed, &visit->error)) {
        visit_refuse(visit, 422, "That can't be worked out", error_message(&visit->error));
        return;
    }
    answer_cost(visit->house, tariff, tariff == visit->house->tariff ? visit_bill(visit) : NULL, &answer);
    page_begin(visit, "The cost of the year");
    cost_links(visit, "/cost");
    add_known(visit, &answer);
    add_year(visit, answer.bill, tariff);
    add_season(visit, &answer);
    add_form(visit, tariff);
    add_changes(visit, &changed, tariff);
    add_tariffs(visit);
    add_where(visit, &answer);
    page_end(visit);
    cost_answer_done(&answer);
}
