#include <stdlib.h>

#include "ampsum/energy.h"
#include "ampsum/text.h"

const char *energy_hour_cost(const struct house *house, const struct energy_bill *bill, int minor_units, double power_w,
                             struct arena *arena)
{
    if (bill->energy_cost == NULL || house->tariff == NO_INDEX || !(bill->kwh_year > 0)) {
        return NULL;
    }
    const char *tax_percent = house->tariffs[house->tariff].tax_percent;
    const double with_tax = 1 + (tax_percent == NULL ? 0 : strtod(tax_percent, NULL)) / 100;
    const double price = strtod(bill->energy_cost, NULL) / bill->kwh_year * with_tax;
    struct text cost = {0};
    text_add_fixed(&cost, power_w / 1000 * price, minor_units);
    return arena_text(arena, &cost);
}
