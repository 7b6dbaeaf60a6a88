/*
 * A circuit typed in on paper: its picture with the trade's signs, its grid, its working; or a sheet to fill in.
 *
 * Checked: tests/unit/test_draw_network.c.
 */
#ifndef AMPSUM_PRINT_NETWORK_H
#define AMPSUM_PRINT_NETWORK_H

#include "ampsum/print.h"
#include "ampsum/show_circuit.h"

/* Width of a picture for a narrow screen; one that is wider does not fit there in letters of a text. */
enum { NETWORK_SCREEN = 360 };

struct network_style {
    bool zigzag;     /* the sign of a resistor: teeth, else a rectangle */
    bool blank;      /* without what is to be found */
    bool broken;     /* with the faults that were asked about */
    bool screen;     /* as wide as a narrow screen, in letters of its text, where it fits there */
    size_t solution; /* which one */
};

/*
 * The picture; `source` as given, NULL for none. Takes its memory from `arena`; the work must outlive it. A long row
 * goes on in further lines. False where the circuit is too large to be drawn legibly: then its description says it in
 * words.
 */
bool picture_network(const struct circuit_work *work, const char *source, struct network_style style,
                     struct arena *arena, struct picture *ret_picture);

/* The whole answer as a document; `sheet`: cells and steps are left empty. The work must outlive it. */
struct print_document *print_network(const struct circuit_work *work, const char *source, bool zigzag, bool sheet,
                                     const struct print_head *head);

#endif
