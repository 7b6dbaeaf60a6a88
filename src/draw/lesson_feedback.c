/* `ampsum-draw lesson-feedback FOLDER a4|letter LANGUAGE[,large]`: each feedback-*.txt as PDF. Called by `ampsum
 * mark --feedback`. */
#include "lesson_feedback.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/language.h"
#include "lesson_document.h"
#include "lesson_paper.h"

static const double blank_pt = 3;     /* of a blank at a line's start */
static const double section_gap = 10; /* for an empty line */
enum { SECTION_BLANKS = 3 };

/* As on the sheet, with the signs of units; what the student wrote stays as it was written. */
static const char *with_signs(struct print_document *document, int language, const char *line)
{
    const struct writing writing = {.decimal = '.', .voltage = 'V', .signs = true}; /* the rest is written already */
    struct text own = {0};
    struct text right = {0};
    struct text made = {0};
    say(&own, language, "feedback.own", "answer", "", (const char *)NULL);
    say(&right, language, "feedback.right", "answer", "", (const char *)NULL);
    const char *from = line;
    if (strncmp(line, text_string(&own), own.length) == 0) {
        const char *next = line;
        while ((next = strstr(next, text_string(&right))) != NULL) { /* the last one is ours */
            from = next++;
        }
        from = from == line ? line + strlen(line) : from;
    }
    text_add_length(&made, line, (size_t)(from - line));
    language_write(&made, &writing, from);
    const char *kept = arena_copy(document->arena, text_string(&made));
    text_done(&own);
    text_done(&right);
    text_done(&made);
    return kept;
}

/*
 * The first line is the title; a line without blanks in front opens a section; one with up to three blanks begins what
 * hangs below it: it stays with that.
 */
static void add_line(struct print_document *document, int language, const char *line, bool first, size_t *group)
{
    const size_t blanks = strspn(line, " ");
    if (blanks <= SECTION_BLANKS && *group != SIZE_MAX) {
        print_together_end(document, *group);
        *group = SIZE_MAX;
    }
    if (line[blanks] == '\0') {
        print_room(document, section_gap);
    } else if (first) {
        print_foot(document, line);
        print_heading(document, 1, line);
    } else if (blanks == 0) {
        print_heading(document, 3, line);
    } else {
        if (blanks <= SECTION_BLANKS) {
            *group = print_together(document, NULL);
        }
        print_styled(document, PRINT_SMALL, blank_pt * (double)blanks, with_signs(document, language, line + blanks));
    }
}

static bool write_pdf(const struct lesson_plan *plan, const char *folder, const char *name, enum print_paper paper,
                      size_t *unknown, struct error *error)
{
    struct text from = {0};
    struct text to = {0};
    size_t group = SIZE_MAX;
    text_printf(&from, "%s/%s", folder, name);
    text_printf(&to, "%.*spdf", (int)(strlen(name) - strlen("txt")), name);
    FILE *file = fopen(text_string(&from), "r");
    bool ok = file != NULL;
    if (!ok) {
        error_set(error, ERROR_INPUT, "%s: cannot open", text_string(&from));
    } else {
        struct print_document *document = lesson_document_new(plan, say_plain(plan->language, "feedback.name"), paper);
        char *line = NULL;
        size_t capacity = 0;
        for (bool first = true; getline(&line, &capacity, file) > 0; first = false) {
            line[strcspn(line, "\n")] = '\0';
            add_line(document, plan->language, line, first, &group);
        }
        if (group != SIZE_MAX) {
            print_together_end(document, group);
        }
        free(line);
        fclose(file);
        ok = lesson_write_pdf(document, folder, text_string(&to), unknown, error);
    }
    text_done(&from);
    text_done(&to);
    return ok;
}

static int is_feedback(const struct dirent *entry)
{
    const size_t length = strlen(entry->d_name);
    return strncmp(entry->d_name, "feedback-", 9) == 0 && length > 4 && strcmp(entry->d_name + length - 4, ".txt") == 0;
}

/* "de", "de,large". */
static bool read_look(const char *word, struct lesson_plan *plan)
{
    struct text code = {0};
    const size_t length = strcspn(word, ",");
    text_add_length(&code, word, length);
    plan->language = language_find(text_string(&code));
    plan->large = strcmp(word + length, ",large") == 0;
    text_done(&code);
    return plan->language >= 0 && (plan->large || word[length] == '\0');
}

int lesson_feedback_main(int argc, char **argv)
{
    size_t unknown = 0;
    struct error error = {0};
    struct dirent **names = NULL;
    struct lesson_plan plan = {0};
    if (argc != 5 || !read_look(argv[4], &plan)) {
        fprintf(stderr, "ampsum-draw: lesson-feedback: expected FOLDER, a4 or letter, LANGUAGE or LANGUAGE,large\n");
        return 2;
    }
    const enum print_paper paper = strcmp(argv[3], "letter") == 0 ? PRINT_LETTER : PRINT_A4;
    const int count = scandir(argv[2], &names, is_feedback, alphasort);
    bool ok = count >= 0;
    for (int i = 0; i < count; i++) {
        ok = ok && write_pdf(&plan, argv[2], names[i]->d_name, paper, &unknown, &error);
        free(names[i]);
    }
    free(names);
    if (!ok) {
        fprintf(stderr, "ampsum: %s\n", error_message(&error));
    } else if (unknown > 0) {
        fprintf(stderr, "ampsum: %zu characters have no picture in the fonts at hand (fonts-dejavu-core has most)\n",
                unknown);
    }
    error_done(&error);
    return ok ? 0 : 2;
}
