/* Finding 18: a neutral that branches share, or that harmonics load. Limits 11 of the contract. */
#include <math.h>

#include "findings.h"

/* The branches that share one neutral, as far as the finding needs them. */
struct shared {
    double re_a; /* phasor sum of their currents */
    double im_a;
    double breakers_a;  /* sum of the ratings on the leg that carries most of them */
    double limit_a;     /* smallest of what their wires carry; NAN: no wire is known */
    double sure_a;      /* the same without figures from memory */
    bool one_leg;       /* two of them hang on one leg */
    bool protected_all; /* each has a GFCI or AFCI */
    size_t count;
};

/* Angle of a leg's voltage to the neutral, radian: split-phase half a turn apart, else a third, B behind A. */
static double leg_angle(int system, unsigned legs)
{
    const double turn = 6.283185307179586;
    if (legs == LEG_A) {
        return 0;
    }
    if (system == SYSTEM_SPLIT_PHASE) {
        return turn / 2;
    }
    return legs == LEG_B ? -turn / 3 : turn / 3;
}

/* The branch's current as everything is on, or the scene, at its leg's angle. */
static void add_phasor(const struct branch_case *branch_case, size_t index, struct shared *shared)
{
    const struct assessment *assessment = branch_case->assessment;
    const struct branch *branch = &branch_case->house->branches[index];
    const double voltage_v = branch->voltage_v * assessment->options.supply_ratio;
    const bool scene = assessment->options.basis != BASIS_BUSIEST;
    struct branch_figures figures;
    branch_total(branch_case->house, index, scene ? assessment->options.on : NULL, voltage_v, assessment->factors, NULL,
                 &figures);
    const double angle =
        leg_angle(branch_case->house->system, branch->legs) - atan2(figures.reactive_var, figures.power_w);
    shared->re_a += figures.current_a * cos(angle);
    shared->im_a += figures.current_a * sin(angle);
}

/* What the wire of one of them carries, as its neutral; small wires no more than their own limit. */
static void add_limit(const struct house *house, size_t index, struct shared *shared)
{
    const struct wire_run run = wire_run_of_branch(house, index);
    const struct wire_reading reading = wire_limit_of(house, &run).strict;
    /* fmin leaves out a NAN */
    shared->limit_a = fmin(shared->limit_a, fmin(reading.ampacity_a, reading.small_limit_a));
    shared->sure_a = fmin(shared->sure_a, fmin(reading.sure_a, reading.small_limit_a));
}

static void add_member(const struct branch_case *branch_case, size_t index, double leg_breakers_a[3],
                       struct shared *shared)
{
    const struct branch *branch = &branch_case->house->branches[index];
    const int leg = branch->legs == LEG_A ? 0 : branch->legs == LEG_B ? 1 : 2;
    shared->one_leg = shared->one_leg || leg_breakers_a[leg] > 0;
    leg_breakers_a[leg] += branch->breaker_a;
    shared->breakers_a = fmax(shared->breakers_a, leg_breakers_a[leg]);
    add_limit(branch_case->house, index, shared);
    shared->protected_all = shared->protected_all && (branch->protection & (PROTECTION_GFCI | PROTECTION_AFCI)) != 0;
    shared->count++;
    add_phasor(branch_case, index, shared);
}

static struct shared shared_of(const struct branch_case *branch_case)
{
    const struct house *house = branch_case->house;
    double leg_breakers_a[3] = {0, 0, 0};
    struct shared shared = {.limit_a = NAN, .sure_a = NAN, .protected_all = true};
    for (size_t i = branch_case->index; i < house->branch_count; i++) {
        if (house->branches[i].neutral_set == branch_case->index) {
            add_member(branch_case, i, leg_breakers_a, &shared);
        }
    }
    return shared;
}

/* What is wrong of the set, in a sentence; its severity as the variant of the finding's row, NULL: nothing is. */
static const char *judge_shared(const struct branch_case *branch_case, const struct shared *shared, double neutral_a,
                                struct text *text)
{
    const struct finder *finder = &branch_case->finder;
    const char *variant = NULL;
    if (shared->one_leg && exceeds(shared->breakers_a, shared->limit_a)) {
        text_printf(text, "on one leg, so that the neutral wire may carry %s A and is good for %s A; ",
                    figure(finder, shared->breakers_a), figure(finder, shared->limit_a));
        variant = exceeds(shared->breakers_a, shared->sure_a) ? "" : "memory";
    } else if (exceeds(neutral_a, shared->limit_a)) {
        text_printf(text, "the shared wire carries %s A and is good for %s A; ", figure(finder, neutral_a),
                    figure(finder, shared->limit_a));
        variant = exceeds(neutral_a, shared->sure_a) ? "" : "memory";
    }
    if (branch_case->branch->tied == TIED_NO) {
        text_add(text, "their handles are not tied: with one off the other keeps the box live; ");
        variant = variant == NULL ? "tied" : variant;
    } else if (branch_case->branch->tied == TIED_NOT_SAID) {
        text_add(text, "look whether their handles are tied (`tied` settles it); ");
        variant = variant == NULL ? "look" : variant;
    }
    if (shared->protected_all) {
        text_add(text,
                 "GFCI or AFCI breakers on a shared neutral open for no fault unless they are one two-pole device; ");
        variant = variant == NULL ? "look" : variant;
    }
    return variant;
}

static void check_shared(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    const struct shared shared = shared_of(branch_case);
    const double neutral_a = hypot(shared.re_a, shared.im_a);
    struct text text = {0};
    const char *variant = judge_shared(branch_case, &shared, neutral_a, &text);
    if (variant != NULL) {
        finding_add(finder, "18", variant, about_branch(branch_case),
                    FIGURES(NUMBER("neutral_a", neutral_a), NUMBER("breakers_a", shared.breakers_a),
                            NUMBER("limit_a", shared.limit_a)),
                    "%zu branches share a neutral: %sin it flow %s A with everything on", shared.count,
                    text_string(&text), figure(finder, neutral_a));
    }
    text_done(&text);
}

/* Four loaded cores: the third harmonics of the lines add up in the neutral. */
static void check_harmonics(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    const double third_percent = branch_case->branch->third_harmonic_percent;
    const struct ref_harmonic *row = reference_harmonic(branch_case->rules, third_percent);
    const struct wire_run run = wire_run_of_branch(branch_case->house, branch_case->index);
    const struct wire_reading limit = wire_limit_of(branch_case->house, &run).strict;
    if (row == NULL || isnan(limit.ampacity_a)) {
        return;
    }
    const bool scene = branch_case->assessment->options.basis != BASIS_BUSIEST;
    const double line_a = scene ? branch_case->result->other.current_a : branch_case->result->all.current_a;
    const double neutral_a = 3 * third_percent / 100 * line_a;
    const double counted_a = row->by_neutral ? neutral_a : line_a;
    if (third_percent > 0 && exceeds(counted_a / row->factor, limit.ampacity_a)) {
        finding_add(
            finder, "18", "harmonic", about_branch(branch_case),
            FIGURES(NUMBER("neutral_a", neutral_a), NUMBER("breakers_a", branch_case->branch->breaker_a),
                    NUMBER("limit_a", limit.ampacity_a)),
            "with %s %% third harmonic %s A flow in the neutral beside %s A in the lines; the cable must be good "
            "for %s A and carries %s A",
            figure(finder, third_percent), figure(finder, neutral_a), figure(finder, line_a),
            figure(finder, counted_a / row->factor), figure(finder, limit.ampacity_a));
    }
}

void check_neutral(struct branch_case *branch_case)
{
    if (branch_case->branch->neutral_set == branch_case->index) {
        check_shared(branch_case);
    } else if (branch_case->branch->poles == 3) {
        check_harmonics(branch_case);
    }
}
