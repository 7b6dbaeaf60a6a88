/*
 * Without libFuzzer: replay RUNS SEED... gives each seed to the target as it is, then RUNS spoilt copies of each, the
 * same ones every time.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { SEED_BYTES_MOST = 1 << 20, SPOTS_MOST = 8 };

static uint64_t state = 88172645463325252ULL;

static size_t below(size_t limit)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (size_t)(state >> 20) % limit;
}

static void spoil(uint8_t *data, size_t *size)
{
    for (size_t i = below(SPOTS_MOST) + 1; i > 0 && *size > 0; i--) {
        size_t at = below(*size);
        size_t length = below(*size - at < 64 ? *size - at : 64);
        switch (below(5)) {
        case 0:
            data[at] ^= (uint8_t)(1U << below(8));
            break;
        case 1:
            data[at] = (uint8_t)below(256);
            break;
        case 2:
            memmove(data + at, data + below(*size - length), length);
            break;
        case 3:
            memset(data + at, below(2) == 0 ? 0 : 0xFF, length);
            break;
        default:
            *size = below(20) == 0 ? at : *size;
        }
    }
}

int main(int argc, char **argv)
{
    static uint8_t seed[SEED_BYTES_MOST];
    long runs = argc > 1 ? strtol(argv[1], NULL, 10) : 0;
    for (int i = 2; i < argc; i++) {
        FILE *stream = fopen(argv[i], "rb");
        if (stream == NULL) {
            fprintf(stderr, "%s: can't be read\n", argv[i]);
            return EXIT_FAILURE;
        }
        size_t size = fread(seed, 1, sizeof seed, stream);
        fclose(stream);
        for (long run = 0; run <= runs; run++) {
            size_t length = size;
            uint8_t *copy = malloc(size > 0 ? size : 1);
            if (copy == NULL) {
                return EXIT_FAILURE;
            }
            memcpy(copy, seed, size);
            if (run > 0) {
                spoil(copy, &length);
            }
            LLVMFuzzerTestOneInput(copy, length);
            free(copy);
        }
    }
    printf("%d seeds, %ld spoilt copies of each\n", argc - 2, runs);
    return EXIT_SUCCESS;
}
