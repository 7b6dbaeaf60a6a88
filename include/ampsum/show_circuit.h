/*
 * The answer of `solve` as JSON, text, CSV and a picture in plain characters. Keys and order: contract, circuits.md,
 * A3 to A5. Checked: tests/golden/solve, tests/outside/solve.tsv.
 */
#ifndef AMPSUM_SHOW_CIRCUIT_H
#define AMPSUM_SHOW_CIRCUIT_H

#include "ampsum/circuit.h"
#include "ampsum/show_rows.h"

json_t *show_circuit_json(const struct circuit_work *work);

/* What stands on standard output beside a fault: status and message. */
json_t *show_circuit_fault_json(const struct circuit_fault *fault);

struct table *show_circuit_table(const struct circuit_work *work);

/* All of it; `brief`: the grid alone. `source` is the source as given, or NULL. */
void show_circuit_text(const struct circuit_work *work, const char *source, bool brief, const struct page *page,
                       struct text *text);

/* The name of a row: "R1 to R10, each", "total". */
void show_circuit_row_name(const struct circuit *circuit, int language, size_t node, struct text *text);

/* The letter over a column, U for a voltage where that is taught; a step of the working, in that letter too. */
const char *show_circuit_letter(const struct circuit_work *work, enum circuit_quantity quantity);
void show_circuit_step(const struct circuit_work *work, const struct step *step, bool utf8, struct text *text);

/* The figures of a circuit as a table: parts in reading order, groups inner ones first, the total last. */
struct show_circuit_grid {
    const struct circuit_work *work;
    const struct circuit_figures *figures;
    size_t *nodes;
    size_t count;
    size_t solution;   /* whose figures they are */
    bool bare;         /* without the fraction behind where the decimal does not end */
    bool plain;        /* in ASCII */
    const char *blank; /* a sheet to be filled in: what stands where nothing was given; NULL: it is none */
};

/* The rows of show_circuit_grid. */
extern const struct show_rows show_circuit_rows;

/* Free with show_circuit_grid_done. */
void show_circuit_grid_init(const struct circuit_work *work, const struct circuit_figures *figures,
                            struct show_circuit_grid *ret_grid);
void show_circuit_grid_done(struct show_circuit_grid *grid);

/* Each part by itself as an array, the whole as an object. */
json_t *show_circuit_parts_json(const struct circuit_work *work, const struct circuit_figures *figures);
json_t *show_circuit_total_json(const struct circuit_work *work, const struct circuit_figures *figures);

/* A cell of the grid; `fraction_too`: the fraction behind where the decimal does not end. */
void show_circuit_cell(const struct circuit_work *work, const struct circuit_figure *figure,
                       enum circuit_quantity quantity, bool fraction_too, struct text *text);

/* What a sheet to be filled in says already: the resistances that were given, and the source's voltage. */
bool show_circuit_is_given(const struct circuit_work *work, size_t node, enum circuit_quantity quantity);

/* The sheet in plain characters: what was given, and room for the rest. */
void show_circuit_sheet(const struct circuit_work *work, const char *source, const struct page *page,
                        struct text *text);

/*
 * Appends the circuit in plain characters where it fits the page; false where it does not. `blank`: a part that is to
 * be found has a question mark.
 */
bool show_circuit_drawing(const struct circuit_work *work, size_t index, bool blank, const struct page *page,
                          struct text *text);

/* What the answer's cautions are, NULL-ended; at most `most` entries. */
enum { SHOW_CIRCUIT_CAUTIONS = 4 };
void show_circuit_cautions(const struct circuit_work *work, int language,
                           const char *ret_caution[SHOW_CIRCUIT_CAUTIONS]);

#endif
