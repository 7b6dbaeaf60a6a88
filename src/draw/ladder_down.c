/* A ladder from above: its source or head, its rows, and what stands under them. */
#include <math.h>

#include "ladder_plan.h"

static const double flat_sign = 5; /* at scale 1: what the last row's sign stands out of a flat row */

static size_t lines_of_row(const struct ladder_plan *plan, size_t row)
{
    size_t lines = 1;
    for (size_t i = 0; i < plan->ladder->count; i++) {
        if (plan->ladder->rungs[i].row == row && plan->names[i].count > lines) {
            lines = plan->names[i].count;
        }
    }
    return lines;
}

/* The source, and between it and the first row the breaker or the arrow of the whole current. */
static double place_source(struct ladder_plan *plan, double y)
{
    const struct ladder *ladder = plan->ladder;
    const double scale = plan->hand.style.scale;
    plan->source_y = y + (double)plan->source.count * plan->hand.line + (LADDER_SOURCE_HALF + 1) * scale;
    plan->way_y = plan->source_y;
    plan->down_y = plan->source_y;
    y = plan->source_y + LADDER_SOURCE_HALF * scale;
    if (ladder->breaker != NULL) {
        plan->down_y = plan->source_y + (6 + LADDER_BREAKER_LONG) * scale;
        return fmax(y, plan->down_y + 2 * scale);
    }
    const bool arrow = ladder->stretches[0].current != NULL || ladder->neutral != NULL;
    return y + (ladder->neutral != NULL ? 10 : arrow ? 4 : 0) * scale;
}

/* The rails come from elsewhere: their names, the breaker, and the head beside it. */
static double place_head(struct ladder_plan *plan, double y)
{
    const struct ladder *ladder = plan->ladder;
    const double scale = plan->hand.style.scale;
    y += plan->bare ? 2 * LADDER_END_RADIUS * scale : 0;
    plan->way_y = y;
    plan->down_y = y + (ladder->breaker != NULL ? (10 + LADDER_BREAKER_LONG) * scale : 0);
    plan->head_y = y + 4 * scale + plan->hand.font.size;
    y = fmax(plan->down_y + 4 * scale,
             plan->head_y + (double)plan->head.count * plan->hand.line - 0.6 * plan->hand.font.size);
    return plan->head.count == 0 && ladder->breaker == NULL ? plan->way_y : y;
}

static double place_top(struct ladder_plan *plan)
{
    const struct ladder *ladder = plan->ladder;
    const double y = ladder->rail_names[0] != NULL ? plan->hand.line + 2 : 2;
    if (ladder->before != NULL) {
        plan->way_y = y + plan->hand.line;
        plan->down_y = plan->way_y;
        return plan->way_y + 4;
    }
    return ladder->source != NULL ? place_source(plan, y) : place_head(plan, y);
}

/* What stands under the last row. */
static void place_bottom(struct ladder_plan *plan, double y)
{
    const struct ladder *ladder = plan->ladder;
    y += ladder->point ? 2 * plan->hand.line : plan->look.flat ? flat_sign * plan->hand.style.scale : 0;
    if (ladder->after != NULL) {
        y = fmax(y, plan->row_y[ladder->rows - 1] + LADDER_STUB);
    }
    plan->foot_y = y + plan->hand.line - 0.2 * plan->hand.font.size;
    plan->height = y + (double)(plan->foot.count + (ladder->after != NULL)) * plan->hand.line + 4;
    if (ladder->cells != NULL) {
        plan->table_y = plan->height + plan->hand.line / 2;
        plan->table_row = 1.6 * plan->hand.line;
        plan->height = plan->table_y + plan->table_row * LADDER_SIDE + 2;
    }
}

/* What the lettering or what a rung holds takes above and below a row's wire; from that to the last line's wire. */
struct row_room {
    double up;
    double down;
    double lines;
};

static struct row_room room_of_row(const struct ladder_plan *plan, size_t row)
{
    struct row_room room = {0};
    for (size_t i = 0; i < plan->ladder->count; i++) {
        const struct tree_lines *tree = &plan->trees[i];
        if (plan->ladder->rungs[i].row == row && plan->ladder->rungs[i].inside != NULL) {
            room.lines = tree->line[tree->count - 1].y;
            room.up = fmax(room.up, tree->up);
            room.down = fmax(room.down, tree->down - room.lines);
        } else if (plan->ladder->rungs[i].row == row) {
            room.up = fmax(room.up, (double)lines_of_row(plan, row) * plan->hand.line + plan->hand.above);
            room.down = fmax(room.down, plan->row_down);
        }
    }
    return room;
}

void ladder_place_down(struct ladder_plan *plan, struct arena *arena)
{
    const struct ladder *ladder = plan->ladder;
    double y = place_top(plan);
    plan->row_y = arena_array(arena, ladder->rows, sizeof *plan->row_y);
    plan->row_end = arena_array(arena, ladder->rows, sizeof *plan->row_end);
    for (size_t row = 0; row < ladder->rows; row++) {
        const struct row_room room = room_of_row(plan, row);
        plan->row_y[row] = y + room.up;
        plan->row_end[row] = plan->row_y[row] + room.lines;
        y = plan->row_end[row] + room.down;
    }
    place_bottom(plan, y);
}
