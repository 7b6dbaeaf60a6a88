/* What can be taken away: the house file, and what commands print. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "site.h"

enum { MKDTEMP_CHARACTERS = 6 }; /* that mkdtemp replaces at the end of a name */

struct download {
    const char *file;    /* offered under this name, and the last word of its path */
    const char *command; /* NULL: the house file, which is written here */
    const char *type;
    const char *what;
};

static const struct download downloads[] = {
    {"house.ini", NULL, "text/plain; charset=utf-8", "The house file: everything as text, to keep, mail or edit"},
    {"report.pdf", "report", "application/pdf", "The report: verdicts, findings, pictures, cost (PDF)"},
    {"report.html", "report", "text/html; charset=utf-8", "The same as one HTML file without scripts"},
    {"directory.pdf", "directory", "application/pdf", "The list for the panel's door (PDF)"},
};

void view_files(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    page_begin(visit, "Downloads");
    html_add(html, "<ul class=\"plain\">");
    for (size_t i = 0; i < sizeof downloads / sizeof downloads[0]; i++) {
        html_add(html, "<li><a href=\"/files/%s\" download>%s</a></li>", downloads[i].file, downloads[i].what);
    }
    html_add(html, "</ul><p>Worksheets with answer keys are made by <code>ampsum lesson</code>.</p>\n");
    page_end(visit);
}

static void send_house(struct visit *visit)
{
    struct document *document = house_document(visit->house, "house");
    document_write(document, &visit->answer.body);
    document_free(document);
}

static bool read_whole(const char *path, struct text *text)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return false;
    }
    char bytes[16384];
    size_t count = 0;
    while ((count = fread(bytes, 1, sizeof bytes, file)) > 0) {
        text_add_length(text, bytes, count);
    }
    const bool good = ferror(file) == 0;
    fclose(file);
    return good;
}

/* Lets the command write into a folder of its own, which is removed again. */
static bool send_command(struct visit *visit, const struct download *download)
{
    const char *base = getenv("TMPDIR");
    struct text folder = {0};
    text_printf(&folder, "%s/ampsum-", base == NULL || base[0] == '\0' ? P_tmpdir : base);
    for (int i = 0; i < MKDTEMP_CHARACTERS; i++) {
        text_add_char(&folder, 'X');
    }
    if (mkdtemp(folder.bytes) == NULL) {
        error_set(&visit->error, ERROR_STORE, "%s: %s", text_string(&folder), strerror(errno));
        text_done(&folder);
        return false;
    }
    struct text path = {0};
    text_printf(&path, "%s/%s", text_string(&folder), download->file);
    struct text said = {0};
    const char *words[] = {download->command, visit->site->path, "-o", text_string(&path), NULL};
    bool good = visit_run(visit, words, &said);
    if (good && !read_whole(text_string(&path), &visit->answer.body)) {
        error_set(&visit->error, ERROR_STORE, "the file can't be read: %s", strerror(errno));
        good = false;
    }
    unlink(text_string(&path));
    rmdir(text_string(&folder));
    text_done(&said);
    text_done(&path);
    text_done(&folder);
    return good;
}

void download_file(struct visit *visit)
{
    const struct download *found = NULL;
    for (size_t i = 0; i < sizeof downloads / sizeof downloads[0]; i++) {
        found = strcmp(downloads[i].file, visit->rest) == 0 ? &downloads[i] : found;
    }
    if (found == NULL) {
        visit_refuse(visit, 404, "Not here", "There is no such file.");
        return;
    }
    if (found->command == NULL) {
        send_house(visit);
    } else if (!send_command(visit, found)) {
        visit_refuse(visit, 503, "This file can't be made now", error_message(&visit->error));
        return;
    }
    visit->answer.type = found->type;
    visit->answer.download = found->file;
}
