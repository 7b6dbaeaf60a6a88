/*
 * Runs while building: language_embed OUTPUT.c en.ini de.ini ... checks that each file has the keys of the first one
 * and the same places ({0}, {part}) in each sentence, and turns them into constant rows.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_MOST = 4096, PLACES_MOST = 16 };

struct row {
    char *key; /* section.key */
    char *sentence;
    int line;
};

struct file {
    const char *path;
    struct row *rows;
    size_t count;
};

static int faults;

static void *checked(void *memory)
{
    if (memory == NULL) {
        fputs("language_embed: out of memory\n", stderr);
        exit(EXIT_FAILURE);
    }
    return memory;
}

static void fault(const struct file *file, int line, const char *what, const char *key)
{
    fprintf(stderr, "%s:%d: %s: %s\n", file->path, line, key, what);
    faults++;
}

static char *trimmed(char *string)
{
    string += strspn(string, " \t");
    size_t length = strlen(string);
    while (length > 0 && strchr(" \t\r\n", string[length - 1]) != NULL) {
        string[--length] = '\0';
    }
    return string;
}

/* A sentence in quotes keeps the blanks at its ends. */
static char *unquoted(char *string)
{
    const size_t length = strlen(string);
    if (length >= 2 && string[0] == '"' && string[length - 1] == '"') {
        string[length - 1] = '\0';
        return string + 1;
    }
    return string;
}

static char *joined(const char *section, const char *key)
{
    const size_t size = strlen(section) + strlen(key) + 2;
    char *both = checked(malloc(size));
    snprintf(both, size, "%s.%s", section, key);
    return both;
}

static void add_row(struct file *file, char *key, const char *sentence, int line)
{
    file->rows = checked(realloc(file->rows, (file->count + 1) * sizeof *file->rows));
    file->rows[file->count++] = (struct row){key, checked(strdup(sentence)), line};
}

static void read_line(struct file *file, char *line, int number, char *section)
{
    char *start = trimmed(line);
    char *equals = strchr(start, '=');
    const size_t length = strlen(start);
    if (start[0] == '\0' || start[0] == ';' || start[0] == '#') {
        return;
    }
    if (start[0] == '[' && start[length - 1] == ']') {
        start[length - 1] = '\0';
        snprintf(section, LINE_MOST, "%s", start + 1);
    } else if (equals == NULL || equals == start) {
        fault(file, number, "expected key = sentence", start);
    } else {
        *equals = '\0';
        add_row(file, joined(section, trimmed(start)), unquoted(trimmed(equals + 1)), number);
    }
}

static int by_key(const void *first, const void *second)
{
    return strcmp(((const struct row *)first)->key, ((const struct row *)second)->key);
}

static void read_file(struct file *file)
{
    static char line[LINE_MOST];
    static char section[LINE_MOST];
    FILE *stream = fopen(file->path, "r");
    if (stream == NULL) {
        fprintf(stderr, "%s: %s\n", file->path, strerror(errno));
        exit(EXIT_FAILURE);
    }
    section[0] = '\0';
    for (int number = 1; fgets(line, sizeof line, stream) != NULL; number++) {
        if (strchr(line, '\n') == NULL && !feof(stream)) {
            fault(file, number, "the line is too long", section);
        }
        read_line(file, line, number, section);
    }
    fclose(stream);
    qsort(file->rows, file->count, sizeof *file->rows, by_key);
    for (size_t i = 0; i + 1 < file->count; i++) {
        if (strcmp(file->rows[i].key, file->rows[i + 1].key) == 0) {
            fault(file, file->rows[i + 1].line, "stands here twice", file->rows[i].key);
        }
    }
}

static int by_string(const void *first, const void *second)
{
    return strcmp(*(char *const *)first, *(char *const *)second);
}

/* The places of a sentence, each once, sorted and joined. */
static void places_of(const char *sentence, char *ret)
{
    char *places[PLACES_MOST];
    size_t count = 0;
    const char *at = sentence;
    while ((at = strchr(at, '{')) != NULL && strchr(at, '}') != NULL && count < PLACES_MOST) {
        const size_t length = (size_t)(strchr(at, '}') - at) + 1;
        places[count++] = checked(strndup(at, length));
        at += length;
    }
    qsort(places, count, sizeof places[0], by_string);
    ret[0] = '\0';
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || strcmp(places[i], places[i - 1]) != 0) {
            const size_t used = strlen(ret);
            snprintf(ret + used, LINE_MOST - used, "%s", places[i]);
        }
    }
    for (size_t i = 0; i < count; i++) {
        free(places[i]);
    }
}

static void compare(const struct file *first, const struct file *file)
{
    static char expected[LINE_MOST];
    static char found[LINE_MOST];
    size_t i = 0;
    size_t j = 0;
    while (i < first->count || j < file->count) {
        const int order = i == first->count ? 1 : j == file->count ? -1 : strcmp(first->rows[i].key, file->rows[j].key);
        if (order < 0) {
            fault(file, 1, "this sentence is missing", first->rows[i].key);
        } else if (order > 0) {
            fault(file, file->rows[j].line, "the first language has no such sentence", file->rows[j].key);
        } else {
            places_of(first->rows[i].sentence, expected);
            places_of(file->rows[j].sentence, found);
            if (strcmp(expected, found) != 0) {
                fault(file, file->rows[j].line, "has other places than the first language's sentence",
                      file->rows[j].key);
            }
        }
        i += order <= 0;
        j += order >= 0;
    }
}

static void write_string(FILE *output, const char *string)
{
    fputc('"', output);
    for (const char *c = string; *c != '\0'; c++) {
        const unsigned char byte = (unsigned char)*c;
        if (byte < 0x20 || byte >= 0x7F || byte == '"' || byte == '\\' || byte == '?') {
            fprintf(output, "\\%03o", byte);
        } else {
            fputc(byte, output);
        }
    }
    fputc('"', output);
}

static const char *code_of(const char *path)
{
    static char code[LINE_MOST];
    const char *slash = strrchr(path, '/');
    snprintf(code, sizeof code, "%s", slash == NULL ? path : slash + 1);
    code[strcspn(code, ".")] = '\0';
    return code;
}

static int write_rows(const char *path, const struct file *files, size_t count)
{
    FILE *output = fopen(path, "w");
    if (output == NULL) {
        fprintf(stderr, "%s: %s\n", path, strerror(errno));
        return EXIT_FAILURE;
    }
    fputs("/* Made by src/tools/language_embed.c from schema/language; never edited. */\n#include \"rows.h\"\n\n",
          output);
    fputs("const char *const language_codes[] = {", output);
    for (size_t i = 0; i < count; i++) {
        write_string(output, code_of(files[i].path));
        fputs(", ", output);
    }
    fprintf(output, "};\nconst size_t language_code_count = %zu;\n\n", count);
    for (size_t i = 0; i < count; i++) {
        fprintf(output, "static const char *const sentences_%zu[] = {\n", i);
        for (size_t k = 0; k < files[i].count; k++) {
            fputs("    ", output);
            write_string(output, files[i].rows[k].sentence);
            fputs(",\n", output);
        }
        fputs("};\n\n", output);
    }
    fputs("const char *const *const language_sentences[] = {", output);
    for (size_t i = 0; i < count; i++) {
        fprintf(output, "sentences_%zu, ", i);
    }
    fputs("};\n\nconst char *const language_keys[] = {\n", output);
    for (size_t k = 0; k < files[0].count; k++) {
        fputs("    ", output);
        write_string(output, files[0].rows[k].key);
        fputs(",\n", output);
    }
    fprintf(output, "};\nconst size_t language_key_count = %zu;\n", files[0].count);
    return fclose(output) == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

static void forget(struct file *files, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < files[i].count; k++) {
            free(files[i].rows[k].key);
            free(files[i].rows[k].sentence);
        }
        free(files[i].rows);
    }
    free(files);
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fputs("usage: language_embed OUTPUT.c en.ini [OTHER.ini ...]\n", stderr);
        return EXIT_FAILURE;
    }
    const size_t count = (size_t)argc - 2;
    struct file *files = checked(calloc(count, sizeof *files));
    for (size_t i = 0; i < count; i++) {
        files[i].path = argv[i + 2];
        read_file(&files[i]);
        compare(&files[0], &files[i]);
    }
    const int status = faults > 0 ? EXIT_FAILURE : write_rows(argv[1], files, count);
    forget(files, count);
    return status;
}
