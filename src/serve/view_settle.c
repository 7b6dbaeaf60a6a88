/* The fewest moves of plug-in appliances after which no branch is over. */
#include <string.h>

#include "ampsum/show_combos.h"
#include "ampsum/show_settle.h"
#include "site.h"

static void add_moves(struct visit *visit, const struct settle_found *found)
{
    page_add(visit, found->move_count > 0 ? "<ol class=\"sets\">" : "");
    for (size_t i = 0; i < found->move_count; i++) {
        const struct settle_move *move = &found->moves[i];
        struct text name = {0};
        decide_name(move->appliance, move->appliance->count, &name);
        page_add(visit,
                 "<li>Use <strong>%s</strong> on <a href=\"/branch/%s\">%s</a>, not on <a "
                 "href=\"/branch/%s\">%s</a>.</li>",
                 arena_text(visit->arena, &name), move->to->id, move->to->label, move->from->id, move->from->label);
    }
    page_add(visit, found->move_count > 0 ? "</ol>\n" : "");
}

static void add_aim(struct visit *visit, const struct settle_answer *answer, enum settle_aim aim)
{
    struct text line = {0};
    show_settle_verdict(answer, aim, &line);
    if (!answer->same) {
        page_add(visit, "<h2>%s</h2>",
                 aim == SETTLE_NONE_OVER ? "For the busiest minute" : "For everything on at once");
    }
    page_paragraph(visit, answer->same ? "answer" : NULL, &line);
    add_moves(visit, &answer->found[aim]);
}

/* What stays over after all moves. */
static void add_stays(struct visit *visit, const struct settle_answer *answer)
{
    for (size_t i = 0; i < answer->stays_count; i++) {
        const struct settle_stays *stays = &answer->stays[i];
        page_add(visit,
                 "<p><a href=\"/branch/%s\">%s</a> stays over, whatever moves: %s. Ask a licensed electrician.</p>\n",
                 stays->branch->id, stays->branch->label, stays->finding->text);
    }
}

static void add_reach(struct visit *visit, const char *chosen)
{
    static const char *const words[][2] = {
        {"room", "within the room"}, {"floor", "on the same floor"}, {"house", "anywhere in the house"}};
    page_add(visit, "<p class=\"scenes\">An appliance may move: ");
    for (size_t i = 0; i < 3; i++) {
        page_add(visit, "<a href=\"/settle?reach=%s\"", words[i][0]);
        page_add(visit, strcmp(words[i][0], chosen) == 0 ? " aria-current=\"true\"" : "");
        page_add(visit, ">%s</a> ", words[i][1]);
    }
    page_add(visit, "</p>\n");
}

void view_settle(struct visit *visit)
{
    static const enum decide_reach reaches[] = {REACH_ROOM, REACH_FLOOR, REACH_HOUSE};
    struct settle_question question = {.reach = REACH_ROOM};
    for (size_t i = 0; i < 3; i++) {
        if (strcmp(form_value(&visit->query, "reach"), show_reach_word(reaches[i])) == 0) {
            question.reach = reaches[i];
        }
    }
    struct settle_answer answer;
    if (!answer_settle(visit->house, &question, &answer, &visit->error)) {
        visit_refuse(visit, 422, "No answer", error_message(&visit->error));
        return;
    }
    page_begin(visit, "What to move");
    add_reach(visit, show_reach_word(question.reach));
    if (!answer.same) {
        add_aim(visit, &answer, SETTLE_NONE_OVER);
    }
    add_aim(visit, &answer, SETTLE_NONE_AT_RISK);
    add_stays(visit, &answer);
    page_add(visit, "<p class=\"legend\">%s</p>\n", show_settle_caution());
    page_end(visit);
    settle_answer_done(&answer);
}
