#include "ampsum/words.h"

#include <string.h>

enum { WORD_BYTES_MOST = 64 };

static size_t smaller(size_t a, size_t b)
{
    return a < b ? a : b;
}

size_t words_distance(const char *a, const char *b)
{
    size_t a_length = smaller(strlen(a), WORD_BYTES_MOST);
    size_t b_length = smaller(strlen(b), WORD_BYTES_MOST);
    size_t rows[3][WORD_BYTES_MOST + 1];
    for (size_t j = 0; j <= b_length; j++) {
        rows[0][j] = j;
    }
    for (size_t i = 1; i <= a_length; i++) {
        size_t *now = rows[i % 3];
        const size_t *before = rows[(i + 2) % 3];
        const size_t *earlier = rows[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            size_t change = before[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            now[j] = smaller(change, smaller(before[j], now[j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                now[j] = smaller(now[j], earlier[j - 2] + 1);
            }
        }
    }
    return rows[a_length % 3][b_length];
}

void words_nearest_init(struct words_nearest *nearest, const char *word)
{
    nearest->word = word;
    nearest->best = NULL;
    nearest->distance = 0;
}

void words_nearest_offer(struct words_nearest *nearest, const char *candidate)
{
    size_t word_length = strlen(nearest->word);
    size_t length = strlen(candidate);
    size_t longer = word_length > length ? word_length : length;
    size_t distance = words_distance(nearest->word, candidate);
    if (word_length >= 3 && strncmp(nearest->word, candidate, word_length) == 0) {
        distance = 1;
    } else if (length >= 4 && strncmp(nearest->word, candidate, length) == 0) {
        distance = distance < 2 ? distance : 2; /* `bathroom` is nearer to `bath` than to `bedroom` */
    } else if (distance > (longer + 2) / 3) {
        return;
    }
    if (nearest->best == NULL || distance < nearest->distance) {
        nearest->best = candidate;
        nearest->distance = distance;
    }
}

/* Length of the well-formed UTF-8 character at `bytes` and its code point; 0 where it is broken. */
static size_t utf8_character(const unsigned char *bytes, size_t length, unsigned long *ret_point)
{
    static const unsigned long least[5] = {0, 0, 0x80, 0x800, 0x10000};
    unsigned char first = bytes[0];
    size_t size = first < 0x80 ? 1 : first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 0;
    if (size == 0 || size > length || first > 0xF4) {
        return 0;
    }
    unsigned long point = size == 1 ? first : first & (0xFFu >> (size + 1));
    for (size_t i = 1; i < size; i++) {
        if ((bytes[i] & 0xC0) != 0x80) {
            return 0;
        }
        point = (point << 6) | (bytes[i] & 0x3Fu);
    }
    if (point < least[size] || point > 0x10FFFF || (point >= 0xD800 && point <= 0xDFFF)) {
        return 0;
    }
    *ret_point = point;
    return size;
}

/* Number of printable ASCII characters at the start, which need no closer look. */
static size_t count_plain(const unsigned char *bytes, size_t length)
{
    size_t count = 0;
    while (count < length && bytes[count] >= ' ' && bytes[count] <= '~') {
        count++;
    }
    return count;
}

bool words_is_utf8(const char *bytes, size_t length)
{
    const unsigned char *at = (const unsigned char *)bytes;
    for (size_t plain = count_plain(at, length); plain < length; plain += count_plain(at + plain, length - plain)) {
        unsigned long point = 0;
        size_t size = utf8_character(at + plain, length - plain, &point);
        if (size == 0) {
            return false;
        }
        plain += size;
    }
    return true;
}

static bool is_control(unsigned long point)
{
    return point < 0x20 || (point >= 0x7F && point < 0xA0) || (point >= 0x202A && point <= 0x202E) ||
           (point >= 0x2066 && point <= 0x2069) || point == 0x2028 || point == 0x2029;
}

bool words_has_control(const char *string)
{
    const unsigned char *at = (const unsigned char *)string;
    size_t length = strlen(string);
    for (size_t plain = count_plain(at, length); plain < length; plain += count_plain(at + plain, length - plain)) {
        unsigned long point = 0;
        size_t size = utf8_character(at + plain, length - plain, &point);
        if (size == 0 || is_control(point)) {
            return true;
        }
        plain += size;
    }
    return false;
}

size_t words_undrawable_bytes(const char *string)
{
    size_t bytes = 1;
    while (bytes < 4 && (string[bytes] & 0xC0) == 0x80) {
        bytes++;
    }
    return bytes;
}

size_t words_drawable_bytes(const char *string)
{
    size_t bytes = words_undrawable_bytes(string);
    while (bytes > 1 && !words_is_utf8(string, bytes)) {
        bytes--;
    }
    unsigned long point = 0;
    const size_t size = utf8_character((const unsigned char *)string, bytes, &point);
    return size == bytes && !is_control(point) && point != 0xFFFE && point != 0xFFFF ? bytes : 0;
}

size_t words_columns_of(const char *bytes, size_t length)
{
    size_t columns = 0;
    for (size_t i = 0; i < length; i++) {
        columns += ((unsigned char)bytes[i] & 0xC0) != 0x80;
    }
    return columns;
}

size_t words_columns(const char *string)
{
    return words_columns_of(string, strlen(string));
}

static bool is_id_byte(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
}

bool words_is_id(const char *string)
{
    enum { LENGTH_MOST = 40 };
    size_t length = 0;
    while (length < LENGTH_MOST && is_id_byte(string[length])) {
        length++;
    }
    return length >= 1 && string[length] == '\0';
}

bool words_end_with(const char *string, const char *ending)
{
    const size_t length = strlen(string);
    const size_t ending_length = strlen(ending);
    return length >= ending_length && strcmp(string + length - ending_length, ending) == 0;
}
