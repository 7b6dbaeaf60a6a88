/* Widths of texts, and what fits into a line. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/canvas.h"
#include "ampsum/words.h"

static const char ellipsis[] = "\xE2\x80\xA6";

/*
 * Advance widths of ASCII from the blank on, thousandths of the size, of DejaVu Sans bold: wider than its book face and
 * than the usual sans-serif faces. Read with cairo_text_extents from the face itself.
 */
static const short widths[95] = {348,  456, 521, 838, 696, 1002, 872, 306,  457, 457, 523, 838, 380, 415,  380, 365,
                                 696,  696, 696, 696, 696, 696,  696, 696,  696, 696, 400, 400, 838, 838,  838, 580,
                                 1000, 774, 762, 734, 830, 683,  683, 821,  837, 372, 372, 775, 637, 995,  837, 850,
                                 733,  850, 770, 720, 682, 812,  774, 1103, 771, 724, 725, 457, 365, 457,  838, 500,
                                 500,  675, 716, 593, 716, 678,  435, 716,  712, 343, 343, 665, 343, 1042, 712, 687,
                                 716,  716, 493, 595, 478, 712,  652, 924,  645, 652, 582, 712, 365, 712,  838};

/* The book face where bold is not asked for. */
static const double book_share = 0.92;

/* Bytes of the character there, whatever it is. */
static size_t step(const char *string)
{
    const size_t bytes = words_drawable_bytes(string);
    return bytes == 0 ? words_undrawable_bytes(string) : bytes;
}

/* Thousandths of the size. Beyond ASCII the widest of each script that the face has. */
static double character_width(const char *string, bool bold)
{
    const unsigned char first = (unsigned char)string[0];
    if (first >= 0x20 && first < 0x7F) {
        return widths[first - 0x20] * (bold ? 1.0 : book_share);
    }
    if (first == 0xC3 && (unsigned char)string[1] != 0x86 && (unsigned char)string[1] != 0xA6) {
        return bold ? 850 : 800; /* letters of Latin-1 but the two ligatures */
    }
    if (first == 0xC2) {
        return 1050; /* signs of Latin-1 */
    }
    return first >= 0xD0 && first <= 0xD4 ? 1360 : 1250;
}

double canvas_text_width(struct canvas_font font, const char *string)
{
    double width = 0;
    for (const char *at = string; *at != '\0'; at += step(at)) {
        width += character_width(at, font.bold);
    }
    return width * font.size / 1000;
}

double canvas_longest_word(struct canvas_font font, const char *string)
{
    double most = 0;
    double width = 0;
    for (const char *at = string; *at != '\0'; at += step(at)) {
        width = *at == ' ' ? 0 : width + character_width(at, font.bold);
        most = fmax(most, width);
    }
    return most * font.size / 1000;
}

double canvas_line_height(struct canvas_font font)
{
    return font.size * 1.28;
}

/* Bytes of `string` (up to `length`) that fit into `width`, in whole characters. */
static size_t bytes_that_fit(struct canvas_font font, double width, const char *string, size_t length)
{
    double used = 0;
    size_t at = 0;
    while (at < length) {
        used += character_width(string + at, font.bold) * font.size / 1000;
        if (used > width) {
            break;
        }
        at += step(string + at);
    }
    return at > length ? length : at;
}

/* Bytes of the next line: up to the last blank that fits, or through a word that alone is too long. */
static size_t line_bytes(struct canvas_font font, double width, const char *string)
{
    const size_t length = strlen(string);
    const size_t fit = bytes_that_fit(font, width, string, length);
    if (fit == length) {
        return fit;
    }
    size_t end = fit;
    while (end > 0 && string[end] != ' ') {
        end--;
    }
    if (end > 0) {
        return end;
    }
    return fit > 0 ? fit : step(string);
}

/* The line with an ellipsis at its end, shortened so that both fit. */
static const char *shortened(struct canvas_font font, double width, const char *string, struct arena *arena)
{
    const double left = width - canvas_text_width(font, ellipsis);
    size_t fit = bytes_that_fit(font, left, string, strlen(string));
    while (fit > 0 && string[fit - 1] == ' ') {
        fit--;
    }
    struct text text = {0};
    text_add_length(&text, string, fit);
    text_add(&text, ellipsis);
    return arena_text(arena, &text);
}

struct canvas_lines canvas_wrap(struct canvas_font font, double width, size_t most, const char *string,
                                struct arena *arena)
{
    struct canvas_lines lines = {0};
    size_t capacity = 0;
    const char **grown = NULL;
    const char *at = string + strspn(string, " ");
    while (*at != '\0' && lines.count < most) {
        grown = memory_grow(grown, lines.count, &capacity, sizeof *grown);
        const size_t bytes = line_bytes(font, width, at);
        const bool more = at[bytes + strspn(at + bytes, " ")] != '\0';
        if (more && lines.count + 1 == most) {
            grown[lines.count++] = shortened(font, width, at, arena);
            break;
        }
        grown[lines.count++] = arena_copy_length(arena, at, bytes);
        at += bytes;
        at += strspn(at, " ");
    }
    lines.line = arena_array(arena, lines.count, sizeof *lines.line);
    if (lines.count > 0) {
        memcpy(lines.line, grown, lines.count * sizeof *grown);
    }
    free(grown);
    return lines;
}
