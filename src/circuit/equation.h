/*
 * What a known says of the unknown resistance x. Every resistance stands in a circuit's determinant to the first power
 * (Kirchhoff), so that the whole resistance is A(x) / C(x) and every voltage and current at s volt is s L(x) / A(x),
 * with A, C and L straight lines; a power is the product of two of these. Each known is then a polynomial of at most
 * the second degree in x.
 */
#ifndef AMPSUM_CIRCUIT_EQUATION_H
#define AMPSUM_CIRCUIT_EQUATION_H

#include "parts.h"

/* slope x + base */
struct line {
    mpq_t slope;
    mpq_t base;
};

/* coefficient[i] x^i */
struct polynomial {
    mpq_t coefficient[3];
};

struct equations {
    const struct circuit *circuit;
    struct line over;             /* A */
    struct line under;            /* C */
    struct circuit_figures at[2]; /* at 1 volt, x = 1 and x = 2 ohm */
};

void line_init(struct line *line);
void line_done(struct line *line);
void polynomial_init(struct polynomial *polynomial);
void polynomial_done(struct polynomial *polynomial);

/* For a circuit with an unknown part. */
void equations_init(struct equations *equations, const struct circuit *circuit);
void equations_done(struct equations *equations);

/* L of a voltage or current of the node. */
void equations_line(const struct equations *equations, size_t node, enum circuit_quantity quantity,
                    struct line *ret_line);

/* Does the known, at a known source (`other` NULL) or beside another known, depend on x at all? */
bool equations_tell(const struct equations *equations, const struct circuit_known *known,
                    const struct circuit_known *other);

/* The polynomial that is 0 where the known holds at `voltage` (NULL allowed for a resistance). */
void equations_at(const struct equations *equations, const struct circuit_known *known, mpq_srcptr voltage,
                  struct polynomial *ret);

/* The polynomial that is 0 where both knowns, none a resistance, hold at one voltage whatever it is. */
void equations_both(const struct equations *equations, const struct circuit_known *first,
                    const struct circuit_known *second, struct polynomial *ret);

/*
 * Real roots in rising order, equal ones once; their number, 0 to 2. ret_irrational: both are roots carried to 40
 * digits. A polynomial that is a constant has none.
 */
size_t polynomial_roots(const struct polynomial *polynomial, mpq_t ret_root[2], bool *ret_irrational);

#endif
