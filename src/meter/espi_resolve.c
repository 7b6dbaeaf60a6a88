#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "espi_parts.h"

enum { UOM_WH = 72, FLOW_NOT_STATED = 0, FLOW_FORWARD = 1, FLOW_REVERSE = 19, BEHAVIOUR_DELTA = 4 };
enum { COMMODITY_ELECTRICITY_MOST = 2, MULTIPLIER_LEAST = -12, MULTIPLIER_MOST = 9, CHANNELS_MOST = 64 };

/* What is done with the readings of one entry. */
enum use { USE_FORWARD, USE_REVERSE, USE_NOT };

/* Entries with one MeterReading (or, where links are missing, one ReadingType) make a channel. */
struct channel {
    size_t owner; /* entry of the MeterReading or ReadingType */
    const struct espi_type *type;
    enum use use;
    size_t reading_count;
};

/* The entries of one kind, and what each is related to in the order of strcmp: a file may have a link for each reading.
 */
struct index {
    size_t entry[CHANNELS_MOST];
    const char **related[CHANNELS_MOST];
    size_t related_count[CHANNELS_MOST];
    size_t count;
};

struct channels {
    struct channel rows[CHANNELS_MOST];
    size_t count;
    size_t *of_entry; /* channel of each entry */
    struct index meters;
    struct index types;
};

static bool index_entries(struct espi *espi, enum tag kind, const char *what, struct index *index);
static bool find_channels(struct espi *espi, struct channels *channels);
static bool choose_channel(struct espi *espi, const struct channels *channels, size_t *ret_channel);
static bool take_readings(struct espi *espi, const struct channels *channels, size_t chosen);
static bool find_zone(struct espi *espi);

bool espi_resolve(struct espi *espi)
{
    if (espi->reading_count == 0) {
        return meter_file_fault(espi->file, 0, "no IntervalReading of http://naesb.org/espi in it");
    }
    struct channels channels = {.of_entry = arena_array(espi->arena, espi->entry_count, sizeof *channels.of_entry)};
    size_t chosen = 0;
    return find_zone(espi) && index_entries(espi, TAG_METER_READING, "meter readings", &channels.meters) &&
           index_entries(espi, TAG_READING_TYPE, "reading types", &channels.types) && find_channels(espi, &channels) &&
           choose_channel(espi, &channels, &chosen) && take_readings(espi, &channels, chosen);
}

static int compare_hrefs(const void *a, const void *b)
{
    const char *const *left = a;
    const char *const *right = b;
    return strcmp(*left, *right);
}

static void index_related(struct espi *espi, const struct espi_entry *entry, struct index *index)
{
    size_t count = 0;
    for (const struct espi_link *link = entry->related; link != NULL; link = link->next) {
        count += link->href != NULL;
    }
    const char **related = arena_array(espi->arena, count, sizeof *related);
    index->related[index->count] = related;
    index->related_count[index->count] = count;
    for (const struct espi_link *link = entry->related; link != NULL; link = link->next) {
        if (link->href != NULL) {
            *related++ = link->href;
        }
    }
    qsort(index->related[index->count], count, sizeof *related, compare_hrefs);
}

static bool index_entries(struct espi *espi, enum tag kind, const char *what, struct index *index)
{
    for (size_t i = 0; i < espi->entry_count; i++) {
        const struct espi_entry *entry = &espi->entries[i];
        if (entry->kind != kind) {
            continue;
        }
        if (index->count == CHANNELS_MOST) {
            return meter_file_fault(espi->file, entry->line, "more than %d %s", CHANNELS_MOST, what);
        }
        index_related(espi, entry, index);
        index->entry[index->count++] = i;
    }
    return true;
}

static bool related_to(const struct index *index, size_t place, const char *href)
{
    return href != NULL && bsearch(&href, index->related[place], index->related_count[place],
                                   sizeof *index->related[place], compare_hrefs) != NULL;
}

static bool begins_below(const char *href, const char *above)
{
    size_t length = above == NULL ? 0 : strlen(above);
    return href != NULL && length > 0 && strncmp(href, above, length) == 0 && href[length] == '/';
}

/* The MeterReading of a block, as its place among them: it names the block's collection, or the block lies below it. */
static size_t owner_of_block(const struct espi *espi, const struct index *meters, const struct espi_entry *block)
{
    for (size_t i = 0; i < meters->count; i++) {
        const char *self = espi->entries[meters->entry[i]].self;
        if (related_to(meters, i, block->up) || related_to(meters, i, block->self) || begins_below(block->up, self) ||
            begins_below(block->self, self)) {
            return i;
        }
    }
    return meters->count;
}

/* The entry of the ReadingType that a MeterReading names; where the file has one alone, that. None: entry_count. */
static size_t type_of_owner(const struct espi *espi, const struct channels *channels, size_t owner)
{
    const struct index *types = &channels->types;
    for (size_t i = 0; i < types->count && owner < channels->meters.count; i++) {
        if (related_to(&channels->meters, owner, espi->entries[types->entry[i]].self)) {
            return types->entry[i];
        }
    }
    return types->count == 1 ? types->entry[0] : espi->entry_count;
}

static enum use use_of_type(const struct espi_type *type)
{
    bool energy = type->uom == UOM_WH && type->commodity <= COMMODITY_ELECTRICITY_MOST &&
                  (type->behaviour == 0 || type->behaviour == BEHAVIOUR_DELTA);
    bool forward = type->flow == FLOW_FORWARD || type->flow == FLOW_NOT_STATED;
    return !energy ? USE_NOT : forward ? USE_FORWARD : type->flow == FLOW_REVERSE ? USE_REVERSE : USE_NOT;
}

static bool channel_of_entry(struct espi *espi, struct channels *channels, size_t entry, size_t *ret_channel)
{
    const size_t meter = owner_of_block(espi, &channels->meters, &espi->entries[entry]);
    const size_t type = type_of_owner(espi, channels, meter);
    if (type == espi->entry_count) {
        return meter_file_fault(espi->file, espi->entries[entry].line,
                                "an IntervalBlock whose ReadingType can't be found; unit and direction are unknown");
    }
    const size_t owner = meter < channels->meters.count ? channels->meters.entry[meter] : type;
    for (size_t i = 0; i < channels->count; i++) {
        if (channels->rows[i].owner == owner) {
            *ret_channel = i;
            return true;
        }
    }
    if (channels->count == CHANNELS_MOST) {
        return meter_file_fault(espi->file, espi->entries[entry].line, "more than %d meter readings", CHANNELS_MOST);
    }
    const struct espi_type *row = &espi->entries[type].type;
    if (row->multiplier < MULTIPLIER_LEAST || row->multiplier > MULTIPLIER_MOST) {
        return meter_file_fault(espi->file, espi->entries[type].line, "powerOfTenMultiplier %d; expected -12 to 9",
                                row->multiplier);
    }
    channels->rows[channels->count] = (struct channel){.owner = owner, .type = row, .use = use_of_type(row)};
    *ret_channel = channels->count++;
    return true;
}

static bool find_channels(struct espi *espi, struct channels *channels)
{
    size_t done = espi->entry_count; /* readings of one entry stand together */
    for (size_t i = 0; i < espi->reading_count; i++) {
        size_t entry = espi->readings[i].entry;
        if (entry != done && !channel_of_entry(espi, channels, entry, &channels->of_entry[entry])) {
            return false;
        }
        done = entry;
        channels->rows[channels->of_entry[entry]].reading_count++;
    }
    return true;
}

static void note_left_out(struct espi *espi, const struct channel *channel)
{
    if (channel->use == USE_NOT) {
        meter_file_note(
            espi->file,
            "%zu readings left out: unit (uom) %d, flowDirection %d, accumulationBehaviour %d, commodity %d; read "
            "is energy in Wh (72) drawn from the network (1)",
            channel->reading_count, channel->type->uom, channel->type->flow, channel->type->behaviour,
            channel->type->commodity);
    }
}

static bool choose_channel(struct espi *espi, const struct channels *channels, size_t *ret_channel)
{
    size_t forward = 0;
    size_t wanted = espi->file->options->channel < 0 ? SIZE_MAX : (size_t)espi->file->options->channel;
    bool found = false;
    for (size_t i = 0; i < channels->count; i++) {
        note_left_out(espi, &channels->rows[i]);
        if (channels->rows[i].use == USE_FORWARD) {
            forward++;
            if (wanted == 0 || wanted == forward) {
                *ret_channel = i;
                found = true;
            }
        }
    }
    if (forward == 0) {
        const struct espi_type *type = channels->rows[0].type;
        return meter_file_fault(
            espi->file, 0,
            "no energy drawn from the network in it: unit (uom) %d, flowDirection %d; read is uom 72 (Wh), "
            "flowDirection 1",
            type->uom, type->flow);
    }
    if (wanted == 0 && forward > 1) {
        return meter_file_fault(espi->file, 0, "%zu meter readings of energy in it; choose with --channel 1 to %zu",
                                forward, forward);
    }
    if (!found) {
        return meter_file_fault(espi->file, 0, "--channel %d: the file has %zu meter reading%s of energy",
                                espi->file->options->channel, forward, forward == 1 ? "" : "s");
    }
    meter_file_note(espi->file, "ESPI: unit Wh x 10^%d%s", channels->rows[*ret_channel].type->multiplier,
                    channels->rows[*ret_channel].type->flow == FLOW_NOT_STATED
                        ? ", direction not stated and taken as drawn from the network"
                        : ", drawn from the network");
    return true;
}

/* value * 10^multiplier Wh in microwatt-hours, rounded half-up; false beyond a gigawatt-hour. */
static bool energy_uwh(int64_t value, int multiplier, int64_t *ret_uwh)
{
    static const int64_t most = INT64_C(1000000000000000);
    int power = multiplier + 6;
    for (; power > 0 && value != 0; power--) {
        if (value > most / 10) {
            return false;
        }
        value *= 10;
    }
    bool up = false;
    for (; power < 0 && value != 0; power++) {
        up = value % 10 >= 5;
        value /= 10;
    }
    *ret_uwh = value + up;
    return *ret_uwh <= most;
}

static bool take_readings(struct espi *espi, const struct channels *channels, size_t chosen)
{
    struct meter_set *set = espi->file->set;
    for (size_t i = 0; i < espi->reading_count; i++) {
        struct raw raw = espi->readings[i].raw;
        size_t index = channels->of_entry[espi->readings[i].entry];
        const struct channel *channel = &channels->rows[index];
        if (index != chosen && channel->use != USE_REVERSE) {
            continue;
        }
        if (!energy_uwh(raw.energy_uwh, channel->type->multiplier, &raw.energy_uwh)) {
            return meter_file_fault(espi->file, raw.line, "value too large; the most is 1 GWh in one reading");
        }
        if (channel->use == USE_REVERSE) {
            set->reverse_count++;
            if (__builtin_add_overflow(set->reverse_uwh, raw.energy_uwh, &set->reverse_uwh)) {
                return meter_file_fault(espi->file, raw.line, "more energy than can be held (9,000 GWh)");
            }
            continue;
        }
        raw.utc_offset_s = espi_offset_s(&espi->local, raw.start_s);
        if (!meter_file_add(espi->file, &raw)) {
            return false;
        }
    }
    if (set->reverse_count > 0) {
        meter_file_note(espi->file, "%zu readings of energy fed back, %lld kWh, kept apart and not stored",
                        set->reverse_count, (long long)(set->reverse_uwh / 1000000000));
    }
    return true;
}

/* --zone in place of the file's own rules. */
static bool find_zone(struct espi *espi)
{
    const char *zone = espi->file->options->zone;
    if (zone != NULL) {
        espi->local = (struct espi_local_time){.known = true};
        if (!meter_zone_read(zone, &espi->local.tz_offset_s)) {
            return meter_file_fault(espi->file, 0, "--zone %s: not a zone; write it like +02:00, -05:00 or Z", zone);
        }
    }
    if (!espi->local.known) {
        meter_file_note(espi->file, "no LocalTimeParameters in it and no --zone: days and hours are those of UTC");
    } else {
        meter_file_note(espi->file, "zone %+d min%s from UTC (%s)", (int)(espi->local.tz_offset_s / 60),
                        espi->local.dst_offset_s != 0 ? ", daylight saving by the file's rules," : "",
                        zone != NULL ? "given" : "LocalTimeParameters");
    }
    return true;
}
