#include "demo.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/asset.h"
#include "ampsum/housefile.h"

static const char *demo_path(struct invocation *invocation, const char *folder, size_t index)
{
    return arena_printf(invocation->arena, "%s/%s", folder, demo_assets[index].name);
}

/* The folder, there or made; no file of it is there yet, or may go. */
static bool prepare_demo(struct invocation *invocation, const char *folder, bool force)
{
    if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
        error_set(&invocation->error, ERROR_INPUT, "new: the folder %s can't be made: %s", folder, strerror(errno));
        return false;
    }
    for (size_t i = 0; i < demo_assets_count && !force; i++) {
        const char *path = demo_path(invocation, folder, i);
        if (access(path, F_OK) == 0) {
            error_set(&invocation->error, ERROR_INPUT,
                      "new: %s is there already, and nothing was written; another folder, or --force", path);
            return false;
        }
    }
    return true;
}

int demo_write(struct invocation *invocation, bool force)
{
    const char *folder = invocation->operand_count > 0 ? invocation->operands[0] : "demo-house";
    if (!prepare_demo(invocation, folder, force)) {
        return 2;
    }
    for (size_t i = 0; i < demo_assets_count; i++) {
        const struct asset *asset = &demo_assets[i];
        const char *path = demo_path(invocation, folder, i);
        if (!file_write_whole(path, asset->bytes, asset->length, true, &invocation->error)) {
            return 2;
        }
        text_add_harmless(&invocation->out, path);
        text_add(&invocation->out, ": written\n");
    }
    invocation->house_path = demo_path(invocation, folder, 0);
    invocation_next(invocation, "ampsum check HOUSE");
    invocation_next(invocation, "ampsum serve HOUSE");
    return 0;
}
