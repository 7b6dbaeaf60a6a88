#include "print_output.h"

#include <stdio.h>
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/words.h"
#include "config.h"
#include "second.h"

const struct print_backend *print_backend = NULL;

static const char *const endings[] = {".html", ".svg", ".pdf", ".png"};

/* By the ending of the path; false with the error set. */
static bool find_kind(struct invocation *invocation, struct output *output)
{
    if (output->path == NULL || output->path[0] == '\0') {
        error_set(&invocation->error, ERROR_INPUT,
                  "%s: -o FILE is missing, expected a name that ends in .pdf, .html, .svg or .png",
                  invocation->command->name);
        return false;
    }
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        if (words_end_with(output->path, endings[i])) {
            output->kind = (enum output_kind)i;
            return true;
        }
    }
    error_set(&invocation->error, ERROR_INPUT,
              "%s: not a kind of file, expected a name that ends in .pdf, .html, .svg or .png", output->path);
    return false;
}

int print_output_hand_over(struct invocation *invocation)
{
    const char **words = arena_array(invocation->arena, invocation->word_count + 2, sizeof *words);
    words[0] = "ampsum";
    memcpy(words + 1, invocation->words, invocation->word_count * sizeof *words);
    return run_second_program("ampsum-draw", words);
}

void print_output_unknown(const char *path, size_t unknown)
{
    if (unknown > 0) {
        fprintf(stderr, "ampsum: %s: %zu characters are in no font that is installed and are drawn as boxes\n", path,
                unknown);
    }
}

bool print_output_begin(struct invocation *invocation, struct output *output, int *ret_status)
{
    if (!find_kind(invocation, output)) {
        return false;
    }
    if (output->kind == OUTPUT_HTML || output->kind == OUTPUT_SVG || print_backend != NULL) {
        return true;
    }
    *ret_status = print_output_hand_over(invocation);
    return false;
}

bool print_output_head_of(struct invocation *invocation, struct output *output, enum print_paper paper,
                          const char *file)
{
    struct text date = {0};
    const bool good = print_date(&date, &invocation->error);
    output->head.paper = output->paper == PAPER_UNSAID ? paper : (enum print_paper)output->paper;
    output->head.file = file;
    output->head.version = AMPSUM_VERSION;
    output->head.date = arena_text(invocation->arena, &date);
    return good;
}

static bool house_head(struct invocation *invocation, struct output *output)
{
    const char *slash = strrchr(invocation->house_path, '/');
    return print_output_head_of(invocation, output, print_paper_of(invocation->house->rules),
                                slash == NULL ? invocation->house_path : slash + 1);
}

bool print_output_house(struct invocation *invocation, struct output *output, void *wanted, int *ret_status)
{
    *ret_status = 2;
    return invocation_options(invocation, wanted) && print_output_begin(invocation, output, ret_status) &&
           invocation_begin(invocation, 0, 0, wanted) && house_head(invocation, output);
}

static bool draw(struct invocation *invocation, const struct output *output, const struct print_document *document,
                 struct text *bytes)
{
    if (output->kind == OUTPUT_HTML) {
        print_html(document, bytes);
        return true;
    }
    if (output->kind == OUTPUT_SVG) {
        print_svg(document, bytes);
        return true;
    }
    size_t unknown = 0;
    const enum print_format format = output->kind == OUTPUT_PDF ? PRINT_PDF : PRINT_PNG;
    const bool drawn = print_backend->write(document, format, bytes, &unknown, &invocation->error);
    print_output_unknown(output->path, drawn ? unknown : 0);
    return drawn;
}

int print_output_write(struct invocation *invocation, const struct output *output, struct print_document *document)
{
    struct text bytes = {0};
    const bool written = draw(invocation, output, document, &bytes) &&
                         invocation_write_file(invocation, output->path, &bytes, output->force);
    text_done(&bytes);
    print_free(document);
    return written ? 0 : 2;
}
