/* The builders of the kinds, and what they share. */
#ifndef AMPSUM_LESSON_KINDS_H
#define AMPSUM_LESSON_KINDS_H

#include "question.h"

/* R1, I1, P1 ... and how they are asked for. */
extern const char *const resistor_names[LOADS_MOST];
extern const char *const current_names[LOADS_MOST];
extern const char *const power_names[LOADS_MOST];
extern const char *const resistor_of[LOADS_MOST];
extern const char *const current_of[LOADS_MOST];
extern const char *const power_of[LOADS_MOST];

/* A whole fraction. */
struct ratio {
    unsigned long over;
    unsigned long under;
};

/*
 * `count` different resistances base / k with small whole k, whose parallel value ends as a decimal. `voltage` gets a
 * whole number of volts at which currents have a chance to be short.
 */
void choose_parallel(struct builder *builder, size_t count, struct ratio *resistance, unsigned long *voltage);

/* 1000 where the resistors are in kilohms, else 1: currents are so much smaller then. */
unsigned long ohms_times(const struct builder *builder);

/* Adds resistor i as given. */
size_t give_resistor(struct builder *builder, size_t i, struct ratio ratio);

/* The resistors of a question, side by side across one source. */
struct side_by_side {
    size_t count;
    size_t resistor[LOADS_MOST];
    size_t voltage;
};
struct side_by_side give_side_by_side(struct builder *builder, size_t count);

/* The wire and what hangs behind it. */
struct wired {
    struct side_by_side set;
    size_t one_way;
    size_t wire;
};
struct wired give_wired(struct builder *builder, size_t count);

/* Their resistance together, asked for; element 0 of state 0 is the source that sees it. */
size_t find_together(struct builder *builder, const size_t *resistor, size_t count);

/* The current of resistor i in that state of the circuit. */
size_t find_current(struct builder *builder, size_t i, size_t voltage, size_t resistor, size_t state);

/* Of all; `asked`: and asks for them. */
void find_currents(struct builder *builder, const struct side_by_side *set, size_t state, bool asked,
                   size_t *ret_current);

/* Asks which way a figure goes, neither of them asked for. */
void ask_trend(struct builder *builder, size_t before, size_t after, const char *subject, const char *asked);

/* That quantity's value times over / under. */
void multiple_of(const struct builder *builder, size_t of, unsigned long over, unsigned long under, mpq_t ret);

/* Adds the supply's voltage as given. */
size_t give_voltage(struct builder *builder, unsigned long voltage);

/* A load of the house and its branch's breaker, where the question wants the house's. */
bool choose_own_load(struct builder *builder, const char **ret_name, unsigned long *ret_power_w,
                     unsigned *ret_breaker_a);

void build_unequal(struct builder *builder);
void build_equal(struct builder *builder);
void build_find_one(struct builder *builder);
void build_divide(struct builder *builder);
void build_change(struct builder *builder);
void build_open(struct builder *builder);
void build_two_ways(struct builder *builder);
void build_wire(struct builder *builder);
void build_stock(struct builder *builder);
void build_table(struct builder *builder);
void build_trip(struct builder *builder);
void build_energy(struct builder *builder);
void build_neutral(struct builder *builder);
void build_power_factor(struct builder *builder);
void build_one_reading(struct builder *builder);
void build_product_sum(struct builder *builder);
void build_bounds(struct builder *builder);
void build_conductance(struct builder *builder);
void build_internal(struct builder *builder);
void build_tolerance(struct builder *builder);
void build_junction(struct builder *builder);
void build_arrows(struct builder *builder);
void build_within(struct builder *builder);
void build_ladder(struct builder *builder);
void build_loop_impedance(struct builder *builder);
void build_longest_run(struct builder *builder);
/* The ways of the third generator, where a kind has others before. */
void build_change_any(struct builder *builder);
void build_open_any(struct builder *builder);
void build_arrows_any(struct builder *builder);
void build_ladder_network(struct builder *builder);
void build_reading_network(struct builder *builder);
void build_tolerance_both(struct builder *builder);
void ask_nearest_part(struct builder *builder);

void build_prefixes(struct builder *builder);
void build_grid(struct builder *builder);
void build_continuous(struct builder *builder);
void build_three_neutral(struct builder *builder);
void build_why(struct builder *builder);
void build_impossible(struct builder *builder);
void build_fault(struct builder *builder);
void build_lab(struct builder *builder);

#endif
