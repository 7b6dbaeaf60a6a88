#include "scratch.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

bool scratch_make(struct scratch *scratch, struct error *error)
{
    const char *base = getenv("TMPDIR");
    text_clear(&scratch->folder);
    text_printf(&scratch->folder, "%s/ampsum-XXXX", base == NULL || base[0] == '\0' ? P_tmpdir : base);
    text_add(&scratch->folder, "XX"); /* six of them, as mkdtemp wants it */
    if (mkdtemp(scratch->folder.bytes) == NULL) {
        error_set(error, ERROR_STORE, "%s: %s", text_string(&scratch->folder), strerror(errno));
        text_clear(&scratch->folder);
        return false;
    }
    return true;
}

void scratch_path(const struct scratch *scratch, const char *name, struct text *path)
{
    text_printf(path, "%s/%s", text_string(&scratch->folder), name);
}

void scratch_done(struct scratch *scratch)
{
    DIR *list = scratch->folder.length == 0 ? NULL : opendir(text_string(&scratch->folder));
    for (const struct dirent *entry = list == NULL ? NULL : readdir(list); entry != NULL; entry = readdir(list)) {
        struct text path = {0};
        scratch_path(scratch, entry->d_name, &path);
        unlink(text_string(&path)); /* fails for the folder itself and the one above */
        text_done(&path);
    }
    if (list != NULL) {
        closedir(list);
        rmdir(text_string(&scratch->folder));
    }
    text_done(&scratch->folder);
}

bool scratch_read(const struct scratch *scratch, const char *name, struct text *bytes, struct error *error)
{
    struct text path = {0};
    scratch_path(scratch, name, &path);
    FILE *file = fopen(text_string(&path), "rb");
    char block[16384];
    size_t count = 0;
    while (file != NULL && (count = fread(block, 1, sizeof block, file)) > 0) {
        text_add_length(bytes, block, count);
    }
    const bool good = file != NULL && ferror(file) == 0;
    if (!good) {
        error_set(error, ERROR_STORE, "%s can't be read: %s", name, strerror(errno));
    }
    if (file != NULL) {
        fclose(file);
    }
    text_done(&path);
    return good;
}
