/* The cells of a table, shared by what writes it for people and what writes it as CSV. */
#ifndef AMPSUM_SHOW_TABLE_CELLS_H
#define AMPSUM_SHOW_TABLE_CELLS_H

#include "ampsum/arena.h"
#include "ampsum/table.h"

struct column {
    const char *heading;
    const char *name;
    enum table_align align;
    size_t wrap_columns;
};

struct cell {
    const char *shown; /* for people */
    const char *plain; /* for CSV, where it differs; NULL: the same */
    bool is_text;
};

struct table {
    struct arena *arena;
    struct column *columns;
    size_t column_count;
    size_t column_capacity;
    struct cell *cells; /* row after row */
    size_t cell_count;
    size_t cell_capacity;
    size_t row_count;
};

/* The cell of a row and column; an empty one where the row is short. */
const struct cell *table_cell(const struct table *table, size_t row, size_t column);

#endif
