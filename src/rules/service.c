/* All published methods of a rule set side by side, held against one service. */
#include "ampsum/service.h"

#include <math.h>
#include <string.h>

#include "service_parts.h"

static const char *const rating_words[] = {"service_rating", "main_breaker", "supply_fuse", "feeder", "supply_fuse"};
static const char *const reason_words[SERVICE_REASON_COUNT] = {
    NULL, "no-floor-area", "too-small", "not-three-wire", "no-measurement", "generation", "readings-short",
};

const char *service_rating_word(enum service_rating_from from)
{
    return rating_words[from];
}

bool service_over(double a, double b)
{
    return a > b * (1 + 1e-9);
}

double service_whole_a(double current_a)
{
    return floor(current_a + 0.5);
}

struct service_question service_question(const struct house *house)
{
    return (struct service_question){
        .house = house,
        .added_from = NO_INDEX,
        .method = demand_default_method(house->rules),
        .measured =
            {.largest_va = NAN, .span_days = NAN, .full_days = NAN, .interval_min = NAN, .missing_percent = NAN},
        .setpoint_a = NAN,
        .wanted_kwh = NAN,
    };
}

/* ------------------------------------------------------------------ words --------------------------------- */

static const struct ref_service_method *method_row(const char *rules, size_t index)
{
    for (size_t i = 0; i < ref_service_method_count; i++) {
        if (strcmp(ref_service_method_rows[i].rules, rules) == 0 && index-- == 0) {
            return &ref_service_method_rows[i];
        }
    }
    return NULL;
}

static enum demand_method method_of_row(const struct ref_service_method *row)
{
    int method = 0;
    while (method < DEMAND_METHOD_COUNT && strcmp(demand_method_word((enum demand_method)method), row->demand) != 0) {
        method++;
    }
    return (enum demand_method)method;
}

const char *service_method_name(const char *rules, enum demand_method method)
{
    const struct ref_service_method *row = NULL;
    for (size_t i = 0; (row = method_row(rules, i)) != NULL; i++) {
        if (method_of_row(row) == method) {
            return row->name;
        }
    }
    return NULL;
}

const char *main_device_word(const struct house *house)
{
    if (!reference_key_known(rules_word(house->rules), "supply_fuse")) {
        return house_rule_set(house)->main_device;
    }
    const bool fuse_known = house->supply_fuse_a > 0;
    return fuse_known && house->main_breaker_a < house->supply_fuse_a ? "main switch" : "supply fuse";
}

enum demand_method service_method_from_word(const char *word)
{
    for (size_t i = 0; i < ref_service_method_count; i++) {
        const struct ref_service_method *row = &ref_service_method_rows[i];
        if (strcmp(row->word, word) == 0 || strcmp(row->demand, word) == 0) {
            return method_of_row(row);
        }
    }
    return DEMAND_METHOD_COUNT;
}

static const struct ref_service_word *word_row(const char *rules, const char *kind, const char *id)
{
    const struct ref_service_word *found = NULL;
    for (size_t i = 0; i < ref_service_word_count; i++) {
        const struct ref_service_word *row = &ref_service_word_rows[i];
        const bool own = strcmp(row->rules, rules) == 0;
        if (strcmp(row->kind, kind) == 0 && strcmp(row->id, id) == 0 && (own || strcmp(row->rules, "*") == 0)) {
            found = own || found == NULL ? row : found;
        }
    }
    return found;
}

/* The words of a reason or note, with the figures put in; NULL where there are none. In the service's arena. */
static const char *service_words(const struct service_work *work, const char *kind, const char *id, double value,
                                 double limit)
{
    const struct ref_service_word *row = word_row(work->rules, kind, id);
    if (row == NULL) {
        return NULL;
    }
    struct text text = {0};
    for (const char *at = row->words; *at != '\0'; at++) {
        const bool is_value = strncmp(at, "{value}", 7) == 0;
        if (is_value || strncmp(at, "{limit}", 7) == 0) {
            text_add_rounded(&text, is_value ? value : limit, 1);
            at += 6;
        } else {
            text_add_char(&text, *at);
        }
    }
    return arena_text(work->service->arena, &text);
}

/* ------------------------------------------------------------------ the service --------------------------- */

static enum service_rating_from rating_from(const struct house *house, size_t panel)
{
    if (panel != 0) {
        return SERVICE_RATING_FEEDER;
    }
    switch (house->service_from) {
    case SERVICE_FROM_RATING:
        return SERVICE_RATING_GIVEN;
    case SERVICE_FROM_MAIN_BREAKER:
        return SERVICE_RATING_MAIN_BREAKER;
    case SERVICE_FROM_SUPPLY_FUSE:
        return SERVICE_RATING_SUPPLY_FUSE;
    default:
        return SERVICE_RATING_ASSUMED;
    }
}

static int leg_count(const struct house *house, size_t panel)
{
    const unsigned legs = panel == 0 ? house_system_legs(house) : house->panels[panel].legs;
    return (int)((legs & 1U) + (legs >> 1 & 1U) + (legs >> 2 & 1U));
}

static void set_rating(struct service_work *work)
{
    struct service *service = work->service;
    const struct house *house = work->question->house;
    const size_t panel = work->question->panel;
    service->house = house;
    service->panel = panel;
    service->rating_a = panel == 0 ? house->service_a : house->panels[panel].breaker_a;
    service->rating_from = rating_from(house, panel);
    service->divisor_v = demand_divisor_v(house, panel);
    service->voltage_v = house_circuit_voltage_v(house, leg_count(house, panel));
    service->rating_va = service->rating_a * service->divisor_v;
}

/* Whether the question can be answered at all. */
static bool question_is_good(const struct service_question *question, struct error *error)
{
    const struct house *house = question->house;
    const double rating_a = question->panel == 0 ? house->service_a : house->panels[question->panel].breaker_a;
    if (method_row(rules_word(house->rules), 0) == NULL) {
        error_set(error, ERROR_INPUT, "the %s rules have no rows for a demand of the dwelling",
                  rules_word(house->rules));
    } else if (question->method == DEMAND_METHOD_COUNT || !demand_method_exists(house->rules, question->method)) {
        error_set(error, ERROR_INPUT, "no such method of the %s rules", rules_word(house->rules));
    } else if (!(rating_a > 0)) {
        error_set(error, ERROR_INPUT, "service_rating: expected a rating above 0 A");
    } else if (!isnan(question->setpoint_a) && !(question->setpoint_a > 0 && isfinite(question->setpoint_a))) {
        error_refuse(error, "setpoint", "setpoint", NULL, "expected a limit above 0 A");
    } else if (service_over(question->setpoint_a, rating_a)) {
        struct text text = {0};
        text_rounded(&text, "", question->setpoint_a, 3, " A is above the service's ");
        text_rounded(&text, "", rating_a, 3, " A, expected no more than that");
        error_refuse(error, "setpoint", "setpoint", NULL, text_string(&text));
        text_done(&text);
    } else if (!isnan(question->wanted_kwh) && !(question->wanted_kwh > 0 && isfinite(question->wanted_kwh))) {
        error_refuse(error, "kwh", "kwh", NULL, "expected an energy above 0 kWh");
    } else if (question->measured.from != SERVICE_MEASURED_NONE &&
               !(question->measured.largest_va > 0 && isfinite(question->measured.largest_va))) {
        error_refuse(error, "measured", "measured", NULL, "expected a figure above 0 in W, kW, VA, kVA or A");
    } else {
        return true;
    }
    return false;
}

static void set_added(struct service_work *work)
{
    const struct house *house = work->question->house;
    struct service *service = work->service;
    service->added = arena_array(service->arena, house->appliance_count + 1, sizeof *service->added);
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (!service_is_added(work, i) || service_is_removed(work, i)) {
            continue;
        }
        const struct appliance *load = &house->appliances[i];
        const struct branch *branch = &house->branches[load->branch];
        double unit_va = 0;
        double unit_a = 0;
        demand_nameplate(house, load, &unit_va, &unit_a);
        const bool by_setpoint =
            load->category == CATEGORY_VEHICLE && load->control == CONTROL_NONE && !isnan(work->question->setpoint_a);
        service->added[service->added_count++] = (struct service_added){
            .appliance = i,
            .what = load->name,
            .load_va = unit_va * load->count,
            .voltage_v = branch->voltage_v,
            .current_a = unit_a * load->count,
            .continuous = load->continuous != 0,
            .control = by_setpoint ? (int)CONTROL_SETPOINT : load->control,
            .category = load->category,
        };
        const double times = reference_rule_value("continuous-factor", work->rules);
        work->continuous_times = load->continuous != 0 && times > 1 ? times : work->continuous_times;
    }
}

/* ------------------------------------------------------------------ which methods apply ------------------- */

static enum service_reason measured_reason(const struct service_work *work, struct service_method *method)
{
    const struct service_measured *measured = &work->question->measured;
    if (measured->from == SERVICE_MEASURED_NONE) {
        return SERVICE_NO_MEASUREMENT;
    }
    if (work->question->house->generation > 0 || measured->fed_back) {
        return SERVICE_GENERATION;
    }
    const double least_days = reference_rule_value("measured-hours", work->rules) / 24;
    const double year_days = reference_rule_value("measured-year", work->rules) / 24;
    const bool year = measured->span_days >= year_days * (1 - 1e-9);
    if (measured->from == SERVICE_MEASURED_READINGS && !year && !(measured->full_days >= least_days)) {
        method->value = measured->full_days;
        method->limit = least_days;
        return SERVICE_READINGS_SHORT;
    }
    return SERVICE_APPLIES;
}

static enum service_reason reason_of(const struct service_work *work, struct service_method *method)
{
    const struct service *service = work->service;
    const struct house *house = service->house;
    const bool by_area = method->method <= DEMAND_EXISTING;
    const bool three_wire = method->method == DEMAND_OPTIONAL || method->method == DEMAND_EXISTING;
    const double least_a =
        method->method == DEMAND_OPTIONAL ? reference_rule_value("optional-service", work->rules) : NAN;
    if (method->method == DEMAND_MEASURED) {
        return measured_reason(work, method);
    }
    if (three_wire && leg_count(house, service->panel) != 2) {
        return SERVICE_NOT_THREE_WIRE;
    }
    if (service->rating_a < least_a * (1 - 1e-9)) {
        method->value = service->rating_a;
        method->limit = least_a;
        return SERVICE_TOO_SMALL;
    }
    return by_area && service->panel == 0 && !isfinite(house->floor_area_m2) ? SERVICE_NO_AREA : SERVICE_APPLIES;
}

/* ------------------------------------------------------------------ one method ---------------------------- */

struct demand_options service_options(const struct service_work *work, enum demand_method method)
{
    return (struct demand_options){
        .method = method,
        .panel = work->question->panel,
        .measured_va = work->question->measured.largest_va,
        .added_from = work->question->added_from,
        .season_va = work->season_va,
    };
}

double service_current_a(const struct service_work *work, bool by_lines, const struct house *house,
                         const struct demand_options *options)
{
    return by_lines ? demand_heaviest_a(house, options) : demand_total_va(house, options) / work->service->divisor_v;
}

/* What the controlled loads leave, and what set-point of theirs fits. */
static struct service_group group_of(const struct service_work *work, const struct service_method *method)
{
    const struct service *service = work->service;
    if (work->others == NULL) {
        return (struct service_group){NAN, NAN, NAN, NAN, false};
    }
    const struct demand_options options = service_options(work, method->method);
    const double others_a = service_current_a(work, method->by_lines, work->others, &options);
    const double free_a = service->rating_a - others_a;
    const double setpoint_a = floor(free_a / reference_rule_value("setpoint-factor", work->rules) * (1 + 1e-12));
    return (struct service_group){
        .others_va = others_a * service->divisor_v,
        .others_a = others_a,
        .free_a = free_a,
        .setpoint_a = setpoint_a >= 1 ? setpoint_a : (double)NAN,
        .charges = setpoint_a >= reference_rule_value("vehicle-setting-least", work->rules),
    };
}

static void set_figures(const struct service_work *work, struct service_method *method)
{
    const struct service *service = work->service;
    const struct demand *demand = method->demand;
    method->total_va = demand->total_va;
    method->current_a = method->by_lines ? demand->heaviest_a : demand->current_a;
    method->heaviest_a = demand->heaviest_a;
    method->headroom_a = service->rating_a - method->current_a;
    method->headroom_va = service->rating_va - method->current_a * service->divisor_v;
    method->headroom_percent = 100 * method->headroom_a / service->rating_a;
    method->fits = !service_over(method->current_a, service->rating_a);
    method->near = method->fits && service_over(method->current_a, reference_rule_value("service-near", work->rules) /
                                                                       100 * service->rating_a);
    method->climate_beside = demand->climate_beside;
    method->other_va = demand->other_va;
    method->other_a = demand->other_va / service->divisor_v;
    if (work->continuous_times > 0) {
        struct demand_options options = service_options(work, method->method);
        options.added_times = work->continuous_times;
        method->continuous_a = service_current_a(work, method->by_lines, work->with, &options);
    }
    method->largest = service_largest(work, method);
    method->group = group_of(work, method);
}

/* The edition that the house is counted by, where its rules have several to choose from. */
static const char *edition_of(const struct service_work *work, const char *row_edition)
{
    const int edition = reference_cited_edition(work->rules, work->question->house->code_edition);
    if (edition == 0) {
        return row_edition;
    }
    return arena_printf(work->service->arena, "%d", edition);
}

static void set_method(const struct service_work *work, const struct ref_service_method *row,
                       struct service_method *method)
{
    const struct service_group nothing = {NAN, NAN, NAN, NAN};
    const struct service_largest none = {NAN, NAN, NAN, NAN};
    *method = (struct service_method){
        .method = method_of_row(row),
        .word = row->word,
        .name = row->name,
        .clause = row->clause,
        .edition = edition_of(work, row->edition),
        .source = row->source,
        .by_lines = row->by_lines != 0 && leg_count(work->service->house, work->service->panel) == 3,
        .value = NAN,
        .limit = NAN,
        .total_va = NAN,
        .current_a = NAN,
        .headroom_va = NAN,
        .headroom_a = NAN,
        .headroom_percent = NAN,
        .heaviest_a = NAN,
        .other_va = NAN,
        .other_a = NAN,
        .continuous_a = NAN,
        .largest = none,
        .group = nothing,
    };
    method->reason = reason_of(work, method);
    method->applies = method->reason == SERVICE_APPLIES;
    if (method->reason != SERVICE_NO_MEASUREMENT) {
        const struct demand_options options = service_options(work, method->method);
        method->demand = demand_of(work->with, &options);
    }
    if (method->applies) {
        set_figures(work, method);
    } else {
        method->why_not = service_words(work, "reason", reason_words[method->reason], method->value, method->limit);
    }
}

static void set_methods(struct service_work *work)
{
    struct service *service = work->service;
    while (method_row(work->rules, service->method_count) != NULL) {
        service->method_count++;
    }
    service->methods = arena_array(service->arena, service->method_count, sizeof *service->methods);
    service->lead = NO_INDEX;
    for (size_t i = 0; i < service->method_count; i++) {
        struct service_method *method = &service->methods[i];
        set_method(work, method_row(work->rules, i), method);
        service->chosen = method->method == work->question->method ? i : service->chosen;
        service->lead = service->lead == NO_INDEX && method->applies ? i : service->lead;
        service->any_fits = service->any_fits || (method->applies && method->fits);
    }
    service->lead = service->methods[service->chosen].applies ? service->chosen : service->lead;
}

size_t service_briefs(const struct house *house, size_t panel, struct service_brief *ret_briefs)
{
    struct service service = {0};
    struct service_question question = service_question(house);
    question.panel = panel;
    struct service_work work = {.question = &question, .service = &service, .rules = rules_word(house->rules)};
    const struct ref_service_method *row = NULL;
    size_t count = 0;
    set_rating(&work);
    for (; count < DEMAND_METHOD_COUNT && (row = method_row(work.rules, count)) != NULL; count++) {
        struct service_method method = {.method = method_of_row(row)};
        const struct demand_options options = service_options(&work, method.method);
        const bool applies = reason_of(&work, &method) == SERVICE_APPLIES;
        const bool by_lines = row->by_lines != 0 && leg_count(house, panel) == 3;
        const double current_a = applies ? service_current_a(&work, by_lines, house, &options) : (double)NAN;
        ret_briefs[count] = (struct service_brief){
            .method = method.method,
            .name = row->name,
            .applies = applies,
            .fits = applies && !service_over(current_a, service.rating_a),
            .current_a = current_a,
        };
    }
    return count;
}

static void set_setpoint(struct service_work *work)
{
    struct service *service = work->service;
    const struct ref_rule *row = reference_rule("setpoint-factor", work->rules);
    const double factor = row != NULL ? row->value : NAN;
    const double setpoint_a = work->question->setpoint_a;
    service->setpoint = (struct service_setpoint){
        .setpoint_a = setpoint_a,
        .counted_a = factor * setpoint_a,
        .most_a = floor(service->rating_a / factor * (1 + 1e-12)),
        .fits = factor * setpoint_a <= service->rating_a * (1 + 1e-9),
        .clause = row != NULL ? row->clause : "",
        .edition = row != NULL ? row->edition : "",
        .source = row != NULL ? row->source : "",
    };
}

/* ------------------------------------------------------------------ what else must be said ---------------- */

/* Whether the edition has the rule by which a control system's set-point stands in for loads. */
static bool has_control_rule(const struct service_work *work)
{
    return reference_has_section(work->rules, "control-system", work->question->house->code_edition);
}

static void set_notes(struct service_work *work)
{
    static const char *const ids[] = {"household-sum",     "measured-figure", "power-as-va",
                                      "measured-practice", "existing-less",   "managed-readings",
                                      "energy-unused",     "control-edition", "edition"};
    const struct service *service = work->service;
    const struct service_method *existing = service_method(service, DEMAND_EXISTING);
    const struct service_method *optional = service_method(service, DEMAND_OPTIONAL);
    const struct service_method *measured = service_method(service, DEMAND_MEASURED);
    const bool is_measured = measured != NULL && measured->applies;
    const bool holds[] = {
        !is_measured,
        is_measured && work->question->measured.from == SERVICE_MEASURED_FIGURE,
        is_measured && work->question->measured.is_power,
        is_measured,
        existing != NULL && existing->applies && optional != NULL && optional->applies &&
            existing->total_va < optional->total_va,
        service->managed != NULL && service->managed->from_readings,
        service->managed == NULL && !isnan(work->question->wanted_kwh),
        (work->others != NULL || !isnan(service->setpoint.setpoint_a)) && !has_control_rule(work),
        service->house->code_edition >= reference_rule_value("renumbering-edition", work->rules),
    };
    const char **notes = arena_array(service->arena, sizeof ids / sizeof ids[0] + 2, sizeof *notes);
    const char *unkeyed = service_unkeyed(work);
    size_t count = 0;
    if (unkeyed != NULL) {
        notes[count++] = unkeyed;
    }
    for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++) {
        const double edition = service->house->code_edition;
        const char *words = holds[i] ? service_words(work, "note", ids[i], edition, NAN) : NULL;
        if (words != NULL) {
            notes[count++] = words;
        }
    }
    work->service->notes = notes;
}

const struct service_method *service_method(const struct service *service, enum demand_method method)
{
    for (size_t i = 0; i < service->method_count; i++) {
        if (service->methods[i].method == method) {
            return &service->methods[i];
        }
    }
    return NULL;
}

bool service_of(const struct service_question *question, struct service **ret_service, struct error *error)
{
    if (!question_is_good(question, error)) {
        return false;
    }
    struct arena *arena = arena_new();
    struct service *service = arena_take(arena, sizeof *service);
    service->arena = arena;
    struct service_work work = {.question = question, .service = service, .rules = rules_word(question->house->rules)};
    set_rating(&work);
    set_added(&work);
    service_houses(&work);
    work.season_va = service_season(&work).missing_va;
    set_methods(&work);
    set_setpoint(&work);
    service->managed = service_managed(&work);
    service_findings(&work);
    set_notes(&work);
    *ret_service = service;
    return true;
}

void service_free(struct service *service)
{
    if (service == NULL) {
        return;
    }
    for (size_t i = 0; i < service->method_count; i++) {
        demand_free(service->methods[i].demand);
    }
    arena_free(service->arena);
}
