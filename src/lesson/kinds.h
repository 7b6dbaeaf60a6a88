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

/* Adds the supply's voltage as given. */
size_t give_voltage(struct builder *builder, unsigned long voltage);

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

#endif
