/* Words of values that are no choice of one key: metals, legs, days, months. */
#include <assert.h>

#include "ampsum/model.h"

const char *metal_word(int metal)
{
    return metal == METAL_ALUMINIUM ? "aluminium" : "copper";
}

const char *day_word(int day)
{
    static const char *const words[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
    assert(day >= 0 && day < 7);
    return words[day];
}

const char *month_word(int month)
{
    static const char *const words[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                        "jul", "aug", "sep", "oct", "nov", "dec"};
    assert(month >= 0 && month < MONTHS_IN_YEAR);
    return words[month];
}

const char *day_name(int day)
{
    static const char *const names[] = {"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
    assert(day >= 0 && day < 7);
    return names[day];
}

const char *month_name(int month)
{
    static const char *const names[] = {"January", "February", "March",     "April",   "May",      "June",
                                        "July",    "August",   "September", "October", "November", "December"};
    assert(month >= 0 && month < MONTHS_IN_YEAR);
    return names[month];
}

const char *legs_word(unsigned legs)
{
    static const char *const words[] = {"", "A", "B", "AB", "C", "AC", "BC", "ABC"};
    assert(legs < 8);
    return words[legs];
}
