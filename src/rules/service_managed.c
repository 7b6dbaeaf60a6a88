/*
 * Charging that gives way when the house is busy, minute by minute over the house's own week. No rule of a code: plain
 * arithmetic. A load with `use` draws its mean over its windows (duty, and hours fewer than the windows, spread
 * evenly), one with `hours` alone its mean over the day, as in the year's energy; what has neither is off, and named.
 */
#include <math.h>
#include <string.h>

#include "ampsum/engine.h"
#include "service_parts.h"

enum { DAYS = 7, MONTHS = 12, WEEK_MINUTES = DAYS * MINUTES_IN_DAY };

#define WH_PER_KWH 1000.0       /* exact */
#define MIN_PER_HOUR 60.0       /* exact */
#define SECONDS_PER_HOUR 3600.0 /* exact */

struct week {
    double va[WEEK_MINUTES + 1]; /* steps until `sum_week`, then the house without the vehicle */
};

/* Minutes of all windows on one day. */
static int window_minutes(const struct appliance *load)
{
    int minutes = 0;
    for (size_t i = 0; i < load->use.count; i++) {
        const struct window *window = &load->use.window[i];
        const int length = window->end_min - window->start_min;
        minutes += length > 0 ? length : length + MINUTES_IN_DAY;
    }
    return minutes;
}

static bool has_no_time(const struct appliance *load)
{
    return load->use.count == 0 && !(load->on_time_s > 0);
}

static void add_step(struct week *week, int from_min, int length_min, double va)
{
    const int start = from_min % WEEK_MINUTES;
    const int end = start + length_min;
    week->va[start] += va;
    if (end <= WEEK_MINUTES) {
        week->va[end] -= va;
    } else { /* runs into the next week, which is this one */
        week->va[WEEK_MINUTES] -= va;
        week->va[0] += va;
        week->va[end - WEEK_MINUTES] -= va;
    }
}

static void add_load(struct week *week, const struct house *house, const struct appliance *load, int month)
{
    const double voltage_v = house->branches[load->branch].voltage_v;
    const double drawn_va = appliance_draw(house, load, voltage_v).apparent_va * load->duty_percent / 100;
    const int minutes = load->use.count > 0 ? window_minutes(load) : MINUTES_IN_DAY;
    const double share = has_no_time(load) ? 0 : load->on_time_s / (MIN_PER_HOUR * minutes);
    const double added_va = load->count * fmin(share, 1) * (drawn_va - load->standby_w);
    add_step(week, 0, WEEK_MINUTES, load->count * load->standby_w);
    for (int day = 0; day < DAYS && (load->months >> month & 1U) != 0; day++) {
        if ((load->days >> day & 1U) == 0) {
            continue;
        }
        if (load->use.count == 0) {
            add_step(week, day * MINUTES_IN_DAY, MINUTES_IN_DAY, added_va);
        }
        for (size_t i = 0; i < load->use.count; i++) {
            const struct window *window = &load->use.window[i];
            const int length = window->end_min - window->start_min;
            add_step(week, day * MINUTES_IN_DAY + window->start_min, length > 0 ? length : length + MINUTES_IN_DAY,
                     added_va);
        }
    }
}

/* The house in a month, without the vehicle and what is taken away. */
static void fill_week(const struct service_work *work, size_t vehicle, int month, struct week *week)
{
    const struct house *house = work->question->house;
    memset(week, 0, sizeof *week);
    for (size_t i = 0; i < house->appliance_count; i++) {
        const bool counts =
            i != vehicle && !service_is_removed(work, i) && house->appliances[i].category != CATEGORY_GENERATOR;
        if (counts) {
            add_load(week, house, &house->appliances[i], month);
        }
    }
    for (int minute = 1; minute < WEEK_MINUTES; minute++) {
        week->va[minute] += week->va[minute - 1];
    }
}

/* ------------------------------------------------------------------ one day ------------------------------- */

struct charger {
    const struct appliance *load;
    double limit_va; /* of the service at its set-point */
    double full_va;
    double least_va;    /* below it a vehicle does not charge */
    double power_share; /* watt for each volt-ampere */
    bool on_off;
};

static double charge_va(const struct charger *charger, double house_va)
{
    const double free_va = charger->limit_va - house_va;
    const double va = fmin(charger->full_va, free_va);
    const double least_va = charger->on_off ? charger->full_va : charger->least_va;
    return va >= least_va * (1 - 1e-9) ? va : 0;
}

/* Charges through one window; stops where the wanted energy is in. Returns false then. */
static bool charge_window(const struct charger *charger, const struct week *week, int start_min, int length_min,
                          struct service_managed *managed)
{
    for (int k = 0; k < length_min; k++) {
        const int minute = (start_min + k) % WEEK_MINUTES;
        const double va = charge_va(charger, week->va[minute]);
        const double kwh = va * charger->power_share / WH_PER_KWH / MIN_PER_HOUR;
        const double missing_kwh = managed->wanted_kwh - managed->kwh;
        const bool full = missing_kwh <= kwh;
        const double part = full && kwh > 0 ? missing_kwh / kwh : 1;
        managed->kwh += part * kwh;
        managed->hours += part / MIN_PER_HOUR;
        managed->charging_hours += va > 0 ? part / MIN_PER_HOUR : 0;
        if (week->va[minute] > managed->busiest_va * (1 + 1e-9)) {
            managed->busiest_va = week->va[minute];
            managed->busiest_min = minute % MINUTES_IN_DAY;
        }
        if (full) {
            return false;
        }
    }
    return true;
}

static void charge_day(const struct charger *charger, const struct week *week, int weekday,
                       struct service_managed *managed)
{
    const struct appliance *load = charger->load;
    const struct window all_day = {0, MINUTES_IN_DAY};
    const size_t count = load->use.count > 0 ? load->use.count : 1;
    bool goes_on = true;
    managed->busiest_va = -1;
    for (size_t i = 0; i < count; i++) {
        const struct window *window = load->use.count > 0 ? &load->use.window[i] : &all_day;
        const int length = window->end_min - window->start_min;
        managed->ready_min = window->end_min;
        goes_on = goes_on && charge_window(charger, week, weekday * MINUTES_IN_DAY + window->start_min,
                                           length > 0 ? length : length + MINUTES_IN_DAY, managed);
    }
    managed->weekday = weekday;
    managed->short_kwh = isnan(managed->wanted_kwh) ? 0 : fmax(managed->wanted_kwh - managed->kwh, 0);
}

/* ------------------------------------------------------------------ the worst day ------------------------- */

/* More is missing, or without a wanted energy less goes in; then it takes longer. */
static bool is_worse(const struct service_managed *a, const struct service_managed *b)
{
    if (fabs(a->short_kwh - b->short_kwh) > 1e-9) {
        return a->short_kwh > b->short_kwh;
    }
    return fabs(a->kwh - b->kwh) > 1e-9 ? a->kwh < b->kwh : a->hours > b->hours + 1e-9;
}

/* The vehicle in question: the first added one, else the first with a control. */
static size_t find_vehicle(const struct service_work *work)
{
    const struct house *house = work->question->house;
    const bool asked = !isnan(work->question->setpoint_a);
    size_t found = NO_INDEX;
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        const bool added = service_is_added(work, i);
        const bool gives_way = load->control != CONTROL_NONE || (added && asked);
        if (load->category != CATEGORY_VEHICLE || service_is_removed(work, i) || !gives_way) {
            continue;
        }
        if (found == NO_INDEX || (added && !service_is_added(work, found))) {
            found = i;
        }
    }
    return found;
}

static struct charger charger_of(const struct service_work *work, size_t vehicle, double setpoint_a)
{
    const struct house *house = work->question->house;
    const struct appliance *load = &house->appliances[vehicle];
    const struct branch *branch = &house->branches[load->branch];
    const struct draw draw = appliance_draw(house, load, branch->voltage_v);
    const double va_per_a = 1 / draw_current_a(1, branch->voltage_v, branch->poles);
    return (struct charger){
        .load = load,
        .limit_va = setpoint_a * work->service->divisor_v,
        .full_va = draw.apparent_va * load->count,
        .least_va = reference_rule_value("vehicle-setting-least", work->rules) * va_per_a,
        .power_share = draw.apparent_va > 0 ? draw.power_w / draw.apparent_va : 1,
        .on_off = load->control == CONTROL_ON_OFF,
    };
}

static void name_left_out(const struct service_work *work, size_t vehicle, struct service_managed *managed)
{
    const struct house *house = work->question->house;
    managed->left_out = arena_array(work->service->arena, house->appliance_count, sizeof(size_t));
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        if (i != vehicle && !service_is_removed(work, i) && has_no_time(load) && load->category != CATEGORY_GENERATOR) {
            managed->left_out[managed->left_out_count++] = i;
        }
    }
}

const struct service_managed *service_managed(const struct service_work *work)
{
    const size_t vehicle = find_vehicle(work);
    if (vehicle == NO_INDEX) {
        return NULL;
    }
    const double asked_a = work->question->setpoint_a;
    const double setpoint_a = isnan(asked_a) ? work->service->setpoint.most_a : asked_a;
    const struct charger charger = charger_of(work, vehicle, setpoint_a);
    const struct service_managed fresh = {
        .appliance = vehicle,
        .setpoint_a = setpoint_a,
        .control = charger.on_off ? CONTROL_ON_OFF : CONTROL_SETPOINT,
        .wanted_kwh = work->question->wanted_kwh,
    };
    struct service_managed *worst = arena_take(work->service->arena, sizeof *worst);
    struct week *week = arena_take(work->service->arena, sizeof *week);
    bool any = false;
    for (int month = 0; month < MONTHS; month++) {
        if ((charger.load->months >> month & 1U) == 0) {
            continue;
        }
        fill_week(work, vehicle, month, week);
        for (int day = 0; day < DAYS; day++) {
            struct service_managed now = fresh;
            if ((charger.load->days >> day & 1U) != 0) {
                now.month = month;
                charge_day(&charger, week, day, &now);
                *worst = !any || is_worse(&now, worst) ? now : *worst;
                any = true;
            }
        }
    }
    name_left_out(work, vehicle, worst);
    return worst;
}
