/* The document as one HTML file. */
#include <string.h>

#include "ampsum/markup.h"
#include "ampsum/print.h"

static const char style[] =
    "html{color:#000;background:#fff;font:1rem/1.45 sans-serif}\n"
    "body{margin:0 auto;padding:1rem;max-width:60rem;overflow-wrap:break-word}\n"
    "h1{font-size:1.6rem;line-height:1.2}h2{font-size:1.25rem;margin-top:2rem;border-bottom:2px solid #000}\n"
    "li{margin:.35rem 0}h3{font-size:1.05rem;margin-top:1.5rem}\n"
    ".caution{border:2px solid #000;padding:.5rem .75rem;margin:.5rem 0}\n"
    ".scroll{overflow-x:auto;margin:1rem 0}\n"
    "table{border-collapse:collapse;width:100%}\n"
    "caption{text-align:left;font-weight:bold;padding:.25rem 0}\n"
    "th,td{text-align:left;vertical-align:top;padding:.2rem .5rem .2rem 0;border-bottom:1px solid #767676}\n"
    "thead th{border-bottom:2px solid #000}tbody th{font-weight:normal}\n"
    ".figure{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}\n"
    ".ruled td,.ruled th{height:1.6rem}\n"
    "figure{margin:1rem 0}figcaption{font-weight:bold}\n"
    "figure svg{display:block;min-width:30rem;max-width:46rem;width:100%;height:auto}\n"
    ".line{height:2rem;border-bottom:1px solid #767676}\n"
    "footer{margin-top:2rem;border-top:2px solid #000;font-size:.9rem}\n"
    "@media print{html{font-size:10pt}body{max-width:none;padding:0}.scroll{overflow:visible}\n"
    "thead{display:table-header-group}tr,figure,.caution,.line{break-inside:avoid}h2,h3,caption{break-after:avoid}\n"
    ".page{break-before:page}figure svg{min-width:0;max-width:15cm}}\n";

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
    text_add(text, "html{font-size:");
    text_add_rounded(text, look->text, 1);
    text_add(text, "pt;line-height:");
    text_add_rounded(text, look->line_gap > 0 ? look->line_gap : 1.45, 2);
    if (look->font != NULL) {
        text_add(text, ";font-family:\"");
        add_css_string(text, look->font);
        text_add(text, "\",sans-serif");
    }
    text_printf(
        text,
        "}\nlabel{margin-right:.5em}input{font:inherit;color:#000;background:#fff;border:2px solid #000;"
        "padding:.2em .4em;width:14em;max-width:100%%}\ninput:focus{outline:3px solid #000;outline-offset:2px}\n"
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

static void add_heads(struct text *text, const struct print_table *table)
{
    text_add(text, "<thead><tr>");
    for (size_t i = 0; i < table->column_count; i++) {
        const struct print_column *column = &table->columns[i];
        text_add(text, column->right ? "<th scope=\"col\" class=\"figure\">" : "<th scope=\"col\">");
        markup_add(text, column->heading);
        text_add(text, "</th>");
    }
    text_add(text, "</tr></thead>\n");
}

static void add_table(struct text *text, const struct print_table *table)
{
    text_printf(text, "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"");
    markup_add(text, table->caption);
    text_printf(text, "\"><table%s>", table->ruled ? " class=\"ruled\"" : "");
    add_element(text, "<caption>", table->caption, "</caption>\n");
    add_heads(text, table);
    text_add(text, "<tbody>\n");
    for (size_t row = 0; row < print_row_count(table); row++) {
        text_add(text, "<tr>");
        for (size_t i = 0; i < table->column_count; i++) {
            const char *word = i == 0 && !table->ruled ? "th" : "td";
            text_printf(text, "<%s%s%s>", word, i == 0 && !table->ruled ? " scope=\"row\"" : "",
                        table->columns[i].right ? " class=\"figure\"" : "");
            markup_add(text, table->cells[row * table->column_count + i]);
            text_printf(text, "</%s>", word);
        }
        text_add(text, "</tr>\n");
    }
    text_add(text, "</tbody></table></div>\n");
}

/* `told`: what it shows stands in words below it; a document of its own headings says that itself. */
static void add_picture(struct text *text, const struct picture *picture, bool told)
{
    text_add(text, "<figure>");
    add_element(text, "<figcaption>", picture->title, "</figcaption>\n");
    text_add(text, "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"");
    markup_add(text, picture->title);
    text_add(text, "\">\n");
    picture_svg(picture, text);
    text_add(text, "</div>");
    if (told) {
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

static void add_block(struct text *text, const struct print_document *document, size_t at)
{
    const struct print_block *block = &document->blocks[at];
    switch (block->kind) {
    case PRINT_HEADING:
        text_printf(text, "<h%d>", block->level);
        markup_add(text, block->string);
        text_printf(text, "</h%d>\n", block->level);
        break;
    case PRINT_PARAGRAPH:
        add_element(text, "<p>", block->string, "</p>\n");
        break;
    case PRINT_ITEM:
        add_led(text, "<li>", block, "</li>\n");
        break;
    case PRINT_CAUTION:
        add_led(text, "<p class=\"caution\">", block, "</p>\n");
        break;
    case PRINT_TABLE:
        add_table(text, block->table);
        break;
    case PRINT_PICTURE:
        add_picture(text, block->picture, !has_own_headings(document));
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
    bool list = false;
    for (size_t i = 0; i < document->block_count; i++) {
        const bool item = document->blocks[i].kind == PRINT_ITEM;
        text_add(text, item && !list ? "<ul>\n" : !item && list ? "</ul>\n" : "");
        list = item;
        add_block(text, document, i);
    }
    text_add(text, list ? "</ul>\n" : "");
    text_add(text, "</main>\n<footer>");
    if (!own) {
        add_element(text, "<p>", document->date, ", ");
        markup_add(text, document->file);
        add_element(text, ", ampsum ", document->version, ".</p>");
    }
    add_element(text, "<p>", document->sentence, "</p></footer>\n</body>\n</html>\n");
}
