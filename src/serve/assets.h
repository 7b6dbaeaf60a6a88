/* The files of src/serve/assets, put into the program while building by src/tools/asset_embed.c. */
#ifndef AMPSUM_SERVE_ASSETS_H
#define AMPSUM_SERVE_ASSETS_H

#include <stddef.h>

struct serve_asset {
    const char *name; /* without a folder */
    const char *bytes;
    size_t length;
};

extern const struct serve_asset serve_assets[];
extern const size_t serve_asset_count;

#endif
