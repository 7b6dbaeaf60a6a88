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

/* The first option given that says something of a meter file; NULL: none. */
static const char *given_of_file(const struct meter_wanted *wanted)
{
    const struct meter_options *options = &wanted->options;
    return options->zone != NULL           ? "zone"
           : options->time_column != NULL  ? "time"
           : options->value_column != NULL ? "value"
           : options->unit != NULL         ? "unit"
           : wanted->channel > 0           ? "channel"
                                           : NULL;
}

bool meter_options_apply(struct invocation *invocation, struct meter_wanted *wanted, bool file, const char *need)
{
    const char *given = file ? NULL : given_of_file(wanted);
    wanted->options.channel = (int)wanted->channel;
    wanted->options.progress = show_reading;
    if (given != NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--%s says how a meter file is to be read, expected %s with it",
                  given, need);
    }
    return given == NULL;
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
    if (!meter_read_file(path, &wanted->options, &set, &invocation->error)) {
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
