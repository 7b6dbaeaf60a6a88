#include "lesson_picture.h"

#include <string.h>

static const enum wire_gate gates[] = {[LESSON_NO_GATE] = GATE_NONE,
                                       [LESSON_SWITCH_CLOSED] = GATE_CLOSED,
                                       [LESSON_SWITCH_OPEN] = GATE_OPEN,
                                       [LESSON_BREAK] = GATE_BREAK};
static const enum load_sign signs[] = {
    [LESSON_RESISTOR] = SIGN_RESISTOR, [LESSON_MACHINE] = SIGN_MOTOR, [LESSON_BARE] = SIGN_NONE};

/* With no line's end between a letter and its value: "Kettle, P1 = 900 W". */
static const char *unparted(const char *label, struct arena *arena)
{
    static const char equals[] = " = ";
    struct text text = {0};
    for (const char *next; (next = strstr(label, equals)) != NULL; label = next + strlen(equals)) {
        text_add_length(&text, label, (size_t)(next - label));
        text_add(&text, "\xC2\xA0=\xC2\xA0");
    }
    text_add(&text, label);
    return arena_text(arena, &text);
}

/* Two rails and nothing else: its names have the whole width. */
static bool is_plain(const struct lesson_figure *figure)
{
    return figure->rails == 2 && figure->cells[0][0] == NULL && !figure->point;
}

static const struct ladder_rung *rungs_of(const struct lesson_figure *figure, struct arena *arena)
{
    struct ladder_rung *rungs = arena_array(arena, figure->count, sizeof *rungs);
    for (size_t i = 0; i < figure->count; i++) {
        const struct lesson_rung *rung = &figure->rungs[i];
        rungs[i] = (struct ladder_rung){.name = is_plain(figure) ? unparted(rung->label, arena) : rung->label,
                                        .current = rung->current,
                                        .back = rung->back,
                                        .terminal = rung->terminal,
                                        .sign = signs[rung->sign],
                                        .gate = gates[rung->gate],
                                        .from = rung->from,
                                        .to = rung->to,
                                        .row = rung->row};
    }
    return rungs;
}

struct picture lesson_picture(const struct lesson_figure *figure, const struct ladder_look *look, struct arena *arena)
{
    struct ladder *ladder = arena_take(arena, sizeof *ladder);
    struct ladder_stretch *stretches = arena_array(arena, figure->rows, sizeof *stretches);
    stretches[0].current = figure->total;
    *ladder = (struct ladder){.title = figure->title,
                              .description = figure->sentence,
                              .rails = figure->rails,
                              .rows = figure->rows,
                              .rungs = rungs_of(figure, arena),
                              .count = figure->count,
                              .stretches = stretches,
                              .source = figure->source,
                              .mains = figure->mains,
                              .split = figure->split,
                              .neutral = figure->neutral,
                              .breaker = figure->breaker,
                              .foot = {figure->note},
                              .star = figure->star,
                              .point = figure->point,
                              .cells = figure->cells[0][0] == NULL ? NULL : figure->cells};
    for (size_t i = 0; i < LADDER_RAIL_NAMES; i++) {
        ladder->rail_names[i] = figure->rail_names[i];
    }
    struct ladder_look own = *look;
    own.width = is_plain(figure) ? look->width : 0;
    return ladder_picture(ladder, &own, arena);
}
