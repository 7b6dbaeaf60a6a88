#include "ampsum/answer_day.h"

#include <math.h>
#include <string.h>

#include "ampsum/answer_choice.h"
#include "ampsum/reference.h"

enum { LEGS = 3, DAYS = 7 };

/* The days asked for, of which the busiest is shown; `fixed` where one date was given. */
struct day_choice {
    unsigned days;   /* DAYS_ bits */
    unsigned months; /* bits */
    bool fixed;
    struct day day; /* where fixed */
};

/* What the views share. */
struct asking {
    struct day_answer *answer;
    struct day_choice choice;
    struct planning_factors factors;
};

static bool given(const char *word)
{
    return word != NULL && word[0] != '\0';
}

static bool read_day(const char *word, const char *dash, struct day_choice *choice, struct error *error)
{
    if (!given(word)) {
        return true;
    }
    if (strcmp(word, "weekday") == 0 || strcmp(word, "weekend") == 0) {
        choice->days = strcmp(word, "weekday") == 0 ? DAYS_WEEKDAYS : DAYS_WEEKEND;
        return true;
    }
    for (int day = 0; day < DAYS; day++) {
        if (strcmp(word, day_word(day)) == 0) {
            choice->days = 1U << day;
            return true;
        }
    }
    error_set(error, ERROR_INPUT, "%sday %s: expected weekday, weekend or mon to sun", dash, word);
    return false;
}

static bool read_month(const char *word, const char *dash, struct day_choice *choice, struct error *error)
{
    for (int month = 0; given(word) && month < MONTHS_IN_YEAR; month++) {
        if (strcmp(word, month_word(month)) == 0) {
            choice->months = 1U << month;
            return true;
        }
    }
    if (given(word)) {
        error_set(error, ERROR_INPUT, "%smonth %s: expected jan to dec", dash, word);
    }
    return !given(word);
}

static bool read_choice(const struct day_question *words, struct day_choice *ret_choice, struct error *error)
{
    const char *dash = words->dash;
    struct day_choice choice = {.days = DAYS_ALL, .months = MONTHS_ALL, .fixed = given(words->date)};
    if (!choice.fixed) {
        if (!read_day(words->day, dash, &choice, error) || !read_month(words->month, dash, &choice, error)) {
            return false;
        }
    } else if (given(words->day) || given(words->month)) {
        error_set(error, ERROR_INPUT, "%son-date stands alone: it fixes the day and the month", dash);
        return false;
    } else if (!day_from_text(words->date, &choice.day)) {
        error_set(error, ERROR_INPUT, "%son-date %s: expected a date, MM-DD or YYYY-MM-DD", dash, words->date);
        return false;
    }
    *ret_choice = choice;
    return true;
}

/* Which appliances of the view have times, and which are on in its busiest stretch. */
static void find_on(const struct house *house, struct arena *arena, struct day_view *view)
{
    const struct day_series *series = &view->series;
    const int minute = series->stretches[series->busiest].start_min;
    const size_t branch = view->scope.branch;
    const size_t most = branch != NO_INDEX ? house->branches[branch].appliances.count : house->appliance_count;
    view->on.index = arena_array(arena, most, sizeof *view->on.index);
    size_t at = 0;
    for (size_t i; (i = day_scope_next(house, view->scope, &at)) != NO_INDEX;) {
        view->timed = view->timed || appliance_has_times(&house->appliances[i]);
        if (day_appliance_is_on(&house->appliances[i], series->day, minute)) {
            view->on.index[view->on.count++] = i;
        }
    }
}

static void find_odds(const struct asking *asking, struct day_view *view)
{
    struct day_answer *answer = asking->answer;
    const struct chance_figures *chance = &view->chance;
    day_odds(answer->house, view->scope, view->series.day, asking->factors, answer->arena, NULL, &view->chance,
             &view->left_out);
    view->has_odds = view->left_out.count == 0 || chance->current_99_a.upper > 0 || chance->worst.upper > 0;
    view->chance_known =
        view->has_odds && (chance->worst.upper > 0 || view->left_out.count == 0 || view->series.over_rating_min == 0);
    answer->least_grid_a = fmin(answer->least_grid_a, chance->grid_a);
    answer->largest_grid_a = fmax(answer->largest_grid_a, chance->grid_a);
}

static void fill(const struct asking *asking, struct day_view *view)
{
    struct day_answer *answer = asking->answer;
    const struct day_choice *choice = &asking->choice;
    const struct house *house = answer->house;
    const struct day day =
        choice->fixed ? choice->day : day_busiest(house, view->scope, choice->days, choice->months, asking->factors);
    day_course(house, view->scope, day, asking->factors, answer->near_percent / 100, answer->arena, &view->series);
    if (!answer->question->no_odds) {
        find_odds(asking, view);
    }
    find_on(house, answer->arena, view);
    view->energy_kwh = day_energy_kwh(house, view->scope, day);
    answer->row_count += view->series.stretch_count;
}

static void add_branch(const struct asking *asking, size_t branch)
{
    struct day_answer *answer = asking->answer;
    const struct branch *row = &answer->house->branches[branch];
    struct day_view *view = &answer->views[answer->count++];
    *view = (struct day_view){
        .scope = {.branch = branch, .panel = NO_INDEX}, .id = row->id, .label = row->label, .leg = NULL};
    fill(asking, view);
}

static void add_panel(const struct asking *asking, size_t panel)
{
    struct day_answer *answer = asking->answer;
    static const char *const legs[LEGS] = {"A", "B", "C"};
    const struct panel *row = &answer->house->panels[panel];
    for (int leg = 0; leg < LEGS; leg++) {
        if ((row->legs >> leg & 1U) != 0) {
            struct day_view *view = &answer->views[answer->count++];
            *view = (struct day_view){.scope = {.branch = NO_INDEX, .panel = panel, .leg = leg},
                                      .id = row->id,
                                      .label = row->name != NULL ? row->name : row->id,
                                      .leg = legs[leg]};
            fill(asking, view);
        }
    }
}

static void add_all(const struct asking *asking)
{
    const struct house *house = asking->answer->house;
    for (size_t i = 0; i < house->branch_count; i++) {
        add_branch(asking, i);
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        add_panel(asking, i);
    }
}

/* The views of the ID asked for. False with the error set where neither a branch nor a panel has it. */
static bool add_views(const struct asking *asking, struct error *error)
{
    struct day_answer *answer = asking->answer;
    const struct house *house = answer->house;
    const char *id = given(answer->question->id) ? answer->question->id : NULL;
    const size_t branch = id == NULL || answer->question->panel ? NO_INDEX : house_find(house, KIND_BRANCH, id);
    const size_t panel = id == NULL ? NO_INDEX : house_find(house, KIND_PANEL, id);
    const size_t most = id == NULL ? house->branch_count + LEGS * house->panel_count : LEGS;
    answer->views = arena_array(answer->arena, most, sizeof *answer->views);
    if (id == NULL) {
        add_all(asking);
    } else if (branch != NO_INDEX) {
        add_branch(asking, branch);
    } else if (panel != NO_INDEX) {
        add_panel(asking, panel);
    } else {
        answer->unknown_id = true;
        choice_find(house, KIND_BRANCH, id, error); /* says so, with the nearest */
        return false;
    }
    return true;
}

static void list_rows(struct day_answer *answer)
{
    size_t row = 0;
    answer->rows = arena_array(answer->arena, answer->row_count, sizeof *answer->rows);
    for (size_t i = 0; i < answer->count; i++) {
        struct day_view *view = &answer->views[i];
        view->rows = &answer->rows[row];
        for (size_t k = 0; k < view->series.stretch_count; k++) {
            answer->rows[row++] = (struct day_row){view, &view->series.stretches[k]};
        }
    }
}

bool answer_day(const struct house *house, const struct day_question *question, struct day_answer *ret_answer,
                struct error *error)
{
    struct asking asking = {.answer = ret_answer};
    *ret_answer = (struct day_answer){.house = house,
                                      .question = question,
                                      .near_percent = reference_rule_value("near-share", rules_word(house->rules)),
                                      .least_grid_a = INFINITY,
                                      .owned = question->arena == NULL ? arena_new() : NULL};
    ret_answer->arena = question->arena == NULL ? ret_answer->owned : question->arena;
    if (!read_choice(question, &asking.choice, error)) {
        return false;
    }
    asking.factors = question->factors != NULL ? *question->factors : rules_factors(house, ret_answer->arena);
    if (!add_views(&asking, error)) {
        return false;
    }
    if (ret_answer->count == 0 || question->no_odds) {
        ret_answer->least_grid_a = CHANCE_GRID_A;
        ret_answer->largest_grid_a = CHANCE_GRID_A;
    }
    ret_answer->fixed = asking.choice.fixed;
    list_rows(ret_answer);
    return true;
}

size_t day_next_above(const struct day_answer *answer, size_t from)
{
    while (from < answer->count && !(answer->views[from].series.over_rating_min > 0)) {
        from++;
    }
    return from;
}

void day_answer_done(struct day_answer *answer)
{
    arena_free(answer->owned);
    *answer = (struct day_answer){0};
}
