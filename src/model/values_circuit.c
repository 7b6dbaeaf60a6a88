/* Values that describe a circuit or a tariff: wire, position, blocks. */
#include <math.h>
#include <string.h>

#include "ampsum/items.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "number.h"
#include "value_parts.h"

static const char *read_metal(const char *word)
{
    static const struct {
        const char *word;
        int metal;
    } metals[] = {{"copper", METAL_COPPER},
                  {"cu", METAL_COPPER},
                  {"aluminium", METAL_ALUMINIUM},
                  {"aluminum", METAL_ALUMINIUM},
                  {"al", METAL_ALUMINIUM}};
    for (size_t i = 0; i < sizeof metals / sizeof metals[0]; i++) {
        if (number_same_letters(metals[i].word, word)) {
            return metal_word(metals[i].metal);
        }
    }
    return NULL;
}

/* `12AWG`, `1/0 awg`, `2.5 mm²` as the tables write them; false where it is no size. */
static bool read_size(const char *string, struct text *ret_size)
{
    static const char *const units[] = {"AWG", "kcmil", "mm2", "mm\u00b2"};
    size_t length = strspn(string, "0123456789./");
    const char *unit = string + length + strspn(string + length, " \t");
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        bool is_milli = units[i][0] == 'm';
        if (length > 0 && number_same_letters(units[i], unit) && (!is_milli || unit[0] == 'm')) {
            text_add_length(ret_size, string, length);
            text_printf(ret_size, " %s", is_milli ? "mm2" : units[i]);
            return true;
        }
    }
    return false;
}

static void explain_size(const char *size, const char *metal, struct text *fault)
{
    const struct ref_conductor *smaller = NULL;
    const struct ref_conductor *larger = NULL;
    text_add(fault, "`");
    text_add_shown(fault, size);
    if (!reference_conductor_neighbours(size, metal, &smaller, &larger)) {
        text_add(fault, "` is no wire size, expected such as 12 AWG, 1/0 AWG, 250 kcmil or 2.5 mm2");
        return;
    }
    text_printf(fault, "` %s is in no table, expected ", metal);
    text_add(fault, smaller != NULL ? smaller->size : "");
    text_add(fault, smaller != NULL && larger != NULL ? " or " : "");
    text_add(fault, larger != NULL ? larger->size : "");
}

/* What is printed on a cable: 14/2, 12-3 WG. 1/0 to 4/0 are sizes of their own. */
static void explain_print(const char *string, struct text *fault)
{
    const size_t digits = strspn(string, "0123456789");
    const bool parted = digits > 0 && (string[digits] == '/' || string[digits] == '-');
    if (parted && string[digits + 1] >= '2' && string[digits + 1] <= '4') {
        text_printf(fault, " (a cable marked %.*s holds %c wires of %.*s AWG)", (int)digits + 2, string,
                    string[digits + 1], (int)digits, string);
    }
}

static bool read_conductor(const char *string, const char *usual_metal, const struct ref_conductor **ret_conductor,
                           struct text *fault)
{
    const char *metal_at = string + strlen(string);
    while (metal_at > string && metal_at[-1] != ' ' && metal_at[-1] != '\t') {
        metal_at--;
    }
    const char *metal = read_metal(metal_at);
    if (metal == NULL && usual_metal != NULL) {
        metal = usual_metal;
        metal_at = string + strlen(string);
    }
    if (metal == NULL) {
        text_add(fault, "no metal at the end, expected size and metal such as 12 AWG copper or 2.5 mm2 aluminium");
        explain_print(string, fault);
        return false;
    }
    struct text given = {0};
    text_add_length(&given, string, (size_t)(metal_at - string));
    while (given.length > 0 && (given.bytes[given.length - 1] == ' ' || given.bytes[given.length - 1] == '\t')) {
        given.bytes[--given.length] = '\0';
    }
    struct text size = {0};
    const struct ref_conductor *conductor = NULL;
    if (read_size(text_string(&given), &size)) {
        conductor = reference_conductor(text_string(&size), metal);
    }
    if (conductor == NULL) {
        explain_size(size.length > 0 ? text_string(&size) : text_string(&given), metal, fault);
    } else {
        *ret_conductor = conductor;
    }
    text_done(&given);
    text_done(&size);
    return conductor != NULL;
}

bool wire_read(const char *string, struct wire *ret_wire, struct text *fault)
{
    return read_conductor(string, NULL, &ret_wire->conductor, fault);
}

bool protective_read(const char *string, struct protective *ret_protective, struct text *fault)
{
    struct protective protective = {.same = strcmp(string, "same") == 0};
    if (!protective.same && !read_conductor(string, metal_word(METAL_COPPER), &protective.conductor, fault)) {
        text_add(fault, ", or `same`");
        return false;
    }
    *ret_protective = protective;
    return true;
}

bool position_read(const char *string, struct arena *arena, struct position_list *ret_position, struct text *fault)
{
    enum { SPACE_MOST = 999 };
    bool taken[SPACE_MOST + 1] = {false};
    struct position_list position = {arena_array(arena, items_most(string), sizeof(int)), 0};
    struct items items;
    items_init(&items, string);
    bool good = true;
    while (good && items_next(&items, fault)) {
        long space = 0;
        good = quantity_read_whole(text_string(&items.item), 1, SPACE_MOST, &space, fault);
        if (good && taken[space]) {
            text_printf(fault, "space %ld is given twice, expected each once", space);
            good = false;
        }
        if (good) {
            taken[space] = true;
            position.space[position.count++] = (int)space;
        }
    }
    good = good && !items.is_faulty;
    items_done(&items);
    if (good) {
        *ret_position = position;
    } else if (string[0] != '\0' && strpbrk(string + 1, "/&+-") != NULL) {
        text_add(fault, "; the two spaces of a two-pole breaker are written 1,3");
    }
    return good;
}

/* Order of two canonical decimals. */
static int compare_decimals(const char *a, const char *b)
{
    size_t a_whole = strcspn(a, ".");
    size_t b_whole = strcspn(b, ".");
    return a_whole != b_whole ? (a_whole < b_whole ? -1 : 1) : strcmp(a, b);
}

static bool read_block(char *item, struct arena *arena, const struct tariff_block *before, struct tariff_block *block,
                       struct text *fault)
{
    char *price = item_split(item, ':');
    if (price == NULL) {
        text_add(fault, "no colon in `");
        text_add_shown(fault, item);
        text_add(fault, "`, expected an upper bound in kWh and a price, such as 350: 0.14, rest: 0.24");
        return false;
    }
    if (before != NULL && before->upper_kwh == NULL) {
        text_add(fault, "an entry after `rest`, expected `rest` at the end");
        return false;
    }
    struct text decimal = {0};
    bool good = true;
    if (strcmp(item, "rest") != 0) {
        good = quantity_read_decimal(item, DIMENSION_ENERGY, &decimal, fault);
        block->upper_kwh = good ? arena_copy(arena, text_string(&decimal)) : NULL;
        const char *least = before != NULL ? before->upper_kwh : "0";
        if (good && compare_decimals(block->upper_kwh, least) <= 0) {
            text_printf(fault, "bounds out of order: %s after %s, expected each above the one before", block->upper_kwh,
                        least);
            good = false;
        }
    }
    text_clear(&decimal);
    good = good && quantity_read_decimal(price, DIMENSION_NONE, &decimal, fault);
    block->price = arena_text(arena, &decimal);
    return good;
}

bool blocks_read(const char *string, struct arena *arena, struct block_list *ret_blocks, struct text *fault)
{
    struct block_list blocks = {arena_array(arena, items_most(string), sizeof(struct tariff_block)), 0};
    struct items items;
    items_init(&items, string);
    bool good = true;
    while (good && items_next(&items, fault)) {
        const struct tariff_block *before = blocks.count > 0 ? &blocks.block[blocks.count - 1] : NULL;
        good = read_block(items.item.bytes, arena, before, &blocks.block[blocks.count], fault);
        blocks.count += good;
    }
    good = good && !items.is_faulty;
    items_done(&items);
    if (good && blocks.block[blocks.count - 1].upper_kwh != NULL) {
        text_add(fault, "the last entry is not `rest`, expected such as 350: 0.14, rest: 0.24");
        good = false;
    }
    if (good) {
        *ret_blocks = blocks;
    }
    return good;
}
