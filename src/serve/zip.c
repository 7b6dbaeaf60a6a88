#include "zip.h"

#include <assert.h>
#include <stdint.h>
#include <string.h>

enum { VERSION = 20, DATE_1980 = 0x21, SIXTEEN_BITS = 0xFFFF };

/* CRC-32 of IEEE 802.3, bits reversed, as the format asks for. */
static uint32_t crc(const char *bytes, size_t length)
{
    uint32_t sum = 0xFFFFFFFFU;
    for (size_t i = 0; i < length; i++) {
        sum ^= (unsigned char)bytes[i];
        for (int bit = 0; bit < 8; bit++) {
            sum = sum >> 1 ^ ((sum & 1U) != 0 ? 0xEDB88320U : 0);
        }
    }
    return sum ^ 0xFFFFFFFFU;
}

/* A number of `width` bytes, the lowest first. */
static void add_number(struct text *text, size_t value, int width)
{
    for (int i = 0; i < width; i++) {
        const char byte = (char)(unsigned char)(value >> (8 * i) & 0xFF);
        text_add_length(text, &byte, 1);
    }
}

/* What the head of a file and its line in the list have in common. */
static void add_facts(struct text *text, const char *name, const struct text *file)
{
    add_number(text, VERSION, 2);
    add_number(text, 0, 2); /* flags */
    add_number(text, 0, 2); /* method: stored */
    add_number(text, 0, 2); /* time */
    add_number(text, DATE_1980, 2);
    add_number(text, crc(text_string(file), file->length), 4);
    add_number(text, file->length, 4);
    add_number(text, file->length, 4);
    add_number(text, strlen(name), 2);
    add_number(text, 0, 2); /* further fields */
}

void zip_add(struct zip *zip, struct text *bytes, const char *name, const struct text *file)
{
    const size_t at = bytes->length;
    assert(strlen(name) <= SIXTEEN_BITS && zip->count < SIXTEEN_BITS);
    text_add_length(bytes, "PK\3\4", 4);
    add_facts(bytes, name, file);
    text_add(bytes, name);
    text_add_length(bytes, text_string(file), file->length);

    text_add_length(&zip->list, "PK\1\2", 4);
    add_number(&zip->list, VERSION, 2);
    add_facts(&zip->list, name, file);
    add_number(&zip->list, 0, 2); /* comment */
    add_number(&zip->list, 0, 2); /* disk */
    add_number(&zip->list, 0, 2); /* kind of content */
    add_number(&zip->list, 0, 4); /* attributes */
    add_number(&zip->list, at, 4);
    text_add(&zip->list, name);
    zip->count++;
}

void zip_end(struct zip *zip, struct text *bytes)
{
    const size_t at = bytes->length;
    text_add_length(bytes, text_string(&zip->list), zip->list.length);
    text_add_length(bytes, "PK\5\6", 4);
    add_number(bytes, 0, 4); /* disks */
    add_number(bytes, zip->count, 2);
    add_number(bytes, zip->count, 2);
    add_number(bytes, zip->list.length, 4);
    add_number(bytes, at, 4);
    add_number(bytes, 0, 2); /* comment */
    text_done(&zip->list);
    *zip = (struct zip){0};
}
