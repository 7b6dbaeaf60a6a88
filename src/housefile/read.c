/* Files and bytes -> document and house. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/place.h"
#include "build.h"
#include "reader.h"

static bool is_text(const char *bytes, size_t length)
{
    enum { LOOK_BYTES = 4096, CONTROLS_FEW = 4, CONTROLS_SHARE = 20 };
    size_t looked = length < LOOK_BYTES ? length : LOOK_BYTES;
    size_t controls = 0;
    for (size_t i = 0; i < looked; i++) {
        unsigned char c = (unsigned char)bytes[i];
        controls += c < ' ' && c != '\t' && c != '\n' && c != '\r';
    }
    return controls < CONTROLS_FEW || controls * CONTROLS_SHARE < looked;
}

/* What a text in another encoding or with another system's line ends begins like; NULL where it is none of them. */
static const char *other_text(const char *bytes, size_t length)
{
    const bool marked = length >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0);
    if (marked || (length >= 2 && (bytes[0] == '\0') != (bytes[1] == '\0'))) {
        return "text in UTF-16, expected UTF-8: save it as UTF-8, or `iconv -f UTF-16 -t UTF-8 FILE >NEW`";
    }
    if (memchr(bytes, '\n', length) == NULL && memchr(bytes, '\r', length) != NULL) {
        return "lines that end in CR alone, expected LF or CRLF: save it so, or `tr '\\r' '\\n' <FILE >NEW`";
    }
    return NULL;
}

/* Fills the document; what is no text at all is one fault. False where there is nothing to build. */
static bool read_into(struct document *document, const char *bytes, size_t length, struct faults *faults)
{
    if (length > HOUSEFILE_BYTES_MOST) {
        faults_add(faults, 0, "more than 16 MiB (%d bytes), expected a house file below that limit",
                   HOUSEFILE_BYTES_MOST);
        return false;
    }
    const char *other = length == 0 ? NULL : other_text(bytes, length);
    if (other != NULL) {
        faults_add(faults, 0, "%s", other);
        return false;
    }
    if (length == 0 || !is_text(bytes, length)) {
        faults_add(faults, 0, "%s, expected a house file (text with a [house] section)",
                   length == 0 ? "empty" : "a binary file");
        return false;
    }
    document_read(document, bytes, length, faults);
    return true;
}

bool housefile_read_bytes(const char *source, const char *bytes, size_t length, struct document **ret_document,
                          struct error *error)
{
    struct document *document = document_new(source);
    struct faults faults;
    faults_init(&faults, document->source);
    read_into(document, bytes, length, &faults);
    bool good = faults_report(&faults, error);
    faults_done(&faults);
    if (good) {
        *ret_document = document;
    } else {
        document_free(document);
    }
    return good;
}

/* What has been read, faults and all, becomes a house. The document is freed. */
static bool build_read(struct document *document, bool is_read, struct faults *faults, struct house **ret_house,
                       struct error *error)
{
    struct house *house = is_read ? build_house(document, faults) : NULL;
    bool good = faults_report(faults, error);
    faults_done(faults);
    document_free(document);
    if (good) {
        *ret_house = house;
    } else {
        house_free(house);
    }
    return good;
}

bool housefile_read_house_bytes(const char *source, const char *bytes, size_t length, struct house **ret_house,
                                struct error *error)
{
    struct document *document = document_new(source);
    struct faults faults;
    faults_init(&faults, document->source);
    bool is_read = read_into(document, bytes, length, &faults);
    return build_read(document, is_read, &faults, ret_house, error);
}

/* ------------------------------------------------------------------ files --------------------------------------- */

/* Reads up to one byte more than the limit, so that a larger file is seen to be so. */
static bool read_all(int file, struct text *ret_bytes)
{
    enum { CHUNK_BYTES = 1 << 16 };
    char *chunk = memory_new(CHUNK_BYTES);
    ssize_t count = 1;
    while (count > 0 && ret_bytes->length <= HOUSEFILE_BYTES_MOST) {
        count = read(file, chunk, CHUNK_BYTES);
        if (count > 0) {
            text_add_length(ret_bytes, chunk, (size_t)count);
        } else if (count < 0 && errno == EINTR) {
            count = 1;
        }
    }
    int failure = errno;
    free(chunk);
    errno = failure;
    return count >= 0;
}

static bool read_file(const char *path, struct text *ret_bytes, struct error *error)
{
    bool is_input = strcmp(path, "-") == 0;
    const char *why = "";
    const int file = is_input ? STDIN_FILENO : file_open_to_read(path, &why);
    if (file < 0 && errno == ENOENT) {
        error_set(error, ERROR_INPUT, "%s: No such file, expected a house file; `ampsum new FILE.ini` begins one",
                  path);
        return false;
    }
    if (file < 0) {
        error_set(error, ERROR_INPUT, "%s: cannot be opened: %s, expected a house file", path, why);
        return false;
    }
    struct stat status;
    bool good = fstat(file, &status) == 0;
    if (good && S_ISDIR(status.st_mode)) {
        error_set(error, ERROR_INPUT, "%s: a directory, expected a house file", path);
        good = false;
    } else if (good && S_ISREG(status.st_mode) && status.st_size > HOUSEFILE_BYTES_MOST) {
        error_set(error, ERROR_INPUT, "%s: more than 16 MiB (%d bytes), expected a house file below that limit", path,
                  HOUSEFILE_BYTES_MOST);
        good = false;
    } else if (!good || !read_all(file, ret_bytes)) {
        error_set(error, ERROR_INPUT, "%s: cannot be read: %s, expected a house file", path, strerror(errno));
        good = false;
    }
    if (!is_input) {
        close(file);
    }
    return good;
}

static const char *source_name(const char *path)
{
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

bool housefile_read(const char *path, struct house **ret_house, struct error *error)
{
    struct text bytes = {0};
    if (!read_file(path, &bytes, error)) {
        text_done(&bytes);
        return false;
    }
    struct document *document = document_new(source_name(path));
    struct faults faults;
    faults_init(&faults, document->source);
    bool is_read = read_into(document, text_string(&bytes), bytes.length, &faults);
    text_done(&bytes); /* a large house needs the room */
    return build_read(document, is_read, &faults, ret_house, error);
}
