#include "plain.h"

#include <string.h>

/* Signs and what they become. Superscript digits are told apart: they stand behind a ^. */
static const struct sign {
    const char *sign;
    const char *plain;
} signs[] = {
    {"\xC2\xA0", " "},
    {"\xE2\x80\xAF", " "},
    {"\xE2\x81\x9F", " "},
    {"\xE3\x80\x80", " "},
    {"\xEF\xBB\xBF", ""},
    {"\xE2\x80\x8B", ""},
    {"\xE2\x81\xA0", ""},
    {"‘", "'"},
    {"’", "'"},
    {"ʼ", "'"},
    {"′", "'"},
    {"“", ""},
    {"”", ""},
    {"„", ""},
    {"«", ""},
    {"»", ""},
    {"\"", ""},
    {"−", "-"},
    {"–", "-"},
    {"—", "-"},
    {"‐", "-"},
    {"‑", "-"},
    {"Ω", "ohm"},
    {"\xE2\x84\xA6", "ohm"},
    {"µ", "u"},
    {"μ", "u"},
    {"×", "x"},
    {"✕", "x"},
    {"·", "*"},
    {"⋅", "*"},
    {"∙", "*"},
    {"•", "*"},
    {"⁄", "/"},
    {"÷", "/"},
    {"≈", "~"},
    {"≃", "~"},
    {"≅", "~"},
    {"∼", "~"},
    {"½", " 1/2"},
    {"⅓", " 1/3"},
    {"⅔", " 2/3"},
    {"¼", " 1/4"},
    {"¾", " 3/4"},
    {"⅕", " 1/5"},
    {"⅖", " 2/5"},
    {"⅗", " 3/5"},
    {"⅘", " 4/5"},
    {"⅙", " 1/6"},
    {"⅚", " 5/6"},
    {"⅛", " 1/8"},
    {"⅜", " 3/8"},
    {"⅝", " 5/8"},
    {"⅞", " 7/8"},
    {"…", "..."},
    {"⬆", "↑"},
    {"⇑", "↑"},
    {"⇧", "↑"},
    {"▲", "↑"},
    {"⬇", "↓"},
    {"⇓", "↓"},
    {"⇩", "↓"},
    {"▼", "↓"},
    {"➡", "→"},
    {"⇒", "→"},
    {"⇔", "↔"},
    {"\xEF\xB8\x8F", ""},
    {"¿", ""},
    {"¡", ""},
    {"à", "a"},
    {"á", "a"},
    {"â", "a"},
    {"ä", "a"},
    {"ã", "a"},
    {"å", "a"},
    {"è", "e"},
    {"é", "e"},
    {"ê", "e"},
    {"ë", "e"},
    {"ì", "i"},
    {"í", "i"},
    {"î", "i"},
    {"ï", "i"},
    {"ò", "o"},
    {"ó", "o"},
    {"ô", "o"},
    {"ö", "o"},
    {"õ", "o"},
    {"ù", "u"},
    {"ú", "u"},
    {"û", "u"},
    {"ü", "u"},
    {"ñ", "n"},
    {"ç", "c"},
    {"ß", "ss"},
    {"À", "A"},
    {"Á", "A"},
    {"Â", "A"},
    {"Ä", "A"},
    {"È", "E"},
    {"É", "E"},
    {"Ê", "E"},
    {"Í", "I"},
    {"Ó", "O"},
    {"Ö", "O"},
    {"Ú", "U"},
    {"Ü", "U"},
    {"Ñ", "N"},
    {"Ç", "C"},
};

static const struct sign superscripts[] = {
    {"⁰", "0"}, {"¹", "1"}, {"²", "2"}, {"³", "3"}, {"⁴", "4"}, {"⁵", "5"},
    {"⁶", "6"}, {"⁷", "7"}, {"⁸", "8"}, {"⁹", "9"}, {"⁻", "-"}, {"⁺", "+"},
};

static const struct sign *find(const struct sign *rows, size_t count, const char *at)
{
    for (size_t i = 0; i < count; i++) {
        if (strncmp(at, rows[i].sign, strlen(rows[i].sign)) == 0) {
            return &rows[i];
        }
    }
    return NULL;
}

/* U+2000 to U+200A: blanks of many widths. */
static bool is_wide_blank(const char *at)
{
    return strncmp(at, "\xE2\x80", 2) == 0 && (unsigned char)at[2] >= 0x80 && (unsigned char)at[2] <= 0x8A;
}

/* U+FF01 to U+FF5E are ASCII in full width; 0 where it is none of them. */
static char narrow(const char *at)
{
    const unsigned char *c = (const unsigned char *)at;
    if (c[0] != 0xEF || (c[1] != 0xBC && c[1] != 0xBD) || c[2] < 0x80 || c[2] > 0xBF) {
        return 0;
    }
    const unsigned point = 0xF000U | (c[1] & 0x3FU) << 6 | (c[2] & 0x3FU);
    return point >= 0xFF01 && point <= 0xFF5E ? (char)(point - 0xFF01 + '!') : 0;
}

/* Adds what stands at `at`; returns the bytes taken. `raised`: the last one was a superscript. */
static size_t add_sign(struct text *text, const char *at, bool *raised)
{
    const struct sign *row = find(superscripts, sizeof superscripts / sizeof superscripts[0], at);
    if (row != NULL) {
        text_add(text, *raised ? "" : "^");
        *raised = true;
        text_add(text, row->plain);
        return strlen(row->sign);
    }
    *raised = false;
    if (*at == '\t' || *at == '\r' || *at == '\n' || is_wide_blank(at)) {
        text_add_char(text, ' ');
        return (unsigned char)*at < 128 ? 1 : 3;
    }
    if (narrow(at) != 0) {
        text_add_char(text, narrow(at));
        return 3;
    }
    row = find(signs, sizeof signs / sizeof signs[0], at);
    if (row != NULL) {
        text_add(text, row->plain);
        return strlen(row->sign);
    }
    text_add_char(text, *at);
    return 1;
}

void plain_signs(struct text *text, const char *string)
{
    bool raised = false;
    while (*string != '\0') {
        string += add_sign(text, string, &raised);
    }
}

void plain_small(struct text *text, const char *string)
{
    for (; *string != '\0'; string++) {
        text_add_char(text, *string >= 'A' && *string <= 'Z' ? (char)(*string - 'A' + 'a') : *string);
    }
}
