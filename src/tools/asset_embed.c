/* Runs while building: asset_embed OUTPUT.c NAME FILE... turns files into the constant data NAME, each under its name.
 */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *base_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

/* As numbers, since a string literal may not be as long as a file. */
static int write_file(FILE *output, const char *path, int index)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        fprintf(stderr, "asset_embed: %s: %s\n", path, strerror(errno));
        return EXIT_FAILURE;
    }
    fprintf(output, "static const unsigned char asset_%d[] = {", index);
    long length = 0;
    for (int byte = fgetc(file); byte != EOF; byte = fgetc(file)) {
        fprintf(output, "%d,%s", byte, length++ % 24 == 23 ? "\n" : "");
    }
    fprintf(output, "0};\n");
    const int failed = ferror(file);
    fclose(file);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

int main(int argc, char **argv)
{
    FILE *output = argc < 4 ? NULL : fopen(argv[1], "w");
    if (output == NULL) {
        fputs("usage: asset_embed OUTPUT.c NAME FILE...\n", stderr);
        return EXIT_FAILURE;
    }
    fputs(
        "/* Made by src/tools/asset_embed.c from a folder of assets; never edited. */\n#include \"ampsum/asset.h\"\n\n",
        output);
    for (int i = 3; i < argc; i++) {
        if (write_file(output, argv[i], i) != EXIT_SUCCESS) {
            return EXIT_FAILURE;
        }
    }
    fprintf(output, "extern const struct asset %s[];\nextern const size_t %s_count;\nconst struct asset %s[] = {\n",
            argv[2], argv[2], argv[2]);
    for (int i = 3; i < argc; i++) {
        fprintf(output, "    {\"%s\", (const char *)asset_%d, sizeof asset_%d - 1},\n", base_name(argv[i]), i, i);
    }
    fprintf(output, "};\nconst size_t %s_count = %d;\n", argv[2], argc - 3);
    return fclose(output) == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
