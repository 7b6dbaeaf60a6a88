/* The answer of `settle`: a row for each move, its JSON, and the sentences of the terminal. */
#include "ampsum/show_settle.h"

#include <math.h>

#include "ampsum/show_combos.h"

static const char *const cautions[] = {
    "A move means that the appliance is used where the other branch has its outlets, never over an extension cord.",
    NULL};

/* What an aim is called: as data, and in a sentence; in one about the currents alone, where other dangers stay. */
static const struct {
    const char *word;
    const char *words;
    const char *of_current;
} aims[SETTLE_AIMS] = {
    {"none-over", "no branch is over at its busiest minute",
     "no breaker carries too much at its branch's busiest minute"},
    {"none-at-risk", "no branch is over even with everything on",
     "no breaker carries too much even with everything on"},
};

const char *show_reach_word(enum decide_reach reach)
{
    static const char *const words[] = {"room", "floor", "house"};
    return words[reach];
}

/* ------------------------------------------------------------------ rows ---------------------------------- */

static const char *aim_word(enum settle_aim aim)
{
    return aims[aim].word;
}

static SHOW_WORD_TAKE(take_aim, enum settle_aim, aim_word) static SHOW_WORD_TAKE(take_reach, enum decide_reach,
                                                                                 show_reach_word)

#define LOAD(member) SHOW_VIA(struct settle_answer, moves, struct settle_move, appliance, struct appliance, member)
#define FROM(member) SHOW_VIA(struct settle_answer, moves, struct settle_move, from, struct branch, member)
#define TO(member) SHOW_VIA(struct settle_answer, moves, struct settle_move, to, struct branch, member)

    static const struct show_column columns[] = {
        {.key = "aim",
         .faces = SHOW_CSV,
         SHOW_ELEMENT(struct settle_answer, moves, struct settle_move),
         SHOW_TAKEN(struct settle_move, aim, take_aim)},
        {.key = "appliance", .faces = SHOW_DATA, LOAD(id)},
        {.key = "name", .faces = SHOW_JSON, LOAD(name)},
        {.key = "from", .faces = SHOW_DATA, FROM(id)},
        {.key = "to", .faces = SHOW_DATA, TO(id)},
};

const struct show_rows show_settle_rows = SHOW_ROWS_OF(columns);

/* ------------------------------------------------------------------ programs ------------------------------ */

static void get_plan_aim(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    cell->words = aims[row].word;
}

static void get_moves(const void *answer, size_t row, struct show_cell *cell)
{
    const struct settle_found *found = &((const struct settle_answer *)answer)->found[row];
    const struct settle_answer part = {.moves = found->moves};
    cell->part = show_json_array(&show_settle_rows, &part, found->move_count);
}

#define PLAN(member) .faces = SHOW_JSON, SHOW_EACH_IN(struct settle_answer, found, struct settle_found, member)

static const struct show_column plan_columns[] = {
    {.key = "aim", .faces = SHOW_JSON, .get = get_plan_aim},
    {.key = "found", PLAN(plan.found)},
    {.key = "impossible", PLAN(plan.impossible)},
    {.key = "proved", PLAN(plan.proved)},
    {.key = "moves", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_moves},
    {.key = "count", PLAN(needed)},
    {.key = "count_at_least", PLAN(needed_at_least)},
    {.key = "worst_percent", PLAN(worst_percent)},
};
static const struct show_rows plan_rows = SHOW_ROWS_OF(plan_columns);

static const struct show_column answer_columns[] = {
    {.key = "reach", .faces = SHOW_JSON, SHOW_TAKEN(struct settle_answer, reach, take_reach)},
    {.key = "plans", SHOW_ARRAY(plan_rows, SETTLE_AIMS)},
};

json_t *show_settle_json(const struct settle_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    return show_answer_json("settle", answer->house->name, &rows, answer, cautions);
}

/* ------------------------------------------------------------------ people -------------------------------- */

static void add_moves_needed(const struct settle_found *found, const char *aim, struct text *line)
{
    const struct settle_plan *plan = &found->plan;
    text_say(line, "%zu %s, and then %s; the fullest is at %.0f %% of its breaker. ", plan->moves,
             plan->moves == 1 ? "move" : "moves", aim, found->worst_percent);
    if (plan->proved) {
        text_add(line, "Fewer moves can't do it (proved).");
    } else {
        text_printf(line, "The search was stopped: %zu moves or more are needed, so fewer than %zu may do.",
                    plan->moves_most, plan->moves);
    }
}

/* What was found and proved for an aim, as one sentence. */
static void add_verdict(const struct settle_found *found, const char *aim, struct text *line)
{
    const struct settle_plan *plan = &found->plan;
    if (plan->found && plan->moves == 0) {
        text_printf(line, "Nothing has to move: %s.", aim);
    } else if (plan->found) {
        add_moves_needed(found, aim, line);
    } else if (plan->impossible) {
        text_printf(line, "There are no moves within reach after which %s (proved).", aim);
    } else {
        text_printf(line,
                    "The search was stopped before it found moves after which %s; it takes at least %zu, if it can be "
                    "done.",
                    aim, plan->moves_most);
    }
}

void show_settle_verdict(const struct settle_answer *answer, enum settle_aim aim, struct text *text)
{
    const struct settle_found *found = &answer->found[aim];
    add_verdict(found, answer->other_dangers ? aims[aim].of_current : aims[aim].words, text);
    if (!found->whole_moments) {
        text_add(text, " This house has too many different moments to compare: every load counted as on all the time.");
    }
}

const char *show_settle_caution(void)
{
    return cautions[0];
}

static void write_found(const struct settle_answer *answer, enum settle_aim aim, const struct page *page,
                        struct text *text)
{
    const struct settle_found *found = &answer->found[aim];
    struct text line = {0};
    show_settle_verdict(answer, aim, &line);
    show_line(page, 0, 0, &line, text);
    for (size_t i = 0; i < found->move_count; i++) {
        const struct settle_move *move = &found->moves[i];
        decide_name(move->appliance, move->appliance->count, &line);
        text_printf(&line, " (%s): from %s to %s", move->appliance->id, move->from->label, move->to->label);
        show_line(page, 2, 4, &line, text);
    }
}

/* Branches that are over all the same after the moves: by their current, or by another danger. */
static void write_stays(const struct settle_answer *answer, bool by_current, const struct page *page, struct text *text)
{
    const size_t first = by_current ? 2 : 0;
    for (size_t i = 0; i < answer->stays_count; i++) {
        const struct settle_stays *stays = &answer->stays[i];
        if (stays->by_current == by_current) {
            show_say(page, first, first + 2, text,
                     by_current ? "%s stays over, which no move within reach changes: %s"
                                : "%s is over, and no move puts that right: %s. Ask a licensed electrician.",
                     stays->branch->id, stays->finding->text);
        }
    }
}

void show_settle_text(const struct settle_answer *answer, const struct page *page, struct text *text)
{
    write_stays(answer, false, page, text);
    text_add(text, answer->other_dangers ? "\n" : "");
    if (!answer->same) {
        write_found(answer, SETTLE_NONE_OVER, page, text);
        text_add_char(text, '\n');
    }
    write_found(answer, SETTLE_NONE_AT_RISK, page, text);
    write_stays(answer, true, page, text);
    text_add_char(text, '\n');
    show_cautions_text(page, cautions, text);
}
