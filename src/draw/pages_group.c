/* What stays together on a page, and the room to work behind it, which shrinks and grows so that pages fill. */
#include <math.h>

#include "pages.h"

static const double share_least = 0.5; /* of the room asked for, before a group goes over to the next page */
static const double share_most = 4;

/* Height of those blocks on one endless page. */
static double measure(const struct pages *pages, size_t first, size_t count)
{
    static const double endless = 1e9;
    struct canvas none = canvas_none();
    struct pages trial = *pages;
    trial.canvas = &none;
    trial.arena = arena_new();
    trial.height = endless;
    trial.y = page_margin + 1;
    trial.beside_end = 0;
    for (size_t at = first; at < first + count;) {
        at = pages_draw_from(&trial, at);
    }
    arena_free(trial.arena);
    return fmax(trial.y, trial.beside_end) - page_margin - 1;
}

/* The room that a group ends with; 0: it ends with none. */
static double room_of(const struct print_document *document, size_t group)
{
    const struct print_block *block = &document->blocks[group];
    const struct print_block *last = block + block->lines;
    return block->lines > 0 && last->kind == PRINT_ROOM ? last->room : 0;
}

/* The group that paper shows next after that one; block_count: something else, or nothing. */
static size_t next_group(const struct print_document *document, size_t group)
{
    const size_t at = walk_next(document, group + document->blocks[group].lines, ON_PAPER);
    const bool is_group = at < document->block_count && document->blocks[at].kind == PRINT_TOGETHER;
    return is_group && room_of(document, at) > 0 ? at : document->block_count;
}

static double height_without_room(const struct pages *pages, size_t group)
{
    double *height = &pages->heights[group];
    if (*height <= 0) {
        *height = measure(pages, group + 1, pages->document->blocks[group].lines - 1);
    }
    return *height;
}

/*
 * As many groups from that one on as the page holds with the least of their rooms share what the page has left; those
 * that nothing follows get no more than they asked for. One that no page holds gets what it asked for at its end.
 */
static void share_room(struct pages *pages, size_t group)
{
    static const double slack = 0.5;
    const struct print_document *document = pages->document;
    const double left = pages_bottom(pages) - pages->y - slack;
    double heights = height_without_room(pages, group);
    double rooms = room_of(document, group);
    size_t last = group;
    size_t next = next_group(document, group);
    if (heights > left) {
        return;
    }
    while (next < document->block_count) {
        const double height = height_without_room(pages, next);
        const double room = room_of(document, next);
        if (heights + height + share_least * (rooms + room) > left) {
            break;
        }
        heights += height;
        rooms += room;
        last = next;
        next = next_group(document, next);
    }
    pages->room_end = last + document->blocks[last].lines + 1;
    pages->room_share = fmin((left - heights) / rooms, next < document->block_count ? share_most : 1);
}

double pages_room(const struct pages *pages, size_t at)
{
    const double room = pages->document->blocks[at].room;
    return at < pages->room_end ? room * pages->room_share : room;
}

double least_group(const struct pages *pages, size_t at)
{
    return pages_least(pages, at + 1);
}

/* Whether a group with that height begins a new page: where this one cannot hold it, but for one that no page holds. */
static bool goes_over(const struct pages *pages, double height)
{
    const double page = pages_bottom(pages) - page_margin;
    const double left = pages_bottom(pages) - pages->y;
    return height > left && pages->y > page_margin && (height <= page || left < page / 3);
}

/*
 * Below a sheet's head alone a question may go without room to work, or be parted behind its story, even between that
 * and its circuit, rather than leave the head there.
 */
static bool stays_below_head(const struct pages *pages, size_t group)
{
    const size_t first = group + 1;
    const bool nested = pages->document->blocks[first].kind == PRINT_TOGETHER;
    return pages->below_head && pages_fit(pages, measure(pages, nested ? first + 1 : first, 1));
}

static void begin_with_room(struct pages *pages, size_t group)
{
    const double height = height_without_room(pages, group) + share_least * room_of(pages->document, group);
    if (goes_over(pages, height) && !stays_below_head(pages, group)) {
        pages_next(pages);
    }
    share_room(pages, group);
}

/* One that no page holds begins on a new one where little of this is left, and says on each further page what it is. */
void draw_group(struct pages *pages, size_t group)
{
    const struct print_block *block = &pages->document->blocks[group];
    const char *outer = pages->carry_on;
    const bool with_room = room_of(pages->document, group) > 0;
    if (with_room && group >= pages->room_end) {
        begin_with_room(pages, group);
    } else if (!with_room && goes_over(pages, measure(pages, group + 1, block->lines)) &&
               !stays_below_head(pages, group)) {
        pages_next(pages);
    }
    pages->pending = block->string == NULL ? pages->pending : block->string;
    for (size_t at = group + 1; at <= group + block->lines;) {
        at = pages_draw_from(pages, at);
    }
    pages->below_head = false;
    pages->pending = block->string == NULL ? pages->pending : NULL;
    pages->carry_on = block->string == NULL ? pages->carry_on : outer;
}
