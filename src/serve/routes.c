/* Every address of the site: a new view is one row here and one function. */
#include <string.h>

#include "ampsum/asset.h"
#include "apart.h"
#include "guide.h"
#include "site.h"

static void view_asset(struct visit *visit);
static void view_enter(struct visit *visit);

const struct route site_routes[] = {
    /* path, POST, changes, reads the house, answer, apart */
    {"/", false, false, true, view_house},
    {"/branch/", false, false, true, view_branch},
    {"/appliance", false, false, true, view_appliance},
    {"/appliance/keep", true, true, false, keep_appliance},
    {"/start", false, false, false, view_start},
    {"/solve", false, false, false, view_solve},
    {"/estimate", false, false, false, view_estimate},
    {"/class", false, false, true, view_class},
    {"/class/", false, false, true, view_class_branch},
    {"/live/", false, false, true, download_live, true},
    {"/cost", false, false, true, view_cost},
    {"/cost/day", false, false, true, view_day},
    {"/settle", false, false, true, view_settle, true},
    {"/combos/", false, false, true, view_combos},
    {"/demand", false, false, true, view_demand},
    {"/demand/", false, false, true, download_service, true},
    {"/fault", false, false, true, view_fault},
    {"/fault/", false, false, true, view_fault},
    {"/files", false, false, true, view_files},
    {"/files/", false, false, true, download_file, true},
    {"/first/", false, false, false, view_first},
    {"/first/", true, true, false, store_first},
    {"/mark", false, false, true, view_mark},
    {"/mark", true, false, true, mark_class},
    {"/build", false, false, false, view_guide},
    {"/build/house", false, false, false, view_guide},
    {"/build/house", true, true, false, guide_first},
    {"/build/panel", false, false, true, view_guide},
    {"/build/rooms", false, false, true, view_guide},
    {"/build/appliances", false, false, true, view_guide},
    {"/build/missing", false, false, true, view_guide},
    {"/build/outlets", false, false, true, view_guide},
    {"/build/outlets/", false, false, true, view_guide},
    {"/build/panels", false, false, true, view_guide},
    {"/build/tariff", false, false, true, view_guide},
    {"/build/scenes", false, false, true, view_guide},
    {"/build/correct/", false, false, true, view_guide},
    {"/build/add", true, true, false, guide_add},
    {"/build/set", true, true, false, guide_set},
    {"/build/remove", true, true, false, guide_remove},
    {"/build/undo", true, true, false, guide_undo},
    {"/changes", false, false, true, view_changes},
    {"/undo", true, true, false, undo_change},
    {"/redo", true, true, false, redo_change},
    {"/api/check", false, false, true, api_check},
    {"/api/check", true, false, true, api_check},
    {"/api/branch/", false, false, true, api_branch},
    {"/api/place", false, false, true, api_place},
    {"/api/try", false, false, true, api_try},
    {"/api/cost", false, false, true, api_cost},
    {"/api/day", false, false, true, view_day},
    {"/api/fault", false, false, true, view_fault},
    {"/api/demand", false, false, true, view_demand},
    {"/enter", false, false, false, view_enter},
    {"/style.css", false, false, false, view_asset},
    {"/live.js", false, false, false, view_asset},
    {"/icon.svg", false, false, false, view_asset},
    {"/favicon.ico", false, false, false, view_asset},
    {NULL, false, false, false, NULL},
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
