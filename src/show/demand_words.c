/* The sentences of a demand: the answer in one, and what stands around the rows. */
#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "ampsum/show_demand.h"

/* ------------------------------------------------------------------ parts --------------------------------- */

void show_demand_beside(double current_a, double difference_a, int least, struct text *text)
{
    int decimals = least;
    for (double step = 0.5 * pow(10, -least); decimals < 9 && difference_a != 0 && fabs(difference_a) < step;
         step /= 10) {
        decimals++;
    }
    text_add_fixed(text, current_a, decimals);
}

void show_demand_current(const struct demand_answer *answer, double current_a, int least, struct text *text)
{
    show_demand_beside(current_a, current_a - answer->service->rating_a, least, text);
}

/* `the house with Car charger, 9600 VA and Heat pump, 4000 VA, without Clothes dryer`. */
static void show_demand_house(const struct demand_answer *answer, struct text *text)
{
    const struct service *service = answer->service;
    text_add(text, service->panel == 0 ? "the house" : "the sub-panel");
    for (size_t i = 0; i < service->added_count; i++) {
        text_say(text, "%s%s (%.0g VA)", i == 0 ? " with " : " and ", service->added[i].what,
                 service->added[i].load_va);
    }
    for (size_t i = 0; i < answer->removed_count; i++) {
        const char *first = service->added_count > 0 ? " and without " : " without ";
        text_printf(text, "%s%s", i == 0 ? first : " and ", answer->removed[i]);
    }
}

void show_demand_rating(const struct demand_answer *answer, struct text *text)
{
    static const char *const from[] = {
        [SERVICE_RATING_GIVEN] = "from service_rating",
        [SERVICE_RATING_MAIN_BREAKER] = "from main_breaker",
        [SERVICE_RATING_SUPPLY_FUSE] = "from supply_fuse",
        [SERVICE_RATING_FEEDER] = "its breaker",
        [SERVICE_RATING_ASSUMED] = "assumed, since supply_fuse is unknown",
    };
    const struct service *service = answer->service;
    text_say(text, "%s: %.1g A, %s; at its voltage %.0g VA", service->panel == 0 ? "Service" : "Feeder",
             service->rating_a, from[service->rating_from], service->rating_va);
}

static void add_method(const struct service_method *method, struct text *text)
{
    text_printf(text, "by %s (%s) ", method->name, method->clause);
}

static void add_figure(const struct demand_answer *answer, const struct service_method *method, struct text *text)
{
    show_demand_current(answer, method->current_a, 1, text);
    text_add(text, " A");
}

static void add_service(const struct demand_answer *answer, struct text *text)
{
    text_say(text, " on a %s of %.1g A", answer->service->panel == 0 ? "service" : "feeder", answer->service->rating_a);
}

/* ------------------------------------------------------------------ the answer in one sentence ------------ */

static void add_comes_to(const struct demand_answer *answer, const struct service_method *method, struct text *text)
{
    add_method(method, text);
    show_demand_house(answer, text);
    text_add(text, " comes to ");
    add_figure(answer, method, text);
    add_service(answer, text);
}

/* What makes a load that runs for hours ask for more. */
static void add_continuous(const struct demand_answer *answer, struct text *text)
{
    if (isfinite(answer->continuous_a)) {
        reference_fill(text, "; counted as running {continuous-hours} h or more it needs ",
                       rules_word(answer->house->rules));
        show_demand_current(answer, answer->continuous_a, 1, text);
        text_add(text, " A, which does not fit");
    }
}

static void add_within(const struct demand_answer *answer, struct text *text)
{
    const struct service_method *method = answer->fits;
    const bool adds = answer->service->added_count > 0;
    text_add(text, isfinite(answer->continuous_a) ? "Ask first: "
                   : adds                         ? "It fits by every method that applies here: "
                                                  : "Within the rating by every method that applies here: ");
    add_comes_to(answer, method, text);
    if (method->headroom_a > 0) {
        text_add(text, ", and ");
        show_demand_beside(method->headroom_a, method->headroom_a, 1, text);
        text_add(text, " A are left");
    }
    add_continuous(answer, text);
}

static void add_above(const struct demand_answer *answer, struct text *text)
{
    const struct service_method *method = answer->over;
    text_add(text, answer->service->added_count > 0 ? "It does not fit: " : "Above the rating: ");
    add_comes_to(answer, method, text);
    text_add(text, ", ");
    show_demand_beside(-method->headroom_a, method->headroom_a, 1, text);
    text_add(text, " A too much");
    if (isfinite(answer->control_a)) {
        text_say(text, "; it fits only if a listed control system keeps the service at %.1g A", answer->control_a);
    }
}

static void add_disagreement(const struct demand_answer *answer, struct text *text)
{
    text_add(text, "Ask first: ");
    add_comes_to(answer, answer->fits, text);
    text_add(text, ", which fits, ");
    add_method(answer->over, text);
    text_add(text, "to ");
    add_figure(answer, answer->over, text);
    text_add(text, ", which does not; the inspector decides which may be used");
    add_continuous(answer, text);
}

void show_demand_sentence(const struct demand_answer *answer, struct text *text)
{
    if (answer->fits != NULL && answer->over != NULL) {
        add_disagreement(answer, text);
    } else if (answer->over != NULL) {
        add_above(answer, text);
    } else if (answer->fits != NULL) {
        add_within(answer, text);
    } else {
        text_printf(text, "No published method can be applied to what the house file says: %s",
                    answer->chosen->why_not == NULL ? "" : answer->chosen->why_not);
    }
    text_add(text, ".");
}

/* ------------------------------------------------------------------ lists of sentences -------------------- */

struct sentences {
    struct arena *arena;
    const char **line;
    size_t count;
};

/* Takes the text, and adds it where it says anything. */
static void take(struct sentences *list, struct text *text)
{
    if (text->length > 0) {
        const char **lines = arena_array(list->arena, list->count + 2, sizeof *lines);
        for (size_t i = 0; i < list->count; i++) {
            lines[i] = list->line[i];
        }
        lines[list->count++] = arena_copy(list->arena, text_string(text));
        lines[list->count] = NULL;
        list->line = lines;
    }
    text_done(text);
}

static void add(struct sentences *list, bool holds, const char *sentence)
{
    struct text text = {0};
    text_add(&text, holds ? sentence : "");
    take(list, &text);
}

static const char *const *sentences(const struct sentences *list)
{
    static const char *const none[] = {NULL};
    return list->count == 0 ? none : list->line;
}

/* ------------------------------------------------------------------ the methods --------------------------- */

/* What 220.83 (A) gives as others read it, without heating and cooling. */
static void add_other_reading(const struct service_method *method, struct sentences *list)
{
    if (isfinite(method->other_a)) {
        struct text text = {0};
        text_say(&text, "As some read %s, without the heating or cooling that is there: %.0g VA, %.1f A.",
                 method->clause, method->other_va, method->other_a);
        take(list, &text);
    }
}

static void add_reasons(const struct service *service, struct sentences *list)
{
    for (size_t i = 0; i < service->method_count; i++) {
        const struct service_method *method = &service->methods[i];
        if (!method->applies) {
            struct text text = {0};
            text_printf(&text, "%s does not apply: %s.", method->word, method->why_not);
            take(list, &text);
        }
        add_other_reading(method, list);
    }
}

/* Where each method that applies stands. */
static void add_method_sources(const struct service *service, struct sentences *list)
{
    for (size_t i = 0; i < service->method_count; i++) {
        const struct service_method *method = &service->methods[i];
        if (method->applies) {
            struct text text = {0};
            text_printf(&text, "%s: %s", method->word, method->clause);
            if (strcmp(method->clause, method->edition) != 0) {
                text_printf(&text, " (%s%s)", method->edition,
                            strstr(method->edition, "edition") == NULL ? " edition" : "");
            }
            text_printf(&text, ", %s.", method->source);
            take(list, &text);
        }
    }
}

const char *const *show_demand_methods(const struct demand_answer *answer, struct arena *arena)
{
    struct sentences list = {.arena = arena};
    struct text text = {0};
    add_reasons(answer->service, &list);
    if (answer->fits == NULL && answer->over == NULL) {
        return sentences(&list);
    }
    text_printf(&text, "Most: the largest load that still fits, %s",
                answer->service->added_count > 0 ? "in place of what is added" : "added to the house");
    text_add(&text, ". Car: the largest charging setting of a vehicle in whole amperes");
    text_add(&text, "; - where there is none.");
    take(&list, &text);
    return sentences(&list);
}

const char *const *show_demand_method_sources(const struct demand_answer *answer, struct arena *arena)
{
    struct sentences list = {.arena = arena};
    add_method_sources(answer->service, &list);
    return sentences(&list);
}

/* ------------------------------------------------------------------ control ------------------------------- */

static void add_setpoint(const struct service *service, struct sentences *list)
{
    const struct service_setpoint *setpoint = &service->setpoint;
    struct text text = {0};
    if (isfinite(setpoint->setpoint_a)) {
        text_say(&text, "Kept at %.2g A by a listed control system the service counts as %.2g A (%s), which %s; ",
                 setpoint->setpoint_a, setpoint->counted_a, setpoint->clause,
                 setpoint->fits ? "it carries" : "is above its rating");
    } else {
        text_add(&text, "With a listed control system: ");
    }
    text_say(&text, "the largest set-point of the whole service is %.0g A (%s).", setpoint->most_a, setpoint->clause);
    take(list, &text);
}

static void add_group(const struct service_method *method, struct sentences *list)
{
    if (!method->applies || !isfinite(method->group.others_a)) {
        return;
    }
    struct text text = {0};
    text_say(&text, "%s: everything else comes to %.1f A, ", method->word, method->group.others_a);
    if (method->group.free_a < 0) {
        text_say(&text, "%.1f A more than the service carries: nothing is left for what gives way.",
                 -method->group.free_a);
        take(list, &text);
        return;
    }
    text_say(&text, "which leaves %.1f A for what gives way: ", method->group.free_a);
    if (isfinite(method->group.setpoint_a)) {
        text_say(&text, "limited to %.0g A together by a listed control system it fits%s", method->group.setpoint_a,
                 method->group.charges ? "." : ", too little for a vehicle to charge.");
    } else {
        text_add(&text, "no set-point fits.");
    }
    take(list, &text);
}

static void add_clock(int minute, struct text *text)
{
    text_printf(text, "%02d:%02d", minute / 60 % 24, minute % 60);
}

static void add_charge(const struct service *service, struct text *text)
{
    const struct service_managed *managed = service->managed;
    text_say(text,
             "%s that gives way at %.1g A, on the scarcest night of the house's own %s (%s in %s): %.1f kWh in %.1f h",
             service->house->appliances[managed->appliance].name, managed->setpoint_a,
             managed->from_readings ? "readings" : "week", day_name(managed->weekday), month_name(managed->month),
             managed->kwh, managed->hours);
    if (managed->short_kwh > 0) {
        text_say(text, ", and %.1f kWh are missing by ", managed->short_kwh);
        add_clock(managed->ready_min, text);
    } else if (isfinite(managed->wanted_kwh)) {
        text_add(text, ", all that is wanted");
    }
    text_add(text, ". The house without it is busiest at ");
    add_clock(managed->busiest_min, text);
    text_say(text, " with %.0g VA.", managed->busiest_va);
}

static void add_managed(const struct service *service, struct sentences *list)
{
    const struct service_managed *managed = service->managed;
    struct text text = {0};
    if (managed == NULL) {
        return;
    }
    add_charge(service, &text);
    take(list, &text);
    for (size_t i = 0; i < managed->left_out_count; i++) {
        text_printf(&text, "%s%s", i == 0 ? "Counted as off in that, since nothing says when they run: " : ", ",
                    service->house->appliances[managed->left_out[i]].name);
    }
    text_add(&text, managed->left_out_count > 0 ? "." : "");
    take(list, &text);
}

const char *const *show_demand_control(const struct demand_answer *answer, struct arena *arena)
{
    const struct service *service = answer->service;
    struct sentences list = {.arena = arena};
    bool group = false;
    for (size_t i = 0; i < service->method_count; i++) {
        group = group || isfinite(service->methods[i].group.others_a);
    }
    if (!group && !isfinite(service->setpoint.setpoint_a)) {
        return sentences(&list);
    }
    for (size_t i = 0; i < service->method_count; i++) {
        add_group(&service->methods[i], &list);
    }
    add_setpoint(service, &list);
    add_managed(service, &list);
    return sentences(&list);
}

/* ------------------------------------------------------------------ what to bring ------------------------- */

static void bring_plates(const struct demand_assumed *assumed, struct sentences *list)
{
    struct text text = {0};
    if (assumed->not_plate > 0) {
        text_say(&text, "Nameplates: the rating of %zu %s is typical or a guess (rating_from).", assumed->not_plate,
                 assumed->not_plate == 1 ? "appliance" : "appliances");
    }
    take(list, &text);
    if (assumed->unsaid > 0) {
        text_printf(&text, "Nameplates: of %zu %s the file does not say where the rating was taken from (rating_from).",
                    assumed->unsaid, assumed->unsaid == 1 ? "appliance" : "appliances");
    }
    take(list, &text);
}

static void bring_service(const struct demand_answer *answer, struct sentences *list)
{
    const struct demand_assumed *assumed = &answer->assumed;
    struct text text = {0};
    if (assumed->rating) {
        text_say(&text,
                 "Taken for the rating of the service: %s, %.1g A. What is lowest counts: main device, meter socket, "
                 "conductors from the street, supply fuse (service_rating).",
                 service_rating_word(answer->service->rating_from), answer->service->rating_a);
    }
    take(list, &text);
    add(list, assumed->wire, "The conductors from the street are not said and were not judged (service_wire).");
    add(list, assumed->area, "The floor area is not said, so the load by area is in no method (floor_area).");
}

const char *const *show_demand_bring(const struct demand_answer *answer, struct arena *arena)
{
    const struct demand_assumed *assumed = &answer->assumed;
    struct sentences list = {.arena = arena};
    bring_service(answer, &list);
    bring_plates(assumed, &list);
    add(&list, assumed->control,
        "The charger's own setting, and whether it gives way to the house (control, --setpoint).");
    const struct service_method *measured = service_method(answer->service, DEMAND_MEASURED);
    add(&list, measured != NULL && !measured->applies,
        "The meter's readings of a year, or of 30 days in quarters of an hour (--measured).");
    return sentences(&list);
}

/* ------------------------------------------------------------------ what is said besides ------------------ */

static void add_metered(const struct demand_answer *answer, struct sentences *list)
{
    const struct demand_metered *metered = &answer->metered;
    struct text text = {0};
    if (metered->minutes > 0) {
        const struct meter_date *when = &metered->when;
        text_say(&text, "The meter's largest mean over %d minutes is %.3g kW", metered->minutes,
                 metered->largest_w / 1000);
        text_printf(&text, ", on %04d-%02d-%02d at ", when->year, when->month, when->day);
        add_clock(when->second / 60, &text);
        text_say(&text, ", of readings that cover %.1g days; it is taken at power factor 1.",
                 metered->covered_s / 3600 / 24);
    }
    take(list, &text);
}

static void add_taken(const struct demand_taken *taken, struct sentences *list)
{
    struct text text = {0};
    if (taken->category != NULL) {
        text_printf(&text, "%s is taken for %s, as %s is; category=... in the load says otherwise.", taken->name,
                    taken->category, taken->typical);
    }
    take(list, &text);
    if (taken->note != NULL) {
        text_printf(&text, "%s.", taken->note);
    }
    take(list, &text);
    if (taken->legs != 0) {
        const char *legs = legs_word(taken->legs);
        const bool one = legs[1] == '\0';
        text_printf(&text, "%s is taken on line%s %c%s%s, the least loaded of the three%s.", taken->name,
                    one ? "" : "s", legs[0], one ? "" : " and ", one ? "" : legs + 1,
                    taken->may_have_three ? "; connection=3L+N in the load says that all three carry it" : "");
    }
    take(list, &text);
}

static void add_all_taken(const struct demand_answer *answer, struct sentences *list)
{
    for (size_t i = 0; i < answer->taken_count; i++) {
        add_taken(&answer->taken[i], list);
    }
}

static void add_counting(const struct demand_answer *answer, struct sentences *list)
{
    for (size_t i = 0; answer->demand != NULL && answer->demand->notes[i] != NULL; i++) {
        add(list, true, answer->demand->notes[i]);
    }
    for (size_t i = 0; answer->service->notes[i] != NULL; i++) {
        add(list, true, answer->service->notes[i]);
    }
}

static void add_cautions(const struct demand_answer *answer, struct sentences *list)
{
    add(list, answer->over != NULL,
        "Too much is no reason for a larger breaker or fuse: fewer loads at once, or ask a licensed "
        "electrician, who looks at the service as a whole.");
    add(list, answer->service->panel == 0,
        "An old service also has an age, a condition, a meter socket and an earth: only an electrician's "
        "look tells of those.");
}

const char *const *show_demand_taken(const struct demand_answer *answer, struct arena *arena)
{
    struct sentences list = {.arena = arena};
    add_all_taken(answer, &list);
    return sentences(&list);
}

const char *const *show_demand_counting(const struct demand_answer *answer, struct arena *arena)
{
    struct sentences list = {.arena = arena};
    add_metered(answer, &list);
    add_counting(answer, &list);
    return sentences(&list);
}

const char *const *show_demand_cautions(const struct demand_answer *answer, struct arena *arena)
{
    struct sentences list = {.arena = arena};
    add_cautions(answer, &list);
    return sentences(&list);
}

const char *const *show_demand_notes(const struct demand_answer *answer, struct arena *arena)
{
    struct sentences list = {.arena = arena};
    add_metered(answer, &list);
    add_all_taken(answer, &list);
    add_counting(answer, &list);
    add_cautions(answer, &list);
    return sentences(&list);
}
