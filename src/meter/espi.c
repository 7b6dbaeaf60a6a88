/*
 * NAESB ESPI XML (Atom feed) to readings. An entry holds one resource; links tie the IntervalBlocks to a MeterReading
 * and that to its ReadingType, which says unit, multiplier and direction. Nothing outside the file is ever opened: a
 * DOCTYPE, without which there are no entities, ends the reading.
 */
#include <expat.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "espi_parts.h"

enum { DEPTH_MOST = 64, FIELD_BYTES_MOST = 4096 };

#define ATOM "http://www.w3.org/2005/Atom|"
#define ESPI "http://naesb.org/espi|"

static const struct {
    const char *name;
    enum tag tag;
} tag_names[] = {
    {ATOM "entry", TAG_ENTRY},
    {ATOM "link", TAG_LINK},
    {ESPI "MeterReading", TAG_METER_READING},
    {ESPI "ReadingType", TAG_READING_TYPE},
    {ESPI "IntervalBlock", TAG_INTERVAL_BLOCK},
    {ESPI "IntervalReading", TAG_INTERVAL_READING},
    {ESPI "timePeriod", TAG_TIME_PERIOD},
    {ESPI "LocalTimeParameters", TAG_LOCAL_TIME},
    {ESPI "start", TAG_START},
    {ESPI "duration", TAG_DURATION},
    {ESPI "value", TAG_VALUE},
    {ESPI "uom", TAG_UOM},
    {ESPI "flowDirection", TAG_FLOW},
    {ESPI "powerOfTenMultiplier", TAG_MULTIPLIER},
    {ESPI "accumulationBehaviour", TAG_BEHAVIOUR},
    {ESPI "commodity", TAG_COMMODITY},
    {ESPI "dstStartRule", TAG_DST_START},
    {ESPI "dstEndRule", TAG_DST_END},
    {ESPI "dstOffset", TAG_DST_OFFSET},
    {ESPI "tzOffset", TAG_TZ_OFFSET},
};

struct state {
    struct espi espi;
    XML_Parser parser;
    enum tag open[DEPTH_MOST];
    size_t depth;
    struct text field; /* text of the innermost element */
    bool in_entry;
    struct espi_reading reading; /* being gathered */
    bool has_start;
    bool has_duration;
    bool has_value;
    size_t without_value;
};

static void XMLCALL element_start(void *context, const XML_Char *name, const XML_Char **attributes);
static void XMLCALL element_end(void *context, const XML_Char *name);
static void XMLCALL element_text(void *context, const XML_Char *bytes, int length);
static void XMLCALL doctype_start(void *context, const XML_Char *name, const XML_Char *system_id,
                                  const XML_Char *public_id, int has_internal_subset);
static bool parse(struct state *state);

bool espi_read(struct reading_file *file)
{
    struct state state = {.espi = {.file = file, .arena = arena_new()}};
    state.parser = XML_ParserCreateNS(NULL, '|');
    if (state.parser == NULL) {
        memory_fail();
    }
    XML_SetUserData(state.parser, &state);
    XML_SetElementHandler(state.parser, element_start, element_end);
    XML_SetCharacterDataHandler(state.parser, element_text);
    XML_SetStartDoctypeDeclHandler(state.parser, doctype_start);
    bool ok = parse(&state) && espi_resolve(&state.espi);
    if (ok && state.without_value > 0) {
        meter_file_note(file, "%zu reading%s without a value left out", state.without_value,
                        state.without_value == 1 ? "" : "s");
    }
    XML_ParserFree(state.parser);
    text_done(&state.field);
    free(state.espi.entries);
    free(state.espi.readings);
    arena_free(state.espi.arena);
    return ok;
}

static unsigned long line_now(const struct state *state)
{
    return (unsigned long)XML_GetCurrentLineNumber(state->parser);
}

static bool parse_bytes(struct state *state, const char *bytes, size_t length, bool last)
{
    struct reading_file *file = state->espi.file;
    if (XML_Parse(state->parser, bytes, (int)length, last) == XML_STATUS_OK) {
        return true;
    }
    enum XML_Error code = XML_GetErrorCode(state->parser);
    if (code == XML_ERROR_NO_MEMORY) {
        memory_fail();
    }
    return meter_file_fault(file, line_now(state), "not well-formed XML: %s%s", XML_ErrorString(code),
                            last ? "; the file is cut off" : ""); /* after our own fault this one is not kept */
}

static bool parse(struct state *state)
{
    struct reading_file *file = state->espi.file;
    do {
        if (!parse_bytes(state, file->chunk, file->chunk_length, false)) {
            return false;
        }
    } while (meter_file_next_chunk(file));
    return !error_is_set(file->error) && parse_bytes(state, "", 0, true);
}

/* Our own fault, at this place in the file. */
static void stop(struct state *state, const char *what)
{
    meter_file_fault(state->espi.file, line_now(state), "%s", what);
    XML_StopParser(state->parser, XML_FALSE);
}

static void XMLCALL doctype_start(void *context, const XML_Char *name, const XML_Char *system_id,
                                  const XML_Char *public_id, int has_internal_subset)
{
    (void)name;
    (void)system_id;
    (void)public_id;
    (void)has_internal_subset;
    stop(context, "a DOCTYPE; refused, as no entity is expanded and nothing outside the file is read");
}

static enum tag tag_from_name(const char *name)
{
    for (size_t i = 0; i < sizeof tag_names / sizeof tag_names[0]; i++) {
        if (strcmp(tag_names[i].name, name) == 0) {
            return tag_names[i].tag;
        }
    }
    return TAG_OTHER;
}

/* The entry being read; resources outside any entry share one. */
static struct espi_entry *entry_now(struct state *state)
{
    struct espi *espi = &state->espi;
    if (!state->in_entry) {
        espi->entries = memory_grow(espi->entries, espi->entry_count, &espi->entry_capacity, sizeof *espi->entries);
        espi->entries[espi->entry_count++] = (struct espi_entry){.line = line_now(state)};
        state->in_entry = true;
    }
    return &espi->entries[espi->entry_count - 1];
}

static void link_start(struct state *state, const XML_Char **attributes)
{
    const char *rel = "";
    const char *href = "";
    for (size_t i = 0; attributes[i] != NULL; i += 2) {
        rel = strcmp(attributes[i], "rel") == 0 ? attributes[i + 1] : rel;
        href = strcmp(attributes[i], "href") == 0 ? attributes[i + 1] : href;
    }
    struct espi_entry *entry = entry_now(state);
    if (strcmp(rel, "self") == 0) {
        entry->self = arena_copy(state->espi.arena, href);
    } else if (strcmp(rel, "up") == 0) {
        entry->up = arena_copy(state->espi.arena, href);
    } else if (strcmp(rel, "related") == 0) {
        struct espi_link *link = arena_take(state->espi.arena, sizeof *link);
        link->href = arena_copy(state->espi.arena, href);
        link->next = entry->related;
        entry->related = link;
    }
}

static enum tag tag_above(const struct state *state, size_t levels)
{
    return state->depth >= levels + 1 ? state->open[state->depth - 1 - levels] : TAG_OTHER;
}

static void XMLCALL element_start(void *context, const XML_Char *name, const XML_Char **attributes)
{
    struct state *state = context;
    if (state->depth >= DEPTH_MOST) {
        stop(state, "elements nested deeper than 64");
        return;
    }
    enum tag tag = tag_from_name(name);
    state->open[state->depth++] = tag;
    text_clear(&state->field);
    switch (tag) {
    case TAG_ENTRY:
        state->in_entry = false;
        entry_now(state);
        break;
    case TAG_LINK:
        if (tag_above(state, 1) == TAG_ENTRY) {
            link_start(state, attributes);
        }
        break;
    case TAG_METER_READING:
    case TAG_READING_TYPE:
    case TAG_INTERVAL_BLOCK:
        entry_now(state)->kind = tag;
        break;
    case TAG_INTERVAL_READING:
        state->reading = (struct espi_reading){.raw = {.line = line_now(state)}};
        state->has_start = state->has_duration = state->has_value = false;
        break;
    default:
        break;
    }
}

static void XMLCALL element_text(void *context, const XML_Char *bytes, int length)
{
    struct state *state = context;
    if (state->field.length + (size_t)length > FIELD_BYTES_MOST) {
        if (tag_above(state, 0) != TAG_OTHER) {
            stop(state, "a field of more than 4,096 bytes");
        }
        return;
    }
    text_add_length(&state->field, bytes, (size_t)length);
}

/* The field as a whole number least..most; the fault names the element. */
static bool field_whole(struct state *state, const char *what, int64_t least, int64_t most, int64_t *ret_value)
{
    const char *at = text_string(&state->field);
    at += strspn(at, " \t\r\n");
    bool minus = *at == '-';
    at += minus ? 1 : 0;
    int64_t value = 0;
    size_t digits = strspn(at, "0123456789");
    bool fits = digits > 0 && digits <= 18;
    for (size_t i = 0; i < digits && fits; i++) {
        value = value * 10 + (at[i] - '0');
    }
    value = minus ? -value : value;
    at += digits + strspn(at + digits, " \t\r\n");
    if (fits && *at == '\0' && value >= least && value <= most) {
        *ret_value = value;
        return true;
    }
    struct text message = {0};
    text_printf(&message, "%s '", what);
    text_add_shown(&message, text_string(&state->field));
    text_printf(&message, "': expected a whole number %" PRId64 " to %" PRId64, least, most);
    stop(state, text_string(&message));
    text_done(&message);
    return false;
}

/* A rule for the clock's change: eight hexadecimal digits. */
static bool field_rule(struct state *state, uint32_t *ret_rule)
{
    const char *at = text_string(&state->field);
    at += strspn(at, " \t\r\n");
    size_t digits = strspn(at, "0123456789abcdefABCDEF");
    if (digits == 0 || digits > 8 || at[digits + strspn(at + digits, " \t\r\n")] != '\0') {
        stop(state, "a daylight-saving rule is eight hexadecimal digits");
        return false;
    }
    *ret_rule = 0;
    for (size_t i = 0; i < digits; i++) {
        char c = at[i];
        *ret_rule = *ret_rule * 16 + (uint32_t)(c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10);
    }
    return true;
}

static void reading_field(struct state *state, enum tag tag)
{
    struct raw *raw = &state->reading.raw;
    int64_t value = 0;
    if (tag == TAG_VALUE && tag_above(state, 1) == TAG_INTERVAL_READING) {
        /* A value is at most 48 bits by the standard (UInt48). */
        state->has_value = field_whole(state, "value", 0, INT64_C(281474976710655), &raw->energy_uwh);
    } else if (tag_above(state, 1) == TAG_TIME_PERIOD && tag_above(state, 2) == TAG_INTERVAL_READING) {
        if (tag == TAG_START) {
            state->has_start = field_whole(state, "start", 0, INT64_C(7258118400), &raw->start_s); /* to 2200 */
        } else if (tag == TAG_DURATION) {
            state->has_duration = field_whole(state, "duration", 0, 32 * 86400, &value);
            raw->duration_s = (int32_t)value;
        }
    }
}

static void type_field(struct state *state, enum tag tag)
{
    struct espi_type *type = &entry_now(state)->type;
    int64_t value = 0;
    if (!field_whole(state, "reading type's field", -32768, 65535, &value)) {
        return;
    }
    switch (tag) {
    case TAG_UOM:
        type->uom = (int)value;
        break;
    case TAG_FLOW:
        type->flow = (int)value;
        break;
    case TAG_MULTIPLIER:
        type->multiplier = (int)value;
        break;
    case TAG_BEHAVIOUR:
        type->behaviour = (int)value;
        break;
    default:
        type->commodity = (int)value;
        break;
    }
}

static void local_time_field(struct state *state, enum tag tag)
{
    struct espi_local_time *local = &state->espi.local;
    int64_t value = 0;
    switch (tag) {
    case TAG_DST_START:
        field_rule(state, &local->dst_start_rule);
        break;
    case TAG_DST_END:
        field_rule(state, &local->dst_end_rule);
        break;
    case TAG_DST_OFFSET:
        if (field_whole(state, "dstOffset", -7200, 7200, &value)) {
            local->dst_offset_s = (int32_t)value;
        }
        break;
    default:
        if (field_whole(state, "tzOffset", -64800, 64800, &value)) {
            local->tz_offset_s = (int32_t)value;
            local->known = true;
        }
        break;
    }
}

static void reading_end(struct state *state)
{
    struct espi *espi = &state->espi;
    if (!state->has_start || !state->has_duration) {
        stop(state, "an IntervalReading without start and duration");
        return;
    }
    if (!state->has_value) {
        state->without_value++;
        return;
    }
    if (espi->reading_count >= METER_READINGS_MOST) {
        stop(state, "more than 20,000,000 readings; give the file in parts");
        return;
    }
    entry_now(state);
    state->reading.entry = espi->entry_count - 1;
    espi->readings = memory_grow(espi->readings, espi->reading_count, &espi->reading_capacity, sizeof *espi->readings);
    espi->readings[espi->reading_count++] = state->reading;
}

static void XMLCALL element_end(void *context, const XML_Char *name)
{
    (void)name;
    struct state *state = context;
    enum tag tag = tag_above(state, 0);
    enum tag parent = tag_above(state, 1);
    if (tag >= TAG_START && tag <= TAG_VALUE) {
        reading_field(state, tag);
    } else if (tag >= TAG_UOM && tag <= TAG_COMMODITY && parent == TAG_READING_TYPE) {
        type_field(state, tag);
    } else if (tag >= TAG_DST_START && tag <= TAG_TZ_OFFSET && parent == TAG_LOCAL_TIME) {
        local_time_field(state, tag);
    } else if (tag == TAG_INTERVAL_READING) {
        reading_end(state);
    } else if (tag == TAG_ENTRY) {
        state->in_entry = false;
    }
    text_clear(&state->field);
    state->depth -= state->depth > 0;
}
