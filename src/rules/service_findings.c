/* Findings of the comparison of methods, all about the house: contract, service.md section 8. */
#include <math.h>
#include <string.h>

#include "service_parts.h"

struct findings_case {
    struct finder finder;
    const struct service_work *work;
    const struct service *service;
    const struct service_method *lead; /* NULL: no method applies */
};

static const struct subject about_house = {KIND_HOUSE, "house"};

static double rule_of(const struct findings_case *now, const char *id)
{
    return reference_rule_value(id, now->work->rules);
}

/* The first method that applies and does (or does not) fit; the lead where it is such a one. */
static const struct service_method *method_that(const struct findings_case *now, bool fits)
{
    const struct service *service = now->service;
    if (now->lead != NULL && now->lead->fits == fits) {
        return now->lead;
    }
    for (size_t i = 0; i < service->method_count; i++) {
        if (service->methods[i].applies && service->methods[i].fits == fits) {
            return &service->methods[i];
        }
    }
    return NULL;
}

/* "the house" or "the house with Car charger". */
static const char *house_with(const struct findings_case *now)
{
    struct text text = {0};
    text_add(&text, "the house");
    for (size_t i = 0; i < now->service->added_count; i++) {
        text_add(&text, i == 0 ? " with " : " and ");
        text_add(&text, now->service->added[i].what);
    }
    return finder_keep(&now->finder, &text);
}

/* A current beside the rating. */
static const char *beside(const struct findings_case *now, double current_a)
{
    return figure_beside(&now->finder, current_a, now->service->rating_a);
}

/* ------------------------------------------------------------------ the service --------------------------- */

static void check_over(const struct findings_case *now)
{
    const struct service *service = now->service;
    const struct service_method *over = method_that(now, false);
    if (over != NULL) {
        finding_add(&now->finder, "service-over", service->any_fits ? "other-fits" : "", about_house,
                    FIGURES(WORD("method", over->word), NUMBER("current_a", over->current_a),
                            NUMBER("service_a", service->rating_a)),
                    "By %s %s comes to %s A; the service is %s A.", over->name, house_with(now),
                    beside(now, over->current_a), figure(&now->finder, service->rating_a));
        return;
    }
    for (size_t i = 0; i < service->method_count; i++) {
        const struct service_method *method = &service->methods[i];
        if (method->applies && service_over(method->heaviest_a, service->rating_a)) {
            finding_add(&now->finder, "service-over", "leg", about_house,
                        FIGURES(WORD("method", method->word), NUMBER("current_a", method->heaviest_a),
                                NUMBER("service_a", service->rating_a)),
                        "Counted leg by leg by %s, one leg of %s carries %s A; the service is %s A.", method->name,
                        house_with(now), beside(now, method->heaviest_a), figure(&now->finder, service->rating_a));
            return;
        }
    }
}

static void check_near(const struct findings_case *now)
{
    const struct service *service = now->service;
    const struct service_method *near = now->lead != NULL && now->lead->near ? now->lead : NULL;
    for (size_t i = 0; near == NULL && i < service->method_count; i++) {
        near = service->methods[i].applies && service->methods[i].near ? &service->methods[i] : NULL;
    }
    if (near != NULL) {
        const double percent = 100 * near->current_a / service->rating_a;
        finding_add(&now->finder, "service-near", "", about_house,
                    FIGURES(WORD("method", near->word), NUMBER("current_a", near->current_a),
                            NUMBER("service_a", service->rating_a), NUMBER("used_percent", percent)),
                    "By %s %s comes to %s A: %s %% of the service.", near->name, house_with(now),
                    beside(now, near->current_a), figure(&now->finder, percent));
    }
}

static void check_disagree(const struct findings_case *now)
{
    const struct service_method *fits = method_that(now, true);
    const struct service_method *over = method_that(now, false);
    if (fits != NULL && over != NULL) {
        finding_add(&now->finder, "methods-disagree", "", about_house,
                    FIGURES(WORD("method", fits->word), NUMBER("current_a", fits->current_a),
                            WORD("other_method", over->word), NUMBER("other_a", over->current_a),
                            NUMBER("service_a", now->service->rating_a)),
                    "By %s it is %s A, by %s %s A: the inspector decides which may be used.", fits->name,
                    beside(now, fits->current_a), over->name, beside(now, over->current_a));
    }
}

/* ------------------------------------------------------------------ a metered maximum --------------------- */

static void check_allowed(const struct findings_case *now, const struct service_method *measured)
{
    if (measured->reason == SERVICE_GENERATION) {
        finding_add(&now->finder, "measured-not-allowed", "", about_house, NO_FIGURES, "%s", measured->why_not);
    }
}

static void check_short(const struct findings_case *now, const struct service_method *measured)
{
    if (measured->reason == SERVICE_READINGS_SHORT) {
        finding_add(&now->finder, "measured-short", "", about_house,
                    FIGURES(NUMBER("days", measured->value), NUMBER("limit_days", measured->limit)), "%s",
                    measured->why_not);
    }
}

static void check_season(const struct findings_case *now)
{
    const struct service_season season = service_season(now->work);
    if (season.missing_va > 0) {
        const char *what = season.cooling ? "cooling" : "heating";
        finding_add(&now->finder, "measured-season", "", about_house,
                    FIGURES(WORD("season", what), NUMBER("load_va", season.missing_va)),
                    "The readings hold no %s season; its load of %s VA must be added, and is.", what,
                    figure(&now->finder, season.missing_va));
    }
}

static void check_coarse(const struct findings_case *now, const struct service_measured *measured)
{
    const double limit_min = 60 * rule_of(now, "measured-interval");
    if (service_over(measured->interval_min, limit_min)) {
        finding_add(&now->finder, "measured-coarse", "", about_house,
                    FIGURES(NUMBER("interval_min", measured->interval_min), NUMBER("limit_min", limit_min)),
                    "The readings are means of %s min; means of %s min may be higher.",
                    figure(&now->finder, measured->interval_min), figure(&now->finder, limit_min));
    }
}

static void check_gaps(const struct findings_case *now, const struct service_measured *measured)
{
    if (service_over(measured->missing_percent, rule_of(now, "measured-gaps"))) {
        finding_add(&now->finder, "measured-gaps", "", about_house,
                    FIGURES(NUMBER("missing_percent", measured->missing_percent),
                            NUMBER("limit_percent", rule_of(now, "measured-gaps"))),
                    "%s %% of the time between the first reading and the last is missing.",
                    figure(&now->finder, measured->missing_percent));
    }
}

static void check_measured(const struct findings_case *now)
{
    const struct service_measured *measured = &now->work->question->measured;
    const struct service_method *method = service_method(now->service, DEMAND_MEASURED);
    if (method == NULL || measured->from == SERVICE_MEASURED_NONE) {
        return;
    }
    check_allowed(now, method);
    check_short(now, method);
    if (measured->from == SERVICE_MEASURED_READINGS) {
        if (method->applies) {
            check_season(now);
        }
        check_coarse(now, measured);
        check_gaps(now, measured);
    }
}

/* ------------------------------------------------------------------ the new load -------------------------- */

/* The method fits, but not with the continuous factor on what is added. */
static bool fits_for_a_while(const struct service *service, const struct service_method *method)
{
    return method->applies && method->fits && service_over(method->continuous_a, service->rating_a);
}

static void check_continuous(const struct findings_case *now)
{
    const struct service *service = now->service;
    const struct service_method *method = now->lead;
    for (size_t i = 0; i < service->method_count && (method == NULL || !fits_for_a_while(service, method)); i++) {
        method = &service->methods[i];
    }
    if (method != NULL && fits_for_a_while(service, method)) {
        finding_add(&now->finder, "added-continuous", "", about_house,
                    FIGURES(WORD("method", method->word), NUMBER("current_a", method->continuous_a),
                            NUMBER("service_a", service->rating_a)),
                    "Counted as running %s h or more, %s needs %s A by %s; the service is %s A.",
                    figure(&now->finder, rule_of(now, "continuous-hours")), house_with(now),
                    beside(now, method->continuous_a), method->name, figure(&now->finder, service->rating_a));
    }
}

static void check_minimum(const struct findings_case *now)
{
    const double least_a = rule_of(now, "service-minimum");
    if (now->service->panel == 0 && now->service->rating_a < least_a * (1 - 1e-9)) {
        finding_add(&now->finder, "service-minimum", "", about_house,
                    FIGURES(NUMBER("service_a", now->service->rating_a), NUMBER("limit_a", least_a)),
                    "The service is %s A; the least for a one-family dwelling today is %s A.",
                    figure(&now->finder, now->service->rating_a), figure(&now->finder, least_a));
    }
}

/* What the conductors from the street carry; NAN where no table has them. */
static double service_wire_a(const struct findings_case *now)
{
    const struct house *house = now->service->house;
    const char *rules = now->work->rules;
    const struct ref_conductor *conductor = house->service_wire.conductor;
    const struct ref_rule_set *set = house_rule_set(house);
    if (reference_finds(set->ampacity, "terminal-column")) {
        const double column_c = rule_of(now, "insulation-temperature-large");
        return reference_ampacity_us_a(rules, conductor->size, conductor->metal, (int)column_c, NULL);
    }
    const char *method = reference_choice_usual(rules, "method");
    const char *insulation = reference_choice_usual(rules, "insulation");
    if (method == NULL || insulation == NULL) {
        return NAN;
    }
    const int loaded = house->system == SYSTEM_THREE_PHASE ? 3 : 2;
    const struct reference_ampacity row =
        reference_ampacity_iec(rules, conductor->size, conductor->metal, insulation, method, loaded);
    return row.ampacity_a * reference_ambient_factor(rules, row.insulation_temp_c, house->ambient_c, NULL);
}

/* The least demand of the methods that apply. */
static double least_demand_a(const struct service *service)
{
    double least_a = INFINITY;
    for (size_t i = 0; i < service->method_count; i++) {
        least_a = service->methods[i].applies ? fmin(least_a, service->methods[i].current_a) : least_a;
    }
    return isinf(least_a) ? 0 : least_a;
}

static void check_wire(const struct findings_case *now)
{
    const struct service *service = now->service;
    if (service->house->service_wire.conductor == NULL || service->panel != 0) {
        return;
    }
    const double ampacity_a = service_wire_a(now);
    const double from_a = rule_of(now, "service-conductor-from");
    const double to_a = rule_of(now, "service-conductor-to");
    const bool smaller = service->rating_a >= from_a * (1 - 1e-9) && service->rating_a <= to_a * (1 + 1e-9);
    const double share = smaller ? rule_of(now, "service-conductor-share") / 100 : 1;
    const double limit_a = fmax(share * service->rating_a, least_demand_a(service));
    if (service_over(limit_a, ampacity_a)) {
        const struct ref_conductor *conductor = service->house->service_wire.conductor;
        finding_add(&now->finder, "service-wire", "", about_house,
                    FIGURES(NUMBER("ampacity_a", ampacity_a), NUMBER("limit_a", limit_a),
                            NUMBER("service_a", service->rating_a)),
                    "The conductors from the street, %s %s, carry %s A; they are asked to carry %s A.", conductor->size,
                    conductor->metal, figure(&now->finder, ampacity_a), figure(&now->finder, limit_a));
    }
}

/* Whether something added could give way. */
static bool may_give_way(const struct service *service)
{
    for (size_t i = 0; i < service->added_count; i++) {
        if (service->added[i].control != CONTROL_NONE || service->added[i].category == CATEGORY_VEHICLE) {
            return true;
        }
    }
    return false;
}

/* Whether what gives way leaves a method that applies within the rating: with it alone the rest may be too much. */
static bool may_be_limited(const struct service *service)
{
    for (size_t i = 0; i < service->method_count; i++) {
        if (service->methods[i].applies && isfinite(service->methods[i].group.setpoint_a)) {
            return true;
        }
    }
    return false;
}

static void check_control(const struct findings_case *now)
{
    const struct service *service = now->service;
    const bool asked = !isnan(service->setpoint.setpoint_a);
    const double setpoint_a = asked ? service->setpoint.setpoint_a : service->setpoint.most_a;
    const bool fits = asked ? service->setpoint.fits : setpoint_a >= 1;
    if (now->lead != NULL && !service->any_fits && fits && may_give_way(service) && may_be_limited(service)) {
        finding_add(&now->finder, "control-needed", "", about_house,
                    FIGURES(NUMBER("setpoint_a", setpoint_a), NUMBER("service_a", service->rating_a)),
                    "It fits only if a listed control system keeps the service at %s A.",
                    figure(&now->finder, setpoint_a));
    }
}

static void check_car(const struct findings_case *now)
{
    const struct service_managed *managed = now->service->managed;
    if (managed != NULL && managed->short_kwh > 1e-9) {
        const int ready_min = managed->ready_min % MINUTES_IN_DAY;
        finding_add(&now->finder, "car-not-full", "", about_house,
                    FIGURES(NUMBER("short_kwh", managed->short_kwh), NUMBER("kwh", managed->kwh),
                            NUMBER("ready_min", managed->ready_min)),
                    "%s kWh are missing by %02d:%02d.", figure(&now->finder, managed->short_kwh), ready_min / 60,
                    ready_min % 60);
    }
}

static void check_operator(const struct findings_case *now)
{
    for (size_t i = 0; i < now->service->added_count; i++) {
        const struct service_added *added = &now->service->added[i];
        if (added->category == CATEGORY_VEHICLE || added->category == CATEGORY_HEAT_PUMP) {
            finding_add(&now->finder, "operator", "", about_house, FIGURES(NUMBER("load_va", added->load_va)),
                        "The network operator must be told or asked first.");
            return;
        }
    }
}

/* ------------------------------------------------------------------ all ----------------------------------- */

struct service_season service_season(const struct service_work *work)
{
    const struct service_measured *measured = &work->question->measured;
    const struct house *house = work->question->house;
    double va[2] = {0};
    double missing_va[2] = {0};
    const double year_days = reference_rule_value("measured-year", work->rules) / 24;
    if (measured->from != SERVICE_MEASURED_READINGS || measured->span_days >= year_days * (1 - 1e-9)) {
        return (struct service_season){0};
    }
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        const bool cools = load->category == CATEGORY_AIR_CONDITIONING;
        const bool heats = load->category == CATEGORY_SPACE_HEATING || load->category == CATEGORY_HEAT_PUMP;
        if ((!cools && !heats) || service_is_added(work, i) || service_is_removed(work, i)) {
            continue;
        }
        double unit_va = 0;
        double unit_a = 0;
        demand_nameplate(house, load, &unit_va, &unit_a);
        va[cools] += unit_va * load->count;
        missing_va[cools] += (load->months & measured->months) == 0 ? unit_va * load->count : 0;
    }
    const bool cooling = va[1] > va[0];
    return (struct service_season){.cooling = cooling, .missing_va = missing_va[cooling]};
}

void service_findings(struct service_work *work)
{
    static void (*const checks[])(const struct findings_case *) = {
        check_over,    check_near, check_disagree, check_measured, check_continuous,
        check_minimum, check_wire, check_control,  check_car,      check_operator,
    };
    struct service *service = work->service;
    const struct findings_case now = {
        .finder = {.arena = service->arena,
                   .list = &service->findings,
                   .rules = work->rules,
                   .edition = reference_cited_edition(work->rules, service->house->code_edition)},
        .work = work,
        .service = service,
        .lead = service->lead == NO_INDEX ? NULL : &service->methods[service->lead],
    };
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) {
        checks[i](&now);
    }
}
