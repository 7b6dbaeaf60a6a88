/* One value of a key, from its field to its text. */
#include <math.h>
#include <string.h>

#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/values.h"
#include "value_parts.h"

enum { LIST_BYTES_WIDE = 4000 }; /* lists beyond it are written without blanks, to stay below a line's length */

const char *const protection_words[PROTECTION_COUNT] = {"gfci", "afci", "rcd"}; /* PROTECTION_ bits, in their order */

void blocks_write(const struct block_list *blocks, bool is_wide, struct text *text)
{
    for (size_t i = 0; i < blocks->count; i++) {
        const struct tariff_block *block = &blocks->block[i];
        text_printf(text, "%s%s%s%s",
                    i == 0    ? ""
                    : is_wide ? ", "
                              : ",",
                    block->upper_kwh != NULL ? block->upper_kwh : "rest", is_wide ? ": " : ":", block->price);
    }
}

struct writing {
    const struct key *key;
    const struct house *house;
    const char *field;
    const char *between; /* of a list's entries */
    struct text *text;
};

static double double_of(const struct writing *writing)
{
    double value = 0;
    memcpy(&value, writing->field, sizeof value);
    return value;
}

static int int_of(const struct writing *writing)
{
    int value = 0;
    memcpy(&value, writing->field, sizeof value);
    return value;
}

static void write_text(const struct writing *writing)
{
    const char *string = NULL;
    memcpy(&string, writing->field, sizeof string);
    text_add(writing->text, string);
}

static void write_quantity(const struct writing *writing)
{
    if ((writing->key->flags & KEY_OR_UNKNOWN) != 0 && double_of(writing) <= 0) {
        text_add(writing->text, "unknown");
        return;
    }
    quantity_write(writing->text, double_of(writing), writing->key->dimension, writing->house->rules);
}

/* A listed size reads best as its fraction. */
static void write_horsepower(const struct writing *writing)
{
    double value = double_of(writing);
    for (int below = 2; below <= 8; below++) {
        for (int above = 1; above < below; above++) {
            if (value == (double)above / below) {
                text_printf(writing->text, "%d/%d hp", above, below);
                return;
            }
        }
    }
    text_add_number(writing->text, value);
    text_add(writing->text, " hp");
}

static void write_whole(const struct writing *writing)
{
    text_printf(writing->text, "%d", int_of(writing));
}

static void write_choice(const struct writing *writing)
{
    text_add(writing->text, key_choice_word(writing->key, int_of(writing)));
}

static void write_reference(const struct writing *writing)
{
    size_t index = NO_INDEX;
    memcpy(&index, writing->field, sizeof index);
    bool is_panel = index == NO_INDEX && (writing->key->flags & KEY_OR_PANEL) != 0;
    text_add(writing->text, is_panel ? "panel" : house_row_id(writing->house, writing->key->target, index));
}

static void write_reference_list(const struct writing *writing)
{
    const struct index_list *list = (const struct index_list *)(const void *)writing->field;
    for (size_t i = 0; i < list->count; i++) {
        text_add(writing->text, i > 0 ? writing->between : "");
        text_add(writing->text, house_row_id(writing->house, writing->key->target, list->index[i]));
    }
}

static void write_scene(const struct writing *writing)
{
    const struct scene_list *list = (const struct scene_list *)(const void *)writing->field;
    for (size_t i = 0; i < list->count; i++) {
        text_add(writing->text, i > 0 ? writing->between : "");
        text_add(writing->text, house_row_id(writing->house, KIND_APPLIANCE, list->member[i].appliance));
        if (list->member[i].units > 0) {
            text_printf(writing->text, "*%u", list->member[i].units);
        }
    }
}

static void write_windows(const struct writing *writing)
{
    windows_write((const struct window_list *)(const void *)writing->field, writing->between, writing->text);
}

static void write_days(const struct writing *writing)
{
    spans_write(&day_spans, (unsigned)int_of(writing), writing->text);
}

static void write_months(const struct writing *writing)
{
    spans_write(&month_spans, (unsigned)int_of(writing), writing->text);
}

static void write_wire(const struct writing *writing)
{
    const struct wire *wire = (const struct wire *)(const void *)writing->field;
    text_printf(writing->text, "%s %s", wire->conductor->size, wire->conductor->metal);
}

static void write_protective(const struct writing *writing)
{
    const struct protective *protective = (const struct protective *)(const void *)writing->field;
    if (protective->same) {
        text_add(writing->text, "same");
    } else {
        text_printf(writing->text, "%s %s", protective->conductor->size, protective->conductor->metal);
    }
}

static void write_position(const struct writing *writing)
{
    const struct position_list *position = (const struct position_list *)(const void *)writing->field;
    for (size_t i = 0; i < position->count; i++) {
        text_printf(writing->text, "%s%d", i > 0 ? "," : "", position->space[i]);
    }
}

static void write_legs(const struct writing *writing)
{
    text_add(writing->text, legs_word((unsigned)int_of(writing)));
}

static void write_protection(const struct writing *writing)
{
    const char *between = "";
    for (unsigned i = 0; i < PROTECTION_COUNT; i++) {
        if (((unsigned)int_of(writing) >> i & 1u) != 0) {
            text_printf(writing->text, "%s%s", between, protection_words[i]);
            between = writing->between;
        }
    }
}

static void write_decimal(const struct writing *writing)
{
    write_text(writing);
    text_add(writing->text, writing->key->dimension == DIMENSION_PERCENT ? "%" : "");
}

static void write_block_list(const struct writing *writing)
{
    blocks_write((const struct block_list *)(const void *)writing->field, writing->between[1] == ' ', writing->text);
}

void value_write(const struct key *key, const struct house *house, const void *row, struct text *text)
{
    static void (*const writers[])(const struct writing *) = {
        [KEY_TEXT] = write_text,
        [KEY_QUANTITY] = write_quantity,
        [KEY_RATIO] = write_quantity,
        [KEY_HORSEPOWER] = write_horsepower,
        [KEY_WHOLE] = write_whole,
        [KEY_CHOICE] = write_choice,
        [KEY_REFERENCE] = write_reference,
        [KEY_REFERENCE_LIST] = write_reference_list,
        [KEY_WINDOWS] = write_windows,
        [KEY_DAYS] = write_days,
        [KEY_MONTHS] = write_months,
        [KEY_WIRE] = write_wire,
        [KEY_POSITION] = write_position,
        [KEY_LEGS] = write_legs,
        [KEY_PROTECTION] = write_protection,
        [KEY_DECIMAL] = write_decimal,
        [KEY_BLOCKS] = write_block_list,
        [KEY_SCENE] = write_scene,
        [KEY_CURRENCY] = write_text,
        [KEY_PROTECTIVE] = write_protective,
    };
    size_t before = text->length;
    struct writing writing = {key, house, (const char *)row + key->offset, ", ", text};
    writers[key->type](&writing);
    bool is_list = key->type != KEY_TEXT && key->type != KEY_DECIMAL;
    if (is_list && text->length - before > LIST_BYTES_WIDE) {
        text->length = before;
        writing.between = ",";
        writers[key->type](&writing);
    }
}
