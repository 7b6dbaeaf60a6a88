/* From the forms to nodes: counts spread out, nested lists of one kind made one, names given. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"
#include "form.h"

struct builder {
    struct circuit *circuit;
    struct forms *forms;
    const char **place; /* of each node, for messages */
    size_t place_capacity;
    size_t parts;
    size_t runs;
    struct scan scan;
};

static bool build_in(struct builder *builder, size_t form, size_t parent, bool counted);

size_t circuit_add_node(struct circuit *circuit, enum circuit_kind kind, size_t parent)
{
    circuit->nodes = memory_grow(circuit->nodes, circuit->node_count, &circuit->node_capacity, sizeof *circuit->nodes);
    struct circuit_node *node = &circuit->nodes[circuit->node_count];
    *node = (struct circuit_node){.kind = kind, .parent = parent, .first = CIRCUIT_NONE, .next = CIRCUIT_NONE};
    mpq_init(node->ohm);
    mpq_init(node->rating);
    mpq_init(node->rating_v);
    if (parent != CIRCUIT_NONE) {
        size_t *link = &circuit->nodes[parent].first;
        while (*link != CIRCUIT_NONE) {
            link = &circuit->nodes[*link].next;
        }
        *link = circuit->node_count;
    }
    return circuit->node_count++;
}

static size_t add_node(struct builder *builder, enum circuit_kind kind, size_t parent, const char *place)
{
    const size_t node = circuit_add_node(builder->circuit, kind, parent);
    builder->place = memory_grow(builder->place, node, &builder->place_capacity, sizeof *builder->place);
    builder->place[node] = place;
    return node;
}

/* Resistance of a rating: V^2 / P or V / I. */
static bool set_rating(struct builder *builder, const struct form *form, struct circuit_node *node)
{
    const struct circuit *circuit = builder->circuit;
    mpq_set(node->rating, form->number.value);
    if (form->has_volts) {
        mpq_set(node->rating_v, form->volts.value);
    } else if (form->part == CIRCUIT_WATTS && circuit->has_source_v) {
        mpq_set(node->rating_v, circuit->source_v);
        node->rating_ours = true;
    } else {
        const size_t length = strcspn(form->place, "|+()");
        const char *unit = form->part == CIRCUIT_WATTS ? "W" : "A";
        const char *end = memrchr(form->place, *unit, length);
        struct text given = {0};
        text_add_length(&given, form->place, end == NULL ? length : (size_t)(end - form->place) + 1);
        scan_fail(&builder->scan, form->place,
                  form->part == CIRCUIT_WATTS ? "refuse.power-alone" : "refuse.current-alone", "given",
                  text_string(&given), (const char *)NULL);
        text_done(&given);
        return false;
    }
    mpq_div(node->ohm, node->rating_v, form->number.value);
    if (form->part == CIRCUIT_WATTS) {
        mpq_mul(node->ohm, node->ohm, node->rating_v);
    }
    return scan_in_range(&builder->scan, form->place, node->ohm, "refuse.zero-ohm");
}

static bool set_part(struct builder *builder, const struct form *form, size_t index)
{
    struct circuit_node *node = &builder->circuit->nodes[index];
    node->given = form->part;
    switch (form->part) {
    case CIRCUIT_OHMS:
        mpq_set(node->ohm, form->number.value);
        return true;
    case CIRCUIT_SIEMENS:
        mpq_set(node->rating, form->number.value);
        mpq_inv(node->ohm, form->number.value);
        return true;
    case CIRCUIT_WATTS:
    case CIRCUIT_AMPERES:
        return set_rating(builder, form, node);
    case CIRCUIT_UNKNOWN:
        if (builder->circuit->unknown != CIRCUIT_NONE) {
            return circuit_fail(builder->scan.fault, CIRCUIT_UNDETERMINED, "refuse.two-unknown", (const char *)NULL);
        }
        builder->circuit->unknown = index;
        return true;
    }
    return true;
}

/* A counted name gets numbers. */
static bool set_name(struct builder *builder, struct form *form, bool counted, struct circuit_node *node)
{
    if (form->name == NULL) {
        return true;
    }
    struct text name = {0};
    text_add(&name, form->name);
    if (counted && isdigit((unsigned char)name.bytes[name.length - 1])) {
        text_done(&name);
        return scan_fail(&builder->scan, form->place, "refuse.counted-name", "name", form->name, (const char *)NULL);
    }
    if (counted) {
        text_printf(&name, "%u", ++form->given);
    }
    node->name = name.bytes;
    return true;
}

static bool build_part(struct builder *builder, struct form *form, size_t parent, bool counted)
{
    if (builder->parts == CIRCUIT_PARTS_MOST) {
        return scan_fail_most(&builder->scan, form->place, "refuse.parts", CIRCUIT_PARTS_MOST);
    }
    builder->parts++;
    const size_t index = add_node(builder, CIRCUIT_PART, parent, form->place);
    return set_name(builder, form, counted, &builder->circuit->nodes[index]) && set_part(builder, form, index);
}

/* The bare item, its count left out, into a list of the parent's kind; a list of that kind is merged. */
static bool build_base(struct builder *builder, size_t index, size_t parent, bool counted)
{
    struct form *form = &builder->forms->form[index];
    if (form->kind == CIRCUIT_PART) {
        return build_part(builder, form, parent, counted);
    }
    size_t list = parent;
    if (form->kind != builder->circuit->nodes[parent].kind) {
        list = add_node(builder, form->kind, parent, form->place);
    }
    bool good = true;
    for (size_t i = form->first; i != CIRCUIT_NONE && good; i = builder->forms->form[i].next) {
        good = build_in(builder, i, list, counted);
    }
    return good;
}

/* An item with its count. */
static bool build_in(struct builder *builder, size_t index, size_t parent, bool counted)
{
    const struct form *form = &builder->forms->form[index];
    if (form->count == 1) {
        return build_base(builder, index, parent, counted);
    }
    const enum circuit_kind kind = builder->circuit->nodes[parent].kind;
    size_t list = parent;
    if (form->joined && form->joint != kind) {
        list = add_node(builder, form->joint, parent, form->place);
    }
    const size_t first = builder->circuit->node_count;
    builder->runs++;
    const size_t run = builder->runs;
    bool good = true;
    for (unsigned long i = 0; i < form->count && good; i++) {
        good = build_base(builder, index, list, true);
    }
    for (size_t i = first; i < builder->circuit->node_count && form->kind == CIRCUIT_PART; i++) {
        builder->circuit->nodes[i].run = run;
    }
    return good;
}

/* ------------------------------------------------------------------ tidying ------------------------------- */

/* A group of one is its member. */
static void splice(struct circuit *circuit, size_t group)
{
    const size_t child = circuit->nodes[group].first;
    const size_t parent = circuit->nodes[group].parent;
    circuit->nodes[child].parent = parent;
    circuit->nodes[child].next = circuit->nodes[group].next;
    if (parent == CIRCUIT_NONE) {
        circuit->root = child;
        return;
    }
    size_t *link = &circuit->nodes[parent].first;
    while (*link != group) {
        link = &circuit->nodes[*link].next;
    }
    *link = child;
}

/* A list inside one of its own kind, as two brackets around one thing leave it, joins the outer one. */
static void merge(struct circuit *circuit, size_t group)
{
    const size_t parent = circuit->nodes[group].parent;
    size_t *link = &circuit->nodes[parent].first;
    while (*link != group) {
        link = &circuit->nodes[*link].next;
    }
    *link = circuit->nodes[group].first;
    while (*link != CIRCUIT_NONE) {
        circuit->nodes[*link].parent = parent;
        link = &circuit->nodes[*link].next;
    }
    *link = circuit->nodes[group].next;
}

static bool tidy_group(struct circuit *circuit, size_t group)
{
    struct circuit_node *node = &circuit->nodes[group];
    if (node->kind == CIRCUIT_PART || node->dead) {
        return false;
    }
    if (circuit->nodes[node->first].next == CIRCUIT_NONE) {
        splice(circuit, group);
        node->dead = true;
    } else if (node->parent != CIRCUIT_NONE && circuit->nodes[node->parent].kind == node->kind) {
        merge(circuit, group);
        node->dead = true;
    }
    return node->dead;
}

static void tidy(struct circuit *circuit)
{
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t i = 0; i < circuit->node_count; i++) {
            changed = tidy_group(circuit, i) || changed;
        }
    }
}

static bool is_name_used(const struct circuit *circuit, const char *name, size_t but)
{
    for (size_t i = 0; i < circuit->node_count; i++) {
        if (i != but && circuit->nodes[i].name != NULL && strcasecmp(circuit->nodes[i].name, name) == 0) {
            return true;
        }
    }
    return false;
}

static bool check_names(const struct builder *builder)
{
    const struct circuit *circuit = builder->circuit;
    struct scan scan = builder->scan;
    for (size_t i = circuit->node_count; i-- > 0;) {
        if (circuit->nodes[i].name != NULL && is_name_used(circuit, circuit->nodes[i].name, i)) {
            return scan_fail(&scan, builder->place[i] == NULL ? scan.line : builder->place[i], "refuse.twice", "name",
                             circuit->nodes[i].name, (const char *)NULL);
        }
    }
    return true;
}

/* The parts without a name get the lowest R-number that is free, in reading order (which is that of the nodes). */
static void give_names(struct circuit *circuit)
{
    unsigned number = 1;
    for (size_t i = 0; i < circuit->node_count; i++) {
        struct circuit_node *node = &circuit->nodes[i];
        if (node->kind != CIRCUIT_PART || node->name != NULL) {
            continue;
        }
        struct text name = {0};
        do {
            text_clear(&name);
            text_printf(&name, "R%u", number++);
        } while (is_name_used(circuit, text_string(&name), i));
        node->name = name.bytes;
    }
}

static void note_rating(struct circuit *circuit, const struct circuit_node *node, int language)
{
    const struct circuit_style style = {
        .figures = CIRCUIT_FIGURES_DEFAULT, .comma = language_writing(language).decimal == ',', .language = language};
    struct text note = {0};
    struct text rating = {0};
    struct text voltage = {0};
    circuit_write_value(&rating, node->rating, CIRCUIT_P, &style);
    circuit_write_value(&voltage, node->rating_v, CIRCUIT_V, &style);
    say(&note, language, "solve.note-rating", "part", node->name, "rating", text_string(&rating), "voltage",
        text_string(&voltage), (const char *)NULL);
    circuit_note(&circuit->notes, &circuit->note_count, &circuit->note_capacity, &note);
    text_done(&rating);
    text_done(&voltage);
}

static void note_ratings(struct circuit *circuit, int language)
{
    for (size_t i = 0; i < circuit->node_count; i++) {
        if (circuit->nodes[i].rating_ours) {
            note_rating(circuit, &circuit->nodes[i], language);
        }
    }
}

static void move_notes(struct circuit *circuit, struct forms *forms)
{
    for (size_t i = 0; i < forms->note_count; i++) {
        struct text note = {0};
        text_add(&note, forms->notes[i]);
        circuit_note(&circuit->notes, &circuit->note_count, &circuit->note_capacity, &note);
    }
}

bool circuit_build(struct circuit *circuit, struct forms *forms, const char *line, struct circuit_fault *fault)
{
    struct builder builder = {.circuit = circuit, .forms = forms, .scan = {line, line, fault}};
    /* `r` and `wire`, where there are any, stand there already: the circuit follows them in a row. */
    const size_t ahead = circuit->node_count;
    for (size_t i = 0; i < ahead; i++) {
        builder.place = memory_grow(builder.place, i, &builder.place_capacity, sizeof *builder.place);
        builder.place[i] = NULL;
    }
    const struct form *root = &forms->form[forms->root];
    size_t outer = circuit->root;
    if (root->count > 1 || (ahead == 0 && root->kind != CIRCUIT_SERIES)) {
        outer = add_node(&builder, CIRCUIT_PARALLEL, outer, line); /* a count alone is in parallel */
    } else if (ahead == 0) {
        outer = add_node(&builder, CIRCUIT_SERIES, outer, line);
    }
    circuit->root = ahead == 0 ? outer : circuit->root;
    const bool good = build_in(&builder, forms->root, outer, false) && check_names(&builder);
    if (good) {
        tidy(circuit);
        give_names(circuit);
        move_notes(circuit, forms);
        note_ratings(circuit, forms->language);
    }
    free(builder.place);
    return good;
}
