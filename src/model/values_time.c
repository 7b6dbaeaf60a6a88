/* Values made of times of day, days of the week and months. */
#include <assert.h>
#include <string.h>

#include "ampsum/items.h"
#include "ampsum/values.h"
#include "value_parts.h"

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* `HH:MM` to minutes; -1 where it is no time of day up to `most`. */
static int read_clock(const char *at, size_t length, int most)
{
    if (length != 5 || !is_digit(at[0]) || !is_digit(at[1]) || at[2] != ':' || !is_digit(at[3]) || !is_digit(at[4])) {
        return -1;
    }
    int hour = (at[0] - '0') * 10 + (at[1] - '0');
    int minute = (at[3] - '0') * 10 + (at[4] - '0');
    return minute < 60 && hour * 60 + minute <= most ? hour * 60 + minute : -1;
}

/* Blanks around the dash are fine. */
static bool scan_window(const char *item, struct window *window)
{
    const char *dash = strchr(item, '-');
    if (dash == NULL) {
        return false;
    }
    const char *end = dash;
    while (end > item && (end[-1] == ' ' || end[-1] == '\t')) {
        end--;
    }
    const char *after = dash + 1 + strspn(dash + 1, " \t");
    window->start_min = read_clock(item, (size_t)(end - item), MINUTES_IN_DAY - 1);
    window->end_min = read_clock(after, strlen(after), MINUTES_IN_DAY);
    return window->start_min >= 0 && window->end_min >= 0;
}

static bool read_window(const char *item, struct window *window, struct text *fault)
{
    if (!scan_window(item, window)) {
        text_add(fault, "`");
        text_add_shown(fault, item);
        text_add(fault, "` says no times, expected such as 06:30-07:10, from 00:00 to 24:00");
        return false;
    }
    if (window->start_min == window->end_min) {
        text_printf(fault, "the window `%s` has no length, expected two times that differ (all day is 00:00-24:00)",
                    item);
        return false;
    }
    window->end_min = window->end_min == 0 ? MINUTES_IN_DAY : window->end_min;
    return true;
}

static int minutes_of(const struct window *window)
{
    int minutes = window->end_min - window->start_min;
    return minutes > 0 ? minutes : minutes + MINUTES_IN_DAY;
}

/* On the clock: does b begin inside a, or a inside b? */
static bool windows_meet(const struct window *a, const struct window *b)
{
    int apart_min = (b->start_min - a->start_min + MINUTES_IN_DAY) % MINUTES_IN_DAY;
    int back_min = (a->start_min - b->start_min + MINUTES_IN_DAY) % MINUTES_IN_DAY;
    return apart_min < minutes_of(a) || back_min < minutes_of(b);
}

/* The first of the windows that shares a minute with the latest; their count where none does. */
static size_t first_meeting(const struct window_list *windows, const struct window *latest)
{
    size_t i = 0;
    while (i < windows->count && !windows_meet(&windows->window[i], latest)) {
        i++;
    }
    return i;
}

static bool check_apart(const struct window_list *windows, const struct window *latest, struct text *fault)
{
    size_t i = first_meeting(windows, latest);
    if (i == windows->count) {
        return true;
    }
    text_add(fault, "windows overlap: ");
    windows_write(&(struct window_list){&windows->window[i], 1}, "", fault);
    text_add(fault, " and ");
    windows_write(&(struct window_list){(struct window *)latest, 1}, "", fault);
    text_add(fault, ", expected windows that share no minute");
    return false;
}

enum { CLOCK_LENGTH = 5, WINDOW_LENGTH = 2 * CLOCK_LENGTH + 1, USUAL_MOST = 8 };

/*
 * A few windows as windows_write puts them: the usual form, read without taking it apart. False for any other, which
 * may be right all the same.
 */
static bool read_usual(const char *string, struct arena *arena, struct window_list *ret_windows)
{
    struct window found[USUAL_MOST];
    struct window_list windows = {found, 0};
    const char *end = string + strlen(string);
    for (const char *at = string; windows.count < USUAL_MOST && end - at >= WINDOW_LENGTH; at++) {
        struct window window = {read_clock(at, CLOCK_LENGTH, MINUTES_IN_DAY - 1),
                                read_clock(at + CLOCK_LENGTH + 1, CLOCK_LENGTH, MINUTES_IN_DAY)};
        bool good = at[CLOCK_LENGTH] == '-' && window.start_min >= 0 && window.end_min > 0 &&
                    window.start_min != window.end_min && first_meeting(&windows, &window) == windows.count;
        if (!good) {
            return false;
        }
        found[windows.count++] = window;
        at += WINDOW_LENGTH;
        if (at == end) {
            *ret_windows = (struct window_list){arena_array(arena, windows.count, sizeof *found), windows.count};
            memcpy(ret_windows->window, found, windows.count * sizeof *found);
            return true;
        }
        if (*at != ',') {
            return false;
        }
        at += at[1] == ' ';
    }
    return false;
}

bool windows_read(const char *string, struct arena *arena, struct window_list *ret_windows, struct text *fault)
{
    if (read_usual(string, arena, ret_windows)) {
        return true;
    }
    struct window_list windows = {arena_array(arena, items_most(string), sizeof(struct window)), 0};
    struct items items;
    items_init(&items, string);
    bool good = true;
    while (good && items_next(&items, fault)) {
        struct window window;
        good = read_window(text_string(&items.item), &window, fault) && check_apart(&windows, &window, fault);
        if (good) {
            windows.window[windows.count++] = window;
        }
    }
    good = good && !items.is_faulty;
    items_done(&items);
    if (good) {
        *ret_windows = windows;
    }
    return good;
}

void clock_add(struct text *text, int minute)
{
    text_printf(text, "%02d:%02d", minute / 60, minute % 60);
}

void clock_add_span(struct text *text, int start_min, int end_min)
{
    clock_add(text, start_min);
    text_add_char(text, '-');
    clock_add(text, end_min);
}

void windows_write(const struct window_list *windows, const char *between, struct text *text)
{
    for (size_t i = 0; i < windows->count; i++) {
        text_add(text, i > 0 ? between : "");
        clock_add_span(text, windows->window[i].start_min, windows->window[i].end_min);
    }
}

const struct span_words day_spans = {
    day_word,
    7,
    {{"all", DAYS_ALL}, {"weekdays", DAYS_WEEKDAYS}, {"weekend", DAYS_WEEKEND}, {NULL, 0}},
    "all, weekdays, weekend, or days such as mon,wed or mon-fri",
};
const struct span_words month_spans = {
    month_word,
    MONTHS_IN_YEAR,
    {{"all", MONTHS_ALL}, {NULL, 0}},
    "all, or months such as jan,feb or nov-mar",
};

static int number_of(const struct span_words *words, const char *word)
{
    for (int i = 0; i < words->count; i++) {
        if (strcmp(words->word(i), word) == 0) {
            return i;
        }
    }
    return -1;
}

static unsigned bits_between(const struct span_words *words, int first, int last)
{
    unsigned bits = 1u << last;
    for (int i = first; i != last; i = (i + 1) % words->count) {
        bits |= 1u << i;
    }
    return bits;
}

/* Bits of one item: a named set, a word, or two words with a dash between. 0 where it is none. */
static unsigned read_span(const struct span_words *words, char *item)
{
    for (size_t i = 0; words->named[i].word != NULL; i++) {
        if (strcmp(words->named[i].word, item) == 0) {
            return words->named[i].bits;
        }
    }
    char *end = item_split(item, '-');
    int first = number_of(words, item);
    int last = end == NULL ? first : number_of(words, end);
    return first < 0 || last < 0 ? 0 : bits_between(words, first, last);
}

bool spans_read(const struct span_words *words, const char *string, unsigned *ret_bits, struct text *fault)
{
    enum { SPANS_MOST = 256 }; /* more than there are different ones */
    unsigned seen[SPANS_MOST];
    size_t seen_count = 0;
    unsigned bits = 0;
    struct items items;
    items_init(&items, string);
    while (items_next(&items, fault)) {
        struct text shown = {0};
        text_add_shown(&shown, text_string(&items.item));
        unsigned span = read_span(words, items.item.bytes);
        bool is_twice = false;
        for (size_t i = 0; i < seen_count; i++) {
            is_twice = is_twice || seen[i] == span;
        }
        if (span == 0) {
            text_printf(fault, "unknown `%s`, expected %s", text_string(&shown), words->expected);
        } else if (is_twice || seen_count == SPANS_MOST) {
            text_printf(fault, "`%s` is given twice, expected each once", text_string(&shown));
        }
        text_done(&shown);
        if (span == 0 || is_twice || seen_count == SPANS_MOST) {
            items.is_faulty = true;
            break;
        }
        seen[seen_count++] = span;
        bits |= span;
    }
    bool good = !items.is_faulty;
    items_done(&items);
    if (good) {
        *ret_bits = bits;
    }
    return good;
}

/* Appends the run of bits that begins at `first`; returns its length. */
static int write_run(const struct span_words *words, unsigned bits, int first, struct text *text)
{
    int length = 1;
    while (length < words->count && (bits >> ((first + length) % words->count) & 1u) != 0) {
        length++;
    }
    text_add(text, words->word(first));
    if (length > 1) {
        text_printf(text, "%c%s", length > 2 ? '-' : ',', words->word((first + length - 1) % words->count));
    }
    return length;
}

void spans_write(const struct span_words *words, unsigned bits, struct text *text)
{
    for (size_t i = 0; words->named[i].word != NULL; i++) {
        if (words->named[i].bits == bits) {
            text_add(text, words->named[i].word);
            return;
        }
    }
    assert(bits != 0);
    const char *between = "";
    for (int i = 0; i < words->count; i++) {
        int before = (i + words->count - 1) % words->count;
        if ((bits >> i & 1u) != 0 && (bits >> before & 1u) == 0) {
            text_add(text, between);
            write_run(words, bits, i, text);
            between = ",";
        }
    }
}
