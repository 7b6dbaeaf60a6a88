/* The working of `solve`, for people and programs, or as a file of text or drawn. */
#ifndef AMPSUM_CLI_CIRCUIT_OUTPUT_H
#define AMPSUM_CLI_CIRCUIT_OUTPUT_H

#include "ampsum/circuit.h"
#include "print_output.h"

/* How it is written. */
struct solve_look {
    const char *source; /* as typed; NULL: none */
    bool brief;         /* the table of figures alone */
    bool sheet;         /* to be filled in: cells and steps are left empty */
    int symbols;        /* the sign of a resistor: 0 zigzag, 1 rectangle */
};

/* Writes it to the file that is named, else to standard output; gives the exit status. */
int circuit_output(struct invocation *invocation, const struct circuit_work *work, const struct solve_look *look,
                   struct output *output);

#endif
