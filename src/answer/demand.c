#include "ampsum/answer_demand.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/freetext.h"
#include "ampsum/housefile.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"

/* ------------------------------------------------------------------ the metered maximum ------------------- */

bool demand_read_measured(const struct house *house, size_t panel, const char *string, double *ret_va)
{
    struct text unused = {0};
    const size_t length = strlen(string);
    bool good = length > 0 && isalpha((unsigned char)string[length - 1]) != 0;
    if (good && quantity_read(string, DIMENSION_CURRENT, house->rules, KEY_ABOVE_ZERO, ret_va, &unused)) {
        *ret_va *= demand_divisor_v(house, panel);
    } else {
        good = good && (quantity_read(string, DIMENSION_POWER, house->rules, KEY_ABOVE_ZERO, ret_va, &unused) ||
                        quantity_read(string, DIMENSION_APPARENT, house->rules, KEY_ABOVE_ZERO, ret_va, &unused));
    }
    text_done(&unused);
    return good;
}

static bool meter_demand(const struct demand_question *question, const struct house *house,
                         struct demand_metered *ret_metered, struct error *error)
{
    struct meter_figures figures;
    meter_figures(question->readings, question->reading_count, &figures);
    size_t at = 0;
    while (at < METER_DEMANDS && !isfinite(figures.demand_w[at])) {
        at++;
    }
    if (at == METER_DEMANDS || !(figures.demand_w[at] > 0)) {
        error_set(error, ERROR_INPUT, "--measured: the meter readings give no demand over 15, 30 or 60 minutes");
        return false;
    }
    const double wanted_h = reference_rule_value("measured-hours", rules_word(house->rules));
    *ret_metered = (struct demand_metered){.minutes = meter_demand_minutes[at],
                                           .largest_w = figures.demand_w[at],
                                           .covered_s = (double)figures.covered_s,
                                           .is_short = (double)figures.covered_s / 3600 < wanted_h};
    return true;
}

/* ------------------------------------------------------------------ the added loads ----------------------- */

static const char *free_branch_id(struct document *document, struct arena *arena)
{
    struct text id = {0};
    text_add(&id, "added-load");
    for (int number = 2; document_find(document, "branch", text_string(&id)) != NULL; number++) {
        text_clear(&id);
        text_printf(&id, "added-load-%d", number);
    }
    const char *copy = arena_copy(arena, text_string(&id));
    text_done(&id);
    return copy;
}

/* Its rated voltage; nominal where none is said, or where house_build will say what is wrong with it. */
static double rated_voltage_v(const struct house *house, const struct document_section *appliance)
{
    const char *rated = document_value(appliance, "rated_voltage");
    double rated_v = house->voltage_v;
    struct text unused = {0};
    if (rated != NULL) {
        (void)quantity_read(rated, DIMENSION_VOLTAGE, house->rules, 0, &rated_v, &unused);
    }
    text_done(&unused);
    return rated_v;
}

/* A branch of its own for an added load, between two legs where its rated voltage asks for that. */
static const char *add_branch(const struct house *house, struct document *document,
                              const struct document_section *appliance, size_t panel, struct arena *arena)
{
    const char *id = free_branch_id(document, arena);
    const double rated_v = rated_voltage_v(house, appliance);
    const unsigned legs = panel == 0 ? house_system_legs(house) : house->panels[panel].legs;
    const unsigned first = legs & (~legs + 1); /* the lowest leg */
    const unsigned rest = legs & ~first;
    const unsigned second = rest & (~rest + 1);
    const bool two = second != 0 && house_circuit_voltage_v(house, 2) - rated_v < rated_v - house->voltage_v;
    struct text breaker = {0};
    text_add_number(&breaker, house->service_a);
    struct document_section *branch = document_add(document, "branch", id);
    document_set(document, branch, "label", "Added load");
    document_set(document, branch, "panel", house->panels[panel].id);
    document_set(document, branch, "breaker", text_string(&breaker));
    document_set(document, branch, "poles", two ? "2" : "1");
    document_set(document, branch, "legs", legs_word(two ? first | second : first));
    document_set(document, branch, "purpose", "dedicated");
    text_done(&breaker);
    return id;
}

/* A load whose kind was not said takes that of the typical loads of its name. */
static void guess_category(const struct house *house, struct document *document, struct document_section *appliance,
                           struct demand_taken *taken)
{
    const struct ref_typical *row = NULL;
    bool near = false;
    if (document_value(appliance, "category") != NULL ||
        reference_typical_find(taken->name, rules_word(house->rules), &row, 1, &near) == 0 || near ||
        strcmp(row->category, "other") == 0) {
        return;
    }
    document_set(document, appliance, "category", row->category);
    taken->category = row->category;
    taken->typical = row->name;
}

static bool add_load(struct demand_answer *answer, struct document *document, const char *string, size_t panel,
                     struct error *error)
{
    struct freetext load;
    const char *id = NULL;
    if (!freetext_read(answer->arena, string, answer->house->rules, &load, error) ||
        !freetext_add(document, &load, "added-load", NULL, NULL, &id, error)) {
        return false;
    }
    struct demand_taken *taken = &answer->taken[answer->taken_count++];
    struct document_section *appliance = document_find(document, "appliance", id);
    *taken = (struct demand_taken){.name = load.name, .note = load.note};
    guess_category(answer->house, document, appliance, taken);
    const char *branch = add_branch(answer->house, document, appliance, panel, answer->arena);
    document_set(document, document_find(document, "appliance", id), "branch", branch); /* the branch moved it */
    return true;
}

static bool add_loads(const struct demand_question *question, struct demand_answer *answer, struct error *error)
{
    if (question->added_count == 0) {
        return true;
    }
    struct document *document = house_document(answer->house, "demand --add");
    bool good = true;
    answer->taken = arena_array(answer->arena, question->added_count, sizeof *answer->taken);
    for (size_t i = 0; good && i < question->added_count; i++) {
        good = add_load(answer, document, question->added[i], question->panel, error);
    }
    good = good && house_build(document, &answer->with_added, error);
    document_free(document);
    return good;
}

/* ------------------------------------------------------------------ the answer ---------------------------- */

static enum demand_method method_of(const struct house *house, const struct demand_question *question)
{
    if (question->method != DEMAND_METHOD_COUNT) {
        return question->method;
    }
    if (isfinite(question->measured_va) || question->readings != NULL) {
        return DEMAND_MEASURED;
    }
    return question->added_count > 0 && demand_method_exists(house->rules, DEMAND_EXISTING)
               ? DEMAND_EXISTING
               : demand_default_method(house->rules);
}

static void work_out(const struct demand_question *question, struct demand_answer *answer)
{
    const struct house *house = answer->house;
    const bool is_metered = answer->metered.minutes > 0;
    const struct demand_options options = {
        .method = method_of(house, question),
        .panel = question->panel,
        .measured_va = is_metered ? answer->metered.largest_w : question->measured_va,
        .added_from = answer->with_added != NULL ? house->appliance_count : NO_INDEX,
    };
    answer->demand = demand_of(answer->with_added != NULL ? answer->with_added : house, &options);
    answer->breaker_a = question->panel == 0 ? house->service_a : house->panels[question->panel].breaker_a;
    answer->is_above = answer->demand->heaviest_a > answer->breaker_a * (1 + 1e-9);
    answer->lacks_area = !isfinite(house->floor_area_m2) && question->panel == 0 && demand_takes_area(house);
}

bool answer_demand(const struct house *house, const struct demand_question *question, struct demand_answer *ret_answer,
                   struct error *error)
{
    *ret_answer = (struct demand_answer){.house = house, .arena = arena_new()};
    if (demand_default_method(house->rules) == DEMAND_METHOD_COUNT) {
        error_set(error, ERROR_INPUT, "the %s rules have no rows for a demand of the dwelling",
                  rules_word(house->rules));
        return false;
    }
    if (question->readings != NULL && !meter_demand(question, house, &ret_answer->metered, error)) {
        return false;
    }
    if (!add_loads(question, ret_answer, error)) {
        return false;
    }
    work_out(question, ret_answer);
    return true;
}

void demand_answer_done(struct demand_answer *answer)
{
    demand_free(answer->demand);
    house_free(answer->with_added);
    arena_free(answer->arena);
    *answer = (struct demand_answer){0};
}
