/* Every address of the site: a new view is one row here and one function. */
#include <string.h>

#include "ampsum/asset.h"
#include "apart.h"
#include "guide.h"
#include "site.h"

static void view_asset(struct visit *visit);
static void view_enter(struct visit *visit);

enum {
    POST = ROUTE_POST,
    READS = ROUTE_READS,
    LOOKS = ROUTE_LOOKS,
    SPEAKS = ROUTE_SPEAKS,
    APART = ROUTE_APART,
    STORES = ROUTE_POST | ROUTE_CHANGES,
};

const struct route site_routes[] = {
    {"/", READS, view_house},
    {"/branch/", READS, view_branch, KIND_BRANCH},
    {"/appliance", READS, view_appliance},
    {"/appliance/keep", STORES, keep_appliance},
    {"/start", LOOKS, view_start},
    {"/solve", LOOKS | SPEAKS, view_solve},
    {"/estimate", LOOKS, view_estimate},
    {"/class", READS | SPEAKS, view_class},
    {"/class/", READS | SPEAKS, view_class_branch, KIND_BRANCH},
    {"/live/", READS | SPEAKS | APART, download_live, KIND_BRANCH},
    {"/cost", READS, view_cost},
    {"/cost/day", READS, view_day},
    {"/settle", READS | APART, view_settle},
    {"/combos/", READS, view_combos, KIND_BRANCH},
    {"/demand", READS, view_demand},
    {"/demand/", READS | APART, download_service},
    {"/fault", READS, view_fault},
    {"/fault/", READS, view_fault, KIND_BRANCH},
    {"/files", READS, view_files},
    {"/files/", READS | APART, download_file},
    {"/first/", 0, view_first},
    {"/first/", STORES, store_first},
    {"/mark", READS | SPEAKS, view_mark},
    {"/mark", POST | READS, mark_class},
    {"/build", 0, view_guide},
    {"/build/house", 0, view_guide},
    {"/build/house", STORES, guide_first},
    {"/build/panel", READS, view_guide},
    {"/build/rooms", READS, view_guide},
    {"/build/appliances", READS, view_guide},
    {"/build/missing", READS, view_guide},
    {"/build/outlets", READS, view_guide},
    {"/build/outlets/", READS, view_guide},
    {"/build/panels", READS, view_guide},
    {"/build/tariff", READS, view_guide},
    {"/build/scenes", READS, view_guide},
    {"/build/correct/", READS, view_guide},
    {"/build/add", STORES, guide_add},
    {"/build/set", STORES, guide_set},
    {"/build/remove", STORES, guide_remove},
    {"/build/undo", STORES, guide_undo},
    {"/changes", READS, view_changes},
    {"/undo", STORES, undo_change},
    {"/redo", STORES, redo_change},
    {"/api/check", READS, api_check},
    {"/api/check", POST | READS, api_check},
    {"/api/branch/", READS, api_branch, KIND_BRANCH},
    {"/api/place", READS, api_place},
    {"/api/try", READS, api_try},
    {"/api/cost", READS, api_cost},
    {"/api/day", READS, view_day},
    {"/api/fault", READS, view_fault},
    {"/api/demand", READS, view_demand},
    {"/enter", 0, view_enter},
    {"/style.css", 0, view_asset},
    {"/live.js", 0, view_asset},
    {"/icon.svg", 0, view_asset},
    {"/favicon.ico", 0, view_asset},
    {NULL, 0, NULL},
};

/*
 * A browser comes here from a file, and to it an answer that sends it on would still be that file's request, for which
 * it keeps the cookie back: so a page of our own asks for the house.
 */
static void enter_from_file(struct visit *visit)
{
    visit->answer.sets_key = true;
    visit->answer.type = "text/html; charset=utf-8";
    page_add(visit, "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
                    "<meta http-equiv=\"refresh\" content=\"0;url=/\"><title>ampsum</title></head>"
                    "<body><p><a href=\"/\">To the house</a></p></body></html>\n");
}

/* The printed address: lets this browser in, then shows the house. */
static void view_enter(struct visit *visit)
{
    const char *key = form_value(&visit->query, "key");
    if (guard_entry_take(&visit->site->guard, key, clock_ms() / 1000)) {
        enter_from_file(visit);
        return;
    }
    if (!guard_key_holds(&visit->site->guard, key)) {
        visit_refuse(visit, 403, "Not let in", "Please open the whole address that the program printed.");
        return;
    }
    visit->answer.sets_key = true;
    visit_go_to(visit, "/");
}

static const char *asset_type(const char *name)
{
    const char *ending = strrchr(name, '.');
    if (strcmp(ending, ".css") == 0) {
        return "text/css; charset=utf-8";
    }
    return strcmp(ending, ".js") == 0 ? "text/javascript; charset=utf-8" : "image/svg+xml";
}

static void view_asset(struct visit *visit)
{
    const char *name = strcmp(visit->path, "/favicon.ico") == 0 ? "icon.svg" : visit->path + 1;
    for (size_t i = 0; i < serve_assets_count; i++) {
        if (strcmp(serve_assets[i].name, name) == 0) {
            visit->answer.type = asset_type(name);
            visit->answer.kept = true;
            text_add_length(&visit->answer.body, serve_assets[i].bytes, serve_assets[i].length);
            return;
        }
    }
    visit_refuse(visit, 404, "Not here", "There is no such file.");
}
