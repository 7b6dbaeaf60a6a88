/* The document as one HTML file. */
#include <math.h>
#include <string.h>

#include "ampsum/markup.h"
#include "ampsum/print.h"

/* The same inks as the local page's, light and dark; on paper always black on white. */
static const char style[] =
    ":root{color-scheme:light dark;--ground:#fff;--ink:#1a1a1a;--line:#757575}\n"
    "@media screen and (prefers-color-scheme:dark){:root{--ground:#16181a;--ink:#ececec;--line:#8f8f8f}}\n"
    "@media print{:root{color-scheme:light;--ink:#000}}\n"
    "html{color:var(--ink);background:var(--ground);font:1rem/1.45 sans-serif}\n"
    "body{margin:0 auto;padding:1rem;max-width:60rem;overflow-wrap:break-word}\n"
    "h1{font-size:1.6rem;line-height:1.2}h2{font-size:1.25rem;margin-top:2rem;border-bottom:2px solid}\n"
    "ul{padding-left:1.25rem}li{margin:.35rem 0}h3{font-size:1.05rem;margin-top:1.5rem}\n"
    ".caution{border:2px solid;padding:.5rem .75rem;margin:.5rem 0}\n"
    ".scroll{overflow-x:auto;margin:1rem 0}\n"
    "table{border-collapse:collapse;width:100%}\n"
    "caption{text-align:left;font-weight:bold;padding:.25rem 0}\n"
    "th,td{text-align:left;vertical-align:top;padding:.2rem .5rem .2rem 0;border-bottom:1px solid var(--line)}\n"
    "thead th{border-bottom:2px solid}tbody th{font-weight:normal}tbody td,tbody th{overflow-wrap:anywhere}\n"
    ".figure{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}thead .figure{white-space:normal}\n"
    ".ruled td,.ruled th{height:1.6rem}\n"
    ".group th{padding-top:.8rem}\n"
    "figure{margin:1rem 0}figcaption{font-weight:bold}\n"
    "figure svg{display:block;min-width:30rem;max-width:46rem;width:100%;height:auto}\n"
    "summary{padding:.25rem 0;text-decoration:underline;cursor:pointer}\n"
    ".annex{border-bottom:1px solid var(--line)}.annex>summary{padding:.6rem 0;text-decoration:none}\n"
    ".annex>summary strong{font-size:1.1rem}\n"
    ":focus-visible{outline:3px solid;outline-offset:2px}\n"
    "figure.narrow svg,.slim svg{min-width:0;max-width:26rem}.slim{display:none}\n"
    ".line{height:2rem;border-bottom:1px solid var(--line)}\n"
    "footer{margin-top:2rem;border-top:2px solid;font-size:.9rem}\n"
    "@media screen and (max-width:40rem){body{padding:.75rem}.wide{display:none}.slim{display:block}\n"
    /* a row a box, each cell behind its heading */
    ".cards thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}\n"
    ".cards,.cards caption,.cards tbody{display:block}\n"
    ".cards tr{display:grid;grid-template-columns:1fr 1fr;column-gap:1.5rem;border-bottom:2px solid var(--line);"
    "padding:.35rem 0}\n"
    ".cards th,.cards td{border:0;padding:.1rem 0;grid-column:1/-1}.cards tbody th[scope=row]{font-weight:bold}\n"
    ".cards td[data-title]{display:flex;justify-content:space-between;gap:.75rem}.cards td.figure{grid-column:auto;"
    "white-space:normal}\n"
    ".cards td[data-title]::before{content:attr(data-title);text-align:left;font-weight:normal;white-space:normal}\n"
    ".cards td:not(.figure)::before{flex:none;width:5.5rem}.cards td:not(.figure){justify-content:start}\n"
    ".cards .empty{display:none}}\n"
    "@media print{html{font-size:10pt}body{max-width:none;padding:0}.scroll{overflow:visible}\n"
    "thead{display:table-header-group}tr,figure,.caution,.line{break-inside:avoid}\n"
    "h2,h3,caption,summary{break-after:avoid}\n"
    ".page{break-before:page}figure svg{min-width:0;max-width:15cm}\n"
    ".annex{border:0}.annex>summary{list-style:none}.annex::details-content{content-visibility:visible;display:block}\n"
    "@supports not selector(::details-content){.annex:not([open])>summary::after{"
    "content:\" (folded: open it before printing, or print the PDF)\"}}}\n";

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

static bool has_own_headings(const struct print_document *document)
{
    return document->house[0] == '\0';
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

static void add_style(const struct print_document *document, struct text *text)
{
    struct text clean = {0};
    if (has_own_headings(document)) {
        text_printf(text, "<style>\n%s", style);
        add_look(document, text);
        text_add(text, "</style>\n");
        return;
    }
    markup_add(&clean, document->file);
    text_printf(text, "<style>\n%s@page{size:%s;margin:15mm 15mm 20mm;@bottom-left{font:7.5pt sans-serif;content:\"",
                style, document->paper == PRINT_A4 ? "A4" : "letter");
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

static void add_element(struct text *text, const char *open, const char *string, const char *close)
{
    text_add(text, open);
    markup_add(text, string);
    text_add(text, close);
}

/* The narrowest that a column can be, in pixels: figures on one line, of words the longest. */
static double narrowest(const struct print_table *table, size_t column)
{
    static const struct canvas_font cell = {16, false};
    static const struct canvas_font bold = {16, true};
    static const double words_least = 80; /* of a column whose words wrap */
    double width = canvas_longest_word(bold, table->columns[column].heading);
    for (size_t at = column; at < table->cell_count; at += table->column_count) {
        const char *string = table->cells[at] == NULL ? "" : table->cells[at];
        const double whole =
            print_group_name(table, at / table->column_count) != NULL ? 0 : canvas_text_width(cell, string);
        width = fmax(width, table->columns[column].right || whole <= words_least
                                ? whole
                                : fmax(words_least, canvas_longest_word(cell, string)));
    }
    return width;
}

/* Whether a narrow screen cannot hold its columns side by side: its rows are boxes there. */
static bool is_cards(const struct print_table *table)
{
    static const double screen = 336; /* of 360 */
    static const double gap = 8;
    static const double wider = 1.08; /* than measured: the letters of a reader's own sans serif */
    double width = 0;
    for (size_t i = 0; i < table->column_count && width <= screen && !table->ruled; i++) {
        width += wider * narrowest(table, i) + gap;
    }
    return width > screen;
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
static void add_table(struct text *text, const struct print_table *table)
{
    const bool cards = is_cards(table);
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
    text_add(text, "</tbody></table></div>\n");
}

/* `tell`: with what it shows in words below it. */
static void add_picture(struct text *text, const struct picture *picture, bool tell)
{
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
    if (tell) {
        add_element(text, "<p>", picture->description, "</p>");
    }
    text_add(text, "</figure>\n");
}

static void add_led(struct text *text, const char *open, const struct print_block *block, const char *close)
{
    text_add(text, open);
    if (block->lead != NULL) {
        add_element(text, "<strong>", block->lead, "</strong> ");
    }
    markup_add(text, block->string);
    text_add(text, close);
}

/* A blank, labelled; `number` names it within the page. */
static void add_field(struct text *text, const struct print_block *block, size_t number)
{
    text_printf(text, "<p class=\"field\"><label for=\"field-%zu\">", number);
    markup_add(text, block->string);
    text_printf(text, "</label> <input type=\"text\" id=\"field-%zu\" autocomplete=\"off\"></p>\n", number);
}

/* The words of a picture stand below it already: as its next block, or in a document of its own headings. */
static bool is_told(const struct print_document *document, size_t at)
{
    const struct print_block *next = at + 1 < document->block_count ? &document->blocks[at + 1] : NULL;
    const char *description = document->blocks[at].picture->description;
    return has_own_headings(document) ||
           (next != NULL && next->kind == PRINT_PARAGRAPH && strcmp(next->string, description) == 0);
}

/* Not as <h2> in a summary: checkers of older HTML do not know it there. */
static void add_heading(struct text *text, const struct print_block *block)
{
    if (block->folded) {
        add_element(text, "<details class=\"annex\"><summary><strong role=\"heading\" aria-level=\"2\">", block->string,
                    "</strong></summary>\n");
        return;
    }
    text_printf(text, "<h%d>", block->level);
    markup_add(text, block->string);
    text_printf(text, "</h%d>\n", block->level);
}

static void add_block(struct text *text, const struct print_document *document, size_t at)
{
    const struct print_block *block = &document->blocks[at];
    switch (block->kind) {
    case PRINT_HEADING:
        add_heading(text, block);
        break;
    case PRINT_PARAGRAPH:
        add_element(text, block->style == PRINT_STRONG ? "<p><strong>" : "<p>", block->string,
                    block->style == PRINT_STRONG ? "</strong></p>\n" : "</p>\n");
        break;
    case PRINT_ITEM:
        add_led(text, "<li>", block, "</li>\n");
        break;
    case PRINT_CAUTION:
        add_led(text, "<p class=\"caution\">", block, "</p>\n");
        break;
    case PRINT_TABLE:
        if (block->folded) {
            add_element(text, "<details><summary>As a table: ", block->table->caption, "</summary>\n");
        }
        add_table(text, block->table);
        text_add(text, block->folded ? "</details>\n" : "");
        break;
    case PRINT_PICTURE:
        add_picture(text, block->picture, !is_told(document, at));
        break;
    case PRINT_LINES:
        for (size_t i = 0; i < block->lines; i++) {
            text_add(text, "<div class=\"line\"></div>\n");
        }
        break;
    case PRINT_PAGE:
        text_add(text, "<div class=\"page\"></div>\n");
        break;
    case PRINT_FIELD:
        add_field(text, block, at);
        break;
    case PRINT_ROOM:
    case PRINT_FOOT:
    case PRINT_TOGETHER:
        break;
    }
}

/* What comes before a block, and after the last (NULL): a list and what is folded begin and end. */
struct open_elements {
    bool list;
    bool fold;
};

static void add_between(struct text *text, const struct print_block *block, struct open_elements *open)
{
    const bool item = block != NULL && block->kind == PRINT_ITEM;
    const bool section = block == NULL || (block->kind == PRINT_HEADING && block->level == 2);
    text_add(text, open->list && !item ? "</ul>\n" : "");
    text_add(text, open->fold && section ? "</details>\n" : "");
    text_add(text, item && !open->list ? "<ul>\n" : "");
    open->list = item;
    open->fold = section ? block != NULL && block->folded : open->fold;
}

static void add_blocks(struct text *text, const struct print_document *document)
{
    struct open_elements open = {0};
    for (size_t i = 0; i < document->block_count; i++) {
        if (!document->blocks[i].paper) {
            add_between(text, &document->blocks[i], &open);
            add_block(text, document, i);
        }
    }
    add_between(text, NULL, &open);
}

static void add_footer(struct text *text, const struct print_document *document)
{
    text_add(text, "<footer>");
    if (!has_own_headings(document)) {
        add_element(text, "<p>", document->date, ", ");
        markup_add(text, document->file);
        add_element(text, ", ampsum ", document->version, ".</p>");
    }
    add_element(text, "<p>", document->sentence, "</p></footer>\n");
}

void print_html(const struct print_document *document, struct text *text)
{
    const bool own = has_own_headings(document);
    text_printf(text, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n",
                document->words.language);
    text_add(text, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    markup_add(text, document->house);
    add_element(text, own ? "" : " - ", document->title, "</title>\n");
    add_style(document, text);
    text_add(text, "</head>\n<body>\n");
    if (!own) {
        add_element(text, "<header><h1>", document->house, ": ");
        add_element(text, "", document->title, "</h1></header>\n");
    }
    text_add(text, "<main>\n");
    add_blocks(text, document);
    text_add(text, "</main>\n");
    add_footer(text, document);
    text_add(text, "</body>\n</html>\n");
}
