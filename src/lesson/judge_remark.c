/* Why an answer is not full, in words, with what would be right and how it is found. */
#include "answer_words.h"
#include "judge.h"
#include "sheet.h"

static void add_word(struct text *text, const char *word)
{
    text_add(text, text->length > 0 && word[0] != '\0' ? "; " : "");
    text_add(text, word);
}

static void add_unit_fault(const struct lesson_plan *plan, const struct lesson_quantity *quantity,
                           const struct written *written, struct text *text)
{
    const char *unit = lesson_unit(plan, quantity);
    if (unit[0] == '\0' || plan->scheme.units_printed) {
        return;
    }
    bool none = written != NULL && !written->has_unit;
    text_add(text, text->length > 0 ? "; " : "");
    say(text, plan->language, none ? "remark.no-unit" : "remark.other-unit", "unit", unit, (const char *)NULL);
}

static void add_figures_fault(const struct lesson_question *question, struct text *text)
{
    struct count_word figures;
    text_add(text, text->length > 0 ? "; " : "");
    say(text, question->language, "remark.figures", "figures", count_word(&figures, question->figures),
        (const char *)NULL);
}

void judge_add_right(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                     struct text *text)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    if (lesson_rests_on_reading(question, index)) {
        add_word(text, say_plain(plan->language, "reading.follows"));
        return;
    }
    struct text right = {0};
    if (!quantity->given) {
        lesson_step_text(question, index, &right); /* ends with what is right */
    }
    if (right.length == 0) {
        struct text answer = {0};
        lesson_answer(plan, question, index, &answer);
        say(&right, plan->language, "remark.right", "answer", text_string(&answer), (const char *)NULL);
        text_done(&answer);
    }
    add_word(text, text_string(&right));
    text_done(&right);
}

void judge_remark(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                  const struct written *written, struct judgement *judgement)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    struct text *text = &judgement->remark;
    if (judgement->points >= judgement->points_most) {
        return;
    }
    const bool number = !answer_is_word(quantity->measure);
    if (judgement->verdict == MARK_DECIDE) {
        return;
    }
    if (judgement->verdict == MARK_EMPTY) {
        add_word(text, say_plain(plan->language, "remark.empty"));
    }
    if (judgement->value_right && number && !judgement->unit_right) {
        add_unit_fault(plan, quantity, written, text);
    }
    if (judgement->value_right && number && !judgement->figures_right) {
        add_figures_fault(question, text);
    }
    add_word(text, slip_about(plan->language, judgement->slip));
    if (judgement->from_own.length > 0 && judgement->verdict == MARK_WRONG) {
        text_add(text, text->length > 0 ? "; " : "");
        say(text, plan->language, "remark.from-own", "answer", text_string(&judgement->from_own), (const char *)NULL);
    }
    judge_add_right(plan, question, index, text);
}
