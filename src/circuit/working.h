/* The making of a working's steps: operands first, then the step they stand in. */
#ifndef AMPSUM_CIRCUIT_WORKING_H
#define AMPSUM_CIRCUIT_WORKING_H

#include "parts.h"

struct working {
    const struct circuit *circuit;
    const struct circuit_solution *solution;
    const struct circuit_style *style;
    struct steps *steps;
    char **operand; /* of the step at work */
    size_t operand_count;
    size_t operand_capacity;
};

/* A figure of the solution. */
const struct circuit_figure *working_cell(const struct working *working, size_t node, enum circuit_quantity quantity);

/* Each adds an operand of the step at work: a value, a figure of a node, a conductance, a number; a text is emptied. */
void working_operand_value(struct working *working, const mpq_t value, enum circuit_quantity quantity);
void working_operand_cell(struct working *working, size_t node, enum circuit_quantity quantity);
void working_operand_siemens(struct working *working, const mpq_t ohm);
void working_add_operand(struct working *working, struct text *text);

/*
 * Ends the step with its operands. Subject and result are texts, which are emptied (result NULL: none); or the result
 * is a value, or a figure of the node that is the subject.
 */
void working_end_step(struct working *working, enum step_kind kind, struct text *subject, struct text *result,
                      bool rounded);
void working_end_value(struct working *working, enum step_kind kind, struct text *subject, const mpq_t value,
                       enum circuit_quantity quantity, bool irrational);
void working_end_node(struct working *working, enum step_kind kind, size_t node, enum circuit_quantity quantity);

/* Steps from what was given: a part's rating, the unknown part, from a known figure up to the source. */
void working_rating(struct working *working, size_t node);
void working_unknown(struct working *working);
void working_climb(struct working *working, const struct circuit_known *known);

#endif
