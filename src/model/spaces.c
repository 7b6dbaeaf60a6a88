#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/model.h"

static int compare_spaces(const void *a, const void *b)
{
    const struct panel_space *left = a;
    const struct panel_space *right = b;
    if (left->panel != right->panel) {
        return left->panel < right->panel ? -1 : 1;
    }
    if (left->number != right->number) {
        return left->number < right->number ? -1 : 1;
    }
    return left->branch < right->branch ? -1 : left->branch > right->branch;
}

struct panel_space *house_spaces(const struct house *house, size_t *ret_count)
{
    size_t count = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        count += house->branches[i].position.count;
    }
    struct panel_space *spaces = memory_resize(NULL, count, sizeof *spaces);
    count = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        for (size_t j = 0; j < branch->position.count; j++) {
            spaces[count++] = (struct panel_space){branch->panel, branch->position.space[j], i};
        }
    }
    qsort(spaces, count, sizeof *spaces, compare_spaces);
    *ret_count = count;
    return spaces;
}
