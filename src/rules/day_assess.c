#include "ampsum/day_assess.h"

#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/assess.h"
#include "ampsum/reference.h"

enum { LEGS = 3, DAYS = 7 };

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

bool day_choice_read(const struct day_words *words, const char *dash, struct day_choice *ret_choice,
                     struct error *error)
{
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

static void fill(const struct house *house, const struct day_choice *choice, struct arena *arena, struct day_view *view)
{
    const struct planning_factors factors = rules_factors(house, arena);
    const struct day day =
        choice->fixed ? choice->day : day_busiest(house, view->scope, choice->days, choice->months, factors);
    const double near_share = reference_rule_value("near-share", rules_word(house->rules)) / 100;
    day_course(house, view->scope, day, factors, near_share, arena, &view->series);
    day_odds(house, view->scope, day, factors, arena, NULL, &view->chance, &view->left_out);
    view->energy_kwh = day_energy_kwh(house, view->scope, day);
}

static size_t add_branch(const struct house *house, const struct day_choice *choice, size_t branch, struct arena *arena,
                         struct day_view *view)
{
    const struct branch *row = &house->branches[branch];
    *view = (struct day_view){
        .scope = {.branch = branch, .panel = NO_INDEX}, .id = row->id, .label = row->label, .leg = NULL};
    fill(house, choice, arena, view);
    return 1;
}

static size_t add_panel(const struct house *house, const struct day_choice *choice, size_t panel, struct arena *arena,
                        struct day_view *views)
{
    static const char *const legs[LEGS] = {"A", "B", "C"};
    const struct panel *row = &house->panels[panel];
    size_t count = 0;
    for (int leg = 0; leg < LEGS; leg++) {
        if ((row->legs >> leg & 1U) != 0) {
            views[count] = (struct day_view){.scope = {.branch = NO_INDEX, .panel = panel, .leg = leg},
                                             .id = row->id,
                                             .label = row->name != NULL ? row->name : row->id,
                                             .leg = legs[leg]};
            fill(house, choice, arena, &views[count]);
            count++;
        }
    }
    return count;
}

static size_t add_all(const struct house *house, const struct day_choice *choice, struct arena *arena,
                      struct day_view *views)
{
    size_t count = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        count += add_branch(house, choice, i, arena, views + count);
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        count += add_panel(house, choice, i, arena, views + count);
    }
    return count;
}

bool day_views(const struct house *house, const char *id, const struct day_choice *choice, struct arena *arena,
               struct day_view **ret_views, size_t *ret_count)
{
    const size_t branch = id == NULL ? NO_INDEX : house_find(house, KIND_BRANCH, id);
    const size_t panel = id == NULL ? NO_INDEX : house_find(house, KIND_PANEL, id);
    if (id != NULL && branch == NO_INDEX && panel == NO_INDEX) {
        return false;
    }
    const size_t most = id == NULL ? house->branch_count + LEGS * house->panel_count : LEGS;
    struct day_view *views = arena_array(arena, most, sizeof *views);
    *ret_count = id == NULL           ? add_all(house, choice, arena, views)
                 : branch != NO_INDEX ? add_branch(house, choice, branch, arena, views)
                                      : add_panel(house, choice, panel, arena, views);
    *ret_views = views;
    return true;
}
