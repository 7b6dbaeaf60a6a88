#include "ampsum/answer_estimate.h"

#include <gmp.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/decide.h"
#include "ampsum/exact.h"
#include "ampsum/freetext.h"
#include "ampsum/housefile.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"

/* A branch needs a rating, and a house a main breaker: where none is asked about, ones that nothing is judged by. */
static const char no_breaker[] = "15 A";
static const char main_breaker[] = "10000 A";
static const char branch_id[] = "branch";

/* ------------------------------------------------------------------ the house ----------------------------- */

static void set_key(struct document *document, const char *word, const char *id, const char *key, const char *value)
{
    struct document_section *section = document_find(document, word, id);
    section = section != NULL ? section : document_add(document, word, id);
    if (value != NULL) {
        document_set(document, section, key, value);
    }
}

/* `14 AWG` as `14 AWG copper`. */
static const char *with_metal(const char *wire, struct arena *arena)
{
    if (wire == NULL || strcasestr(wire, "copper") != NULL || strcasestr(wire, "alumin") != NULL) {
        return wire;
    }
    return arena_printf(arena, "%s copper", wire);
}

static struct document *make_document(const struct estimate_question *question, struct arena *arena)
{
    struct document *document = document_new("estimate");
    set_key(document, "house", "", "name", "Estimate");
    set_key(document, "house", "", "rules", rules_word(question->rules));
    set_key(document, "house", "", "system", "single-phase");
    set_key(document, "house", "", "main_breaker", main_breaker);
    set_key(document, "house", "", "voltage", question->volts);
    set_key(document, "branch", branch_id, "label", "Estimate");
    set_key(document, "branch", branch_id, "breaker", question->breaker == NULL ? no_breaker : question->breaker);
    set_key(document, "branch", branch_id, "wire", with_metal(question->wire, arena));
    set_key(document, "branch", branch_id, "length", question->run);
    return document;
}

static void add_note(struct estimate_answer *answer, size_t *capacity, const char *note)
{
    if (note != NULL) {
        answer->notes = memory_grow((void *)answer->notes, answer->note_count, capacity, sizeof *answer->notes);
        answer->notes[answer->note_count++] = note;
    }
}

static const char ordinary_start[] = "Counted as ordinary: ";

/* What is said of a key; NULL: nothing. */
static const char *said_of(const struct freetext *load, const char *key)
{
    const size_t length = strlen(key);
    for (size_t i = 0; i < load->pair_count; i++) {
        if (strncmp(load->pairs[i], key, length) == 0 && load->pairs[i][length] == '=') {
            return load->pairs[i] + length + 1;
        }
    }
    return NULL;
}

/* The voltage of an outlet under the rules. */
static double usual_v(int rules)
{
    return reference_usual_voltage_v(rules_word(rules), "single-phase");
}

/* The voltage that a load is made for where it is no outlet's usual one (115 V on 120 V is); NULL where it is. */
static const char *other_voltage(const struct freetext *load, int rules)
{
    const char *said = load->taken_voltage != NULL ? load->taken_voltage : said_of(load, "rated_voltage");
    struct text fault = {0};
    double rated_v = NAN;
    const bool read = said != NULL && quantity_read(said, DIMENSION_VOLTAGE, rules, KEY_ABOVE_ZERO, &rated_v, &fault);
    text_done(&fault);
    const double share = usual_v(rules) / rated_v;
    const bool usual = share <= reference_rule_value("voltage-warning-over", rules_word(rules)) &&
                       share >= reference_rule_value("voltage-warning-under", rules_word(rules));
    return read && (load->taken_voltage != NULL || !usual) ? said : NULL;
}

/* `240V` and `240 V` are one. */
static bool same_voltage(const char *one, const char *other, int rules)
{
    struct text fault = {0};
    double one_v = 0;
    double other_v = 0;
    const bool same = quantity_read(one, DIMENSION_VOLTAGE, rules, 0, &one_v, &fault) &&
                      quantity_read(other, DIMENSION_VOLTAGE, rules, 0, &other_v, &fault) && !(one_v < other_v) &&
                      !(one_v > other_v);
    text_done(&fault);
    return same;
}

/* All loads are made for one voltage other than an outlet's, and --volts names none: the branch has it, and says so. */
static void use_voltage(struct document *document, const char *made_for, struct estimate_answer *answer,
                        size_t *capacity)
{
    struct text text = {0};
    text_printf(&text, "Worked out at %s, which that is made for; --volts says otherwise", made_for);
    set_key(document, "house", "", "voltage", made_for);
    add_note(answer, capacity, arena_copy(answer->arena, text_string(&text)));
    text_done(&text);
}

/* Which member of the question a key of the made-up house came from; NULL: from none. */
static const char *part_of(const char *key)
{
    static const char *const keys[][2] = {
        {"breaker", "breaker"}, {"wire", "wire"}, {"length", "run"}, {"voltage", "volts"}};
    for (size_t i = 0; key != NULL && i < sizeof keys / sizeof keys[0]; i++) {
        if (strcmp(key, keys[i][0]) == 0) {
            return keys[i][1];
        }
    }
    return NULL;
}

/* What the faults of the made-up house are about: a load by its ID, all else by its key. */
static void blame(const char *const *ids, size_t count, struct error *error)
{
    for (size_t f = 0; f < error->fault_count; f++) {
        const struct error_fault *fault = &error->faults[f];
        const bool load = fault->section != NULL && strcmp(fault->section, "appliance") == 0;
        for (size_t i = 0; load && i < count; i++) {
            if (strcmp(fault->id, ids[i]) == 0) {
                error_part(error, "load", i);
            }
        }
        if (!load && part_of(fault->key) != NULL) {
            error_part(error, part_of(fault->key), 0);
        }
    }
}

/* ------------------------------------------------------------------ what a plug carries ------------------- */

/* The current of one unit at the outlet's usual voltage as far as watts, VA or A are said; 0: not known. */
static double usual_current_a(const struct freetext *load, int rules)
{
    static const struct {
        const char *key;
        enum dimension dimension;
    } ratings[] = {{"power", DIMENSION_POWER}, {"apparent", DIMENSION_APPARENT}, {"current", DIMENSION_CURRENT}};
    double current_a = 0;
    for (size_t i = 0; i < sizeof ratings / sizeof ratings[0]; i++) {
        const char *said = said_of(load, ratings[i].key);
        struct text fault = {0};
        double value = 0;
        if (said != NULL && quantity_read(said, ratings[i].dimension, rules, KEY_ABOVE_ZERO, &value, &fault)) {
            current_a = ratings[i].dimension == DIMENSION_CURRENT ? value : value / usual_v(rules);
        }
        text_done(&fault);
    }
    return current_a;
}

static double breaker_a(const struct estimate_question *question)
{
    struct text fault = {0};
    double rating_a = NAN;
    if (question->breaker != NULL) {
        quantity_read(question->breaker, DIMENSION_CURRENT, question->rules, KEY_ABOVE_ZERO, &rating_a, &fault);
    }
    text_done(&fault);
    return rating_a;
}

/* Kinds that are wired in where no plug carries them; a heater typed with so many watts is rather a slip. */
static bool is_wired_kind(const struct freetext *load)
{
    static const char *const kinds[] = {"range", "water-heating", "vehicle", "heat-pump", "pool"};
    const char *category = said_of(load, "category");
    bool found = false;
    for (size_t i = 0; category != NULL && i < sizeof kinds / sizeof kinds[0]; i++) {
        found = found || strcmp(category, kinds[i]) == 0;
    }
    return found;
}

static void add_pair(struct freetext *load, const char *pair, struct arena *arena)
{
    const char **pairs = arena_array(arena, load->pair_count + 1, sizeof *pairs);
    memcpy((void *)pairs, (const void *)load->pairs, load->pair_count * sizeof *pairs);
    pairs[load->pair_count++] = pair;
    load->pairs = pairs;
}

/*
 * A 9.5 kW shower hangs on no 13 A plug: where one plug is for all branches such a load is taken as wired in. Where a
 * plug goes with its branch and the load alone passes it, its plate may be for the house's other voltage.
 */
static const char *beyond_plug(const struct estimate_question *question, const char *typed, struct freetext *load,
                               struct arena *arena)
{
    const double rating_a = breaker_a(question);
    const struct ref_plug *plug = reference_plug(rules_word(question->rules), isnan(rating_a) ? 1 : rating_a);
    const double current_a = usual_current_a(load, question->rules);
    const double least_a =
        current_a * (1 - reference_rule_value("plate-rounding-most", rules_word(question->rules)) / 100);
    if (plug == NULL || question->volts != NULL || freetext_says(load, "fixed") || !(least_a > plug->rating_a)) {
        return NULL;
    }
    struct text note = {0};
    const bool one_plug = isnan(plug->circuit_to_a);
    if (one_plug && is_wired_kind(load)) {
        add_pair(load, "fixed=yes", arena);
        text_printf(&note, "%s: taken as wired in, for no %s carries it; fixed=no behind it says otherwise", load->name,
                    plug->name);
    } else if (!one_plug && !isnan(rating_a) && !freetext_says(load, "rated_voltage")) {
        text_printf(&note, "%s draws ", load->name);
        text_add_rounded(&note, current_a, 1);
        text_add(&note, " A at ");
        text_add_rounded(&note, usual_v(question->rules), 1);
        text_printf(&note,
                    " V, more than a %s gives: where its plate says another voltage, add it, such as '%s, 240 V'",
                    plug->name, typed);
    }
    const char *copy = note.length > 0 ? arena_copy(arena, text_string(&note)) : NULL;
    text_done(&note);
    return copy;
}

/* Every load onto the branch, its ID into `ids`. That nothing was said of how long they run is noted once. */
static bool add_loads(const struct estimate_question *question, struct document *document,
                      struct estimate_answer *answer, const char **ids, struct error *error)
{
    bool silent = false;
    size_t capacity = 0;
    struct text ordinary = {0};
    const char *made_for = NULL;
    bool one_voltage = question->volts == NULL;
    for (size_t i = 0; i < question->load_count; i++) {
        struct freetext load;
        const bool read = freetext_read(answer->arena, question->loads[i], question->rules, &load, error);
        const char *wired = read ? beyond_plug(question, question->loads[i], &load, answer->arena) : NULL;
        if (!read || !freetext_add(document, &load, branch_id, NULL, NULL, &ids[i], error)) {
            error_part(error, "load", i);
            text_done(&ordinary);
            return false;
        }
        const char *other = other_voltage(&load, question->rules);
        one_voltage = one_voltage && other != NULL && (i == 0 || same_voltage(other, made_for, question->rules));
        made_for = other;
        text_printf(&ordinary, "%s%s",
                    !load.ordinary         ? ""
                    : ordinary.length == 0 ? ordinary_start
                                           : ", ",
                    load.ordinary ? load.name : "");
        add_note(answer, &capacity, load.note);
        add_note(answer, &capacity, wired);
        silent = silent || freetext_leaves_run_open(&load);
    }
    if (silent) {
        add_note(answer, &capacity, rules_running_time_note(question->rules, "say continuous=yes", answer->arena));
    }
    if (ordinary.length > 0) {
        text_add(&ordinary, "; category=… behind a load may change that");
        add_note(answer, &capacity, arena_copy(answer->arena, text_string(&ordinary)));
    }
    text_done(&ordinary);
    if (one_voltage) {
        use_voltage(document, made_for, answer, &capacity);
    }
    return true;
}

/* ------------------------------------------------------------------ figures ------------------------------- */

/* Findings of the contract's list, and whatever stands behind a verdict. */
static bool is_asked(const struct estimate_answer *answer, const struct finding *finding)
{
    static const char *const whenever[] = {"1", "3", "5", "6", "7", "9", "15"};
    static const char *const without_breaker[] = {"6", "7", "8"};
    const char *const *ids = answer->judged ? whenever : without_breaker;
    const size_t count =
        answer->judged ? sizeof whenever / sizeof *whenever : sizeof without_breaker / sizeof *whenever;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(ids[i], finding->id) == 0) {
            return true;
        }
    }
    return answer->judged && finding->severity != SEVERITY_NOTE;
}

static void take_findings(struct estimate_answer *answer)
{
    const struct finding_list *all = &answer->branch.result->findings;
    answer->findings.finding = arena_array(answer->arena, all->count, sizeof *all->finding);
    for (size_t i = 0; i < all->count; i++) {
        if (is_asked(answer, &all->finding[i])) {
            answer->findings.finding[answer->findings.count++] = all->finding[i];
        }
    }
}

static void take_sets(struct estimate_answer *answer)
{
    if (!answer->judged) {
        return;
    }
    const struct house *house = answer->house;
    const size_t branch = answer->branch.index;
    const struct planning_factors factors = rules_factors(house, answer->arena);
    const struct combos_problem problem = decide_combos(house, branch, factors, answer->arena);
    unsigned *units = arena_array(answer->arena, house->appliance_count, sizeof *units);
    combos_first(&problem, ESTIMATE_SETS_MOST, &answer->sets);
    answer->set_count = combos_count(&problem);
    answer->set_current_a = arena_array(answer->arena, answer->sets.set_count, sizeof *answer->set_current_a);
    for (size_t i = 0; i < answer->sets.set_count; i++) {
        const struct combos_set *set = &answer->sets.sets[i];
        answer->set_current_a[i] =
            decide_set_figures(house, branch, factors, set->parts, set->part_count, units).current_a;
    }
}

/* Power times price, rounded once to the currency's own digits. */
static bool take_cost(const struct estimate_question *question, struct estimate_answer *answer, struct error *error)
{
    if (question->price == NULL) {
        return true;
    }
    struct text decimal = {0};
    struct text fault = {0};
    if (!quantity_read_decimal(question->price, DIMENSION_NONE, &decimal, &fault)) {
        error_refuse(error, "--price", "price", question->price, text_string(&fault));
        text_done(&decimal);
        text_done(&fault);
        return false;
    }
    const struct ref_currency *currency = reference_currency(answer->house->currency);
    mpq_t cost;
    mpq_t price;
    mpq_init(cost);
    mpq_init(price);
    exact_set_decimal(price, text_string(&decimal));
    mpq_set_d(cost, answer->energy_kwh_hour);
    mpq_mul(cost, cost, price);
    text_clear(&decimal);
    exact_write_places(&decimal, cost, currency == NULL ? 2 : (unsigned)currency->minor_units);
    answer->cost_hour = arena_copy(answer->arena, text_string(&decimal));
    mpq_clear(cost);
    mpq_clear(price);
    text_done(&decimal);
    return true;
}

static void take_figures(struct estimate_answer *answer)
{
    const struct branch_question question = {.choice = {.wires = true, .loads = true}, .branch = 0};
    answer_branch(answer->house, &question, &answer->branch);
    const struct branch_assessment *result = answer->branch.result;
    answer->drop_v = result->drop_percent / 100 * result->voltage_v;
    answer->energy_kwh_hour = result->all.power_w / 1000;
    take_findings(answer);
    take_sets(answer);
}

bool answer_estimate(const struct estimate_question *question, struct estimate_answer *ret_answer, struct error *error)
{
    *ret_answer = (struct estimate_answer){.arena = arena_new(), .judged = question->breaker != NULL};
    struct document *document = make_document(question, ret_answer->arena);
    const char **ids = arena_array(ret_answer->arena, question->load_count, sizeof *ids);
    const bool added = add_loads(question, document, ret_answer, ids, error);
    const bool built = added && house_build(document, &ret_answer->house, error);
    if (!built) {
        blame(ids, added ? question->load_count : 0, error); /* the IDs are the document's */
    }
    document_free(document);
    if (!built) {
        return false;
    }
    take_figures(ret_answer);
    return take_cost(question, ret_answer, error);
}

void estimate_answer_done(struct estimate_answer *answer)
{
    combos_list_done(&answer->sets);
    branch_answer_done(&answer->branch);
    house_free(answer->house);
    free((void *)answer->notes);
    arena_free(answer->arena);
    *answer = (struct estimate_answer){0};
}
