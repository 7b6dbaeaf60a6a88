#include "form.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"

struct parser {
    struct scan scan;
    struct forms *forms;
    int depth;
};

static bool read_circuit(struct parser *parser, size_t *ret_form);
static bool refuse_rest(struct scan *scan);

void forms_done(struct forms *forms)
{
    for (size_t i = 0; i < forms->count; i++) {
        free(forms->form[i].name);
        circuit_number_done(&forms->form[i].number);
        circuit_number_done(&forms->form[i].volts);
    }
    for (size_t i = 0; i < forms->note_count; i++) {
        free(forms->notes[i]);
    }
    free(forms->notes);
    free(forms->form);
    *forms = (struct forms){0};
}

void circuit_note(char ***notes, size_t *count, size_t *capacity, struct text *note)
{
    *notes = memory_grow(*notes, *count, capacity, sizeof **notes);
    char *copy = memory_new(note->length + 1);
    memcpy(copy, text_string(note), note->length + 1);
    (*notes)[(*count)++] = copy;
    text_done(note);
}

static size_t add_form(struct parser *parser, enum circuit_kind kind)
{
    struct forms *forms = parser->forms;
    forms->form = memory_grow(forms->form, forms->count, &forms->capacity, sizeof *forms->form);
    forms->form[forms->count] = (struct form){.kind = kind,
                                              .first = CIRCUIT_NONE,
                                              .last = CIRCUIT_NONE,
                                              .next = CIRCUIT_NONE,
                                              .place = parser->scan.at,
                                              .count = 1};
    circuit_number_init(&forms->form[forms->count].number);
    circuit_number_init(&forms->form[forms->count].volts);
    return forms->count++;
}

static void add_member(struct parser *parser, size_t list, size_t member)
{
    struct form *form = parser->forms->form;
    if (form[list].first == CIRCUIT_NONE) {
        form[list].first = member;
    } else {
        form[form[list].last].next = member;
    }
    form[list].last = member;
}

/* ------------------------------------------------------------------ a part -------------------------------- */

static bool read_name(struct parser *parser, size_t form)
{
    struct scan *scan = &parser->scan;
    const char *begin = scan->at;
    while (scan_letter_bytes(scan->at) > 0 || isdigit((unsigned char)*scan->at) || *scan->at == '-' ||
           *scan->at == '_') {
        scan->at += scan_letter_bytes(scan->at) > 0 ? scan_letter_bytes(scan->at) : 1;
    }
    const size_t length = (size_t)(scan->at - begin);
    scan_blanks(scan);
    if (*scan->at != '=') {
        struct text name = {0};
        text_add_length(&name, length > CIRCUIT_NAME_MOST ? "lamp" : begin, length > CIRCUIT_NAME_MOST ? 4 : length);
        scan_fail(scan, begin, "refuse.part-or-name", "name", text_string(&name), (const char *)NULL);
        text_done(&name);
        return false;
    }
    if (length > CIRCUIT_NAME_MOST) {
        return scan_fail_most(scan, begin, "refuse.name-length", CIRCUIT_NAME_MOST);
    }
    if (length == 1 && (*begin == 'x' || *begin == 'X')) {
        return scan_fail(scan, begin, "refuse.name-x", (const char *)NULL);
    }
    if (length == 5 && strncasecmp(begin, "total", length) == 0) {
        return scan_fail(scan, begin, "refuse.name-total", (const char *)NULL);
    }
    char *name = memory_new(length + 1);
    memcpy(name, begin, length);
    name[length] = '\0';
    parser->forms->form[form].name = name;
    scan->at++;
    scan_blanks(scan);
    return true;
}

/* `at 120 V` behind a rating. */
static bool read_volts(struct parser *parser, struct form *form)
{
    struct scan ahead = parser->scan;
    scan_blanks(&ahead);
    if (!scan_word(&ahead, "at")) {
        return true;
    }
    scan_blanks(&ahead);
    const char *place = ahead.at;
    bool whole = false;
    enum scan_unit unit = SCAN_BARE;
    if (!isdigit((unsigned char)*ahead.at)) {
        return scan_fail(&ahead, place, "refuse.at-voltage", (const char *)NULL);
    }
    if (!scan_number(&ahead, &form->volts, &whole) || !scan_unit(&ahead, whole, &form->volts, &unit)) {
        return false;
    }
    if (unit != SCAN_VOLT) {
        return scan_fail(&ahead, place, "refuse.at-voltage", (const char *)NULL);
    }
    form->has_volts = true;
    parser->scan.at = ahead.at;
    return scan_in_range(&ahead, place, form->volts.value, "refuse.zero-volt");
}

static bool check_part(struct parser *parser, struct form *form, const char *place, enum scan_unit unit)
{
    struct scan *scan = &parser->scan;
    static const char *const zeros[] = {
        [SCAN_BARE] = "refuse.zero-ohm",  [SCAN_OHM] = "refuse.zero-ohm",       [SCAN_SIEMENS] = "refuse.zero-siemens",
        [SCAN_WATT] = "refuse.zero-watt", [SCAN_AMPERE] = "refuse.zero-ampere",
    };
    static const enum circuit_given given[] = {[SCAN_BARE] = CIRCUIT_OHMS,
                                               [SCAN_OHM] = CIRCUIT_OHMS,
                                               [SCAN_SIEMENS] = CIRCUIT_SIEMENS,
                                               [SCAN_WATT] = CIRCUIT_WATTS,
                                               [SCAN_AMPERE] = CIRCUIT_AMPERES};
    if (unit == SCAN_VOLT) {
        return scan_fail(scan, place, "refuse.part-in-volt", (const char *)NULL);
    }
    form->part = given[unit];
    return scan_in_range(scan, place, form->number.value, zeros[unit]) &&
           ((unit != SCAN_WATT && unit != SCAN_AMPERE) || read_volts(parser, form));
}

/* A value behind its number. */
static bool read_value(struct parser *parser, size_t index, const char *place, bool whole)
{
    struct form *form = &parser->forms->form[index];
    enum scan_unit unit = SCAN_BARE;
    return scan_unit(&parser->scan, whole, &form->number, &unit) && check_part(parser, form, place, unit);
}

/* What was expected to be a part and is none. */
static bool refuse_part(struct parser *parser)
{
    struct scan *scan = &parser->scan;
    const char *at = scan->at;
    if (scan_minus_bytes(at) > 0) {
        return scan_fail(scan, at, "refuse.part-minus", (const char *)NULL);
    }
    if (*at == '.' && isdigit((unsigned char)at[1])) {
        struct text number = {0};
        text_add_length(&number, at, 1 + strspn(at + 1, "0123456789"));
        scan_fail(scan, at, "refuse.part-point", "number", text_string(&number), (const char *)NULL);
        text_done(&number);
        return false;
    }
    if (*at == ')' && parser->depth == 0) {
        return scan_fail(scan, at, "refuse.part-closed", (const char *)NULL);
    }
    if (*at == '\0' && parser->depth > 0) {
        return scan_fail(scan, at, "refuse.part-open", (const char *)NULL);
    }
    return scan_fail(scan, at, "refuse.part", (const char *)NULL);
}

static bool read_part(struct parser *parser, size_t form)
{
    struct scan *scan = &parser->scan;
    if (scan_letter_bytes(scan->at) > 0 && !read_name(parser, form)) {
        return false;
    }
    if (scan_take(scan, "?")) {
        parser->forms->form[form].part = CIRCUIT_UNKNOWN;
        return true;
    }
    const char *place = scan->at;
    bool whole = false;
    if (!isdigit((unsigned char)*place)) {
        return refuse_part(parser);
    }
    return scan_number(scan, &parser->forms->form[form].number, &whole) && read_value(parser, form, place, whole);
}

/* ------------------------------------------------------------------ items and lists ----------------------- */

static bool read_group(struct parser *parser, size_t *ret_form)
{
    struct scan *scan = &parser->scan;
    const char *opened = scan->at;
    if (parser->depth == CIRCUIT_DEPTH_MOST) {
        return scan_fail_most(scan, opened, "refuse.depth", CIRCUIT_DEPTH_MOST);
    }
    parser->depth++;
    scan->at++;
    if (!read_circuit(parser, ret_form)) {
        return false;
    }
    parser->depth--;
    if (*scan->at == '\0') {
        return scan_fail(scan, opened, "refuse.bracket-open", (const char *)NULL);
    }
    if (!scan_take(scan, ")")) {
        return refuse_rest(scan);
    }
    if (parser->forms->form[*ret_form].count != 1) { /* alone in brackets: the count inside is its own */
        const size_t outer = add_form(parser, CIRCUIT_PARALLEL);
        add_member(parser, outer, *ret_form);
        *ret_form = outer;
    }
    return true;
}

/* `3 x` or `3 ×` behind a whole number; the count stays 1 where there is none. */
static bool read_count(struct parser *parser, const struct circuit_number *number, unsigned long *ret_count)
{
    struct scan *scan = &parser->scan;
    struct scan ahead = *scan;
    scan_blanks(&ahead);
    const char *place = ahead.at;
    if (*place == '*' || *place == 'X') {
        return scan_fail(scan, place, "refuse.count-sign", (const char *)NULL);
    }
    if (!scan_take(&ahead, "x") && !scan_take(&ahead, "\xC3\x97")) {
        return true;
    }
    if (mpq_sgn(number->value) == 0 || !mpz_fits_ulong_p(mpq_numref(number->value))) {
        return scan_fail_most(scan, scan->at, "refuse.count", CIRCUIT_PARTS_MOST);
    }
    *ret_count = mpz_get_ui(mpq_numref(number->value));
    scan_blanks(&ahead);
    scan->at = ahead.at;
    return true;
}

/* What stands behind a count: a bracket, or a part of any kind. */
static bool read_counted(struct parser *parser, unsigned long count, size_t *ret_form)
{
    bool good = false;
    if (*parser->scan.at == '(') {
        good = read_group(parser, ret_form);
    } else {
        *ret_form = add_form(parser, CIRCUIT_PART);
        good = read_part(parser, *ret_form);
    }
    if (good) {
        parser->forms->form[*ret_form].count = count;
    }
    return good;
}

/* A part that begins with its number, or the count of an item. */
static bool read_numbered(struct parser *parser, size_t *ret_form)
{
    struct scan *scan = &parser->scan;
    struct circuit_number number;
    const char *place = scan->at;
    bool whole = false;
    unsigned long count = 0;
    circuit_number_init(&number);
    bool good = scan_number(scan, &number, &whole) && (!whole || read_count(parser, &number, &count));
    if (good && count > 0) {
        good = read_counted(parser, count, ret_form);
    } else if (good) {
        *ret_form = add_form(parser, CIRCUIT_PART);
        struct form *form = &parser->forms->form[*ret_form];
        form->place = place;
        mpq_set(form->number.value, number.value);
        mpq_set(form->number.half, number.half);
        good = read_value(parser, *ret_form, place, whole);
    }
    circuit_number_done(&number);
    return good;
}

/* `in series`, `in parallel` behind an item. */
static bool read_joint(struct parser *parser, size_t form)
{
    struct scan ahead = parser->scan;
    scan_blanks(&ahead);
    if (!scan_word(&ahead, "in")) {
        return true;
    }
    scan_blanks(&ahead);
    const bool series = scan_word(&ahead, "series");
    if (!series && !scan_word(&ahead, "parallel")) {
        return scan_fail(&ahead, ahead.at, "refuse.joint", (const char *)NULL);
    }
    parser->scan.at = ahead.at;
    struct form *row = &parser->forms->form[form];
    row->joined = true;
    row->joint = series ? CIRCUIT_SERIES : CIRCUIT_PARALLEL;
    if (row->count == 1) {
        struct text note = {0};
        text_add(&note, say_plain(parser->forms->language, series ? "solve.note-series" : "solve.note-parallel"));
        circuit_note(&parser->forms->notes, &parser->forms->note_count, &parser->forms->note_capacity, &note);
    }
    return true;
}

static bool read_item(struct parser *parser, size_t *ret_form)
{
    struct scan *scan = &parser->scan;
    bool good = false;
    scan_blanks(scan);
    if (*scan->at == '(') {
        good = read_group(parser, ret_form);
    } else if (isdigit((unsigned char)*scan->at)) {
        good = read_numbered(parser, ret_form);
    } else {
        *ret_form = add_form(parser, CIRCUIT_PART);
        good = read_part(parser, *ret_form);
    }
    if (!good || !read_joint(parser, *ret_form)) {
        return false;
    }
    scan_blanks(scan);
    return true;
}

/* Items side by side; a list of one is that item. */
static bool read_parallel(struct parser *parser, size_t *ret_form, bool *ret_bars)
{
    struct scan *scan = &parser->scan;
    if (!read_item(parser, ret_form)) {
        return false;
    }
    *ret_bars = scan_bar_bytes(scan->at) > 0;
    if (!*ret_bars) {
        return true;
    }
    const size_t list = add_form(parser, CIRCUIT_PARALLEL);
    add_member(parser, list, *ret_form);
    for (size_t bar = 0; (bar = scan_bar_bytes(scan->at)) > 0;) {
        size_t member = 0;
        scan->at += bar;
        if (!read_item(parser, &member)) {
            return false;
        }
        add_member(parser, list, member);
    }
    *ret_form = list;
    return true;
}

/* + and | on one level: says how that was read. */
static void note_mixed(struct parser *parser, const char *begin)
{
    struct text note = {0};
    const char *end = parser->scan.at;
    while (end > begin && isspace((unsigned char)end[-1])) {
        end--;
    }
    begin += strspn(begin, " \t");
    struct text part = {0};
    text_add_length(&part, begin, (size_t)(end - begin));
    say(&note, parser->forms->language, "solve.note-mixed", "part", text_string(&part), (const char *)NULL);
    text_done(&part);
    circuit_note(&parser->forms->notes, &parser->forms->note_count, &parser->forms->note_capacity, &note);
}

/* A list with + between; ends before a closing bracket or at the end. */
static bool read_circuit(struct parser *parser, size_t *ret_form)
{
    struct scan *scan = &parser->scan;
    size_t list = CIRCUIT_NONE;
    for (bool more = true; more;) {
        const char *begin = scan->at;
        size_t member = 0;
        bool bars = false;
        if (!read_parallel(parser, &member, &bars)) {
            return false;
        }
        more = scan_take(scan, "+");
        if (list == CIRCUIT_NONE && !more) {
            *ret_form = member;
            return true;
        }
        if (list == CIRCUIT_NONE) {
            list = add_form(parser, CIRCUIT_SERIES);
        }
        add_member(parser, list, member);
        if (bars) {
            struct scan end = *scan;
            scan->at -= more ? 1 : 0;
            note_mixed(parser, begin);
            *scan = end;
        }
    }
    *ret_form = list;
    return true;
}

/* What stands where an operator or the end should. */
static bool refuse_rest(struct scan *scan)
{
    const char *at = scan->at;
    if (scan_minus_bytes(at) > 0) {
        return scan_fail(scan, at, "refuse.minus-between", (const char *)NULL);
    }
    if (*at == '*' || strncmp(at, "\xC2\xB7", 2) == 0) {
        return scan_fail(scan, at, "refuse.count-sign", (const char *)NULL);
    }
    if (*at == ')') {
        return scan_fail(scan, at, "refuse.bracket-closed", (const char *)NULL);
    }
    if (*at == ',') {
        return scan_fail(scan, at, "refuse.comma-between", (const char *)NULL);
    }
    return scan_fail(scan, at, "refuse.between", (const char *)NULL);
}

bool forms_read(const char *line, int language, struct forms *ret_forms, struct circuit_fault *fault)
{
    *ret_forms = (struct forms){.language = language};
    struct parser parser = {.scan = {line, line, fault}, .forms = ret_forms};
    if (!read_circuit(&parser, &ret_forms->root)) {
        return false;
    }
    return *parser.scan.at == '\0' || refuse_rest(&parser.scan);
}
