/* What the first house is asked, in the order of the pages. */
#include "guide_first.h"

const struct first_question first_questions[] = {
    {KIND_HOUSE, "name", "What do you call this house?", "Any name that you like: our house, the flat upstairs.", NULL},
    {KIND_HOUSE, "rules", "Whose electrical rules hold where it stands?",
     "The limits of that place are what the house is held against.", NULL},
    {KIND_HOUSE, "main_breaker", "Which number stands on the main switch?",
     "In amperes, on its handle or beside it: 100, or 100 amps. Where a fuse of the supplier stands there: its "
     "number.",
     NULL},
    {KIND_HOUSE, "floor_area", "How large is the home?",
     "Its floor, as you know it: 1200 sq ft, or 90 m\u00b2. Leave it empty if you do not know.", NULL},
    {KIND_HOUSE, "currency", "In which money do you pay for electricity?",
     "Three letters, such as USD, GBP or EUR. Left empty, that of the place is taken.", NULL},

    {KIND_BRANCH, "label", "What does the next line of the panel's door say?",
     "One line, as it stands there. Look at the door only: never take a cover off.", NULL},
    {KIND_BRANCH, "breaker", "Which number stands on the handle of that breaker?", "In amperes: 15, or 15 amp.", NULL},
    {KIND_BRANCH, "position", "Which space of the panel is it in?",
     "Spaces are counted as the door numbers them. A breaker that takes two: 1 and 3.", "space "},

    {KIND_ROOM, "name", "Which room is next?", "The name that you use at home. Gardens and sheds count, too.", NULL},

    {KIND_APPLIANCE, "name", "What is plugged in or wired?", "One thing at a time: kettle, refrigerator, lamp.", NULL},
    {KIND_APPLIANCE, "room", "In which room is it?", "Where it stands most of the time.", "in "},
    {KIND_APPLIANCE, "at", "Which line of the door feeds it?",
     "The breaker that would switch it off. If you do not know, choose the likely one: it can be corrected.", "on "},
    {KIND_APPLIANCE, "rating", "What does its nameplate say?",
     "At the back, at the bottom or on the plug: 1500 W, 12 amps. Left empty, a typical figure is taken and marked.",
     NULL},
    {KIND_APPLIANCE, "use", "When is it used?",
     "From when to when it may be on: 7am-8am, 17:00-22:30, evening. Left empty: at any moment.", "used "},
    {KIND_APPLIANCE, "hours", "About how long is it on in a day?",
     "Altogether: 30 minutes, or 2 hours. Left empty, what is typical of it, or else all of those times.",
     "on for about "},

    {KIND_TARIFF, "price", "What does a kWh cost?", "It stands on the bill: $0.16, or 16 cents.", NULL},
};

const size_t first_question_count = sizeof first_questions / sizeof first_questions[0];

const struct first_kind *first_kind_of(enum kind kind)
{
    static const struct first_kind kinds[] = {
        {KIND_HOUSE, NULL, "/first/branch", NULL, NULL},
        {KIND_BRANCH, "No more lines: on to the rooms", "/first/room", NULL, NULL},
        {KIND_ROOM, "No more rooms: on to what is plugged in", "/first/appliance", NULL, NULL},
        {KIND_APPLIANCE, "Nothing more: on to the price of energy", "/first/tariff", NULL, NULL},
        {KIND_TARIFF, "Leave it: see the house", "/", "name", "One price"},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (kinds[i].kind == kind) {
            return &kinds[i];
        }
    }
    return NULL;
}
