#include "question.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/stock.h"

enum { ATTEMPTS_MOST = 20000, FRACTION_DENOMINATOR_MOST = 99, STEPS_OF_KIND_FIGURES = 18 };

/* What a sheet may show, in the quantity's unit: no lamp of 0.0003 ohm, no 40 kA; `published_most`: with the figures of
 * a published table, where that is more. */
static const struct {
    unsigned long least_thousandths;
    unsigned long most;
    unsigned long published_most;
} bounds[EXACT_QUANTITY_COUNT] = {
    [EXACT_RATIO] = {1, 1, 10},       [EXACT_CURRENT] = {10, 100, 10000}, [EXACT_VOLTAGE] = {10, 480},
    [EXACT_POWER] = {10, 25000},      [EXACT_APPARENT] = {100, 25000},    [EXACT_REACTIVE] = {100, 25000},
    [EXACT_RESISTANCE] = {50, 10000}, [EXACT_ENERGY] = {10, 1000},        [EXACT_TIME] = {1, 24},
    [EXACT_PRICE] = {1, 100000},      [EXACT_MONEY] = {1, 10000000},      [EXACT_COUNT] = {1000, 100},
    [EXACT_YES_NO] = {0, 1},          [EXACT_CONDUCTANCE] = {1, 100},     [EXACT_LENGTH] = {1000, 1000},
    [EXACT_PER_LENGTH] = {100, 1000},
};

uint64_t next_number(uint64_t *state)
{
    uint64_t z = *state += 0x9E3779B97F4A7C15U;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
    return z ^ (z >> 31);
}

unsigned pick(struct builder *builder, unsigned count)
{
    return (unsigned)(next_number(&builder->state) % count);
}

const char *lesson_kind_word(enum lesson_kind kind)
{
    return kind_rows[kind].word;
}

const char *lesson_kind_about(int language, enum lesson_kind kind)
{
    struct text key = {0};
    text_printf(&key, "kind.%s", kind_rows[kind].word);
    const char *about = say_plain(language, text_string(&key));
    text_done(&key);
    return about;
}

bool lesson_kind_find(const char *word, enum lesson_kind *ret_kind)
{
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        if (strcmp(kind_rows[kind].word, word) == 0) {
            *ret_kind = (enum lesson_kind)kind;
            return true;
        }
    }
    return false;
}

const char *lesson_kind_fits(const struct lesson_plan *plan, enum lesson_kind kind)
{
    const int language = plan->language;
    switch (kind) {
    case LESSON_NEUTRAL:
        return plan->split_phase ? NULL : say_plain(language, "unfit.neutral");
    case LESSON_CONTINUOUS:
        return plan->continuous_percent > 0 ? NULL : say_plain(language, "unfit.continuous");
    case LESSON_THREE_NEUTRAL:
        return plan->three_phase ? NULL : say_plain(language, "unfit.three-neutral");
    case LESSON_LOOP_IMPEDANCE:
    case LESSON_LONGEST_RUN:
        return plan->by_loop ? NULL : say_plain(language, "unfit.loop");
    default:
        return NULL;
    }
}

static unsigned lesson_figures(unsigned level)
{
    return level == 3 ? 4 : 3;
}

unsigned lesson_plan_figures(const struct lesson_plan *plan)
{
    return plan->scheme.figures_asked > 0 ? plan->scheme.figures_asked : lesson_figures(plan->level);
}

void lesson_question_init(struct lesson_question *question)
{
    *question = (struct lesson_question){0};
}

void lesson_question_done(struct lesson_question *question)
{
    text_done(&question->story);
    text_done(&question->reason);
    for (size_t i = 0; i < LESSON_CHOICES_MOST; i++) {
        text_done(&question->choices[i]);
    }
    for (size_t i = 0; i < question->ready; i++) {
        mpq_clear(question->quantities[i].value);
    }
    free(question->quantities);
    free(question->circuit[0].elements);
    free(question->circuit[1].elements);
    *question = (struct lesson_question){0};
}

/* The next quantity, emptied; its number is kept from question to question to spare the allocation. */
static struct lesson_quantity *add_quantity(struct lesson_question *question)
{
    question->quantities =
        memory_grow(question->quantities, question->count, &question->capacity, sizeof *question->quantities);
    struct lesson_quantity *quantity = &question->quantities[question->count];
    if (question->count == question->ready) {
        mpq_init(quantity->value);
        question->ready++;
    }
    mpq_t value;
    memcpy(&value, &quantity->value, sizeof value);
    *quantity = (struct lesson_quantity){.subject = ""};
    memcpy(&quantity->value, &value, sizeof value);
    question->count++;
    return quantity;
}

static bool is_within_bounds(const struct lesson_question *question, const struct lesson_quantity *quantity)
{
    if (quantity->measure >= EXACT_ARROW) {
        return true; /* words */
    }
    mpq_t bound;
    mpq_init(bound);
    mpq_set_ui(bound, bounds[quantity->measure].least_thousandths, question->thousands ? 1000000 : 1000);
    mpq_canonicalize(bound);
    const bool may_be_0 = quantity->kind == STEP_OPENED || quantity->kind == STEP_NEUTRAL_3 || question->zeros;
    bool within = mpq_cmp(quantity->value, bound) >= 0 || (may_be_0 && mpq_sgn(quantity->value) == 0) ||
                  quantity->kind == STEP_OPENED || quantity->kind == STEP_DIFFERENCE_SHARE;
    const unsigned long published = question->published ? bounds[quantity->measure].published_most : 0;
    const unsigned long usual = bounds[quantity->measure].most * (question->thousands ? 1000 : 1);
    const unsigned long most = published > 0 ? published : usual;
    within = within && mpq_cmp_ui(quantity->value, most, 1) <= 0;
    mpq_clear(bound);
    return within;
}

static bool is_presentable(const struct lesson_question *question, const struct lesson_quantity *quantity)
{
    if (!is_within_bounds(question, quantity)) {
        return false;
    }
    if (question->own || question->published) {
        return true; /* numbers of a house and of a table are what they are */
    }
    unsigned digits = exact_digits(quantity->value);
    bool short_decimal = digits > 0 && digits <= question->figures;
    bool short_fraction = question->level == LESSON_LEVEL_MOST && digits == 0 &&
                          mpz_cmp_ui(mpq_denref(quantity->value), FRACTION_DENOMINATOR_MOST) <= 0;
    return short_decimal || short_fraction;
}

size_t give(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
            unsigned long numerator, unsigned long denominator)
{
    mpq_t value;
    mpq_init(value);
    mpq_set_ui(value, numerator, denominator);
    mpq_canonicalize(value);
    size_t index = give_value(builder, symbol, subject, measure, value);
    mpq_clear(value);
    return index;
}

size_t give_value(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
                  const mpq_t value)
{
    struct lesson_quantity *quantity = add_quantity(builder->question);
    quantity->symbol = symbol;
    quantity->subject = subject;
    quantity->measure = measure;
    quantity->given = true;
    mpq_set(quantity->value, value);
    builder->ok = builder->ok && is_within_bounds(builder->question, quantity) && exact_digits(value) > 0 &&
                  exact_digits(value) <= 5;
    return builder->question->count - 1;
}

bool is_of_own(const struct builder *builder)
{
    return builder->plan->generator >= LESSON_GENERATOR_OWN;
}

bool is_of_networks(const struct builder *builder)
{
    return builder->plan->generator >= LESSON_GENERATOR_NETWORKS;
}

size_t hide(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
            const mpq_t value)
{
    const size_t index = give_value(builder, symbol, subject, measure, value);
    builder->question->quantities[index].hidden = true;
    return index;
}

struct text *choice(struct builder *builder)
{
    struct lesson_question *question = builder->question;
    assert(question->choice_count < LESSON_CHOICES_MOST);
    return &question->choices[question->choice_count++];
}

static bool operand_values(const struct lesson_question *question, const size_t *operands, size_t count,
                           const mpq_srcptr *values, enum step_kind kind, mpq_t ret)
{
    mpq_srcptr operand[LESSON_OPERANDS_MOST];
    for (size_t i = 0; i < count; i++) {
        operand[i] = values == NULL ? question->quantities[operands[i]].value : values[operands[i]];
    }
    return lesson_step_value(kind, operand, count, ret);
}

size_t find(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
            enum step_kind kind, const size_t *operands, size_t count)
{
    assert(count <= LESSON_OPERANDS_MOST);
    struct lesson_quantity *quantity = add_quantity(builder->question);
    quantity->symbol = symbol;
    quantity->subject = subject;
    quantity->measure = measure;
    quantity->kind = kind;
    quantity->operand_count = count;
    memcpy(quantity->operands, operands, count * sizeof *operands);
    if (builder->ok) {
        builder->ok = operand_values(builder->question, operands, count, NULL, kind, quantity->value) &&
                      is_presentable(builder->question, quantity);
    }
    return builder->question->count - 1;
}

size_t find_two(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
                enum step_kind kind, size_t first, size_t second)
{
    return find(builder, symbol, subject, measure, kind, (size_t[]){first, second}, 2);
}

void ask(struct builder *builder, size_t index, const char *asked)
{
    builder->question->quantities[index].asked = asked;
}

size_t find_asked(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
                  enum step_kind kind, size_t first, size_t second, const char *asked)
{
    const size_t found = find_two(builder, symbol, subject, measure, kind, first, second);
    ask(builder, found, asked);
    return found;
}

void other_way(struct builder *builder, size_t index, enum step_kind kind, const size_t *operands, size_t count)
{
    struct lesson_quantity *quantity = &builder->question->quantities[index];
    quantity->has_other = true;
    quantity->other_kind = kind;
    quantity->other_count = count;
    memcpy(quantity->other_operands, operands, count * sizeof *operands);
}

void probe(struct builder *builder, size_t index, enum probe_kind kind, size_t state, size_t at)
{
    struct lesson_quantity *quantity = &builder->question->quantities[index];
    quantity->probe = kind;
    quantity->state = state;
    quantity->element = at;
}

void swap(struct builder *builder, enum slip slip, size_t meant, size_t taken)
{
    struct lesson_question *question = builder->question;
    if (builder->plan->generator > LESSON_GENERATOR_FIRST) {
        assert(question->swap_count < sizeof question->swaps / sizeof question->swaps[0]);
        question->swaps[question->swap_count++] = (struct lesson_swap){slip, meant, taken};
    }
}

size_t element(struct builder *builder, size_t state, enum element_kind kind, size_t from, size_t to, size_t quantity)
{
    struct lesson_circuit *circuit = &builder->question->circuit[state];
    circuit->elements = memory_grow(circuit->elements, circuit->count, &circuit->capacity, sizeof *circuit->elements);
    circuit->elements[circuit->count] = (struct lesson_element){kind, from, to, quantity};
    return circuit->count++;
}

static uint64_t question_seed(const struct lesson_plan *plan, unsigned student, size_t index)
{
    /* A constant: the number of kinds grows, and sheets that were handed out must not change with it. */
    enum { STRIDE_OF_FIRST = 14, STRIDE = 4096 };
    const size_t stride = plan->generator == LESSON_GENERATOR_FIRST ? STRIDE_OF_FIRST : STRIDE;
    uint64_t state = plan->seed;
    state = next_number(&state) ^ student;
    state = next_number(&state) ^ (index * stride + plan->kinds[index]);
    state = next_number(&state) ^ plan->level;
    return state;
}

static void question_clear(struct lesson_question *question)
{
    question->count = 0;
    question->circuit[0].count = question->circuit[1].count = 0;
    question->swap_count = 0;
    question->drawing = DRAW_NONE;
    question->branch = NULL;
    question->own = false;
    question->published = false;
    question->mains = false;
    question->gate = LESSON_NO_GATE;
    question->prefixed = false;
    question->thousands = false;
    question->zeros = false;
    question->draw_first = false;
    question->opening = NULL;
    question->choice_count = 0;
    text_clear(&question->reason);
    for (size_t i = 0; i < LESSON_CHOICES_MOST; i++) {
        text_clear(&question->choices[i]);
    }
    question->in_series = NULL;
    question->brought = 0;
}

/* value / 10^power */
static void scale(mpq_t ret, const mpq_t value, int power)
{
    mpq_set_ui(ret, 1, 1);
    mpz_ui_pow_ui(power < 0 ? mpq_numref(ret) : mpq_denref(ret), 10, (unsigned long)(power < 0 ? -power : power));
    mpq_mul(ret, ret, value);
}

/* Units with a prefix, as the sheets write them. */
static const char *unit_of(const struct lesson_quantity *quantity)
{
    static const struct {
        enum exact_quantity measure;
        int power;
        const char *unit;
    } rows[] = {{EXACT_RESISTANCE, 3, "kohm"}, {EXACT_CURRENT, -3, "mA"}, {EXACT_CURRENT, 3, "kA"},
                {EXACT_POWER, -3, "mW"},       {EXACT_POWER, 3, "kW"},    {EXACT_CONDUCTANCE, -3, "mS"},
                {EXACT_RATIO, -2, "%"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0] && quantity->power != 0; i++) {
        if (rows[i].measure == quantity->measure && rows[i].power == quantity->power) {
            return rows[i].unit;
        }
    }
    return exact_unit(quantity->measure);
}

/* "yes", "rises", "0.2 per kWh" in that language. */
static bool add_said(struct text *text, int language, const mpq_t value, enum exact_quantity measure, unsigned figures)
{
    const bool word = measure == EXACT_YES_NO || measure == EXACT_ARROW || measure == EXACT_DIRECTION;
    const size_t unit = measure == EXACT_PRICE ? strlen(exact_unit(measure)) : 0;
    struct text made = {0};
    text_add(&made, word ? "word." : "");
    const bool rounded = exact_figure(&made, value, measure, figures);
    if (unit > 0) {
        text_add_length(text, text_string(&made), made.length - unit);
        text_add(text, say_plain(language, "word.per-kwh"));
    } else {
        say_message(text, language, text_string(&made));
    }
    text_done(&made);
    return rounded;
}

bool lesson_amount(struct text *text, int language, const mpq_t value, const struct lesson_quantity *quantity,
                   unsigned figures)
{
    if (quantity->power == 0) {
        return add_said(text, language, value, quantity->measure, figures);
    }
    mpq_t scaled;
    mpq_init(scaled);
    scale(scaled, value, quantity->power);
    const bool rounded = exact_write_decimal(text, scaled, figures);
    text_printf(text, " %s", unit_of(quantity));
    mpq_clear(scaled);
    return rounded;
}

void lesson_fraction(struct text *text, const mpq_t value, const struct lesson_quantity *quantity)
{
    mpq_t scaled;
    mpq_init(scaled);
    scale(scaled, value, quantity->power);
    exact_write_fraction(text, scaled);
    mpq_clear(scaled);
}

/* `0.142 USD per kWh`: the money that the cost is asked in. */
static void add_currency(struct text *given, const struct lesson_question *question,
                         const struct lesson_quantity *quantity)
{
    const char *each = say_plain(question->language, "word.per-kwh");
    const size_t length = strlen(each);
    if (quantity->measure == EXACT_PRICE && given->length > length) {
        given->length -= length;
        text_printf(given, "%s %s", question->currency, each);
    }
}

/* "kettle P1 = 960 W", held together by no-break spaces: a line's end does not part a number from its unit. */
static void add_given(struct text *story, const struct lesson_question *question,
                      const struct lesson_quantity *quantity)
{
    struct text given = {0};
    say_message(&given, question->language, quantity->symbol);
    text_add(&given, " = ");
    lesson_amount(&given, question->language, quantity->value, quantity, STEPS_OF_KIND_FIGURES);
    add_currency(&given, question, quantity);
    if (quantity->subject[0] != '\0') {
        say_message(story, question->language, quantity->subject);
        text_add(story, " ");
    }
    for (const char *c = text_string(&given); *c != '\0'; c++) {
        if (*c == ' ') {
            text_add(story, "\xC2\xA0");
        } else {
            text_add_char(story, *c);
        }
    }
    text_done(&given);
}

static const char *opening_of(const struct lesson_question *question)
{
    const struct kind_row *row = &kind_rows[question->kind];
    if (question->opening != NULL) {
        return question->opening;
    }
    return row->even_opening != NULL && question->level % 2 == 0 ? row->even_opening : row->opening;
}

/* A reason, or what is said of a figure and the figure behind it. */
static void add_choice(struct text *text, int language, const char *choice)
{
    const char *figure = strstr(choice, ": ");
    struct text about = {0};
    text_add_length(&about, choice, figure == NULL ? strlen(choice) : (size_t)(figure - choice));
    say_message(text, language, text_string(&about));
    if (figure != NULL) {
        text_printf(text, "%s%s", say_plain(language, "language.colon"), figure + 1);
    }
    text_done(&about);
}

/* The things between which one chooses, a line each. */
static void add_choices(struct text *story, const struct lesson_question *question)
{
    for (size_t i = 0; i < question->choice_count; i++) {
        text_printf(story, "\n%c) ", 'a' + (int)i);
        add_choice(story, question->language, text_string(&question->choices[i]));
    }
}

/* In English the sentence goes on behind the branch; each opening begins with a capital. */
static void add_opening(struct text *story, const struct lesson_question *question)
{
    struct text opening = {0};
    say_message(&opening, question->language, opening_of(question));
    if (!question->own && question->branch == NULL) {
        text_add(story, text_string(&opening));
        text_done(&opening);
        return;
    }
    if (question->language == LANGUAGE_ENGLISH) {
        opening.bytes[0] = (char)(opening.bytes[0] - 'A' + 'a');
    }
    if (question->branch != NULL) {
        say(story, question->language, "story.on-branch", "branch", question->branch, "opening", text_string(&opening),
            (const char *)NULL);
    } else {
        say(story, question->language, "story.in-house", "opening", text_string(&opening), (const char *)NULL);
    }
    text_done(&opening);
}

static void write_story(struct lesson_question *question)
{
    struct text *story = &question->story;
    struct text given = {0};
    text_clear(story);
    add_opening(story, question);
    if (question->brought > 0) {
        text_add(story,
                 say_plain(question->language, question->brought == 1 ? "story.brought-one" : "story.brought-more"));
    }
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->given && !quantity->hidden) {
            text_add(&given, given.length == 0 ? "" : say_plain(question->language, "language.between"));
            add_given(&given, question, quantity);
        }
    }
    say(story, question->language, "story.given", "given", text_string(&given), (const char *)NULL);
    add_choices(story, question);
    text_done(&given);
}

/* 1 or 7, also in thousands or thousandths: what someone writes who fills every box with one number. */
static bool is_guess(const mpq_t value, int powers)
{
    static const unsigned long guesses[] = {1, 7};
    enum { PERCENT_NEAR = 1 };
    bool found = false;
    mpq_t off;
    mpq_t scaled;
    mpq_inits(off, scaled, NULL);
    for (size_t i = 0; i < sizeof guesses / sizeof guesses[0]; i++) {
        for (int power = -powers; power <= powers; power++) { /* of a thousand */
            mpq_set_ui(scaled, 1, 1);
            mpz_ui_pow_ui(power < 0 ? mpq_denref(scaled) : mpq_numref(scaled), 1000,
                          (unsigned long)(power < 0 ? -power : power));
            mpz_mul_ui(mpq_numref(scaled), mpq_numref(scaled), guesses[i]);
            mpq_canonicalize(scaled);
            mpq_div(off, value, scaled);
            mpq_set_ui(scaled, 1, 1);
            mpq_sub(off, off, scaled);
            mpq_abs(off, off);
            found = found || mpq_cmp_ui(off, PERCENT_NEAR, 100) <= 0;
        }
    }
    mpq_clears(off, scaled, NULL);
    return found;
}

static bool asks_for_a_guess(const struct lesson_question *question)
{
    const int powers = question->own || question->published ? 0 : 2; /* a house's own 7060 W cannot be helped */
    bool found = false;
    for (size_t i = 0; i < question->count && !found; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        found =
            quantity->asked != NULL && exact_unit(quantity->measure)[0] != '\0' && is_guess(quantity->value, powers);
    }
    return found;
}

/* With prefixes, each figure gets the one that fits it. */
static void set_prefixes(struct lesson_question *question)
{
    for (size_t i = 0; i < question->count; i++) {
        struct lesson_quantity *quantity = &question->quantities[i];
        const enum exact_quantity measure = quantity->measure;
        if (measure == EXACT_CONDUCTANCE && question->kind == LESSON_CONDUCTANCE) {
            quantity->power = mpq_cmp_ui(quantity->value, 1, 1) < 0 ? -3 : 0;
        }
        if (!question->prefixed || quantity->plain || quantity->power != 0 ||
            (measure != EXACT_RESISTANCE && measure != EXACT_CURRENT && measure != EXACT_POWER)) {
            continue;
        }
        const bool small = mpq_cmp_ui(quantity->value, 1, 1) < 0 && mpq_sgn(quantity->value) > 0;
        quantity->power = small && measure != EXACT_RESISTANCE ? -3 : mpq_cmp_ui(quantity->value, 1000, 1) >= 0 ? 3 : 0;
    }
}

static bool names_loads(const struct lesson_plan *plan, size_t index)
{
    const enum lesson_kind kind = plan->kinds[index];
    return kind == LESSON_TABLE || kind == LESSON_TRIP || kind == LESSON_ENERGY || kind == LESSON_NEUTRAL ||
           kind == LESSON_CONTINUOUS || (kind == LESSON_WITHIN && plan->generator >= LESSON_GENERATOR_OWN);
}

/*
 * At least so many per cent of a sheet's questions that name loads take the house's, the same ones for every student.
 */
static bool wants_own(const struct lesson_plan *plan, size_t index)
{
    enum { WHOLE = 100 };
    size_t before = 0;
    for (size_t i = 0; i < index; i++) {
        before += names_loads(plan, i);
    }
    const size_t own_before = (before * plan->own_percent + WHOLE - 1) / WHOLE;
    const size_t own_then = ((before + 1) * plan->own_percent + WHOLE - 1) / WHOLE;
    return plan->generator > LESSON_GENERATOR_FIRST && names_loads(plan, index) && own_then > own_before;
}

/* Every other question from level 2 on has kilohms, milliamperes, kilowatts where its figures are so. */
static bool takes_prefixes(const struct builder *builder, size_t index)
{
    const enum lesson_kind kind = builder->question->kind;
    return is_of_networks(builder) && builder->question->level > 1 && index % 2 == 1 && kind != LESSON_LOOP_IMPEDANCE &&
           kind != LESSON_LONGEST_RUN && kind != LESSON_CONDUCTANCE;
}

/* Whose resistors may as well be a thousand times as large, and the currents so much smaller. */
static bool takes_kilohms(enum lesson_kind kind)
{
    return kind == LESSON_UNEQUAL || kind == LESSON_EQUAL || kind == LESSON_FIND_ONE || kind == LESSON_DIVIDE ||
           kind == LESSON_TOLERANCE || kind == LESSON_JUNCTION || kind == LESSON_CHANGE || kind == LESSON_OPEN ||
           kind == LESSON_TWO_WAYS || kind == LESSON_PRODUCT_SUM || kind == LESSON_BOUNDS || kind == LESSON_LAB;
}

void lesson_question_make(const struct lesson_plan *plan, unsigned student, size_t index,
                          struct lesson_question *question)
{
    assert(index < plan->question_count && plan->level >= 1 && plan->level <= LESSON_LEVEL_MOST);
    /* Students of one version have one sheet. */
    const unsigned sheet = plan->versions > 0 ? (student - 1) % plan->versions + 1 : student;
    struct builder builder = {.state = question_seed(plan, sheet, index), .plan = plan, .question = question};
    builder.wants_own = wants_own(plan, index);
    question->kind = plan->kinds[index];
    question->language = plan->language;
    question->currency = plan->currency;
    question->level = plan->level;
    question->figures = lesson_figures(plan->level);
    do {
        question_clear(question);
        builder.ok = true;
        question->prefixed = takes_prefixes(&builder, index);
        builder.kilo = question->prefixed && takes_kilohms(question->kind);
        question->thousands = builder.kilo;
        kind_rows[question->kind].build(&builder);
        builder.ok = builder.ok && (plan->generator == LESSON_GENERATOR_FIRST || !asks_for_a_guess(question));
        builder.attempt++;
    } while (!builder.ok && builder.attempt < ATTEMPTS_MOST);
    question->relaxed = !builder.ok;
    if (plan->generator > LESSON_GENERATOR_LETTERS) {
        set_prefixes(question);
    }
    question->figures = lesson_plan_figures(plan); /* the numbers are those of the level, whatever is asked for */
    write_story(question);
}

bool lesson_find(const struct lesson_question *question, size_t index, bool other, const mpq_srcptr *values, mpq_t ret)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    if (quantity->given || (other && !quantity->has_other)) {
        return false;
    }
    return other ? operand_values(question, quantity->other_operands, quantity->other_count, values,
                                  quantity->other_kind, ret)
                 : operand_values(question, quantity->operands, quantity->operand_count, values, quantity->kind, ret);
}

/*
 * A value in a step: as a decimal where it ends, else as a fraction, so that nothing is rounded before the end. With
 * the figures of a table, whose fractions nobody would read, as a decimal of six figures; true where that rounds.
 */
static bool add_value(const struct lesson_question *question, struct text *text, const struct lesson_quantity *quantity,
                      bool result)
{
    enum { FIGURES_OF_TABLES = 6, DENOMINATOR_DIGITS_MOST = 6 };
    const unsigned digits = exact_digits(quantity->value);
    if (question->published) {
        return lesson_amount(text, question->language, quantity->value, quantity, FIGURES_OF_TABLES);
    }
    if (digits > 0 && digits <= 6) {
        return lesson_amount(text, question->language, quantity->value, quantity, digits);
    }
    mpq_t scaled;
    mpq_init(scaled);
    scale(scaled, quantity->value, quantity->power);
    const bool as_fraction = mpz_sizeinbase(mpq_denref(scaled), 10) <= DENOMINATOR_DIGITS_MOST;
    if (as_fraction) {
        const char *unit = unit_of(quantity);
        exact_write_fraction(text, scaled);
        text_printf(text, "%s%s%s", unit[0] == '\0' ? "" : " ", unit, result ? " ≈ " : "");
    }
    mpq_clear(scaled);
    if (result || !as_fraction) {
        lesson_amount(text, question->language, quantity->value, quantity, question->figures);
    }
    return false;
}

static void add_step(const struct lesson_question *question, const struct lesson_quantity *quantity, bool other,
                     struct steps *steps)
{
    struct text texts[LESSON_OPERANDS_MOST + 1] = {0};
    const char *strings[LESSON_OPERANDS_MOST + 1];
    size_t count = other ? quantity->other_count : quantity->operand_count;
    const size_t *operands = other ? quantity->other_operands : quantity->operands;
    enum step_kind kind = other ? quantity->other_kind : quantity->kind;
    for (size_t i = 0; i < count; i++) {
        const struct lesson_quantity *operand = &question->quantities[operands[i]];
        add_value(question, &texts[i], operand, false);
    }
    if (kind == STEP_FEWEST_PARTS) {
        stock_alike_words(question->quantities[operands[0]].value, question->quantities[operands[1]].value,
                          &texts[count++]);
    }
    if (kind == STEP_REASON) {
        add_choice(&texts[count++], question->language, text_string(&question->reason));
    }
    struct text result = {0};
    const bool rounded = add_value(question, &result, quantity, true);
    for (size_t i = 0; i < count; i++) {
        strings[i] = text_string(&texts[i]);
    }
    bool in_words = kind == STEP_UNCHANGED;
    struct text subject = {0};
    steps->language = question->language;
    say_message(&subject, question->language, other ? "word.check-other" : quantity->subject);
    steps_add(steps, kind, text_string(&subject), strings, count, in_words ? NULL : text_string(&result), rounded);
    text_done(&subject);
    if (other) {
        const char *both[] = {text_string(&result), text_string(&result)};
        steps_add(steps, STEP_AGREE, say_plain(question->language, "word.check"), both, 2, NULL, false);
    }
    for (size_t i = 0; i < count; i++) {
        text_done(&texts[i]);
    }
    text_done(&result);
}

void lesson_step_text(const struct lesson_question *question, size_t index, struct text *text)
{
    struct steps steps = {0};
    add_step(question, &question->quantities[index], false, &steps);
    step_write(text, &steps.step[0], true);
    steps_done(&steps);
}

void lesson_steps_of(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                     struct steps *steps)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    mpq_t other;
    (void)plan;
    if (quantity->given) {
        return;
    }
    mpq_init(other);
    add_step(question, quantity, false, steps);
    if (lesson_find(question, index, true, NULL, other)) {
        assert(mpq_equal(other, quantity->value)); /* fractions agree to the last digit, or the question is wrong */
        add_step(question, quantity, true, steps);
    }
    mpq_clear(other);
}

void lesson_steps(const struct lesson_plan *plan, const struct lesson_question *question, struct steps *steps)
{
    for (size_t i = 0; i < question->count; i++) {
        lesson_steps_of(plan, question, i, steps);
    }
}

const char *lesson_unit(const struct lesson_plan *plan, const struct lesson_quantity *quantity)
{
    return quantity->measure == EXACT_MONEY ? plan->currency : unit_of(quantity);
}

bool lesson_rests_on_reading(const struct lesson_question *question, size_t index)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    bool rests = false;
    for (size_t i = 0; i < quantity->operand_count && !quantity->given; i++) {
        rests = rests || question->quantities[quantity->operands[i]].measured;
    }
    return rests;
}
