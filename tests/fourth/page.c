/*
 * The local page with a house of a rule set that is rows alone (TAP): what the set lacks is named, and no other set's
 * figure stands in its place.   fourth_page HOUSE
 */
#include <stdio.h>
#include <string.h>

#include "site.h"

static int number;
static int failed;

static void result(bool good, const char *name, const char *page)
{
    number++;
    failed += !good;
    if (!good) {
        printf("# %.600s\n", page);
    }
    printf("%sok %d - fourth: %s\n", good ? "" : "not ", number, name);
}

/* The page at a path has the one text and not the other. */
static void look(struct site *site, const char *path, const char *has, const char *has_not)
{
    struct visit visit = {.site = site, .path = path, .arena = arena_new()};
    site_answer(&visit);
    const char *page = text_string(&visit.answer.body);
    result(visit.answer.status == 200 && strstr(page, has) != NULL && strstr(page, has_not) == NULL, path, page);
    visit_done(&visit);
}

int main(int argc, char **argv)
{
    if (argc != 2) {
        return 99;
    }
    struct site site = {.path = argv[1], .program = "", .read_only = true};
    if (!guard_init(&site.guard, 1)) {
        return 99;
    }
    memset(site.guard.token, 'a', strlen(site.guard.token)); /* by chance it may hold one of the figures looked for */
    look(&site, "/", "no rows for: ampacities of wires", "breaker 28 A");
    look(&site, "/", "zz rules, single-phase 150 V, head switch 28 A", "230");
    look(&site, "/branch/shed", "15", "230");
    look(&site, "/appliance", "2 hours or more at a stretch", "3 hours");
    site_done(&site);
    printf("1..%d\n", number);
    return failed > 0;
}
