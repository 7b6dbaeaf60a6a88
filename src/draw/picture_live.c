#include "ampsum/picture_live.h"

#include "ampsum/language.h"
#include "ampsum/show_live.h"
#include "ladder.h"
#include "pictures.h"

/* For a narrow screen, which makes it a tenth smaller. */
static const struct ladder_look look = {14.5, 1.6, false, 360, true, true, false};

static struct ladder_rung rung_of(const struct live_answer *answer, size_t load, struct arena *arena)
{
    const struct appliance *appliance = &answer->house->appliances[answer->loads[load]];
    return (struct ladder_rung){.name = load_name(appliance, appliance->count, arena),
                                .sign = appliance_sign(appliance),
                                .gate = GATE_EITHER,
                                .to = 1,
                                .row = load};
}

/* A sentence with the figures of the branch, in the writing of the language. */
static const char *words(const struct live_answer *answer, int language, const char *key, struct arena *arena)
{
    struct text voltage = {0};
    struct text breaker = {0};
    struct text made = {0};
    text_add_rounded(&voltage, answer->voltage_v, 1);
    text_add_rounded(&breaker, answer->branch->breaker_a, 1);
    say(&made, language, key, "voltage", text_string(&voltage), "breaker", text_string(&breaker), "loads",
        arena_printf(arena, "%zu", answer->load_count), (const char *)NULL);
    text_done(&voltage);
    text_done(&breaker);
    return picture_written(arena, language, &made);
}

struct picture picture_live(const struct live_answer *answer, int language, struct arena *arena)
{
    struct ladder *ladder = arena_take(arena, sizeof *ladder);
    struct ladder_rung *rungs = arena_array(arena, answer->load_count, sizeof *rungs);
    struct ladder_stretch *stretches = arena_array(arena, answer->load_count, sizeof *stretches);
    for (size_t i = 0; i < answer->load_count; i++) {
        rungs[i] = rung_of(answer, i, arena);
        stretches[i].current = "? A";
    }
    *ladder = (struct ladder){
        .title = say_plain(language, "figure.title"),
        .description = words(answer, language, "live.drawing", arena),
        .rails = 2,
        .rows = answer->load_count,
        .rungs = rungs,
        .count = answer->load_count,
        .stretches = stretches,
        .rail_names = {say_plain(language, "live.rail-line"), NULL, say_plain(language, "live.rail-return")},
        .breaker = "",
        .all_poles = answer->branch->poles > 1,
        .head = {words(answer, language, "live.head", arena)},
        .widest = "88.88 A",
        .marked = true};
    return ladder_picture(ladder, &look, arena);
}

size_t live_page(const struct house *house, size_t branch, int language, struct arena *arena, struct text *html)
{
    struct live_answer answer;
    struct text drawing = {0};
    answer_live(house, branch, arena, &answer);
    if (answer.load_count > 0) {
        const struct picture picture = picture_live(&answer, language, arena);
        picture_svg(&picture, &drawing);
        show_live_html(&answer, language, text_string(&drawing), html);
    }
    text_done(&drawing);
    return answer.load_count;
}
