#include "ampsum/demand.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "demand_parts.h"

static const char *const method_words[] = {"standard", "optional", "existing", "measured", "diversity", "by-load"};

const char *demand_method_word(enum demand_method method)
{
    return method_words[method];
}

enum demand_method demand_default_method(int rules)
{
    const char *word = reference_choice_usual(rules_word(rules), "demand");
    int method = 0;
    while (word != NULL && method < DEMAND_METHOD_COUNT && strcmp(word, method_words[method]) != 0) {
        method++;
    }
    return word == NULL ? DEMAND_METHOD_COUNT : (enum demand_method)method;
}

bool demand_takes_area(const struct house *house)
{
    return reference_rule("dwelling-load", rules_word(house->rules)) != NULL;
}

bool demand_method_exists(int rules, enum demand_method method)
{
    return reference_choice_known(rules_word(rules), "demand", method_words[method]);
}

/* ------------------------------------------------------------------ lines --------------------------------- */

const char *demand_text(struct demand_work *work, const char *format, ...)
{
    if (work->quiet) {
        return "";
    }
    va_list arguments;
    va_start(arguments, format);
    struct text text = {0};
    text_printf_list(&text, format, arguments);
    va_end(arguments);
    return arena_text(work->demand->arena, &text);
}

const char *demand_figure(struct demand_work *work, double value)
{
    if (work->quiet) {
        return "";
    }
    struct text text = {0};
    text_add_rounded(&text, value, 2);
    return arena_text(work->demand->arena, &text);
}

const char *demand_source(struct demand_work *work, const char *clause, const char *edition, const char *source)
{
    if (strcmp(clause, edition) == 0 || strncmp(source, edition, strlen(edition)) == 0) {
        return demand_text(work, "%s", source);
    }
    const char *word = strstr(edition, "edition") != NULL ? "" : " edition";
    const int cited = reference_cited_edition(work->rules, work->house->code_edition);
    const char *year = cited > 0 ? demand_text(work, "%d", cited) : edition;
    struct text line = {0};
    reference_clause(&line, work->rules, clause, cited);
    const char *found = clause[0] == '\0' ? demand_text(work, "%s%s, %s", year, word, source)
                                          : demand_text(work, "%s (%s%s), %s", text_string(&line), year, word, source);
    text_done(&line);
    return found;
}

const char *demand_rule_source(struct demand_work *work, const char *id)
{
    if (work->quiet) {
        return "";
    }
    /* Lines of one kind follow each other: the text of the last row asked for is kept. */
    if (work->source_id == NULL || strcmp(work->source_id, id) != 0) {
        const struct ref_rule *row = reference_rule(id, work->rules);
        work->source_id = id;
        work->source_text = row == NULL ? "" : demand_source(work, row->clause, row->edition, row->source);
    }
    return work->source_text;
}

double demand_rule(const struct demand_work *work, const char *id)
{
    return reference_rule_value(id, work->rules);
}

void demand_note(struct demand_work *work, const char *sentence)
{
    if (!work->quiet) {
        text_add(&work->notes, sentence);
        text_add_char(&work->notes, '\n');
    }
}

static struct demand_line *line_append(struct arena *arena, struct demand_list *list)
{
    if (list->count == list->capacity) {
        size_t capacity = list->capacity == 0 ? 16 : list->capacity * 2;
        struct demand_line *moved = arena_array(arena, capacity, sizeof *moved);
        if (list->count > 0) {
            memcpy(moved, list->line, list->count * sizeof *moved);
        }
        list->line = moved;
        list->capacity = capacity;
    }
    return &list->line[list->count++];
}

void demand_add(struct demand_work *work, struct demand_list *list, enum demand_role role, const char *what,
                const char *how, double load_va, double factor, const char *source)
{
    struct demand *demand = work->demand;
    double counted_va = load_va * factor;
    if (list == &demand->lines) {
        demand->total_va += counted_va;
    } else {
        demand->neutral_va += counted_va;
    }
    if (!work->quiet) {
        *line_append(demand->arena, list) = (struct demand_line){
            .role = role,
            .what = what,
            .how = how,
            .load_va = load_va,
            .factor = factor,
            .counted_va = counted_va,
            .source = source,
        };
    }
}

/* ------------------------------------------------------------------ amperes ------------------------------- */

static unsigned panel_legs(const struct house *house, size_t panel)
{
    return panel == 0 ? house_system_legs(house) : house->panels[panel].legs;
}

double demand_divisor_v(const struct house *house, size_t panel)
{
    unsigned legs = panel_legs(house, panel);
    int poles = (int)((legs & 1U) + (legs >> 1 & 1U) + (legs >> 2 & 1U));
    /* sqrt 3 times line to line is three times line to neutral */
    return poles == 3 ? 3 * house->voltage_v : house_circuit_voltage_v(house, poles);
}

static void set_divisor(struct demand_work *work)
{
    const struct house *house = work->house;
    struct demand *demand = work->demand;
    demand->divisor_v = demand_divisor_v(house, work->options.panel);
    double times = demand->divisor_v / house->voltage_v;
    if (times > 1 && fabs(times - round(times)) < 1e-9) {
        demand->divisor =
            demand_text(work, "%s x %s V", demand_figure(work, times), demand_figure(work, house->voltage_v));
    } else {
        demand->divisor = demand_text(work, "%s V", demand_figure(work, demand->divisor_v));
    }
}

/* What balances, the items on their legs, and the motor factor on each leg's largest motor. */
static void set_lines(struct demand_work *work)
{
    struct demand *demand = work->demand;
    unsigned legs = panel_legs(work->house, work->options.panel);
    double motor_share = demand_rule(work, "motor-demand-factor") - 1;
    demand->heaviest_a = demand->current_a;
    for (unsigned leg = 0; leg < LEG_COUNT; leg++) {
        demand->leg_current_a[leg] = NAN;
        bool metered = demand->method == DEMAND_MEASURED && legs == (LEG_A | LEG_B | LEG_C);
        bool by_legs = demand->method == DEMAND_STANDARD || demand->method >= DEMAND_DIVERSITY || metered;
        if (!by_legs || (legs >> leg & 1U) == 0) {
            continue;
        }
        double line_a = work->line_a[leg] + work->balanced_va / demand->divisor_v;
        line_a += work->motor_a[leg] > 0 ? motor_share * work->motor_a[leg] : 0;
        demand->leg_current_a[leg] = line_a;
        demand->heaviest_a = line_a > demand->heaviest_a ? line_a : demand->heaviest_a;
    }
}

static void set_service(struct demand_work *work)
{
    struct demand *demand = work->demand;
    double least_a = demand->heaviest_a;
    double minimum_a = work->options.panel == 0 ? demand_rule(work, "service-minimum") : NAN;
    bool at_minimum = isfinite(minimum_a) && minimum_a > least_a;
    const struct ref_standard_size *row = NULL;
    demand->service_a = reference_next_standard_size_a(work->rules, at_minimum ? minimum_a : least_a, &row);
    demand->service_source = "";
    if (at_minimum) {
        demand->service_source = demand_rule_source(work, "service-minimum");
    } else if (row != NULL) {
        demand->service_source = demand_source(work, "", row->edition, row->source);
    }
    if (demand->heaviest_a > demand->current_a * (1 + 1e-9)) {
        demand_note(work,
                    demand_text(work, "Counted leg by leg, one leg carries %s A, more than the demand spread evenly.",
                                demand_figure(work, round(10 * demand->heaviest_a) / 10)));
    }
}

static const char *const *note_lines(struct demand_work *work)
{
    size_t count = 0;
    for (size_t i = 0; i < work->notes.length; i++) {
        count += work->notes.bytes[i] == '\n';
    }
    const char **lines = arena_array(work->demand->arena, count + 1, sizeof *lines);
    char *at = arena_copy(work->demand->arena, text_string(&work->notes));
    for (size_t i = 0; i < count; i++) {
        lines[i] = at;
        at = strchr(at, '\n');
        *at++ = '\0';
    }
    return lines;
}

/* ------------------------------------------------------------------ one demand ---------------------------- */

static void work_out(struct demand_work *work)
{
    static void (*const methods[])(struct demand_work *) = {
        demand_standard, demand_optional, demand_existing, demand_measured, demand_diversity, demand_by_load,
    };
    struct demand *demand = work->demand;
    demand->method = work->options.method;
    demand->panel = work->options.panel;
    demand->neutral_line_a = NAN;
    demand->other_va = NAN;
    set_divisor(work);
    methods[demand->method](work);
    bool has_neutral = demand->method < DEMAND_MEASURED && work->house->system != SYSTEM_SINGLE_PHASE &&
                       (panel_legs(work->house, demand->panel) & (panel_legs(work->house, demand->panel) - 1)) != 0;
    if (!has_neutral) {
        demand->neutral_va = NAN;
        demand->neutral_line_a = NAN;
        demand->neutral.count = 0;
    }
    demand->neutral_line_a = demand->method == DEMAND_STANDARD ? demand->neutral_line_a : NAN;
    demand->current_a = demand->total_va / demand->divisor_v;
    demand->neutral_current_a = demand->neutral_va / demand->divisor_v;
    set_lines(work);
}

static void work_done(struct demand_work *work)
{
    free(work->items);
    free(work->group_best);
    text_done(&work->notes);
}

/* Marks the panel and all that it feeds. */
static void mark_scope(const struct house *house, size_t panel, bool *ret_marked)
{
    ret_marked[panel] = true;
    for (bool found = true; found;) {
        found = false;
        for (size_t i = 1; i < house->panel_count; i++) {
            if (!ret_marked[i] && house->panels[i].from != NO_INDEX && ret_marked[house->panels[i].from]) {
                ret_marked[i] = true;
                found = true;
            }
        }
    }
}

/* The work on one panel with all that it feeds; memory is the demand's. */
static struct demand_work work_on(const struct house *house, const struct demand_options *options,
                                  struct demand *demand)
{
    bool *marked = arena_array(demand->arena, house->panel_count, sizeof *marked);
    size_t *branches = arena_array(demand->arena, house->branch_count, sizeof *branches);
    struct demand_work work = {
        .house = house, .rules = rules_word(house->rules), .options = *options, .demand = demand, .branches = branches};
    mark_scope(house, options->panel, marked);
    for (size_t i = 0; i < house->branch_count; i++) {
        if (marked[house->branches[i].panel]) {
            branches[work.branch_count++] = i;
        }
    }
    return work;
}

/* The figures alone; what they point to is gone. */
static struct demand figures_of(const struct house *house, const struct demand_options *options)
{
    struct demand demand = {.arena = arena_new()};
    struct demand_work work = work_on(house, options, &demand);
    work.quiet = true;
    work_out(&work);
    work_done(&work);
    arena_free(demand.arena);
    return demand;
}

double demand_total_va(const struct house *house, const struct demand_options *options)
{
    return figures_of(house, options).total_va;
}

double demand_heaviest_a(const struct house *house, const struct demand_options *options)
{
    return figures_of(house, options).heaviest_a;
}

struct demand *demand_of(const struct house *house, const struct demand_options *options)
{
    struct arena *arena = arena_new();
    struct demand *demand = arena_take(arena, sizeof *demand);
    demand->arena = arena;
    struct demand_work work = work_on(house, options, demand);
    work_out(&work);
    set_service(&work);
    demand->notes = note_lines(&work);
    work_done(&work);
    return demand;
}

void demand_free(struct demand *demand)
{
    if (demand != NULL) {
        arena_free(demand->arena);
    }
}

/* ------------------------------------------------------------------ every panel --------------------------- */

/* Depth-first order of the panels, so that what a panel feeds follows it: last[i] is one past its last. */
struct panel_order {
    size_t *place; /* of panel i */
    size_t *last;
    size_t *first_child;
    size_t *next_child;
    size_t next_place;
};

static void place_panel(struct panel_order *order, size_t panel, size_t *stack)
{
    size_t depth = 0;
    stack[depth++] = panel;
    order->place[panel] = order->next_place++;
    while (depth > 0) {
        size_t at = stack[depth - 1];
        size_t child = order->first_child[at];
        if (child == NO_INDEX) {
            order->last[at] = order->next_place;
            depth--;
            continue;
        }
        order->first_child[at] = order->next_child[child];
        order->place[child] = order->next_place++;
        stack[depth++] = child;
    }
}

static void order_panels(const struct house *house, struct arena *arena, struct panel_order *order)
{
    size_t count = house->panel_count;
    order->place = arena_array(arena, count, sizeof(size_t));
    order->last = arena_array(arena, count, sizeof(size_t));
    order->first_child = arena_array(arena, count, sizeof(size_t));
    order->next_child = arena_array(arena, count, sizeof(size_t));
    for (size_t i = 0; i < count; i++) {
        order->first_child[i] = NO_INDEX;
    }
    for (size_t i = count; i-- > 1;) {
        size_t from = house->panels[i].from;
        order->next_child[i] = order->first_child[from];
        order->first_child[from] = i;
    }
    place_panel(order, 0, arena_array(arena, count, sizeof(size_t)));
}

/* Branches by the place of their panel, so that a panel's scope is one run of them; start[p]: first of place p. */
static void sort_branches(const struct house *house, const struct panel_order *order, size_t *start, size_t *sorted)
{
    for (size_t i = 0; i < house->branch_count; i++) {
        start[order->place[house->branches[i].panel] + 1]++;
    }
    for (size_t p = 0; p < house->panel_count; p++) {
        start[p + 1] += start[p];
    }
    for (size_t i = house->branch_count; i-- > 0;) {
        sorted[--start[order->place[house->branches[i].panel] + 1]] = i;
    }
    /* Each start has slipped down by its own count: start[p + 1] is now the first of place p. */
    for (size_t p = 0; p < house->panel_count; p++) {
        start[p] = start[p + 1];
    }
    start[house->panel_count] = house->branch_count;
}

void demand_panels(const struct house *house, double *ret_heaviest_a)
{
    struct arena *arena = arena_new();
    struct panel_order order = {0};
    order_panels(house, arena, &order);
    size_t *start = arena_array(arena, house->panel_count + 1, sizeof *start);
    size_t *sorted = arena_array(arena, house->branch_count, sizeof *sorted);
    sort_branches(house, &order, start, sorted);
    struct demand_work shared = {.house = house, .rules = rules_word(house->rules), .quiet = true};
    const enum demand_method method = demand_default_method(house->rules);
    for (size_t i = 0; i < house->panel_count; i++) {
        if (method == DEMAND_METHOD_COUNT) {
            ret_heaviest_a[i] = NAN;
            continue;
        }
        struct demand demand = {.arena = arena};
        struct demand_work work = shared;
        work.options =
            (struct demand_options){.method = method, .panel = i, .measured_va = NAN, .added_from = NO_INDEX};
        work.demand = &demand;
        work.branches = sorted + start[order.place[i]];
        work.branch_count = start[order.last[i]] - start[order.place[i]];
        work_out(&work);
        ret_heaviest_a[i] = demand.heaviest_a;
        shared.items = work.items; /* room that the next panel uses again */
        shared.item_capacity = work.item_capacity;
        shared.group_best = work.group_best;
    }
    work_done(&shared);
    arena_free(arena);
}
