/*
 * The gatekeeper: hands inih one checked and tidied line after the other, so that inih never cuts, joins or drops
 * anything, and knows the line and section of each key that inih hands back.
 */
#include "reader.h"

#include <string.h>

#include <ini.h>

#include "header.h"

enum { KEYS_MOST = 64 }; /* of a section, by the key table */

struct reader {
    const char *at;
    const char *end;
    int line;
    struct faults *faults;
    struct document *document;
    bool has_section;                    /* some header was met */
    const struct section *section;       /* of the lines that follow; NULL: a refused header, its keys are left out */
    struct document_section *into;       /* the same in the document */
    uint64_t seen;                       /* keys of it that were given */
    struct document_key keys[KEYS_MOST]; /* of it, until it ends */
    size_t key_count;
    const struct key *key; /* of the line that inih splits just now */
    size_t value_length;
    char *room; /* of the document's arena, for strings packed one behind the other */
    size_t room_left;
    struct text word;   /* scratch */
    bool misread;       /* a line in another encoding was met: it is said once */
    struct text mended; /* such a line with a letter for each byte that is none of UTF-8 */
};

static char *read_line(char *buffer, int size, void *stream);
static int take_key(void *user, const char *section, const char *name, const char *value);
static void end_section(struct reader *reader);

/* Debian's inih is told at run time what other builds fix when they are compiled. */
static void prepare_inih(void)
{
#ifdef HAVE_INI_MAX_LINE
    enum { ROOM = HOUSEFILE_LINE_BYTES_MOST + 8 };
    ini_use_stack = false;
    ini_initial_alloc = ROOM;
    ini_max_line = ROOM;
    ini_allow_multiline = false;
    ini_allow_inline_comments = false;
    ini_stop_on_first_error = false;
#endif
}

void document_read(struct document *document, const char *bytes, size_t length, struct faults *faults)
{
    struct reader reader = {.at = bytes, .end = bytes + length, .faults = faults, .document = document};
    if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        reader.at += 3;
    }
    prepare_inih();
    if (ini_parse_stream(read_line, &reader, take_key, &reader) < 0) {
        memory_fail();
    }
    end_section(&reader);
    text_done(&reader.word);
    text_done(&reader.mended);
}

/* ------------------------------------------------------------------ one raw line -------------------------------- */

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static void trim(const char **start, const char **end)
{
    while (*start < *end && is_blank((*end)[-1])) {
        (*end)--;
    }
    while (*start < *end && is_blank(**start)) {
        (*start)++;
    }
}

/* Printable ASCII and tabs alone: nothing more to look at. */
static bool is_plain(const char *start, const char *end)
{
    for (; start < end; start++) {
        if ((*start < ' ' || *start > '~') && *start != '\t') {
            return false;
        }
    }
    return true;
}

/* Why the bytes of a line can't stand; NULL where they can. */
static const char *explain_bytes(struct reader *reader, const char *start, const char *end)
{
    if (end - start > HOUSEFILE_LINE_BYTES_MOST) {
        return "a line of more than 4096 bytes, expected a shorter one";
    }
    if (is_plain(start, end)) {
        return NULL;
    }
    if (memchr(start, '\0', (size_t)(end - start)) != NULL) {
        return "a NUL byte, expected text";
    }
    text_clear(&reader->word);
    for (const char *at = start; at < end; at++) {
        text_add_char(&reader->word, *at == '\t' ? ' ' : *at);
    }
    return words_has_control(text_string(&reader->word)) ? "a control character, expected plain text" : NULL;
}

/* Bytes of a line from `at` on that make a character; 0 where they make none. */
static size_t character_length(const char *at, const char *end)
{
    enum { CHARACTER_MOST = 4 };
    for (size_t length = 1; length <= CHARACTER_MOST && length <= (size_t)(end - at); length++) {
        if (words_is_utf8(at, length)) {
            return length;
        }
    }
    return 0;
}

/*
 * A line in another encoding: refused, once for the file, and read on with letters in place of what can't be read, so
 * that nobody is told besides that its key is missing.
 */
static void mend_encoding(struct reader *reader, const char **start, const char **end)
{
    if (!reader->misread) {
        faults_add(reader->faults, reader->line,
                   "not valid UTF-8, expected UTF-8 text: save the file as UTF-8, or `iconv -f WINDOWS-1252 -t UTF-8 "
                   "FILE >NEW`");
        reader->misread = true;
    }
    text_clear(&reader->mended);
    for (const char *at = *start; at < *end;) {
        const size_t length = character_length(at, *end);
        text_add_length(&reader->mended, length == 0 ? "x" : at, length == 0 ? 1 : length);
        at += length == 0 ? 1 : length;
    }
    *start = text_string(&reader->mended);
    *end = *start + reader->mended.length;
}

/* The next line without its end and the blanks around it; false at the end of the file. */
static bool raw_line(struct reader *reader, const char **ret_start, const char **ret_end)
{
    while (reader->at < reader->end) {
        const char *start = reader->at;
        const char *end = memchr(start, '\n', (size_t)(reader->end - start));
        reader->at = end != NULL ? end + 1 : reader->end;
        end = end != NULL ? end : reader->end;
        reader->line++;
        if (end > start && end[-1] == '\r') {
            end--;
        }
        const bool short_enough = end - start <= HOUSEFILE_LINE_BYTES_MOST;
        if (short_enough && !is_plain(start, end) && !words_is_utf8(start, (size_t)(end - start))) {
            mend_encoding(reader, &start, &end);
        }
        const char *reason = explain_bytes(reader, start, end);
        if (reason != NULL) {
            faults_add(reader->faults, reader->line, "%s", reason);
            continue;
        }
        trim(&start, &end);
        if (start < end && *start != ';' && *start != '#') {
            *ret_start = start;
            *ret_end = end;
            return true;
        }
    }
    return false;
}

/* ------------------------------------------------------------------ strings of the document ---------------------- */

static const char *pack(struct reader *reader, const char *bytes, size_t length)
{
    enum { ROOM_BYTES = 8192 }; /* above the longest line */
    if (length + 1 > reader->room_left) {
        reader->room = arena_take(reader->document->arena, ROOM_BYTES);
        reader->room_left = ROOM_BYTES;
    }
    char *copy = reader->room;
    memcpy(copy, bytes, length);
    copy[length] = '\0';
    reader->room += length + 1;
    reader->room_left -= length + 1;
    return copy;
}

/* ------------------------------------------------------------------ headers ------------------------------------- */

/* What stands after `]` may be a comment. */
static bool is_header_tail(const char *start, const char *end)
{
    trim(&start, &end);
    return start == end || *start == ';';
}

static void begin_section(struct reader *reader, const char *start, const char *end)
{
    const char *word_end = start;
    while (word_end < end && !is_blank(*word_end)) {
        word_end++;
    }
    const char *id = word_end;
    trim(&id, &end);
    struct text id_text = {0};
    text_clear(&reader->word);
    text_add_length(&reader->word, start, (size_t)(word_end - start));
    text_add_length(&id_text, id, (size_t)(end - id));
    reader->section = header_check(reader->faults, reader->line, text_string(&reader->word), text_string(&id_text));
    if (reader->section != NULL) {
        struct document *document = reader->document;
        document->sections = memory_grow(document->sections, document->section_count, &document->section_capacity,
                                         sizeof document->sections[0]);
        reader->into = &document->sections[document->section_count++];
        *reader->into = (struct document_section){.word = reader->section->word,
                                                  .id = pack(reader, text_string(&id_text), id_text.length),
                                                  .line = reader->line};
    }
    text_done(&id_text);
}

/* Reads `[kind ID]`; the lines that follow belong to it, or to nothing where it is refused. */
static void read_header(struct reader *reader, const char *start, const char *end)
{
    end_section(reader);
    reader->has_section = true;
    reader->section = NULL;
    reader->seen = 0;
    const char *close = memchr(start, ']', (size_t)(end - start));
    if (close == NULL) {
        faults_add(reader->faults, reader->line, "a section header without `]`, expected such as [branch kitchen]");
    } else if (!is_header_tail(close + 1, end)) {
        faults_add(reader->faults, reader->line, "text after `]`, expected nothing but a comment behind `;`");
    } else {
        const char *inside = start + 1;
        trim(&inside, &close);
        begin_section(reader, inside, close);
    }
}

/* ------------------------------------------------------------------ keys ---------------------------------------- */

/* Where the value that begins behind `equals` ends: at a blank and `;`, which begin a comment, or with the line. */
static const char *end_of_value(const char *equals, const char *end)
{
    const char *at = equals + 1;
    while ((at = memchr(at, ';', (size_t)(end - at))) != NULL) {
        if (is_blank(at[-1])) {
            return at;
        }
        at++;
    }
    return end;
}

static void refuse_twice(struct reader *reader, const struct key *key)
{
    int first = 0;
    for (size_t i = 0; i < reader->key_count; i++) {
        if (reader->keys[i].name == key->name) {
            first = reader->keys[i].line;
        }
    }
    struct text header = {0};
    add_header(&header, reader->into->word, reader->into->id);
    faults_add(reader->faults, reader->line, "%s %s is given twice, first at %s:%d, expected it once",
               text_string(&header), key->name, reader->faults->source, first);
    text_done(&header);
}

/* The key of the name, if it is one of the section and new there. */
static const struct key *name_key(struct reader *reader, const char *start, const char *end)
{
    text_clear(&reader->word);
    text_add_length(&reader->word, start, (size_t)(end - start));
    const struct key *key =
        key_check(reader->faults, reader->line, reader->section, reader->into->id, text_string(&reader->word));
    if (key != NULL && (reader->seen & key_bit(reader->section, key)) != 0) {
        refuse_twice(reader, key);
        return NULL;
    }
    return key;
}

/* Copies `name=value` without needless blanks to the buffer; false where the line holds no key that inih may see. */
static bool tidy_key(struct reader *reader, const char *start, const char *end, char *buffer, size_t size)
{
    const char *equals = memchr(start, '=', (size_t)(end - start));
    if (equals == NULL) {
        faults_add(reader->faults, reader->line, "neither a section header nor `key = value`, expected one of them");
        return false;
    }
    if (!reader->has_section) {
        faults_add(reader->faults, reader->line, "a key before the first section header, expected such as [house]");
        return false;
    }
    const char *name_end = equals;
    const char *value = equals + 1;
    const char *value_end = end_of_value(equals, end);
    trim(&start, &name_end);
    trim(&value, &value_end);
    reader->key = reader->section != NULL ? name_key(reader, start, name_end) : NULL;
    if (value == value_end) {
        faults_add(reader->faults, reader->line, "no value after `=`, expected one");
        return false;
    }
    size_t name_length = (size_t)(name_end - start);
    reader->value_length = (size_t)(value_end - value);
    if (name_length + reader->value_length + 3 > size) {
        faults_add(reader->faults, reader->line,
                   "a line of more than %zu bytes, which this build of inih can't read, "
                   "expected a shorter one",
                   size - 3);
        return false;
    }
    memcpy(buffer, start, name_length);
    buffer[name_length] = '=';
    memcpy(buffer + name_length + 1, value, reader->value_length);
    memcpy(buffer + name_length + 1 + reader->value_length, "\n", 2);
    return reader->key != NULL;
}

/* inih's reader: the next line that holds a key, tidied. Headers stay here: inih would cut them at 49 bytes. */
static char *read_line(char *buffer, int size, void *stream)
{
    struct reader *reader = stream;
    const char *start = NULL;
    const char *end = NULL;
    while (raw_line(reader, &start, &end)) {
        if (*start == '[') {
            read_header(reader, start, end);
        } else if (tidy_key(reader, start, end, buffer, (size_t)size)) {
            return buffer;
        }
    }
    return NULL;
}

/* inih's handler: takes the key of the line just read into the document. */
static int take_key(void *user, const char *section_name, const char *name, const char *value)
{
    struct reader *reader = user;
    (void)section_name;
    if (strcmp(name, reader->key->name) != 0 || strlen(value) != reader->value_length) {
        faults_add(reader->faults, reader->line, "can't be split whole into key and value, expected a plainer line");
        return 1;
    }
    reader->keys[reader->key_count++] = (struct document_key){
        .name = reader->key->name, .value = pack(reader, value, reader->value_length), .line = reader->line};
    reader->seen |= key_bit(reader->section, reader->key);
    return 1;
}

/* Gives the section its keys, in an array of just their size. */
static void end_section(struct reader *reader)
{
    if (reader->key_count > 0) {
        size_t bytes = reader->key_count * sizeof reader->keys[0];
        reader->into->keys = memory_new(bytes);
        memcpy(reader->into->keys, reader->keys, bytes);
        reader->into->key_count = reader->key_count;
        reader->into->key_capacity = reader->key_count;
        reader->key_count = 0;
    }
}
