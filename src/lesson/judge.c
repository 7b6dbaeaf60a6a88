/* Judging the answers to one question. */
#include "judge.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "answer_words.h"
#include "slips.h"

enum { FAR_OFF = 100, SAME_LEAST = 3 };

/* What the student's sheet holds so far: own answers where given, what follows from them elsewhere. */
struct own {
    mpq_t *value;      /* question->count entries */
    mpq_srcptr *given; /* the same, as lesson_find takes them */
    bool *known;
    bool *wrong;       /* a wrong answer stands somewhere behind it */
    bool all_the_same; /* one number in every box: nothing follows from that */
    enum slip slip;    /* the last slip of a quantity taken for another; what it leads to is charged once */
    size_t slip_at;
};

void judgement_done(struct judgement *judgement)
{
    text_done(&judgement->read_as);
    text_done(&judgement->from_own);
    text_done(&judgement->remark);
}

void judgement_clear(struct judgement *judgement)
{
    struct text read_as = judgement->read_as;
    struct text from_own = judgement->from_own;
    struct text remark = judgement->remark;
    text_clear(&read_as);
    text_clear(&from_own);
    text_clear(&remark);
    *judgement = (struct judgement){.verdict = MARK_EMPTY, .read_as = read_as, .from_own = from_own, .remark = remark};
}

static void own_init(struct own *own, const struct lesson_question *question)
{
    size_t count = question->count;
    *own = (struct own){.value = memory_resize(NULL, count, sizeof *own->value),
                        .given = memory_resize(NULL, count, sizeof *own->given),
                        .known = memory_resize(NULL, count, sizeof *own->known),
                        .wrong = memory_resize(NULL, count, sizeof *own->wrong)};
    for (size_t i = 0; i < count; i++) {
        mpq_init(own->value[i]);
        mpq_set(own->value[i], question->quantities[i].value);
        own->given[i] = own->value[i];
        own->known[i] = true;
        own->wrong[i] = false;
    }
}

static void own_done(struct own *own, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        mpq_clear(own->value[i]);
    }
    free(own->value);
    free(own->given);
    free(own->known);
    free(own->wrong);
}

/* True where the operands are known; `ret_wrong`: a wrong answer is among them. */
static bool look_at(const struct own *own, const size_t *operands, size_t count, bool *ret_wrong)
{
    bool known = true;
    *ret_wrong = false;
    for (size_t i = 0; i < count; i++) {
        known = known && own->known[operands[i]];
        *ret_wrong = *ret_wrong || own->wrong[operands[i]];
    }
    return known;
}

/* What follows from the student's own earlier numbers, in one of the two ways. */
static bool follows(const struct lesson_question *question, size_t index, bool other, const struct own *own, mpq_t ret,
                    bool *ret_wrong)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    const size_t *operands = other ? quantity->other_operands : quantity->operands;
    size_t count = other ? quantity->other_count : quantity->operand_count;
    return look_at(own, operands, count, ret_wrong) && lesson_find(question, index, other, own->given, ret);
}

/* What an answer is held against. */
struct target {
    const struct lesson_plan *plan;
    const struct lesson_question *question;
    size_t index;
    const struct own *own;
    mpq_srcptr value;
};

/* How good one way to read an answer is, best first. */
enum fit { FIT_RIGHT, FIT_CARRIED, FIT_THOUSANDS, FIT_NONE };

struct finding {
    enum fit fit;
    mpq_t written; /* in the quantity's own unit */
    mpq_t against; /* the value that it is right by */
};

static bool fits(const struct target *target, const struct written_way *way, const mpq_t written, const mpq_t value)
{
    return written_fits(way, written, value, target->plan->scheme.tolerance_ppm);
}

static bool is_thousands_off(const struct target *target, const struct written_way *way, const mpq_t written)
{
    bool off = false;
    mpq_t scaled;
    mpq_init(scaled);
    for (long power = -9; power <= 9 && !off; power += 3) {
        mpq_set_ui(scaled, 1, 1);
        mpz_ui_pow_ui(power < 0 ? mpq_denref(scaled) : mpq_numref(scaled), 10, (unsigned long)labs(power));
        mpq_mul(scaled, scaled, target->value);
        off = power != 0 && mpq_sgn(target->value) != 0 && fits(target, way, written, scaled);
    }
    mpq_clear(scaled);
    return off;
}

static bool rounds_as_asked(const struct target *target, const struct written_way *way, const mpq_t written,
                            const mpq_t value)
{
    return written_figures_fit(way, written, value, target->question->figures);
}

/* Near enough to the key, but rounded as asked from own wrong numbers: carried, which is worth the figures, too. */
static bool is_better_carried(const struct target *target, const struct written_way *way, const mpq_t written,
                              mpq_t ret_against)
{
    bool better = false;
    bool wrong = false;
    const bool asks = target->plan->generator >= LESSON_GENERATOR_MARKS && !target->own->all_the_same &&
                      !rounds_as_asked(target, way, written, target->value);
    for (int other = 0; asks && other < 2 && !better; other++) {
        better = follows(target->question, target->index, other == 1, target->own, ret_against, &wrong) && wrong &&
                 fits(target, way, written, ret_against) && rounds_as_asked(target, way, written, ret_against);
    }
    return better;
}

static void find_fit(const struct target *target, const struct written_way *way, struct finding *finding)
{
    bool wrong = false;
    finding->fit = FIT_NONE;
    if (fits(target, way, finding->written, target->value)) {
        finding->fit = is_better_carried(target, way, finding->written, finding->against) ? FIT_CARRIED : FIT_RIGHT;
        if (finding->fit == FIT_RIGHT) {
            mpq_set(finding->against, target->value);
        }
        return;
    }
    for (int other = 0; other < 2 && finding->fit == FIT_NONE; other++) {
        if (follows(target->question, target->index, other == 1, target->own, finding->against, &wrong) &&
            fits(target, way, finding->written, finding->against)) {
            /* Own rounding on the way is no fault. */
            finding->fit = !wrong ? FIT_RIGHT : target->own->all_the_same ? FIT_NONE : FIT_CARRIED;
        }
    }
    if (finding->fit == FIT_NONE && is_thousands_off(target, way, finding->written)) {
        finding->fit = FIT_THOUSANDS;
    }
}

/* The written number in the quantity's own unit; a unit of another quantity leaves the number as it stands. */
static void set_written(mpq_t ret, const struct written *written, size_t way, enum exact_quantity measure)
{
    mpq_set(ret, written->way[way].number);
    if (written->has_unit && written->quantity == measure) {
        mpq_mul(ret, ret, written->factor);
    }
}

/* A number without a unit is taken in the one that is asked for; with another quantity's, too, where no sheet was
 * judged otherwise before. */
static bool is_in_asked_unit(const struct target *target, const struct written *written, enum exact_quantity measure)
{
    return !written->has_unit || (written->quantity != measure && target->plan->generator >= LESSON_GENERATOR_MARKS);
}

/* Such a number is in the unit that the sheet asks for, or in the plain one, whichever is right. */
static void find_fit_in_units(const struct target *target, const struct written *written, size_t way,
                              struct finding *finding)
{
    const struct lesson_quantity *quantity = &target->question->quantities[target->index];
    const int power = is_in_asked_unit(target, written, quantity->measure) ? quantity->power : 0;
    mpq_t plain;
    mpq_init(plain);
    set_written(plain, written, way, quantity->measure);
    mpq_set(finding->written, plain);
    if (power != 0) {
        mpq_set_ui(finding->written, 1, 1);
        mpz_ui_pow_ui(power < 0 ? mpq_denref(finding->written) : mpq_numref(finding->written), 10,
                      (unsigned long)labs(power));
        mpq_mul(finding->written, finding->written, plain);
    }
    find_fit(target, &written->way[way], finding);
    if (power != 0 && finding->fit > FIT_CARRIED) {
        struct finding other;
        mpq_inits(other.written, other.against, NULL);
        mpq_set(other.written, plain);
        find_fit(target, &written->way[way], &other);
        if (other.fit <= FIT_CARRIED) {
            finding->fit = other.fit;
            mpq_set(finding->written, other.written);
            mpq_set(finding->against, other.against);
        }
        mpq_clears(other.written, other.against, NULL);
    }
    mpq_clear(plain);
}

/* 12500 MA for 12.5 A: the capital was meant small. */
static bool is_milli_meant(const struct target *target, const struct written *written, enum exact_quantity measure)
{
    if (!written->mega || written->quantity != measure) {
        return false;
    }
    struct finding finding;
    mpq_inits(finding.written, finding.against, NULL);
    mpq_set_ui(finding.written, 1, 1000);
    mpq_mul(finding.written, finding.written, written->way[0].number);
    find_fit(target, &written->way[0], &finding);
    bool meant = finding.fit == FIT_RIGHT || finding.fit == FIT_CARRIED;
    mpq_clears(finding.written, finding.against, NULL);
    return meant;
}

/* The best way to read the digits; SIZE_MAX where only a doubtful one is any better. */
static size_t best_way(const struct target *target, const struct written *written, struct finding *finding)
{
    enum fit first = FIT_NONE;
    for (size_t way = 0; way < written->way_count; way++) {
        find_fit_in_units(target, written, way, finding);
        first = way == 0 ? finding->fit : first;
        if (way > 0 && finding->fit < first) {
            return written->way[way].doubt != NULL ? SIZE_MAX : way;
        }
        if (finding->fit <= FIT_CARRIED) {
            return way;
        }
    }
    find_fit_in_units(target, written, 0, finding);
    return 0;
}

static bool currency_fits(const char *currencies, const char *currency)
{
    return currencies == NULL || strstr(currencies, currency) != NULL;
}

/* True where the unit written is the quantity's own, or the currency. */
static bool written_unit_is_right(const struct written *written, enum exact_quantity measure, const char *currency)
{
    return written->has_unit && written->quantity == measure &&
           (measure != EXACT_MONEY || currency_fits(written->currencies, currency));
}

static bool has_unit_point(const struct lesson_scheme *scheme, enum exact_quantity measure)
{
    return !scheme->units_printed && (measure == EXACT_MONEY || exact_unit(measure)[0] != '\0');
}

/* Points that an answer of this kind has at most. */
static unsigned scheme_most(const struct lesson_scheme *scheme, enum exact_quantity measure)
{
    switch (measure) {
    case EXACT_YES_NO:
        return scheme->yes_no;
    case EXACT_ARROW:
        return scheme->arrow;
    case EXACT_DIRECTION:
        return scheme->way;
    case EXACT_CHOICE:
        return scheme->choice;
    case EXACT_PART:
        return scheme->part;
    default:
        return scheme->value + scheme->figures + (has_unit_point(scheme, measure) ? scheme->unit : 0);
    }
}

unsigned lesson_points(const struct lesson_plan *plan, const struct lesson_question *question)
{
    unsigned points = 0;
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        const bool counts = quantity->asked != NULL && !quantity->measured;
        points += counts ? scheme_most(&plan->scheme, quantity->measure) : 0;
    }
    return points;
}

static void give_points(const struct lesson_scheme *scheme, enum exact_quantity measure, enum fit fit,
                        struct judgement *judgement)
{
    bool value = fit == FIT_RIGHT || fit == FIT_CARRIED;
    judgement->verdict = fit == FIT_RIGHT ? MARK_RIGHT : fit == FIT_CARRIED ? MARK_CARRIED : MARK_WRONG;
    judgement->value_right = value;
    judgement->unit_right = value && judgement->unit_right;
    judgement->figures_right = value && judgement->figures_right;
    if (value) {
        judgement->points = scheme->value + (judgement->figures_right ? scheme->figures : 0) +
                            (judgement->unit_right && has_unit_point(scheme, measure) ? scheme->unit : 0);
    } else {
        judgement->points = fit == FIT_THOUSANDS ? scheme->prefix : 0;
    }
}

/* What the student wrote stands for the quantity from here on, where anything may follow from it. */
static void keep_own(const struct target *target, struct own *own, const mpq_t written, enum fit fit)
{
    mpq_t ratio;
    mpq_init(ratio);
    bool usable = fit != FIT_THOUSANDS && (fit == FIT_RIGHT || mpq_sgn(written) > 0);
    if (usable && fit != FIT_RIGHT) {
        usable = mpq_sgn(target->value) > 0;
        mpq_div(ratio, written, usable ? target->value : written);
        usable = usable && mpq_cmp_ui(ratio, FAR_OFF, 1) < 0 && mpq_cmp_ui(ratio, 1, FAR_OFF) > 0;
    }
    mpq_set(own->value[target->index], written);
    own->known[target->index] = usable;
    own->wrong[target->index] = fit != FIT_RIGHT;
    mpq_clear(ratio);
}

/* The part without a number: what follows from own numbers stands in for it. */
static void fill_in(const struct lesson_question *question, size_t index, struct own *own)
{
    mpq_t value;
    bool wrong = false;
    mpq_init(value);
    own->known[index] = follows(question, index, false, own, value, &wrong);
    if (own->known[index]) {
        mpq_set(own->value[index], value);
        own->wrong[index] = wrong;
    }
    mpq_clear(value);
}

/* What follows from own wrong numbers, for the row: "5.50 A". */
static void show_own(const struct target *target, struct text *text)
{
    bool wrong = false;
    mpq_t value;
    mpq_init(value);
    const struct lesson_quantity *quantity = &target->question->quantities[target->index];
    if (follows(target->question, target->index, false, target->own, value, &wrong) && wrong) {
        lesson_amount(text, target->plan->language, value, quantity, target->question->figures);
        text_printf(text, "%s%s", quantity->measure == EXACT_MONEY ? " " : "",
                    quantity->measure == EXACT_MONEY ? target->plan->currency : "");
    }
    mpq_clear(value);
}

static void name_slip(const struct target *target, const struct written *written, size_t way, struct finding *finding,
                      struct own *own, struct judgement *judgement)
{
    struct slip_finding slip = {0};
    slip_of(target->question, target->index, own->given, &written->way[way], finding->written, &slip);
    if (slip.slip == SLIP_NONE && !written->has_unit && target->question->quantities[target->index].power != 0) {
        mpq_set(finding->written, written->way[way].number); /* or in the plain unit */
        slip_of(target->question, target->index, own->given, &written->way[way], finding->written, &slip);
    }
    judgement->slip = finding->fit == FIT_THOUSANDS && slip.slip == SLIP_NONE ? SLIP_PREFIX : slip.slip;
    if (finding->fit != FIT_NONE || slip.slip == SLIP_NONE || !slip.by_swap) {
        return;
    }
    if (own->slip == slip.slip) {
        finding->fit = FIT_CARRIED; /* charged where it first stood */
        mpq_set(finding->against, finding->written);
        struct text part = {0};
        lesson_part(target->question, own->slip_at, &part, NULL);
        say(&judgement->remark, target->plan->language, "remark.same-slip", "part", text_string(&part),
            (const char *)NULL);
        text_done(&part);
    }
    own->slip = slip.slip;
    own->slip_at = own->slip == slip.slip && finding->fit == FIT_CARRIED ? own->slip_at : target->index;
}

static void judge_number(const struct target *target, const struct written *written, struct own *own,
                         struct judgement *ret)
{
    const struct lesson_quantity *quantity = &target->question->quantities[target->index];
    struct finding finding;
    mpq_inits(finding.written, finding.against, NULL);
    const size_t way = best_way(target, written, &finding);
    if (way == SIZE_MAX || (finding.fit > FIT_CARRIED && is_milli_meant(target, written, quantity->measure))) {
        ret->verdict = MARK_DECIDE;
        say_message(&ret->remark, target->plan->language, way == SIZE_MAX ? written->way[1].doubt : "doubt.capital-m");
        written_show(written, way == SIZE_MAX ? 1 : 0, &ret->read_as);
        fill_in(target->question, target->index, own);
    } else {
        written_show(written, way, &ret->read_as);
        show_own(target, &ret->from_own);
        if (finding.fit > FIT_CARRIED) {
            name_slip(target, written, way, &finding, own, ret);
        }
        ret->unit_right = written_unit_is_right(written, quantity->measure, target->plan->currency);
        ret->figures_right =
            written_figures_fit(&written->way[way], finding.written, finding.against, target->question->figures);
        if (finding.fit <= FIT_CARRIED && !ret->figures_right &&
            slip_is_cut(&written->way[way], finding.written, finding.against, target->question->figures)) {
            ret->slip = SLIP_CUT;
        }
        give_points(&target->plan->scheme, quantity->measure, finding.fit, ret);
        keep_own(target, own, finding.written, finding.fit);
    }
    mpq_clears(finding.written, finding.against, NULL);
}

static void judge_word(const struct target *target, const struct written *written, struct own *own,
                       struct judgement *ret)
{
    const struct lesson_quantity *quantity = &target->question->quantities[target->index];
    mpq_t value;
    bool wrong = false;
    mpq_init(value);
    bool right = mpq_cmp_si(target->value, written->value, 1) == 0;
    bool carried = !right && follows(target->question, target->index, false, own, value, &wrong) && wrong &&
                   mpq_cmp_si(value, written->value, 1) == 0;
    mpq_set_si(own->value[target->index], written->value, 1);
    own->known[target->index] = true;
    own->wrong[target->index] = !right;
    exact_figure(&ret->read_as, own->value[target->index], quantity->measure, 1);
    ret->verdict = right ? MARK_RIGHT : carried ? MARK_CARRIED : MARK_WRONG;
    ret->value_right = right || carried;
    ret->points = ret->value_right ? ret->points_most : 0;
    if (ret->verdict == MARK_WRONG) {
        ret->slip = slip_of_word(target->question, target->index, written->value);
    }
    mpq_clear(value);
}

/* |a - b| < |c - b| */
static bool is_nearer(const mpq_t a, const mpq_t b, const mpq_t c)
{
    mpq_t one;
    mpq_t other;
    mpq_inits(one, other, NULL);
    mpq_sub(one, a, b);
    mpq_sub(other, c, b);
    mpq_abs(one, one);
    mpq_abs(other, other);
    const bool nearer = mpq_cmp(one, other) < 0;
    mpq_clears(one, other, NULL);
    return nearer;
}

/* Which of two ways to read the digits, and of two units of a bare number, was meant: the one nearest to the key. */
static size_t nearest_reading(const struct target *target, const struct written *written, mpq_t ret)
{
    const struct lesson_quantity *quantity = &target->question->quantities[target->index];
    const int power = is_in_asked_unit(target, written, quantity->measure) ? quantity->power : 0;
    size_t best = 0;
    mpq_t value;
    mpq_init(value);
    for (size_t way = 0; way < written->way_count; way++) {
        for (int asked = 0; asked <= (power != 0); asked++) {
            set_written(value, written, way, quantity->measure);
            for (int i = 0; i < (asked ? abs(power) : 0); i++) {
                mpz_mul_ui(power < 0 ? mpq_denref(value) : mpq_numref(value),
                           power < 0 ? mpq_denref(value) : mpq_numref(value), 10);
            }
            mpq_canonicalize(value);
            if ((way == 0 && asked == 0) || is_nearer(value, target->value, ret)) {
                mpq_set(ret, value);
                best = way;
            }
        }
    }
    mpq_clear(value);
    return best;
}

/* A reading is the student's own: taken as it is, without points. */
static void judge_reading(const struct target *target, struct written *written, const char *answer, struct own *own,
                          struct judgement *ret)
{
    const struct lesson_quantity *quantity = &target->question->quantities[target->index];
    const struct written_context context = {quantity->measure, target->plan->scheme.decimal_sign};
    judgement_clear(ret);
    written_read(answer == NULL ? "" : answer, &context, written);
    const bool number = written->form == ANSWER_NUMBER;
    own->known[target->index] = number;
    if (number) {
        const size_t way = nearest_reading(target, written, own->value[target->index]);
        written_show(written, way, &ret->read_as);
    }
    ret->verdict = number || written->form == ANSWER_EMPTY ? (number ? MARK_RIGHT : MARK_EMPTY) : MARK_DECIDE;
    ret->value_right = number;
    if (!number) {
        say_message(&ret->remark, target->plan->language,
                    written->form == ANSWER_EMPTY ? "reading.not-read" : written->why);
    }
}

/* What follows from the student's own reading and else from the true figures; false where nothing was read. */
static bool follow_reading(const struct lesson_question *question, size_t index, const struct own *own, mpq_t ret)
{
    mpq_srcptr *values = memory_resize(NULL, question->count, sizeof *values);
    bool known = true;
    for (size_t i = 0; i < question->count; i++) {
        values[i] = question->quantities[i].measured ? own->value[i] : question->quantities[i].value;
        known = known && (own->known[i] || !question->quantities[i].measured || i > index);
    }
    known = known && lesson_find(question, index, false, values, ret);
    free(values);
    return known;
}

static void judge(const struct target *target, struct written *written, const char *answer, struct own *own,
                  struct judgement *ret)
{
    const struct lesson_quantity *quantity = &target->question->quantities[target->index];
    const struct written_context context = {quantity->measure, target->plan->scheme.decimal_sign};
    judgement_clear(ret);
    ret->points_most = scheme_most(&target->plan->scheme, quantity->measure);
    written_read(answer == NULL ? "" : answer, &context, written);
    if (written->form == ANSWER_NUMBER) {
        judge_number(target, written, own, ret);
    } else if (written->form == ANSWER_WORD) {
        judge_word(target, written, own, ret);
    } else {
        ret->verdict = written->form == ANSWER_EMPTY ? MARK_EMPTY : MARK_DECIDE;
        if (written->form != ANSWER_EMPTY) {
            say_message(&ret->remark, target->plan->language, written->why);
        }
        fill_in(target->question, target->index, own);
    }
    judge_remark(target->plan, target->question, target->index, written, ret);
}

/* A quantity that follows from a reading: held against what the student read. */
static void judge_by_reading(struct target target, struct written *written, const char *answer, struct own *own,
                             struct judgement *ret)
{
    mpq_t value;
    mpq_init(value);
    const bool known = follow_reading(target.question, target.index, own, value);
    target.value = value;
    judge(&target, written, answer, own, ret);
    if (!known && ret->verdict != MARK_EMPTY) {
        ret->verdict = MARK_DECIDE;
        ret->points = 0;
        ret->slip = SLIP_NONE;
        text_clear(&ret->remark);
        text_add(&ret->remark, say_plain(target.plan->language, "reading.none"));
    }
    mpq_clear(value);
}

/* One number in every box of the question: nobody worked that out. */
static bool are_all_the_same(const struct lesson_plan *plan, const struct lesson_question *question,
                             const char *const *answers, struct written *written)
{
    size_t count = 0;
    bool same = true;
    mpq_t first;
    mpq_init(first);
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->asked == NULL || quantity->given || answers[i] == NULL || answer_is_word(quantity->measure)) {
            continue;
        }
        const struct written_context context = {quantity->measure, plan->scheme.decimal_sign};
        written_read(answers[i], &context, written);
        if (written->form == ANSWER_NUMBER) {
            if (count++ == 0) {
                mpq_set(first, written->way[0].number);
            }
            same = same && mpq_equal(first, written->way[0].number);
        }
    }
    mpq_clear(first);
    return same && count >= SAME_LEAST;
}

void mark_question(const struct lesson_plan *plan, const struct lesson_question *question, const char *const *answers,
                   struct judgement *ret_judgements)
{
    if (plan->generator == LESSON_GENERATOR_FIRST) {
        mark_question_first(plan, question, answers, ret_judgements);
        return;
    }
    struct own own;
    struct written written;
    own_init(&own, question);
    written_init(&written);
    own.all_the_same = are_all_the_same(plan, question, answers, &written);
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        const struct target target = {plan, question, i, &own, quantity->value};
        if (!quantity->given && quantity->asked == NULL) {
            fill_in(question, i, &own);
        } else if (quantity->measured) {
            judge_reading(&target, &written, answers[i], &own, &ret_judgements[i]);
        } else if (lesson_rests_on_reading(question, i)) {
            judge_by_reading(target, &written, answers[i], &own, &ret_judgements[i]);
        } else if (!quantity->given) {
            judge(&target, &written, answers[i], &own, &ret_judgements[i]);
        }
    }
    written_done(&written);
    own_done(&own, question->count);
}

void judge_alone(const struct lesson_plan *plan, const struct lesson_question *question, const char *answer,
                 struct judgement *ret_judgement)
{
    struct own own;
    struct written written;
    own_init(&own, question);
    written_init(&written);
    const struct target target = {plan, question, 0, &own, question->quantities[0].value};
    judge(&target, &written, answer, &own, ret_judgement);
    written_done(&written);
    own_done(&own, question->count);
}
