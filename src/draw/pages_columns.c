/* How wide a table's columns are on paper. */
#include <math.h>

#include "pages.h"

/* Shares `room` out by weight among the columns that are left open (width below 0). */
static void share_out(const struct print_table *table, double room, double *width)
{
    double sum = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        sum += width[i] < 0 ? table->columns[i].weight : 0;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] = width[i] < 0 ? room * table->columns[i].weight / sum : width[i];
    }
}

/* Of what is left the headings get what they would like to stand on one line, as far as it goes; returns the rest. */
static double widen_headings(const struct print_table *table, const double *whole, double rest, double *width)
{
    double wanted = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        wanted += fmax(0, whole[i] - width[i]);
    }
    const double share = wanted > 0 ? fmin(1, rest / wanted) : 0;
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] += share * fmax(0, whole[i] - width[i]);
    }
    return rest - share * wanted;
}

/* Every column what it would like, headings the rest, words what is left then; false where there is too little. */
static bool give_all(const struct print_table *table, const double *wish, const double *whole, double room,
                     double *width)
{
    double rest = room;
    double weight = 0;
    bool words = false;
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] = wish[i];
        rest -= wish[i];
        words = words || !table->columns[i].right;
    }
    if (rest < 0) {
        return false;
    }
    rest = widen_headings(table, whole, rest, width);
    for (size_t i = 0; i < table->column_count; i++) {
        weight += !words || !table->columns[i].right ? table->columns[i].weight : 0;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] += !words || !table->columns[i].right ? rest * table->columns[i].weight / weight : 0;
    }
    return true;
}

/* Figures what they would like, and words too that take no more than their share; false where that leaves too little.
 */
static bool give_figures(const struct print_table *table, const double *wish, double room, double *width)
{
    double rest = room;
    double weight = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        const bool right = table->columns[i].right;
        width[i] = right ? wish[i] : -1;
        rest -= right ? wish[i] : 0;
        weight += right ? 0 : table->columns[i].weight;
    }
    if (rest < room / 4 || weight <= 0) {
        return false;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        const double share = rest * table->columns[i].weight / weight;
        if (width[i] < 0 && wish[i] <= share && weight > table->columns[i].weight) {
            width[i] = wish[i];
            rest -= wish[i];
            weight -= table->columns[i].weight;
            i = (size_t)-1; /* the others' shares have grown */
        }
    }
    share_out(table, rest, width);
    return true;
}

/* By what stands in the columns, in proportion where that is too wide; what is filled in by hand, by the weights. */
double *pages_columns(struct pages *pages, struct print_table *table, double size, double room)
{
    double *width = arena_array(pages->arena, table->column_count, sizeof *width);
    double *wish = arena_array(pages->arena, table->column_count, sizeof *wish);
    const struct natural *natural = walk_measure(pages->document, table);
    double *whole = arena_array(pages->arena, table->column_count, sizeof *whole);
    double wished = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        wish[i] = size * fmax(natural[i].cells, natural[i].two_lines) + 0.1;
        whole[i] = size * natural[i].heading + 0.1;
        wished += wish[i];
    }
    if (!table->ruled && (give_all(table, wish, whole, room, width) || give_figures(table, wish, room, width))) {
        return width;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] = table->ruled ? -1 : room * wish[i] / wished;
    }
    share_out(table, room, width);
    return width;
}
