/* Files that were put into the program while building, by src/tools/asset_embed.c. */
#ifndef AMPSUM_ASSET_H
#define AMPSUM_ASSET_H

#include <stddef.h>

struct asset {
    const char *name; /* without a folder */
    const char *bytes;
    size_t length;
};

/* src/serve/assets: what the local page asks for. */
extern const struct asset serve_assets[];
extern const size_t serve_assets_count;

/* src/show/assets: what stands in a live lesson. */
extern const struct asset show_assets[];
extern const size_t show_assets_count;

/* src/draw/assets: the style of a printed page. */
extern const struct asset draw_assets[];
extern const size_t draw_assets_count;

/* demo-house: the houses of the examples. */
extern const struct asset demo_assets[];
extern const size_t demo_assets_count;

#endif
