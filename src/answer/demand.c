#include "ampsum/answer_demand.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/engine.h"
#include "ampsum/freetext.h"
#include "ampsum/housefile.h"
#include "ampsum/keys.h"
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

/* That the rule set has the method asked for, by --method or by what --measured asks for; each has a row or none. */
static bool has_method(int rules, enum demand_method method, const char *option, struct error *error)
{
    if (demand_default_method(rules) == DEMAND_METHOD_COUNT || demand_method_exists(rules, method)) {
        return true;
    }
    struct text known = {0};
    reference_choice_list(&known, rules_word(rules), "demand");
    error_set(error, ERROR_INPUT, "--%s: no method of %s rules, expected --method %s", option, rules_word(rules),
              text_string(&known));
    text_done(&known);
    return false;
}

bool demand_read_method(const struct house *house, const char *word, bool measured, enum demand_method *ret_method,
                        struct error *error)
{
    *ret_method = word == NULL ? DEMAND_METHOD_COUNT : service_method_from_word(word);
    if (word == NULL) {
        return !measured || has_method(house->rules, DEMAND_MEASURED, "measured", error);
    }
    if (*ret_method == DEMAND_METHOD_COUNT) {
        error_set(error, ERROR_INPUT,
                  "--method %s: expected standard, optional, existing, measured, by-device (diversity) or by-load",
                  word);
        return false;
    }
    if (!has_method(house->rules, *ret_method, "method", error)) {
        return false;
    }
    if (measured != (*ret_method == DEMAND_MEASURED)) {
        error_set(error, ERROR_INPUT, "--measured and --method measured go together");
    }
    return measured == (*ret_method == DEMAND_MEASURED);
}

static const char *stamp(struct arena *arena, const struct meter_date *date)
{
    return arena_printf(arena, "%04d-%02d-%02d %02d:%02d", date->year, date->month, date->day, date->second / 3600,
                        date->second / 60 % 60);
}

static bool meter_demand(const struct demand_question *question, struct demand_metered *ret_metered,
                         struct error *error)
{
    struct meter_figures figures;
    meter_figures(question->readings, question->reading_count, &figures);
    size_t at = 0;
    while (at < METER_DEMANDS && !isfinite(figures.demand_w[at])) {
        at++;
    }
    if (at == METER_DEMANDS || !(figures.demand_w[at] > 0)) {
        error_refuse(error, "measured", "measured", NULL,
                     "the meter readings give no demand over 15, 30 or 60 minutes");
        return false;
    }
    *ret_metered = (struct demand_metered){
        .minutes = meter_demand_minutes[at],
        .largest_w = figures.demand_w[at],
        .covered_s = (double)figures.covered_s,
        .when = meter_local(figures.demand_start_s[at], figures.demand_offset_s[at]),
    };
    return true;
}

static struct service_measured measured_of(const struct demand_question *question, const struct demand_answer *answer)
{
    if (question->readings == NULL) {
        return (struct service_measured){.from = isfinite(question->measured_va) ? SERVICE_MEASURED_FIGURE
                                                                                 : SERVICE_MEASURED_NONE,
                                         .largest_va = question->measured_va,
                                         .span_days = NAN,
                                         .full_days = NAN,
                                         .interval_min = NAN,
                                         .missing_percent = NAN};
    }
    const struct meter_coverage coverage = meter_coverage(question->readings, question->reading_count);
    return (struct service_measured){.from = SERVICE_MEASURED_READINGS,
                                     .largest_va = answer->metered.largest_w,
                                     .span_days = coverage.span_days,
                                     .full_days = (double)coverage.full_days,
                                     .interval_min = answer->metered.minutes,
                                     .missing_percent = coverage.missing_percent,
                                     .months = coverage.months,
                                     .fed_back = question->fed_back,
                                     .at = stamp(answer->arena, &answer->metered.when),
                                     .readings = question->readings,
                                     .reading_count = question->reading_count};
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
    return arena_text(arena, &id);
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

static int leg_count(unsigned legs)
{
    return (int)((legs & LEG_A) != 0) + (int)((legs & LEG_B) != 0) + (int)((legs & LEG_C) != 0);
}

/* Over how many lines an added load lies, of `most`: as its connection says, else two where its rated voltage asks for
 * that. */
static int added_poles(const struct house *house, const struct document_section *appliance, int most)
{
    const char *connection = document_value(appliance, "connection");
    if (connection != NULL) {
        const struct key *key = section_key(&sections[KIND_APPLIANCE], "connection");
        const int said = strcmp(connection, key_choice_word(key, CONNECTION_3L_N)) == 0 ? 3 : 2;
        return said < most ? said : most;
    }
    const double rated_v = rated_voltage_v(house, appliance);
    return most > 1 && house_circuit_voltage_v(house, 2) - rated_v < rated_v - house->voltage_v ? 2 : 1;
}

/* What each line of a panel carries by the usual method, A, as far as that counts line by line; else 0. */
static void find_line_loads(const struct house *house, const struct demand_question *question, double *ret_a)
{
    struct service_question asked = service_question(house);
    struct service *service = NULL;
    struct error unused = {0};
    asked.removed = question->removed;
    asked.removed_count = question->removed_count;
    asked.panel = question->panel;
    const bool known = service_of(&asked, &service, &unused);
    const struct demand *demand = known ? service->methods[service->chosen].demand : NULL;
    for (size_t leg = 0; leg < 3; leg++) {
        ret_a[leg] = demand != NULL && isfinite(demand->leg_current_a[leg]) ? demand->leg_current_a[leg] : 0;
    }
    service_free(service);
    error_done(&unused);
}

/* The `count` legs that carry least, of equals the first. */
static unsigned least_legs(unsigned legs, int count, const double *load_a)
{
    unsigned kept = 0;
    for (int i = 0; i < count; i++) {
        size_t least = 3;
        for (size_t leg = 0; leg < 3; leg++) {
            const bool free_leg = ((legs & ~kept) >> leg & 1U) != 0;
            if (free_leg && (least == 3 || load_a[leg] < load_a[least] * (1 - 1e-9))) {
                least = leg;
            }
        }
        kept |= least < 3 ? 1U << least : 0;
    }
    return kept;
}

/* Those that an added load takes: of three the least loaded, of two the first. */
static unsigned added_legs(const struct house *house, const struct demand_question *question, unsigned legs, int poles)
{
    double load_a[3] = {0};
    if (leg_count(legs) == 3 && poles < 3) {
        find_line_loads(house, question, load_a);
    }
    return least_legs(legs, poles, load_a);
}

/* A branch of its own for an added load. */
static const char *add_branch(const struct house *house, const struct demand_question *question,
                              struct document *document, const struct document_section *appliance,
                              struct demand_answer *answer)
{
    struct arena *arena = answer->arena;
    const size_t panel = question->panel;
    const char *id = free_branch_id(document, arena);
    const unsigned all = panel == 0 ? house_system_legs(house) : house->panels[panel].legs;
    const int poles = added_poles(house, appliance, leg_count(all));
    const unsigned legs = added_legs(house, question, all, poles);
    struct text breaker = {0};
    struct text number = {0};
    text_add_number(&breaker, house->service_a);
    text_add_number(&number, poles);
    struct document_section *branch = document_add(document, "branch", id);
    document_set(document, branch, "label", "Added load");
    document_set(document, branch, "panel", house->panels[panel].id);
    document_set(document, branch, "breaker", text_string(&breaker));
    document_set(document, branch, "poles", text_string(&number));
    document_set(document, branch, "legs", legs_word(legs));
    document_set(document, branch, "purpose", "dedicated");
    answer->taken[answer->taken_count - 1].legs = leg_count(all) == 3 && poles < 3 ? legs : 0;
    text_done(&breaker);
    text_done(&number);
    return id;
}

/* On fewer lines than the house has, though it draws more than a plug carries: it may be made for all three. */
static bool may_have_three_lines(const struct house *house, const struct appliance *appliance)
{
    const char *rules = rules_word(house->rules);
    const struct branch *branch = &house->branches[appliance->branch];
    const unsigned legs = branch->panel == 0 ? house_system_legs(house) : house->panels[branch->panel].legs;
    const struct ref_plug *plug = reference_plug(rules, branch->breaker_a);
    const double apparent_va = appliance_draw(house, appliance, branch->voltage_v).apparent_va;
    return reference_key_known(rules, "connection") && leg_count(legs) == 3 && branch->poles < 3 && plug != NULL &&
           appliance->connection == CONNECTION_NOT_SAID &&
           draw_current_a(apparent_va, branch->voltage_v, branch->poles) > plug->rating_a;
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

/* `before` is the house with the loads that were added earlier. */
static bool add_load(const struct demand_question *question, const struct house *before, struct demand_answer *answer,
                     struct document *document, const char *string, struct error *error)
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
    const char *branch = add_branch(before, question, document, appliance, answer);
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
        struct house *before = NULL;
        good = i == 0 || house_build(document, &before, error);
        good = good && add_load(question, i == 0 ? answer->house : before, answer, document, question->added[i], error);
        house_free(before);
        error_part(error, "add", i);
    }
    good = good && house_build(document, &answer->with_added, error);
    error_part(error, "add", 0);
    for (size_t i = 0; good && i < answer->taken_count; i++) {
        const struct appliance *added = &answer->with_added->appliances[answer->house->appliance_count + i];
        answer->taken[i].may_have_three = may_have_three_lines(answer->with_added, added);
    }
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

/* A number as typed, its unit that of the dimension; NAN where none is typed. */
static bool read_typed(const char *name, const char *string, enum dimension dimension, int rules, double *ret_value,
                       struct error *error)
{
    struct text fault = {0};
    *ret_value = NAN;
    const bool good = string == NULL || quantity_read(string, dimension, rules, KEY_ABOVE_ZERO, ret_value, &fault);
    if (!good) {
        struct text shown = {0};
        text_add_shown(&shown, string);
        error_refuse(error, name, name, text_string(&shown), text_string(&fault));
        text_done(&shown);
    }
    text_done(&fault);
    return good;
}

static bool compare(const struct demand_question *question, struct demand_answer *answer, struct error *error)
{
    const struct house *house = answer->with_added != NULL ? answer->with_added : answer->house;
    struct service_question asked = service_question(house);
    asked.added_from = answer->with_added != NULL ? answer->house->appliance_count : NO_INDEX;
    asked.removed = question->removed;
    asked.removed_count = question->removed_count;
    asked.panel = question->panel;
    asked.method = method_of(answer->house, question);
    asked.measured = measured_of(question, answer);
    if (!read_typed("setpoint", question->setpoint, DIMENSION_CURRENT, house->rules, &asked.setpoint_a, error) ||
        !read_typed("kwh", question->kwh, DIMENSION_ENERGY, house->rules, &asked.wanted_kwh, error) ||
        !service_of(&asked, &answer->service, error)) {
        return false;
    }
    answer->chosen = &answer->service->methods[answer->service->chosen];
    answer->demand = answer->chosen->applies ? answer->chosen->demand : NULL;
    return true;
}

/* ------------------------------------------------------------------ what to make of it -------------------- */

static bool is_that(const struct service_method *method, bool fits)
{
    return method != NULL && method->applies && method->fits == fits;
}

/* The chosen method where it is such a one; else, with something added, that of existing dwellings; else the first. */
static const struct service_method *method_that(const struct service *service, bool fits)
{
    const struct service_method *existing = service_method(service, DEMAND_EXISTING);
    if (is_that(&service->methods[service->chosen], fits)) {
        return &service->methods[service->chosen];
    }
    if (service->added_count > 0 && is_that(existing, fits)) {
        return existing;
    }
    for (size_t i = 0; i < service->method_count; i++) {
        if (is_that(&service->methods[i], fits)) {
            return &service->methods[i];
        }
    }
    return NULL;
}

/* What the finding of that name compares; NAN where it was not raised. */
static double figure_of(const struct finding_list *list, const char *id, const char *key)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        for (size_t k = 0; strcmp(finding->id, id) == 0 && k < finding->figure_count; k++) {
            if (strcmp(finding->figures[k].key, key) == 0) {
                return finding->figures[k].number;
            }
        }
    }
    return NAN;
}

static void set_assumed(const struct demand_question *question, struct demand_answer *answer)
{
    const struct house *house = answer->house;
    const bool is_service = question->panel == 0;
    struct demand_assumed *assumed = &answer->assumed;
    assumed->rating = is_service && isnan(house->service_rating_a);
    assumed->wire = is_service && house->service_wire.conductor == NULL;
    assumed->area = is_service && demand_takes_area(house) && !isfinite(house->floor_area_m2);
    for (size_t i = 0; i < house->appliance_count; i++) {
        const int from = house->appliances[i].rating_from;
        assumed->unsaid += from == RATING_FROM_NOT_SAID;
        assumed->not_plate += from == RATING_FROM_TYPICAL || from == RATING_FROM_GUESS;
    }
    for (size_t i = 0; i < answer->service->added_count; i++) {
        const struct service_added *added = &answer->service->added[i];
        assumed->control = assumed->control || (added->category == CATEGORY_VEHICLE && added->control == CONTROL_NONE);
    }
}

static void set_removed(const struct demand_question *question, struct demand_answer *answer)
{
    answer->removed = arena_array(answer->arena, question->removed_count + 1, sizeof *answer->removed);
    for (size_t i = 0; i < question->removed_count; i++) {
        answer->removed[answer->removed_count++] = answer->house->appliances[question->removed[i]].name;
    }
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
    if ((question->readings != NULL && !meter_demand(question, &ret_answer->metered, error)) ||
        !add_loads(question, ret_answer, error) || !compare(question, ret_answer, error)) {
        return false;
    }
    ret_answer->fits = method_that(ret_answer->service, true);
    ret_answer->over = method_that(ret_answer->service, false);
    ret_answer->control_a = figure_of(&ret_answer->service->findings, "control-needed", "setpoint_a");
    ret_answer->continuous_a = figure_of(&ret_answer->service->findings, "added-continuous", "current_a");
    set_assumed(question, ret_answer);
    set_removed(question, ret_answer);
    return true;
}

void demand_answer_done(struct demand_answer *answer)
{
    service_free(answer->service);
    house_free(answer->with_added);
    arena_free(answer->arena);
    *answer = (struct demand_answer){0};
}
