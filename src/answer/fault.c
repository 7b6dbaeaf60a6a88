#include "ampsum/answer_fault.h"

#include <math.h>

#include "ampsum/arena.h"

static bool asked_panel(const struct fault_answer *answer, size_t panel)
{
    const struct fault_question *question = &answer->question;
    if (question->branch != NO_INDEX) {
        return answer->house->branches[question->branch].panel == panel;
    }
    return question->panel == NO_INDEX || question->panel == panel;
}

static bool asked_branch(const struct fault_answer *answer, size_t branch)
{
    const struct fault_question *question = &answer->question;
    return question->branch != NO_INDEX ? question->branch == branch
                                        : asked_panel(answer, answer->house->branches[branch].panel);
}

static void add_rows(struct fault_answer *answer, size_t branch)
{
    const struct fault_branch *result = &answer->study->branches[branch];
    answer->branches[answer->branch_count++] = branch;
    for (size_t i = 0; i < result->point_count; i++) {
        answer->rows[answer->row_count++] = (struct fault_row){branch, &result->points[i], i == 0};
    }
    if (result->point_count == 0) {
        answer->rows[answer->row_count++] = (struct fault_row){branch, NULL, true};
    }
}

static void add_findings(struct fault_answer *answer, const struct finding_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        answer->danger_count += list->finding[i].severity == SEVERITY_DANGER;
    }
    finding_list_append(answer->study->arena, &answer->findings, list);
}

static void find_far(struct fault_answer *answer)
{
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct fault_point *point = answer->rows[i].point;
        if (point != NULL && (answer->far == NULL || point->joined_m > answer->far->joined_m)) {
            answer->far = point;
        }
    }
}

void answer_fault(const struct house *house, const struct fault_question *question, struct fault_answer *ret_answer)
{
    *ret_answer = (struct fault_answer){.house = house, .question = *question};
    ret_answer->study = fault_study_house(house, &question->options);
    struct arena *arena = ret_answer->study->arena;
    ret_answer->rows = arena_array(arena, house->outlet_count + house->branch_count, sizeof *ret_answer->rows);
    ret_answer->branches = arena_array(arena, house->branch_count, sizeof *ret_answer->branches);
    ret_answer->panels = arena_array(arena, house->panel_count, sizeof *ret_answer->panels);
    for (size_t i = 0; i < house->panel_count; i++) {
        if (asked_panel(ret_answer, i)) {
            ret_answer->panels[ret_answer->panel_count++] = i;
            add_findings(ret_answer, &ret_answer->study->panels[i].findings);
        }
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        if (asked_branch(ret_answer, i)) {
            add_rows(ret_answer, i);
            add_findings(ret_answer, &ret_answer->study->branches[i].findings);
            ret_answer->untold |= ret_answer->study->by_loop && isnan(ret_answer->study->branches[i].instant_a);
        }
    }
    find_far(ret_answer);
}

void fault_answer_done(struct fault_answer *answer)
{
    fault_free(answer->study);
    *answer = (struct fault_answer){0};
}
