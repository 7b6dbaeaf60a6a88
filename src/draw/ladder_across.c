/* A ladder from left to right: where its rails stand, and into which lines its words are broken. */
#include <math.h>

#include "ladder_plan.h"

/* At scale 1, points. */
static const double left_room = 44; /* for what stands beside the first rail */
static const double right_room = 12;
static const double gate_room = 48; /* to each side of the lettering */
static const double current_room = 24;
static const double flat_up = 7; /* from the wire up to the base line of words on one line */

/* Some sign is a circle, or some contact rises: the lettering keeps clear of it. */
static bool stands_high(const struct ladder_plan *plan)
{
    for (size_t i = 0; i < plan->ladder->count; i++) {
        const struct ladder_rung *rung = &plan->ladder->rungs[i];
        const bool contact = plan->look.cut && rung->gate != GATE_NONE;
        if (rung->sign == SIGN_MOTOR || rung->sign == SIGN_LAMP || rung->bridged || contact || rung->inside != NULL) {
            return true;
        }
    }
    return false;
}

static bool has_figures(const struct ladder *ladder)
{
    for (size_t i = 0; i < ladder->count; i++) {
        if (ladder->rungs[i].figures != NULL) {
            return true;
        }
    }
    return false;
}

/* How far from a wire words stand. */
static void place_words(struct ladder_plan *plan)
{
    const double scale = plan->hand.style.scale;
    const bool high = stands_high(plan);
    plan->hand.above = (plan->look.flat ? flat_up : high ? 13 : 10) * scale;
    plan->hand.below = (high ? 9 : 8) * scale + 0.8 * plan->hand.font.size;
    plan->row_down = plan->look.flat             ? 2 * scale
                     : has_figures(plan->ladder) ? plan->hand.below + 0.6 * plan->hand.font.size
                                                 : 9 * scale;
}

/* Columns of one rung need less room than those that hold the loads. */
static double column_weight(const struct ladder *ladder, size_t column)
{
    size_t rungs = 0;
    for (size_t i = 0; i < ladder->count; i++) {
        rungs += ladder->rungs[i].from <= column && column < ladder->rungs[i].to;
    }
    return rungs > 1 ? 1.5 : 1;
}

/* Room beside the first rail for the widest of what stands there. */
static double room_at_left(const struct ladder_plan *plan)
{
    const struct ladder *ladder = plan->ladder;
    const double scale = plan->hand.style.scale;
    double widest = ladder->widest == NULL ? 0 : canvas_text_width(plan->hand.font, ladder->widest);
    for (size_t i = 0; i < ladder->rows; i++) {
        const char *current = ladder->stretches[i].current;
        widest = fmax(widest, current == NULL ? 0 : canvas_text_width(plan->hand.font, current));
    }
    for (size_t i = 0; i < ladder->count && ladder->star; i++) {
        const char *terminal = ladder->rungs[i].terminal;
        widest = fmax(widest, terminal == NULL ? 0 : canvas_text_width(plan->hand.font, terminal));
    }
    return fmax(left_room * scale, widest + (LADDER_BESIDE_RAIL + 4) * scale);
}

/* What the rungs hold, in lines where one stands alone; the room between the rails that this asks for. */
static double measure_trees(struct ladder_plan *plan, double room, struct arena *arena)
{
    const struct ladder *ladder = plan->ladder;
    const double sides = 2 * LADDER_TREE_SIDE * plan->hand.style.scale;
    double width = 0;
    plan->trees = arena_array(arena, ladder->count, sizeof *plan->trees);
    for (size_t i = 0; i < ladder->count; i++) {
        if (ladder->rungs[i].inside != NULL) {
            plan->trees[i] =
                tree_lines(&plan->hand, ladder->rungs[i].inside, ladder->count == 1 ? room - sides : HUGE_VAL, arena);
            width = fmax(width, plan->trees[i].width + sides);
        }
    }
    return width;
}

/* Between first and last rail: by what rungs hold, else by the lettering, whose names stand there. */
static double room_between(struct ladder_plan *plan, double left, struct arena *arena)
{
    const double scale = plan->hand.style.scale;
    const size_t rails = plan->ladder->rails;
    const double usual = (rails == 2 ? 260 : rails == 3 ? 350 : 440) * plan->look.text / ladder_usual_text;
    const bool given = plan->look.width > 0;
    const double room = (given ? plan->look.width : PICTURE_WIDTH) - left - right_room * scale;
    const double trees = measure_trees(plan, room, arena);
    return trees > 0 ? fmax(trees, usual / 2) : fmin(room, given ? 360 * scale : usual);
}

/* What a name keeps clear of to each side of it. */
static double side_room(const struct ladder_plan *plan, const struct ladder_rung *rung)
{
    const bool beside = rung->current != NULL && rung->current[0] != '\0';
    const double side = plan->look.cut            ? LADDER_PAD
                        : rung->gate != GATE_NONE ? gate_room
                        : beside                  ? current_room
                                                  : LADDER_PAD;
    return side * plan->hand.style.scale;
}

double ladder_name_room(const struct ladder_plan *plan, const struct ladder_rung *rung)
{
    return plan->rail_x[rung->to] - plan->rail_x[rung->from] - 2 * side_room(plan, rung);
}

/* Room without which a word of a name in that column would be broken. */
static double column_need(const struct ladder_plan *plan, size_t column)
{
    double need = 0;
    for (size_t i = 0; i < plan->ladder->count && !plan->look.cut; i++) {
        const struct ladder_rung *rung = &plan->ladder->rungs[i];
        if (rung->from == column && rung->to == column + 1 && rung->inside == NULL) {
            need = fmax(need, canvas_longest_word(plan->hand.strong, rung->name) + 2 * side_room(plan, rung) + 1);
        }
    }
    return need;
}

/* Columns share the room by weight, but for those that need more than their share, as far as all needs are met. */
static void share_columns(const struct ladder_plan *plan, double room, double *width)
{
    const size_t columns = plan->ladder->rails - 1;
    double weight = 0;
    double needs = 0;
    for (size_t i = 0; i < columns; i++) {
        width[i] = 0;
        weight += column_weight(plan->ladder, i);
        needs += column_need(plan, i);
    }
    for (size_t i = 0; i < columns && needs < room; i++) {
        const double own = column_weight(plan->ladder, i);
        if (width[i] <= 0 && column_need(plan, i) > room * own / weight) {
            width[i] = column_need(plan, i);
            room -= width[i];
            weight -= own;
            i = (size_t)-1; /* the others' shares are smaller now */
        }
    }
    for (size_t i = 0; i < columns; i++) {
        width[i] = width[i] > 0 ? width[i] : room * column_weight(plan->ladder, i) / weight;
    }
}

static struct ladder_block wrap(const struct ladder_plan *plan, const char *const *sentences, double width,
                                struct arena *arena)
{
    struct ladder_block block = {0};
    for (size_t i = 0; i < LADDER_SENTENCES; i++) {
        const struct canvas_lines lines = canvas_wrap(i == 0 ? plan->hand.strong : plan->hand.font, width, (size_t)-1,
                                                      sentences[i] == NULL ? "" : sentences[i], arena);
        const char **line = arena_array(arena, block.count + lines.count, sizeof *line);
        for (size_t k = 0; k < block.count + lines.count; k++) {
            line[k] = k < block.count ? block.line[k] : lines.line[k - block.count];
        }
        block = (struct ladder_block){line, block.count + lines.count, i == 0 ? lines.count : block.bold};
    }
    return block;
}

static void wrap_names(struct ladder_plan *plan, double across, struct arena *arena)
{
    const struct ladder *ladder = plan->ladder;
    plan->names = arena_array(arena, ladder->count, sizeof *plan->names);
    for (size_t i = 0; i < ladder->count && !plan->look.cut; i++) {
        const struct ladder_rung *rung = &ladder->rungs[i];
        if (rung->inside == NULL) {
            const double room = ladder->point ? across / 2 - 2 * LADDER_PAD : ladder_name_room(plan, rung);
            plan->names[i] = canvas_wrap(plan->hand.strong, room, (size_t)-1, rung->name, arena);
        }
    }
}

static void place_rails(struct ladder_plan *plan, struct arena *arena)
{
    const struct ladder *ladder = plan->ladder;
    const double scale = plan->hand.style.scale;
    double left = room_at_left(plan);
    const double room = room_between(plan, left, arena);
    const double needed = left + room + right_room * scale;
    double width[LADDER_RAILS_MOST];
    plan->width = fmax(plan->look.width, needed);
    if (plan->width <= PICTURE_WIDTH + 0.001) { /* but for the last binary digit */
        plan->width = fmin(plan->width, PICTURE_WIDTH);
    }
    left += (plan->width - needed) / 2;
    share_columns(plan, room, width);
    plan->rail_x[0] = left;
    for (size_t i = 0; i + 1 < ladder->rails; i++) {
        plan->rail_x[i + 1] = plan->rail_x[i] + width[i];
    }
    plan->right = plan->rail_x[plan->last_rail];
}

void ladder_place_across(struct ladder_plan *plan, struct arena *arena)
{
    const struct ladder *ladder = plan->ladder;
    place_words(plan);
    place_rails(plan, arena);
    const double across = plan->right - plan->rail_x[0];
    wrap_names(plan, across, arena);
    plan->head = wrap(plan, ladder->head, across - 2 * LADDER_HEAD_SIDE * plan->hand.style.scale, arena);
    plan->foot = wrap(plan, ladder->foot, plan->width - 4, arena);
    plan->source = canvas_wrap(plan->hand.font, ladder->split ? across / 2 : across, (size_t)-1,
                               ladder->source == NULL ? "" : ladder->source, arena);
}
