#include "contacts.h"

/* Loads of an outlet (NO_INDEX: of the whole branch), and how many of them are plugged in. */
struct connected {
    size_t loads;
    size_t plugged;
};

static struct connected connected_to(const struct house *house, size_t branch, size_t outlet)
{
    struct connected connected = {0, 0};
    const struct index_list *list = &house->branches[branch].appliances;
    for (size_t i = 0; i < list->count; i++) {
        const struct appliance *appliance = &house->appliances[list->index[i]];
        if (outlet == NO_INDEX || appliance->outlet == outlet) {
            connected.loads++;
            connected.plugged += !appliance->fixed;
        }
    }
    return connected;
}

int outlet_contacts(const struct house *house, size_t outlet)
{
    const struct outlet *what = &house->outlets[outlet];
    const struct connected connected = connected_to(house, what->branch, outlet);
    const bool fastened = connected.loads > 0 && connected.plugged == 0;
    const bool light = house->branches[what->branch].purpose == PURPOSE_LIGHTING && connected.plugged == 0;
    return fastened || light ? 0 : what->contacts;
}

int branch_contacts(const struct house *house, size_t branch)
{
    enum { SEVERAL = 2 };
    const struct branch *what = &house->branches[branch];
    if (what->outlets.count == 0) {
        const struct connected connected = connected_to(house, branch, NO_INDEX);
        if (connected.loads > 0 && connected.plugged == 0) {
            return 0;
        }
        return what->purpose == PURPOSE_DEDICATED ? 1 : SEVERAL;
    }
    int sum = 0;
    for (size_t i = 0; i < what->outlets.count; i++) {
        sum += outlet_contacts(house, what->outlets.index[i]);
    }
    return sum;
}
