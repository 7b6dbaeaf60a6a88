#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"
#include "ampsum/words.h"
#include "form.h"

static const char *const status_words[] = {"solved", "input", "undetermined", "impossible", "contradiction"};

const char *circuit_status_word(enum circuit_status status)
{
    return status_words[status];
}

static const struct {
    const char *letter;
    const char *unit;
    const char *sign;
} quantities[] = {{"R", "ohm", "\xCE\xA9"}, {"V", "V", "V"}, {"I", "A", "A"}, {"P", "W", "W"}};

const char *circuit_letter(enum circuit_quantity quantity)
{
    return quantities[quantity].letter;
}

const char *circuit_unit(enum circuit_quantity quantity)
{
    return quantities[quantity].unit;
}

const char *circuit_unit_sign(enum circuit_quantity quantity)
{
    return quantities[quantity].sign;
}

/* The quantity that the unit measures; false for none of the four. */
static bool quantity_of(enum scan_unit unit, enum circuit_quantity *ret_quantity)
{
    static const struct {
        enum scan_unit unit;
        enum circuit_quantity quantity;
    } rows[] = {{SCAN_OHM, CIRCUIT_R}, {SCAN_VOLT, CIRCUIT_V}, {SCAN_AMPERE, CIRCUIT_I}, {SCAN_WATT, CIRCUIT_P}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (rows[i].unit == unit) {
            *ret_quantity = rows[i].quantity;
            return true;
        }
    }
    return false;
}

/* ------------------------------------------------------------------ a value with its unit ----------------- */

static bool read_plain(struct scan *scan, struct circuit_number *number, enum scan_unit *ret_unit)
{
    bool whole = false;
    scan_blanks(scan);
    if (scan_minus_bytes(scan->at) > 0) {
        return scan_fail(scan, scan->at, "refuse.value-minus", (const char *)NULL);
    }
    if (!isdigit((unsigned char)*scan->at)) {
        return scan_fail(scan, scan->at, "refuse.number", (const char *)NULL);
    }
    const char *place = scan->at;
    if (!scan_number(scan, number, &whole) || !scan_unit(scan, whole, number, ret_unit)) {
        return false;
    }
    if (mpq_sgn(number->value) == 0) {
        struct text given = {0};
        text_add_length(&given, place, (size_t)(scan->at - place));
        scan_fail(scan, place, "refuse.value-zero", "given", text_string(&given), (const char *)NULL);
        text_done(&given);
        return false;
    }
    const bool good = scan_in_range(scan, place, number->value, "refuse.number");
    scan_blanks(scan);
    return good;
}

static bool at_end(struct scan *scan)
{
    scan_blanks(scan);
    return *scan->at == '\0' || scan_fail(scan, scan->at, "refuse.more", (const char *)NULL);
}

bool circuit_read_value(const char *option, const char *string, enum circuit_quantity quantity, mpq_t ret_value,
                        struct circuit_fault *fault)
{
    struct text line = {0};
    text_printf(&line, "%s %s", option, string);
    struct scan scan = {text_string(&line), text_string(&line) + strlen(option), fault};
    struct circuit_number number;
    enum scan_unit unit = SCAN_BARE;
    enum circuit_quantity given = quantity;
    circuit_number_init(&number);
    bool good = read_plain(&scan, &number, &unit);
    const char *place = text_string(&line) + strlen(option) + 1;
    if (good && unit != SCAN_BARE && (!quantity_of(unit, &given) || given != quantity)) {
        good = scan_fail(&scan, place, "refuse.quantity", "unit", circuit_unit(quantity), (const char *)NULL);
    }
    if (good && quantity == CIRCUIT_R && scan_word(&scan, "each")) {
        scan_blanks(&scan);
        good = scan_word(&scan, "way") || scan_fail(&scan, scan.at, "refuse.each-way", (const char *)NULL);
        mpq_add(number.value, number.value, number.value);
    }
    good = good && at_end(&scan);
    mpq_set(ret_value, number.value);
    circuit_number_done(&number);
    text_done(&line);
    return good;
}

/* ------------------------------------------------------------------ the source ---------------------------- */

static struct circuit_known *add_known(struct circuit *circuit, const char *words)
{
    circuit->knowns =
        memory_grow(circuit->knowns, circuit->known_count, &circuit->known_capacity, sizeof *circuit->knowns);
    struct circuit_known *known = &circuit->knowns[circuit->known_count++];
    *known = (struct circuit_known){.part = CIRCUIT_NONE};
    circuit_number_init(&known->number);
    known->words = memory_new(strlen(words) + 1);
    memcpy(known->words, words, strlen(words) + 1);
    return known;
}

static bool read_source_value(struct circuit *circuit, struct scan *scan)
{
    struct circuit_number number;
    enum scan_unit unit = SCAN_BARE;
    enum circuit_quantity quantity = CIRCUIT_R;
    circuit_number_init(&number);
    bool good = read_plain(scan, &number, &unit) && at_end(scan);
    if (good && unit == SCAN_BARE) {
        good = scan_fail(scan, scan->at, "refuse.source-unit", "source", scan->line, (const char *)NULL);
    } else if (good && (!quantity_of(unit, &quantity) || quantity == CIRCUIT_R)) {
        good = scan_fail(scan, scan->line, "refuse.source", (const char *)NULL);
    }
    if (good && quantity == CIRCUIT_V) {
        circuit->has_source_v = true;
        mpq_set(circuit->source_v, number.value);
    } else if (good) {
        struct text words = {0};
        text_printf(&words, "%s = %s", circuit_letter(quantity), scan->line);
        struct circuit_known *known = add_known(circuit, text_string(&words));
        known->quantity = quantity;
        mpq_set(known->number.value, number.value);
        mpq_set(known->number.half, number.half);
        text_done(&words);
    }
    circuit_number_done(&number);
    return good;
}

static bool read_source(struct circuit *circuit, const char *source, struct circuit_fault *fault)
{
    struct scan scan = {source, source, fault};
    scan_blanks(&scan);
    if (!scan_take(&scan, "?")) {
        return read_source_value(circuit, &scan);
    }
    scan_blanks(&scan);
    circuit->asks_voltage = scan_word(&scan, "V");
    return at_end(&scan);
}

/* ------------------------------------------------------------------ knowns -------------------------------- */

size_t circuit_find(const struct circuit *circuit, const char *option, const char *name, struct circuit_fault *fault)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, name);
    for (size_t i = 0; i < circuit->part_count; i++) {
        const char *candidate = circuit->nodes[circuit->parts[i]].name;
        if (strcasecmp(candidate, name) == 0) {
            return circuit->parts[i];
        }
        words_nearest_offer(&nearest, candidate);
    }
    struct text shown = {0};
    text_add_shown(&shown, name);
    circuit_fail(fault, CIRCUIT_INPUT, "refuse.no-part", "option", option, "name", text_string(&shown), "nearest",
                 nearest.best != NULL ? nearest.best : circuit->nodes[circuit->parts[0]].name, (const char *)NULL);
    text_done(&shown);
    return CIRCUIT_NONE;
}

static bool known_letter(struct scan *scan, enum circuit_quantity *ret_quantity)
{
    static const struct {
        char letter;
        enum circuit_quantity quantity;
    } letters[] = {{'R', CIRCUIT_R}, {'V', CIRCUIT_V}, {'U', CIRCUIT_V},
                   {'E', CIRCUIT_V}, {'I', CIRCUIT_I}, {'P', CIRCUIT_P}};
    for (size_t i = 0; i < sizeof letters / sizeof letters[0]; i++) {
        if (toupper((unsigned char)*scan->at) == letters[i].letter) {
            *ret_quantity = letters[i].quantity;
            scan->at++;
            return true;
        }
    }
    return scan_fail(scan, scan->at, "refuse.known", (const char *)NULL);
}

/* `3` of I3: the part R3. `(heater)`: the part of that name. Neither: the total. */
static bool known_part(struct circuit *circuit, struct scan *scan, size_t *ret_part)
{
    struct text name = {0};
    *ret_part = CIRCUIT_NONE;
    if (isdigit((unsigned char)*scan->at)) {
        text_add_char(&name, 'R');
        while (isdigit((unsigned char)*scan->at)) {
            text_add_char(&name, *scan->at++);
        }
    } else if (scan_take(scan, "(")) {
        const size_t length = strcspn(scan->at, ")");
        if (scan->at[length] == '\0') {
            return scan_fail(scan, scan->at - 1, "refuse.bracket-open", (const char *)NULL);
        }
        text_add_length(&name, scan->at, length);
        scan->at += length + 1;
    }
    if (name.length > 0) {
        *ret_part = circuit_find(circuit, "--know", text_string(&name), scan->fault);
    }
    const bool good = name.length == 0 || *ret_part != CIRCUIT_NONE;
    text_done(&name);
    return good;
}

static bool read_known(struct circuit *circuit, const char *words, struct circuit_fault *fault)
{
    struct circuit_known *known = add_known(circuit, words);
    struct scan scan = {known->words, known->words, fault};
    enum scan_unit unit = SCAN_BARE;
    enum circuit_quantity given = CIRCUIT_R;
    scan_blanks(&scan);
    if (!known_letter(&scan, &known->quantity)) {
        return false;
    }
    scan_blanks(&scan);
    if (!known_part(circuit, &scan, &known->part)) {
        return false;
    }
    scan_blanks(&scan);
    if (!scan_take(&scan, "=")) {
        return scan_fail(&scan, scan.at, "refuse.known-equals", (const char *)NULL);
    }
    scan_blanks(&scan);
    const char *place = scan.at;
    if (!read_plain(&scan, &known->number, &unit) || !at_end(&scan)) {
        return false;
    }
    if (unit == SCAN_BARE) {
        return scan_fail(&scan, scan.at, "refuse.unit-missing", "letter", circuit_letter(known->quantity), "unit",
                         circuit_unit(known->quantity), (const char *)NULL);
    }
    return (quantity_of(unit, &given) && given == known->quantity) ||
           scan_fail(&scan, place, "refuse.unit-other", "letter", circuit_letter(known->quantity), "unit",
                     circuit_unit(known->quantity), (const char *)NULL);
}

/* ------------------------------------------------------------------ all of it ----------------------------- */

static bool check_line(const char *what, const char *line, struct circuit_fault *fault)
{
    if (strlen(line) > CIRCUIT_BYTES_MOST) {
        return circuit_fail(fault, CIRCUIT_INPUT, "refuse.long", "what", say_form(fault->language, what),
                            (const char *)NULL);
    }
    if (!words_is_utf8(line, strlen(line)) || words_has_control(line)) {
        return circuit_fail(fault, CIRCUIT_INPUT, "refuse.bytes", "what", say_form(fault->language, what),
                            (const char *)NULL);
    }
    return true;
}

static bool check_lines(const struct circuit_input *input, struct circuit_fault *fault)
{
    bool good = circuit_about(fault, CIRCUIT_ABOUT_CIRCUIT, check_line("refuse.the-circuit", input->circuit, fault)) &&
                (input->source == NULL ||
                 circuit_about(fault, CIRCUIT_ABOUT_SOURCE, check_line("refuse.the-source", input->source, fault))) &&
                (input->wire == NULL || check_line("--wire", input->wire, fault)) &&
                (input->internal == NULL || check_line("--internal", input->internal, fault));
    for (size_t i = 0; i < input->known_count && good; i++) {
        good = circuit_about(fault, CIRCUIT_ABOUT_KNOWN, check_line("--know", input->knowns[i], fault));
    }
    return good;
}

/* A part in front of the circuit, in a row with it. */
static bool add_ahead(struct circuit *circuit, const char *option, const char *name, const char *string,
                      struct circuit_fault *fault)
{
    if (string == NULL) {
        return true;
    }
    if (circuit->root == CIRCUIT_NONE) {
        circuit->root = circuit_add_node(circuit, CIRCUIT_SERIES, CIRCUIT_NONE);
    }
    const size_t index = circuit_add_node(circuit, CIRCUIT_PART, circuit->root);
    struct circuit_node *node = &circuit->nodes[index];
    node->exempt = true;
    node->name = memory_new(strlen(name) + 1);
    memcpy(node->name, name, strlen(name) + 1);
    return circuit_read_value(option, string, CIRCUIT_R, node->ohm, fault);
}

static void list_parts(struct circuit *circuit, size_t node)
{
    if (circuit->nodes[node].kind == CIRCUIT_PART) {
        circuit->parts[circuit->part_count++] = node;
        return;
    }
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        list_parts(circuit, i);
    }
}

static bool build(struct circuit *circuit, const char *line, int language, struct circuit_fault *fault)
{
    struct forms forms = {0};
    const bool good = forms_read(line, language, &forms, fault) && circuit_build(circuit, &forms, line, fault);
    forms_done(&forms);
    if (good) {
        circuit->parts = memory_resize(NULL, circuit->node_count, sizeof *circuit->parts);
        list_parts(circuit, circuit->root);
    }
    return good;
}

bool circuit_read(const struct circuit_input *input, struct circuit *ret_circuit, struct circuit_fault *fault)
{
    *ret_circuit = (struct circuit){.root = CIRCUIT_NONE, .unknown = CIRCUIT_NONE};
    mpq_init(ret_circuit->source_v);
    fault->language = input->language;
    bool good = check_lines(input, fault) &&
                (input->source == NULL ||
                 circuit_about(fault, CIRCUIT_ABOUT_SOURCE, read_source(ret_circuit, input->source, fault))) &&
                add_ahead(ret_circuit, "--internal", "r", input->internal, fault) &&
                add_ahead(ret_circuit, "--wire", "wire", input->wire, fault) &&
                circuit_about(fault, CIRCUIT_ABOUT_CIRCUIT, build(ret_circuit, input->circuit, input->language, fault));
    for (size_t i = 0; i < input->known_count && good; i++) {
        good = circuit_about(fault, CIRCUIT_ABOUT_KNOWN, read_known(ret_circuit, input->knowns[i], fault));
    }
    return good;
}

void circuit_done(struct circuit *circuit)
{
    for (size_t i = 0; i < circuit->node_count; i++) {
        free(circuit->nodes[i].name);
        mpq_clear(circuit->nodes[i].ohm);
        mpq_clear(circuit->nodes[i].rating);
        mpq_clear(circuit->nodes[i].rating_v);
    }
    for (size_t i = 0; i < circuit->known_count; i++) {
        circuit_number_done(&circuit->knowns[i].number);
        free(circuit->knowns[i].words);
    }
    for (size_t i = 0; i < circuit->note_count; i++) {
        free(circuit->notes[i]);
    }
    mpq_clear(circuit->source_v);
    free(circuit->nodes);
    free(circuit->parts);
    free(circuit->knowns);
    free(circuit->notes);
    *circuit = (struct circuit){0};
}
