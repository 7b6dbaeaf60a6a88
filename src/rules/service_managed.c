/*
 * Charging that gives way when the house is busy, minute by minute over the house's own week, or over the days that a
 * meter recorded. No rule of a code: plain arithmetic. A load with `use` draws its mean over its windows (duty, and
 * hours fewer than the windows, spread evenly), one with `hours` alone its mean over the day, as in the year's energy;
 * what has neither is off, and named.
 */
#include <math.h>
#include <string.h>

#include "ampsum/engine.h"
#include "service_parts.h"

enum {
    DAYS = 7,
    MONTHS = 12,
    WEEK_MINUTES = DAYS * MINUTES_IN_DAY,
    TWO_DAYS = 2 * MINUTES_IN_DAY,
    MINUTE_S = 60,
    DAY_S = 86400
};

#define WH_PER_KWH 1000.0 /* exact */
#define MIN_PER_HOUR 60.0 /* exact */

/* The house without the vehicle, minute by minute; behind the last comes the first again. NAN: nothing is known. */
struct minutes {
    const double *va;
    int count;
};

struct charger {
    const struct appliance *load;
    double limit_va; /* of the service at its set-point */
    double full_va;
    double least_va;    /* below it a vehicle does not charge */
    double power_share; /* watt for each volt-ampere */
    bool on_off;
};

static int length_of(const struct window *window)
{
    const int length = window->end_min - window->start_min;
    return length > 0 ? length : length + MINUTES_IN_DAY;
}

static const struct window all_day = {0, MINUTES_IN_DAY};

/* The windows of a load; all day where it has none. */
static size_t windows_of(const struct appliance *load, const struct window **ret_windows)
{
    *ret_windows = load->use.count > 0 ? load->use.window : &all_day;
    return load->use.count > 0 ? load->use.count : 1;
}

static bool has_no_time(const struct appliance *load)
{
    return load->use.count == 0 && !(load->on_time_s > 0);
}

/* ------------------------------------------------------------------ one day ------------------------------- */

static double charge_va(const struct charger *charger, double house_va)
{
    const double free_va = charger->limit_va - house_va;
    const double va = fmin(charger->full_va, free_va);
    const double least_va = charger->on_off ? charger->full_va : charger->least_va;
    return va >= least_va * (1 - 1e-9) ? va : 0;
}

/* One minute; false once the wanted energy is in. */
static bool charge_minute(const struct charger *charger, double house_va, struct service_managed *managed)
{
    const double va = charge_va(charger, house_va);
    const double kwh = va * charger->power_share / WH_PER_KWH / MIN_PER_HOUR;
    const double missing_kwh = managed->wanted_kwh - managed->kwh;
    const bool full = missing_kwh <= kwh;
    const double part = full && kwh > 0 ? missing_kwh / kwh : 1;
    managed->kwh += part * kwh;
    managed->hours += part; /* minutes, until the day is over: whole ones add up to the last digit */
    managed->charging_hours += va > 0 ? part : 0;
    return !full;
}

static void look_at_house(double house_va, int minute, struct service_managed *managed)
{
    if (house_va > managed->busiest_va * (1 + 1e-9)) {
        managed->busiest_va = house_va;
        managed->busiest_min = minute % MINUTES_IN_DAY;
    }
}

/* The windows that begin on the day whose first minute is `midnight`. */
static void charge_day(const struct charger *charger, struct minutes minutes, int midnight,
                       struct service_managed *managed)
{
    const struct window *windows = NULL;
    const size_t count = windows_of(charger->load, &windows);
    bool goes_on = true;
    managed->busiest_va = -1;
    for (size_t i = 0; i < count; i++) {
        managed->ready_min = windows[i].end_min;
        for (int k = 0; k < length_of(&windows[i]); k++) {
            const int minute = (midnight + windows[i].start_min + k) % minutes.count;
            goes_on = goes_on && charge_minute(charger, minutes.va[minute], managed);
            look_at_house(minutes.va[minute], minute, managed);
        }
    }
    managed->hours /= MIN_PER_HOUR;
    managed->charging_hours /= MIN_PER_HOUR;
    managed->short_kwh = isnan(managed->wanted_kwh) ? 0 : fmax(managed->wanted_kwh - managed->kwh, 0);
}

/* More is missing, or without a wanted energy less goes in; then it takes longer. */
static bool is_worse(const struct service_managed *a, const struct service_managed *b)
{
    if (fabs(a->short_kwh - b->short_kwh) > 1e-9) {
        return a->short_kwh > b->short_kwh;
    }
    return fabs(a->kwh - b->kwh) > 1e-9 ? a->kwh < b->kwh : a->hours > b->hours + 1e-9;
}

/* Keeps the worse of both days; `worst` has a busiest minute below 0 while there is none. */
static void keep_worst(const struct service_managed *now, struct service_managed *worst)
{
    if (worst->busiest_va < 0 || is_worse(now, worst)) {
        *worst = *now;
    }
}

/* ------------------------------------------------------------------ the house's own week ------------------ */

struct week {
    double va[WEEK_MINUTES + 1]; /* steps until they are summed */
};

static void add_step(struct week *week, int from_min, int length_min, double va)
{
    const int end = from_min + length_min;
    week->va[from_min] += va;
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
    const struct window *windows = NULL;
    const size_t count = windows_of(load, &windows);
    const double voltage_v = house->branches[load->branch].voltage_v;
    const double drawn_va = appliance_draw(house, load, voltage_v).apparent_va * load->duty_percent / 100;
    int minutes = 0;
    for (size_t i = 0; i < count; i++) {
        minutes += length_of(&windows[i]);
    }
    const double share = has_no_time(load) ? 0 : fmin(load->on_time_s / (MINUTE_S * minutes), 1);
    const double added_va = load->count * share * (drawn_va - load->standby_w);
    add_step(week, 0, WEEK_MINUTES, load->count * load->standby_w);
    for (int day = 0; day < DAYS && (load->months >> month & 1U) != 0; day++) {
        for (size_t i = 0; (load->days >> day & 1U) != 0 && i < count; i++) {
            add_step(week, day * MINUTES_IN_DAY + windows[i].start_min, length_of(&windows[i]), added_va);
        }
    }
}

/* The house in a month, without the vehicle and what is taken away. */
static void fill_week(const struct service_work *work, size_t vehicle, int month, struct week *week)
{
    const struct house *house = work->question->house;
    memset(week, 0, sizeof *week);
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (i != vehicle && !service_is_removed(work, i) && appliance_is_load(&house->appliances[i])) {
            add_load(week, house, &house->appliances[i], month);
        }
    }
    for (int minute = 1; minute < WEEK_MINUTES; minute++) {
        week->va[minute] += week->va[minute - 1];
    }
}

static void charge_week(const struct service_work *work, size_t vehicle, const struct charger *charger,
                        const struct service_managed *fresh, struct service_managed *worst)
{
    struct week *week = arena_take(work->service->arena, sizeof *week);
    for (int month = 0; month < MONTHS; month++) {
        if ((charger->load->months >> month & 1U) == 0) {
            continue;
        }
        fill_week(work, vehicle, month, week);
        for (int day = 0; day < DAYS; day++) {
            if ((charger->load->days >> day & 1U) != 0) {
                struct service_managed now = *fresh;
                now.month = month;
                now.weekday = day;
                charge_day(charger, (struct minutes){week->va, WEEK_MINUTES}, day * MINUTES_IN_DAY, &now);
                keep_worst(&now, worst);
            }
        }
    }
}

/* ------------------------------------------------------------------ days of a meter ----------------------- */

/* Two days of readings from a local midnight on: mean power of each minute, and how much of it is known. */
struct recorded {
    double w[TWO_DAYS];
    double known_s[TWO_DAYS];
};

static int64_t local_s(const struct meter_reading *reading)
{
    return reading->start_s + reading->utc_offset_s;
}

static void record(struct recorded *days, const struct meter_reading *reading, int64_t midnight_s)
{
    const double power_w =
        (double)reading->energy_uwh / METER_UWH_PER_WH * MIN_PER_HOUR * MINUTE_S / reading->duration_s;
    int64_t at_s = local_s(reading) - midnight_s;
    const int64_t end_s = at_s + reading->duration_s < (int64_t)TWO_DAYS * MINUTE_S ? at_s + reading->duration_s
                                                                                    : (int64_t)TWO_DAYS * MINUTE_S;
    at_s = at_s > 0 ? at_s : 0;
    while (at_s < end_s) {
        const int64_t minute = at_s / MINUTE_S;
        const int64_t next_s = (minute + 1) * MINUTE_S < end_s ? (minute + 1) * MINUTE_S : end_s;
        days->w[minute] += power_w * (double)(next_s - at_s);
        days->known_s[minute] += (double)(next_s - at_s);
        at_s = next_s;
    }
}

/* The readings that lie in two days from a midnight on; *first moves on past those that end before. */
static void fill_days(const struct service_measured *measured, int64_t midnight_s, size_t *first, struct recorded *days)
{
    memset(days, 0, sizeof *days);
    while (*first < measured->reading_count &&
           local_s(&measured->readings[*first]) + measured->readings[*first].duration_s <= midnight_s) {
        (*first)++;
    }
    for (size_t i = *first; i < measured->reading_count; i++) {
        if (local_s(&measured->readings[i]) >= midnight_s + 2 * DAY_S) {
            break;
        }
        record(days, &measured->readings[i], midnight_s);
    }
    for (int minute = 0; minute < TWO_DAYS; minute++) {
        days->w[minute] = days->known_s[minute] >= MINUTE_S ? days->w[minute] / days->known_s[minute] : (double)NAN;
    }
}

/* Whether every minute of the day's windows was read. */
static bool is_recorded(const struct charger *charger, const struct recorded *days)
{
    const struct window *windows = NULL;
    const size_t count = windows_of(charger->load, &windows);
    for (size_t i = 0; i < count; i++) {
        for (int k = 0; k < length_of(&windows[i]); k++) {
            if (isnan(days->w[windows[i].start_min + k])) {
                return false;
            }
        }
    }
    return true;
}

static void charge_recorded(const struct service_work *work, const struct charger *charger,
                            const struct service_managed *fresh, struct service_managed *worst)
{
    const struct service_measured *measured = &work->question->measured;
    struct recorded *days = arena_take(work->service->arena, sizeof *days);
    const struct meter_reading *last = &measured->readings[measured->reading_count - 1];
    size_t first = 0;
    int64_t midnight_s = local_s(&measured->readings[0]) / DAY_S * DAY_S;
    for (; midnight_s <= local_s(last); midnight_s += DAY_S) {
        const struct meter_date date = meter_local(midnight_s, 0);
        fill_days(measured, midnight_s, &first, days);
        const bool wanted =
            (charger->load->months >> (date.month - 1) & 1U) != 0 && (charger->load->days >> date.weekday & 1U) != 0;
        if (wanted && is_recorded(charger, days)) {
            struct service_managed now = *fresh;
            now.month = date.month - 1;
            now.weekday = date.weekday;
            charge_day(charger, (struct minutes){days->w, TWO_DAYS}, 0, &now);
            keep_worst(&now, worst);
        }
    }
}

/* ------------------------------------------------------------------ the vehicle --------------------------- */

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
    for (size_t i = 0; !managed->from_readings && i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        if (i != vehicle && !service_is_removed(work, i) && has_no_time(load) && appliance_is_load(load)) {
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
        .busiest_va = -1,
        .from_readings = work->question->measured.reading_count > 0,
    };
    struct service_managed *worst = arena_take(work->service->arena, sizeof *worst);
    *worst = fresh;
    if (fresh.from_readings) {
        charge_recorded(work, &charger, &fresh, worst);
    } else {
        charge_week(work, vehicle, &charger, &fresh, worst);
    }
    if (worst->busiest_va < 0) {
        return NULL; /* no day of its days and months, or none that was read whole */
    }
    name_left_out(work, vehicle, worst);
    return worst;
}
