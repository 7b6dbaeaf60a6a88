/* The document as one HTML file. */
#include <math.h>
#include <string.h>

#include "ampsum/asset.h"
#include "ampsum/markup.h"
#include "walk.h"

static void add_element(struct text *text, const char *open, const char *string, const char *close)
{
    text_add(text, open);
    markup_add(text, string);
    text_add(text, close);
}

static const struct print_block *block_at(const struct html *html, size_t at)
{
    return &html->document->blocks[at];
}

/* ------------------------------------------------------------------ texts --------------------------------- */

/* Not as <h2> in a summary: checkers of older HTML do not know it there. */
void html_heading(struct html *html, size_t at)
{
    const struct print_block *block = block_at(html, at);
    if (block->level == 2) {
        text_add(html->text, html->folded ? "</details>\n" : "");
        html->folded = block->folded;
    }
    if (block->folded) {
        add_element(html->text, "<details class=\"annex\"><summary><strong role=\"heading\" aria-level=\"2\">",
                    block->string, "</strong></summary>\n");
        return;
    }
    text_printf(html->text, "<h%d>", block->level);
    markup_add(html->text, block->string);
    text_printf(html->text, "</h%d>\n", block->level);
}

void html_paragraph(struct html *html, size_t at)
{
    const bool strong = block_at(html, at)->style == PRINT_STRONG;
    add_element(html->text, strong ? "<p><strong>" : "<p>", block_at(html, at)->string,
                strong ? "</strong></p>\n" : "</p>\n");
}

static void add_led(struct html *html, const char *open, size_t at, const char *close)
{
    const struct print_block *block = block_at(html, at);
    text_add(html->text, open);
    if (block->lead != NULL) {
        add_element(html->text, "<strong>", block->lead, "</strong> ");
    }
    add_element(html->text, "", block->string, close);
}

void html_item(struct html *html, size_t at)
{
    add_led(html, walk_begins_list(html->document, at, ON_SCREEN) ? "<ul>\n<li>" : "<li>", at,
            walk_ends_list(html->document, at, ON_SCREEN) ? "</li>\n</ul>\n" : "</li>\n");
}

void html_caution(struct html *html, size_t at)
{
    add_led(html, "<p class=\"caution\">", at, "</p>\n");
}

/* A blank, labelled; its block's number names it within the page. */
void html_field(struct html *html, size_t at)
{
    text_printf(html->text, "<p class=\"field\"><label for=\"field-%zu\">", at);
    markup_add(html->text, block_at(html, at)->string);
    text_printf(html->text, "</label> <input type=\"text\" id=\"field-%zu\" autocomplete=\"off\"></p>\n", at);
}

void html_lines(struct html *html, size_t at)
{
    for (size_t i = 0; i < block_at(html, at)->lines; i++) {
        text_add(html->text, "<div class=\"line\"></div>\n");
    }
}

void html_page(struct html *html, size_t at)
{
    (void)at;
    text_add(html->text, "<div class=\"page\"></div>\n");
}

/* ------------------------------------------------------------------ tables -------------------------------- */

/* Whether a narrow screen cannot hold its columns side by side: its rows are boxes there. */
static bool is_cards(const struct print_document *document, struct print_table *table)
{
    static const double letter = 16;
    static const double screen = 336; /* of 360 */
    static const double gap = 8;
    static const double wider = 1.08;     /* than measured: the letters of a reader's own sans serif */
    static const double words_least = 80; /* of a column whose words wrap */
    const struct natural *natural = walk_measure(document, table);
    double width = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        const double whole = letter * natural[i].cells;
        const double cells =
            table->columns[i].right || whole <= words_least ? whole : fmax(words_least, letter * natural[i].word);
        width += wider * fmax(cells, letter * natural[i].heading_word) + gap;
    }
    return !table->ruled && width > screen;
}

static void add_heads(struct text *text, const struct print_table *table)
{
    text_add(text, "<thead><tr role=\"row\">");
    for (size_t i = 0; i < table->column_count; i++) {
        const struct print_column *column = &table->columns[i];
        text_printf(text, "<th scope=\"col\" role=\"columnheader\"%s>", column->right ? " class=\"figure\"" : "");
        markup_add(text, column->heading);
        text_add(text, "</th>");
    }
    text_add(text, "</tr></thead>\n");
}

/* A line over all columns: what follows is a group of rows of its own. */
static void add_group(struct text *text, const struct print_table *table, size_t row)
{
    text_printf(text, "%s<tr class=\"group\" role=\"row\"><th colspan=\"%zu\" scope=\"rowgroup\" role=\"rowheader\">",
                row > 0 ? "</tbody><tbody role=\"rowgroup\">\n" : "", table->column_count);
    add_element(text, "<strong>", print_group_name(table, row), "</strong>");
    add_element(text, " ", print_group_note(table, row), "</th></tr>\n");
}

static void add_cell(struct text *text, const struct print_table *table, size_t row, size_t column, bool cards)
{
    const char *cell = table->cells[row * table->column_count + column];
    const bool head = column == 0 && !table->ruled;
    const char *word = head ? "th" : "td";
    const char *kind = table->columns[column].right && cell[0] == '\0' ? "figure empty"
                       : table->columns[column].right                  ? "figure"
                       : cell[0] == '\0'                               ? "empty"
                                                                       : NULL;
    text_printf(text, "<%s%s", word, head ? " scope=\"row\" role=\"rowheader\"" : " role=\"cell\"");
    if (kind != NULL) {
        text_printf(text, " class=\"%s\"", kind);
    }
    if (cards && column > 0) {
        add_element(text, " data-title=\"", table->columns[column].heading, "\"");
    }
    text_add_char(text, '>');
    markup_add(text, cell);
    text_printf(text, "</%s>", word);
}

/* With roles: a narrow screen shows the rows as boxes, and some readers take them for no table then. */
void html_table(struct html *html, size_t at)
{
    struct text *text = html->text;
    const struct print_block *block = block_at(html, at);
    struct print_table *table = block->table;
    const bool cards = is_cards(html->document, table);
    if (block->folded) {
        add_element(text, "<details><summary>As a table: ", table->caption, "</summary>\n");
    }
    text_printf(text, "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"");
    markup_add(text, table->caption);
    text_printf(text, "\"><table role=\"table\"%s>",
                table->ruled ? " class=\"ruled\""
                : cards      ? " class=\"cards\""
                             : "");
    add_element(text, "<caption>", table->caption, "</caption>\n");
    add_heads(text, table);
    text_add(text, "<tbody role=\"rowgroup\">\n");
    for (size_t row = 0; row < print_row_count(table); row++) {
        if (print_group_name(table, row) != NULL) {
            add_group(text, table, row);
            continue;
        }
        text_add(text, "<tr role=\"row\">");
        for (size_t i = 0; i < table->column_count; i++) {
            add_cell(text, table, row, i, cards);
        }
        text_add(text, "</tr>\n");
    }
    text_add(text, block->folded ? "</tbody></table></div>\n</details>\n" : "</tbody></table></div>\n");
}

/* ------------------------------------------------------------------ pictures ------------------------------ */

/* The words of a picture stand below it already, as the next block of the screen. */
static bool is_told(const struct html *html, size_t at)
{
    const size_t next = walk_next(html->document, at, ON_SCREEN);
    return next < html->document->block_count && block_at(html, next)->kind == PRINT_PARAGRAPH &&
           strcmp(block_at(html, next)->string, block_at(html, at)->picture->description) == 0;
}

/* With what it shows in words below it. */
void html_picture(struct html *html, size_t at)
{
    struct text *text = html->text;
    const struct picture *picture = block_at(html, at)->picture;
    text_add(text, picture->width <= PICTURE_HALF_WIDTH ? "<figure class=\"narrow\">" : "<figure>");
    add_element(text, "<figcaption>", picture->title, "</figcaption>\n");
    text_printf(text, "<div class=\"scroll%s\" tabindex=\"0\" role=\"group\" aria-label=\"",
                picture->narrow != NULL ? " wide" : "");
    markup_add(text, picture->title);
    text_add(text, "\">\n");
    picture_svg(picture, text);
    text_add(text, "</div>");
    if (picture->narrow != NULL) {
        text_add(text, "<div class=\"slim\">\n");
        picture_svg(picture->narrow, text);
        text_add(text, "</div>");
    }
    if (!is_told(html, at)) {
        add_element(text, "<p>", picture->description, "</p>");
    }
    text_add(text, "</figure>\n");
}

/* ------------------------------------------------------------------ the page ------------------------------ */

/* Inside a quoted string of a style sheet, whatever the bytes. */
static void add_css_string(struct text *text, const char *string)
{
    for (const char *at = string; *at != '\0'; at++) {
        const unsigned char byte = (unsigned char)*at;
        if (byte >= 0x80) {
            text_add_char(text, *at);
        } else if (strchr(" ,.:;-_/()0123456789", byte) != NULL || (byte >= 'A' && byte <= 'Z') ||
                   (byte >= 'a' && byte <= 'z')) {
            text_add_char(text, *at);
        } else {
            text_printf(text, "\\%06X", byte);
        }
    }
}

/* Size of letters, family and lines of a sheet; its blanks. */
static void add_look(const struct print_document *document, struct text *text)
{
    const struct print_look *look = &document->look;
    text_rounded(text, "html{font-size:", look->text, 1, "pt;line-height:");
    text_add_rounded(text, look->line_gap > 0 ? look->line_gap : 1.45, 2);
    if (look->font != NULL) {
        text_add(text, ";font-family:\"");
        add_css_string(text, look->font);
        text_add(text, "\",sans-serif");
    }
    text_printf(
        text,
        "}\nlabel{margin-right:.5em}input{font:inherit;color:var(--ink);background:var(--ground);border:2px solid;"
        "padding:.2em .4em;width:14em;max-width:100%%}\n"
        "@page{size:%s;margin:15mm}\n@media print{input{border:0;border-bottom:1px solid #000}}\n",
        document->paper == PRINT_A4 ? "A4" : "letter");
}

static void add_css(struct text *text)
{
    text_add(text, "<style>\n");
    text_add_length(text, draw_assets[0].bytes, draw_assets[0].length);
}

static void add_style(const struct print_document *document, struct text *text)
{
    struct text clean = {0};
    if (!walk_is_titled(document)) {
        add_css(text);
        add_look(document, text);
        text_add(text, "</style>\n");
        return;
    }
    markup_add(&clean, document->file);
    add_css(text);
    text_printf(text, "@page{size:%s;margin:15mm 15mm 20mm;@bottom-left{font:7.5pt sans-serif;content:\"",
                document->paper == PRINT_A4 ? "A4" : "letter");
    add_css_string(text, document->date);
    text_add(text, "  ");
    add_css_string(text, text_string(&clean));
    text_add(text, "  ampsum ");
    add_css_string(text, document->version);
    text_add(text, "\\A ");
    add_css_string(text, document->sentence);
    text_add(text, "\";white-space:pre-line}@bottom-right{font:7.5pt sans-serif;"
                   "content:\"page \" counter(page) \" of \" counter(pages)}}\n</style>\n");
    text_done(&clean);
}

static void add_blocks(const struct print_document *document, struct text *text)
{
    struct html html = {.document = document, .text = text};
    for (size_t at = 0; at < document->block_count; at++) {
        const enum print_kind kind = document->blocks[at].kind;
        if (walk_shows(document, at, ON_SCREEN) && elements[kind].html != NULL) {
            elements[kind].html(&html, at);
        }
    }
    text_add(text, html.folded ? "</details>\n" : "");
}

static void add_footer(struct text *text, const struct print_document *document)
{
    text_add(text, "<footer>");
    if (walk_is_titled(document)) {
        add_element(text, "<p>", document->date, ", ");
        markup_add(text, document->file);
        add_element(text, ", ampsum ", document->version, ".</p>");
    }
    add_element(text, "<p>", document->sentence, "</p></footer>\n");
}

void print_html(const struct print_document *document, struct text *text)
{
    struct text title = {0};
    walk_title(document, &title);
    text_printf(text, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n",
                document->words.language);
    text_add(text, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    add_element(text, "<title>", text_string(&title), "</title>\n");
    add_style(document, text);
    text_add(text, "</head>\n<body>\n");
    if (walk_is_titled(document)) {
        add_element(text, "<header><h1>", text_string(&title), "</h1></header>\n");
    }
    text_add(text, "<main>\n");
    add_blocks(document, text);
    text_add(text, "</main>\n");
    add_footer(text, document);
    text_add(text, "</body>\n</html>\n");
    text_done(&title);
}
