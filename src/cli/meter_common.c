#include "meter_common.h"

#include <unistd.h>

#include "ampsum/show_meter.h"
#include "progress.h"

static void show_reading(void *context, uint64_t done, uint64_t all)
{
    (void)context;
    progress_share("reading", done, all);
}

static void show_storing(void *context, uint64_t done, uint64_t all)
{
    (void)context;
    progress_share("storing", done, all);
}

bool meter_from_file(struct invocation *invocation, const struct meter_wanted *wanted, const char *path, bool net,
                     struct meter_set *ret_set)
{
    struct meter_options options = wanted->options;
    options.channel = (int)wanted->channel;
    options.net = net;
    options.progress = show_reading;
    return meter_read_file(path, &options, ret_set, &invocation->error);
}

static bool store_set(struct invocation *invocation, const struct meter_set *set, struct meter_stored *ret_stored)
{
    struct store *store = NULL;
    bool ok = store_open(invocation->house_path, STORE_WRITE, &store, &invocation->error) &&
              store_meter_write(store, set->readings, set->count, show_storing, NULL, ret_stored, &invocation->error);
    store_close(store);
    return ok;
}

int meter_import(struct invocation *invocation, const struct meter_wanted *wanted, const char *path)
{
    invocation_house_path(invocation, 0);
    if (!invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    if (!store_is_database(invocation->house_path) && access(invocation->house_path, F_OK) == 0) {
        error_set(&invocation->error, ERROR_INPUT,
                  "%s: readings are stored in a house database; make one with ampsum import %s -o house.db",
                  invocation->house_path, invocation->house_path);
        return 2;
    }
    struct meter_set set;
    struct meter_stored stored = {0};
    if (!meter_from_file(invocation, wanted, path, false, &set)) {
        return 2;
    }
    bool ok = store_set(invocation, &set, &stored);
    if (ok) {
        show_meter_notes(text_string(&set.notes), &invocation->page, &invocation->out);
        text_printf(&invocation->out, "%s: %zu readings added, %zu changed, %zu there already\n",
                    invocation->house_path, stored.added, stored.changed, stored.same);
        invocation_next(invocation, "ampsum meter HOUSE");
    }
    meter_set_done(&set);
    return ok ? 0 : error_exit_status(&invocation->error);
}
