/* Any bytes as a CSV list of appliances: an error with its lines or a document that can be built or refused; no crash.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#include "ampsum/appliance_csv.h"
#include "ampsum/housefile.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char plain_house[] = "[house]\nname = H\nrules = uk\nmain_breaker = 100\n\n"
                                  "[branch ring]\nlabel = Ring\nbreaker = 32\n\n";

static void build(const struct document *document)
{
    struct house *house = NULL;
    struct error error = {0};
    if (house_build(document, &house, &error)) {
        house_free(house);
    } else if (error.message.length == 0) {
        abort(); /* refused without a word */
    }
    error_done(&error);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    int descriptor = memfd_create("fuzz", 0);
    char path[64];
    snprintf(path, sizeof path, "/proc/self/fd/%d", descriptor);
    if (descriptor < 0 || (size > 0 && write(descriptor, data, size) != (ssize_t)size)) {
        abort();
    }
    struct document *document = NULL;
    struct error error = {0};
    size_t count = 0;
    if (!housefile_read_bytes("fuzz", plain_house, strlen(plain_house), &document, &error)) {
        abort();
    }
    if (list_read_appliances(path, document, &count, &error)) {
        build(document);
    } else if (error.message.length == 0) {
        abort();
    }
    document_free(document);
    error_done(&error);
    close(descriptor);
    return 0;
}
