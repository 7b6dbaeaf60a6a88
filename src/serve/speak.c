#include "speak.h"

#include <stdarg.h>
#include <string.h>

#include "ampsum/html.h"

void page_language(struct visit *visit, const struct form *form)
{
    const int language = language_find(form_value(form, "language"));
    visit->language = language < 0 ? LANGUAGE_ENGLISH : language;
}

const char *page_word(const struct visit *visit, const char *key)
{
    return say_plain(visit->language, key);
}

void page_say_places(struct visit *visit, const char *key, ...)
{
    struct text text = {0};
    va_list places;
    va_start(places, key);
    say_list(&text, visit->language, key, places);
    va_end(places);
    page_add(visit, "%s", text_string(&text));
    text_done(&text);
}

void page_say_marked_places(struct visit *visit, const char *key, ...)
{
    va_list places;
    va_start(places, key);
    say_list(&visit->answer.body, visit->language, key, places);
    va_end(places);
}

const char *page_said_places(struct visit *visit, const char *key, ...)
{
    struct text text = {0};
    va_list places;
    va_start(places, key);
    say_list(&text, visit->language, key, places);
    va_end(places);
    return arena_text(visit->arena, &text);
}

/* ---- numbers */

static const char *as_written(struct visit *visit, struct text *made)
{
    const struct writing writing = language_writing(visit->language);
    struct text text = {0};
    language_write(&text, &writing, text_string(made));
    text_done(made);
    return arena_text(visit->arena, &text);
}

const char *page_figure(struct visit *visit, double value, int decimals)
{
    struct text made = {0};
    text_add_fixed(&made, value, decimals);
    return as_written(visit, &made);
}

const char *page_rounded(struct visit *visit, double value)
{
    enum { DECIMALS = 3 };
    struct text made = {0};
    text_add_rounded(&made, value, DECIMALS);
    return as_written(visit, &made);
}

const char *page_count(struct visit *visit, size_t count)
{
    struct text made = {0};
    text_printf(&made, "%zu", count);
    return as_written(visit, &made);
}

void page_written(struct visit *visit, const char *string)
{
    struct text made = {0};
    text_add(&made, string);
    page_add(visit, "%s", as_written(visit, &made));
}

/* ---- carried on */

const char *page_carried(const struct visit *visit, bool first)
{
    return visit->language == LANGUAGE_ENGLISH
               ? ""
               : arena_printf(visit->arena, "%clanguage=%s", first ? '?' : '&', language_code(visit->language));
}

void page_carry(struct visit *visit)
{
    if (visit->language != LANGUAGE_ENGLISH) {
        page_hidden(visit, "language", language_code(visit->language));
    }
}

/* This view's address in that language. */
static void add_address(const struct visit *visit, int language, struct text *text)
{
    text_printf(text, "%s?language=%s", visit->path, language_code(language));
    for (size_t i = 0; i < visit->query.count; i++) {
        const struct field *field = &visit->query.field[i];
        if (strcmp(field->name, "language") != 0) {
            text_add_char(text, '&');
            html_query(text, field->name);
            text_add_char(text, '=');
            html_query(text, field->value);
        }
    }
}

void page_languages(struct visit *visit)
{
    page_add(visit, "<nav class=\"languages\" aria-label=\"%s\"><ul>", page_word(visit, "page.languages"));
    for (int language = 0; language < (int)language_count(); language++) {
        struct text address = {0};
        const char *code = language_code(language);
        add_address(visit, language, &address);
        page_add(visit, "<li><a lang=\"%s\" hreflang=\"%s\" href=\"%s\"", code, code,
                 arena_text(visit->arena, &address));
        page_add(visit, language == visit->language ? " aria-current=\"true\"" : "");
        page_add(visit, ">%s</a></li>", say_plain(language, "language.name"));
    }
    page_add(visit, "</ul></nav>\n");
}

void page_language_choice(struct visit *visit, const char *key)
{
    page_add(visit, "<label>%s <select name=\"language\">", page_word(visit, key));
    for (int language = 0; language < (int)language_count(); language++) {
        page_add(visit, "<option lang=\"%s\" value=\"%s\"", language_code(language), language_code(language));
        page_add(visit, language == visit->language ? " selected" : "");
        page_add(visit, ">%s</option>", say_plain(language, "language.name"));
    }
    page_add(visit, "</select></label> ");
}
