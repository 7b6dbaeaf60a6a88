#include "ampsum/picture_live.h"

#include "ladder.h"
#include "pictures.h"

/* For a narrow screen, which makes it a tenth smaller. */
static const struct ladder_look look = {14.5, 1.6, false, 360, true, true};

static struct ladder_rung rung_of(const struct live_answer *answer, size_t load, struct arena *arena)
{
    const struct appliance *appliance = &answer->house->appliances[answer->loads[load]];
    struct text name = {0};
    if (appliance->count > 1) {
        text_printf(&name, "%u \xC3\x97 ", appliance->count);
    }
    text_add(&name, appliance->name);
    return (struct ladder_rung){.name = picture_string(arena, &name),
                                .sign = appliance_sign(appliance),
                                .gate = GATE_EITHER,
                                .to = 1,
                                .row = load};
}

static const char *words(struct arena *arena, const char *format, double first, double second)
{
    struct text text = {0};
    for (const char *at = format; *at != '\0'; at++) {
        if (*at == '#') {
            text_add_rounded(&text, first, 1);
            first = second;
        } else {
            text_add_char(&text, *at);
        }
    }
    return picture_string(arena, &text);
}

struct picture picture_live(const struct live_answer *answer, struct arena *arena)
{
    struct ladder *ladder = arena_take(arena, sizeof *ladder);
    struct ladder_rung *rungs = arena_array(arena, answer->load_count, sizeof *rungs);
    struct ladder_stretch *stretches = arena_array(arena, answer->load_count, sizeof *stretches);
    for (size_t i = 0; i < answer->load_count; i++) {
        rungs[i] = rung_of(answer, i, arena);
        stretches[i].current = "? A";
    }
    *ladder = (struct ladder){
        .title = "Circuit",
        .description = words(
            arena,
            "Parallel circuit behind a breaker of # A: # loads, each with its contact on a rung between two rails",
            answer->branch->breaker_a, (double)answer->load_count),
        .rails = 2,
        .rows = answer->load_count,
        .rungs = rungs,
        .count = answer->load_count,
        .stretches = stretches,
        .rail_names = {"line", NULL, "return"},
        .breaker = "",
        .all_poles = answer->branch->poles > 1,
        .head = {words(arena, "# V, breaker # A", answer->voltage_v, answer->branch->breaker_a)},
        .widest = "88.88 A",
        .marked = true};
    return ladder_picture(ladder, &look, arena);
}
