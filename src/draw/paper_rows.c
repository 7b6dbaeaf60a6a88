/* An answer's rows as a table on paper, from their one description. */
#include "ampsum/print.h"
#include "ampsum/show_rows.h"

static const struct print_column *paper_columns(struct print_document *document,
                                                const struct show_column *const *columns, size_t count,
                                                const void *answer)
{
    struct print_column *made = arena_array(document->arena, count, sizeof *made);
    struct text heading = {0};
    for (size_t i = 0; i < count; i++) {
        text_clear(&heading);
        show_heading(columns[i], SHOW_PAPER, answer, &heading);
        made[i] = (struct print_column){arena_copy(document->arena, text_string(&heading)), columns[i]->weight,
                                        columns[i]->kind == SHOW_FIGURE || columns[i]->right};
    }
    text_done(&heading);
    return made;
}

void print_more_rows(struct print_document *document, struct print_table *table, const struct show_rows *rows,
                     const void *answer, size_t count)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, SHOW_PAPER, answer, columns);
    struct show_cell cell = {0};
    struct text value = {0};
    for (size_t row = 0; row < count; row++) {
        for (size_t i = 0; i < column_count; i++) {
            show_get_cell(columns[i], answer, row, &cell);
            text_clear(&value);
            show_value(columns[i], &cell, &value);
            print_cell(document, table, text_string(&value));
        }
    }
    text_done(&value);
    text_done(&cell.made);
}

struct print_table *print_rows(struct print_document *document, const char *caption, const struct show_rows *rows,
                               const void *answer, size_t count)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, SHOW_PAPER, answer, columns);
    struct print_table *table =
        print_table_add(document, caption, paper_columns(document, columns, column_count, answer), column_count);
    print_more_rows(document, table, rows, answer, count);
    return table;
}
