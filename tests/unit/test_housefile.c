#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "ampsum/housefile.h"
#include "housefile_rows.h"

/* Reads a string as a house; on a fault the message is in `error`. */
static struct house *read_string(const char *string, struct error *error)
{
    struct house *house = NULL;
    housefile_read_house_bytes("h.ini", string, strlen(string), &house, error);
    return house;
}

/* ------------------------------------------------------------------ faults and their lines ------------------------ */

struct bad_row {
    const char *string;
    int line;         /* the line that an error must name; 0: none */
    const char *says; /* part of that line's message */
};

/* Contract, house-file.md, "Bad input", "Which line an error names", and engineering.md section 10. */
static const struct bad_row bad_rows[] = {
    /* the house section */
    {"", 0, "empty"},
    {"\xEF\xBB\xBF", 0, "no [house] section"},
    {"; nothing\n\n# here\n", 0, "no [house] section"},
    {"[room a]\n", 0, "no [house] section"},
    {US "[house]\nname = G\n", 5, "given twice, first at h.ini:1"},
    {"[house x]\nname = H\n", 1, "takes no ID"},
    {"[house]\nrules = us\nmain_breaker = 9\n", 1, "name is missing"},
    {"[house]\nname = H\nmain_breaker = 9\n", 1, "rules is missing"},
    {"\n\n[house]\nname = H\nrules = us\n", 3, "main_breaker is missing"},
    {US "rules = us\n", 5, "rules is given twice, first at h.ini:3"},
    {"[house]\nname = H\nrules = usa\nmain_breaker = 9\n", 3, "nearest: us"},
    {US "voltage = 0\n", 5, "may not be 0"},
    {US "frequency = 55\n", 5, "expected 50 or 60"},
    {US "frequency = 50 V\n", 5, "expected 50 or 60"},
    {US "currency = usd\n", 5, "unknown currency"},
    {US "currency = ZZQ\n", 5, "unknown currency"},
    {US "tariff = t\n", 5, "no tariff has the ID `t`"},
    {US "billing_days = 0\n", 5, "from 1 to 366"},
    {US "billing_days = 30.5\n", 5, "whole number"},
    {US "floor_area = 10 m\n", 5, "wrong unit `m`"},
    {US "ambient = -300\n", 5, "too small"},
    {US "voltage = -120\n", 5, "negative"},
    {"[house]\nname = H\nrules = us\nmain_breaker = 0\n", 4, "may not be 0"},
    {"[house]\nname = H\nrules = us\nmain_breaker = 1e13\n", 4, "too large"},
    /* lexical rules */
    {US "[room a]\nnmae = A\n", 6, "unknown key `nmae`, expected a key of this section (nearest: name)"},
    {US "[room a]\nName = A\n", 6, "unknown key `Name`"},
    {US "[romo a]\n", 5, "unknown section `romo`"},
    {US "[Room a]\n", 5, "nearest: room"},
    {US "[room]\n", 5, "an ID is missing"},
    {US "[room A]\n", 5, "not an ID"},
    {US "[room a_b]\n", 5, "not an ID"},
    {US "[room a b]\n", 5, "not an ID"},
    {US "[room abcdefghijklmnopqrstuvwxyzabcdefghijklmno]\n", 5, "not an ID"}, /* 41 */
    {US "[room a\n", 5, "without `]`"},
    {US "[]\n", 5, "unknown section"},
    {US "[room a] x\n", 5, "text after `]`"},
    {US "[room a] # x\n", 5, "text after `]`"},
    {US "[room a]b]\n", 5, "text after `]`"},
    {US "[room a]\nname\n", 6, "neither a section header nor `key = value`"},
    {US "[room a]\nname: A\n", 6, "neither a section header nor `key = value`"},
    {US "[room a]\nname = A\n  more of it\n", 7, "neither a section header"},
    {US "[room a]\nname =\n", 6, "no value after `=`"},
    {US "[room a]\nname = ; comment\n", 6, "no value after `=`"},
    {US "[room a]\n= A\n", 6, "unknown key"},
    {"name = H\n" US, 1, "before the first section header"},
    {US "[room a]\nname = A\tB\n", 6, "control character"},
    {US "[room a]\nname = A\x01\n", 6, "control character"},
    {US "[room a]\nname = A\x7f\n", 6, "control character"},
    {US "[room a]\nname = A\xc2\x85\n", 6, "control character"},
    {US "[room a]\nname = A\u202eB\n", 6, "control character"},
    {US "[room a]\n; \x1b[2J\n", 6, "control character"},
    {US "[room a]\nname = A\rB\n", 6, "control character"},
    {US "[room a]\nname = \xff\n", 6, "not valid UTF-8"},
    {US "[room a]\nname = \xc0\xaf\n", 6, "not valid UTF-8"},
    {US "[room a]\nname = \xed\xa0\x80\n", 6, "not valid UTF-8"},
    {US "[room a]\nname = \xe2\x82\n", 6, "not valid UTF-8"},
    {US "[room a]\nname =;A\n", 6, "semicolon"},
    {US "[room a]\n[room b]\n[room a]\n", 7, "given twice, first at h.ini:5"},
    {US "[room a]\nname = A\nfloor = 1\nname = B\n", 8, "name is given twice, first at h.ini:6"},
    {US "[panel main]\n[panel main]\n", 6, "given twice, first at h.ini:5"},
    {US "[panel main]\nbreaker = 100\n", 6, "expected only name"},
    /* panels */
    {US "[panel p]\nlegs = A\n", 5, "breaker is missing"},
    {US "[panel p]\nbreaker = 60\nfrom = q\nlegs = A\n", 7, "no panel has the ID `q`"},
    {US "[panel p]\nbreaker = 60\nfrom = p\nlegs = A\n", 7, "feeds itself"},
    {US "[panel p]\nbreaker = 60\nlegs = A\nfrom = q\n[panel q]\nbreaker = 60\nlegs = A\nfrom = p\n", 8,
     "feeds itself"},
    {US "[panel p]\nbreaker = 60\npoles = 3\nlegs = AB\n", 7, "three poles in a split-phase house"},
    {US "[panel p]\nbreaker = 60\n", 5, "legs is missing"},
    {US "[panel p]\nbreaker = 60\nlegs = A\n[branch b]\nlabel = B\npanel = p\nbreaker = 20\nlegs = B\n", 12,
     "no leg B in panel p"},
    {US "[panel p]\nbreaker = 60\nlegs = A\n[panel q]\nfrom = p\nbreaker = 60\npoles = 2\nlegs = AB\n", 12,
     "no leg B in panel p"},
    /* rooms */
    {US "[room a]\narea = 0\n", 6, "may not be 0"},
    {US "[room a]\narea = 3 m\n", 6, "wrong unit"},
    /* branches */
    {US "[branch b]\nbreaker = 20\nlegs = A\n", 5, "label is missing"},
    {US "[branch b]\nlabel = B\nlegs = A\n", 5, "breaker is missing"},
    {US "[branch b]\nlabel = B\nbreaker = 0\nlegs = A\n", 7, "may not be 0"},
    {US "[branch b]\nlabel = B\nbreaker = -20\nlegs = A\n", 7, "negative"},
    {US "[branch b]\nlabel = B\nbreaker = 20\n", 5, "legs is missing"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = C\n", 8, "no leg C in a split-phase house"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = AB\n", 8, "2 legs on 1 poles"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\npoles = 2\n", 8, "1 legs on 2 poles"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = BA\n", 8, "expected A, B, C, AB"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = a\n", 8, "unknown legs"},
    {US "[branch b]\nlabel = B\nbreaker = 20\npoles = 3\nlegs = ABC\n", 8, "three poles in a split-phase house"},
    {US "[branch b]\nlabel = B\nbreaker = 20\npoles = 4\nlegs = A\n", 8, "expected 1, 2 or 3"},
    {UK "[branch b]\nlabel = B\nbreaker = 32\nlegs = B\n", 8, "no leg B in a single-phase house"},
    {UK "[branch b]\nlabel = B\nbreaker = 32\npoles = 3\n", 8, "three poles in a single-phase house"},
    {US US_BRANCH "panel = garage\n", 9, "no panel has the ID `garage`"},
    {US US_BRANCH "position = 0\n", 9, "from 1 to 999"},
    {US US_BRANCH "position = 3,\n", 9, "trailing comma"},
    {US US_BRANCH "position = 3,3\n", 9, "space 3 is given twice"},
    {US US_BRANCH "position = 3 4\n", 9, "thousands separator"},
    {US US_BRANCH "position = 3\n[branch c]\nlabel = C\nbreaker = 20\nlegs = B\nposition = 5, 3\n", 14,
     "space 3 of panel main is taken by b at h.ini:9"},
    {US US_BRANCH "trip = B\n", 9, "expected inverse-time"},
    {UK UK_BRANCH "trip = inverse-time\n", 8, "expected B, C or D"},
    {US US_BRANCH "trip = E\n", 9, "unknown `E`"},
    {US US_BRANCH "wire = 11 AWG copper\n", 9, "expected 12 AWG or 10 AWG"},
    {US US_BRANCH "wire = 3 mm2 copper\n", 9, "expected 2.5 mm2 or 4 mm2"},
    {US US_BRANCH "wire = 12 AWG\n", 9, "no metal"},
    {US US_BRANCH "wire = 12 AWG gold\n", 9, "no metal"},
    {US US_BRANCH "wire = 12 copper\n", 9, "no wire size"},
    {US US_BRANCH "wire = 12 Mm2 copper\n", 9, "no wire size"},
    {US US_BRANCH "wire = fat copper\n", 9, "no wire size"},
    {US US_BRANCH "wire = copper\n", 9, "no wire size"},
    {US US_BRANCH "method = E\n", 9, "unknown `E`"},
    {US US_BRANCH "length = 10 A\n", 9, "wrong unit `A`"},
    {US US_BRANCH "length = 10 meters\n", 9, "unknown unit `meters`"},
    {US US_BRANCH "layout = star\n", 9, "expected radial or ring"},
    {US US_BRANCH "return = 10\n", 9, "on a radial branch"},
    {US US_BRANCH "layout = radial\nreturn = 0\n", 10, "on a radial branch"},
    {US US_BRANCH "serves = attic\n", 9, "no room has the ID `attic`"},
    {US "[room a]\n" US_BRANCH "serves = a,\n", 10, "trailing comma"},
    {US "[room a]\n" US_BRANCH "serves = a, a\n", 10, "a is given twice"},
    {US "[room a]\n" US_BRANCH "serves = a,,a\n", 10, "empty entry"},
    {US "[room kitchen]\n" US_BRANCH "serves = kichen\n", 10, "nearest: kitchen"},
    {US US_BRANCH "purpose = bath\n", 9, "nearest: bathroom"},
    {US US_BRANCH "protection = gfci, gfci\n", 9, "given twice"},
    {US US_BRANCH "protection = fuse\n", 9, "any of gfci, afci, rcd"},
    {US US_BRANCH "protection = gfci,\n", 9, "trailing comma"},
    /* rings */
    {UK UK_BRANCH "layout = ring\n[outlet o]\nbranch = b\nrun = 5\n", 5, "return is missing"},
    {UK UK_BRANCH "layout = ring\nreturn = 5\n", 8, "without outlets"},
    {UK UK_BRANCH "layout = ring\nreturn = 0\n[outlet o]\nbranch = b\nrun = 5\n", 9, "no length"},
    {UK UK_BRANCH "layout = ring\nreturn = 5\n[outlet o]\nbranch = b\nrun = 0\n", 12, "no length"},
    {UK UK_BRANCH "layout = ring\nreturn = 5\n[outlet o]\nbranch = b\nrun = 5\n[outlet p]\nbranch = b\nrun = 5\n", 13,
     "forks"},
    {UK UK_BRANCH "layout = ring\nreturn = 5\n[outlet o]\nbranch = b\nrun = 5\n[outlet p]\nbranch = b\nrun = 5\n"
                  "from = o\n[outlet q]\nbranch = b\nrun = 5\nfrom = o\n",
     20, "p comes from o already"},
    /* outlets */
    {US "[outlet o]\nname = O\n", 5, "branch is missing"},
    {US US_BRANCH "[outlet panel]\nbranch = b\n", 9, "reserved"},
    {US US_BRANCH "[outlet end]\nbranch = b\n", 9, "reserved"},
    {US US_BRANCH "[outlet o]\nbranch = c\n", 10, "no branch has the ID `c`"},
    {US US_BRANCH "[outlet o]\nbranch = b\nroom = r\n", 11, "no room has the ID `r`"},
    {US US_BRANCH "[outlet o]\nbranch = b\nfrom = o\n", 11, "feeds itself"},
    {US US_BRANCH "[outlet o]\nbranch = b\nfrom = end\n", 11, "no outlet has the ID `end`"},
    {US US_BRANCH "[outlet o]\nbranch = b\nfrom = p\n[outlet p]\nbranch = b\nfrom = o\n", 11, "feeds itself"},
    {US US_BRANCH "[branch c]\nlabel = C\nbreaker = 20\nlegs = B\n[outlet o]\nbranch = c\n[outlet p]\nbranch = b\n"
                  "from = o\n",
     17, "o is on branch c"},
    {US US_BRANCH "wire = 12 AWG cu\n[outlet o]\nbranch = b\n", 10, "run is missing"},
    {US US_BRANCH "[outlet o]\nbranch = b\nrating = 0\n", 11, "may not be 0"},
    {US US_BRANCH "[outlet o]\nbranch = b\nrun = -1\n", 11, "negative"},
    /* appliances */
    {US US_BRANCH "[appliance a]\nbranch = b\npower = 60\n", 9, "name is missing"},
    {US "[appliance a]\nname = A\npower = 60\n", 5, "neither outlet nor branch"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\n", 9, "no rating"},
    {US US_BRANCH LAMP "current = 1\n", 13, "more than one rating"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 5 VA\ncurrent = 1\n", 13, "more than one rating"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 0\n", 12, "may not be 0"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\napparent = 0 VA\n", 12, "may not be 0"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\ncurrent = 0.0\n", 12, "may not be 0"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\nresistance = 0\n", 12, "may not be 0"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\nhorsepower = 0\n", 12, "may not be 0"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 60 VA\n", 12, "wrong unit `VA`"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = bb\npower = 60\n", 11, "no branch has the ID `bb`"},
    {US US_BRANCH "[appliance a]\nname = A\noutlet = o\npower = 60\n", 11, "no outlet has the ID `o`"},
    {US US_BRANCH "[appliance a]\nname = A\noutlet = panel\npower = 60\n", 11, "no outlet has the ID `panel`"},
    {US US_BRANCH "[branch c]\nlabel = C\nbreaker = 20\nlegs = B\n[outlet o]\nbranch = c\n" LAMP "outlet = o\n", 17,
     "on two branches"},
    {US US_BRANCH "[room r]\n[room s]\n[outlet o]\nbranch = b\nroom = r\n" LAMP "outlet = o\nroom = s\n", 19,
     "its outlet o is in r"},
    {US US_BRANCH LAMP "rated_voltage = 0\n", 13, "may not be 0"},
    {US US_BRANCH LAMP "power_factor = 0\n", 13, "may not be 0"},
    {US US_BRANCH LAMP "power_factor = 1.01\n", 13, "at most 1"},
    {US US_BRANCH LAMP "power_factor = 80 %\n", 13, "without a unit"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\nresistance = 10\npower_factor = 0.9\n", 13,
     "beside resistance"},
    {US US_BRANCH LAMP "behaviour = inductive\n", 13, "resistive, electronic or motor"},
    {US US_BRANCH LAMP "start_factor = 0.99\n", 13, "at least 1"},
    {US US_BRANCH LAMP "count = 0\n", 13, "from 1 to 10000"},
    {US US_BRANCH LAMP "count = -1\n", 13, "negative"},
    {US US_BRANCH LAMP "count = 10001\n", 13, "from 1 to 10000"},
    {US US_BRANCH LAMP "count = 1.5\n", 13, "whole number"},
    {US US_BRANCH LAMP "fixed = maybe\n", 13, "expected yes or no"},
    {US US_BRANCH LAMP "use = 25:00-26:00\n", 13, "is no window"},
    {US US_BRANCH LAMP "use = 06:00\n", 13, "is no window"},
    {US US_BRANCH LAMP "use = 06:60-07:00\n", 13, "is no window"},
    {US US_BRANCH LAMP "use = 24:00-06:00\n", 13, "is no window"},
    {US US_BRANCH LAMP "use = 06:00-24:01\n", 13, "is no window"},
    {US US_BRANCH LAMP "use = 06:00-06:00\n", 13, "has no length"},
    {US US_BRANCH LAMP "use = 06:00-07:00,\n", 13, "trailing comma"},
    {US US_BRANCH LAMP "use = 06:00-07:00, 06:59-08:00\n", 13, "windows overlap"},
    {US US_BRANCH LAMP "use = 06:00-07:00, 06:00-07:00\n", 13, "windows overlap"},
    {US US_BRANCH LAMP "use = 22:00-06:00, 05:59-07:00\n", 13, "windows overlap"},
    {US US_BRANCH LAMP "use = 00:00-24:00, 05:59-07:00\n", 13, "windows overlap"},
    {US US_BRANCH LAMP "use = 06:00-07:00\nhours = 1.01\n", 14, "at most 1 h"},
    {US US_BRANCH LAMP "hours = 24.1\n", 13, "at most 24 h"},
    {US US_BRANCH LAMP "hours = -1\n", 13, "negative"},
    {US US_BRANCH LAMP "days = monday\n", 13, "unknown `monday`"},
    {US US_BRANCH LAMP "days = mon,mon\n", 13, "given twice"},
    {US US_BRANCH LAMP "days = mon,\n", 13, "trailing comma"},
    {US US_BRANCH LAMP "days = mon-\n", 13, "unknown `mon-`"},
    {US US_BRANCH LAMP "days = jan\n", 13, "unknown `jan`"},
    {US US_BRANCH LAMP "months = nov-mar-apr\n", 13, "unknown `nov-mar-apr`"},
    {US US_BRANCH LAMP "months = nov-mar, nov-mar\n", 13, "given twice"},
    {US US_BRANCH LAMP "duty = 100.1\n", 13, "at most 100%"},
    {US US_BRANCH LAMP "duty = 120 %\n", 13, "at most 100%"},
    {US US_BRANCH LAMP "standby = -1 W\n", 13, "negative"},
    {US US_BRANCH LAMP "category = oven\n", 13, "unknown `oven`"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\nhorsepower = 0.4\n", 12, "1/2"},
    {UK UK_BRANCH "[appliance a]\nname = A\nbranch = b\nhorsepower = 1/2\n", 11, "no motor table"},
    {IEC UK_BRANCH "[appliance a]\nname = A\nbranch = b\nhorsepower = 1/2 hp\n", 11, "no motor table"},
    {US_THREE "[branch b]\nlabel = B\nbreaker = 20\npoles = 3\nlegs = ABC\n[appliance a]\nname = A\nbranch = b\n"
              "horsepower = 1/2\n",
     14, "3-pole branch"},
    /* scenes */
    {US "[scene s]\n", 5, "on is missing"},
    {US "[scene s]\non = lamp\n", 6, "no appliance has the ID `lamp`"},
    {US US_BRANCH LAMP "[scene s]\non = lamp,\n", 14, "trailing comma"},
    {US US_BRANCH LAMP "[scene s]\non = lamp, lamp\n", 14, "given twice"},
    {US US_BRANCH LAMP "[scene s]\non = lamp*2\n", 14, "at most its count of 1"},
    {US US_BRANCH LAMP "[scene s]\non = lamp*0\n", 14, "from 1 to 10000"},
    {US US_BRANCH LAMP "[scene s]\non = lamp*\n", 14, "not a number"},
    /* tariffs */
    {US "[tariff t]\n", 5, "no price"},
    {US "[tariff t]\nprice = -0.1\n", 6, "negative"},
    {US "[tariff t]\nprice = 0,10\n", 6, "decimal comma"},
    {US "[tariff t]\nprice = 0.1\nstanding = x\n", 7, "not a number"},
    {US "[tariff t]\nprice = 0.1\ntax = 5 A\n", 7, "wrong unit"},
    {US "[tariff t]\nprice = 0.1\nblocks = 350: 0.14, rest: 0.2\n", 7, "beside price"},
    {US "[tariff t]\nblocks = 350: 0.14, 350: 0.2, rest: 0.3\n", 6, "out of order"},
    {US "[tariff t]\nblocks = 1000: 0.14, 350: 0.2, rest: 0.3\n", 6, "out of order"},
    {US "[tariff t]\nblocks = 9: 0.14, 10: 0.2, 9.5: 0.3, rest: 1\n", 6, "out of order: 9.5 after 10"},
    {US "[tariff t]\nblocks = 0: 0.14, rest: 0.3\n", 6, "out of order"},
    {US "[tariff t]\nblocks = 350: 0.14\n", 6, "not `rest`"},
    {US "[tariff t]\nblocks = rest: 0.14, 350: 0.2\n", 6, "after `rest`"},
    {US "[tariff t]\nblocks = 350: 0.14, rest: 0.3,\n", 6, "trailing comma"},
    {US "[tariff t]\nblocks = 350, rest: 0.3\n", 6, "no colon"},
    {US "[tariff t]\nblocks = 350: , rest: 0.3\n", 6, "not a number"},
    /* periods */
    {US "[period p]\nprice = 0.1\n", 5, "tariff is missing"},
    {US "[tariff t]\nprice = 1\n[period p]\ntariff = t\n", 7, "price is missing"},
    {US "[period p]\ntariff = t\nprice = 0.1\n", 6, "no tariff has the ID `t`"},
    {US "[tariff t]\nblocks = 350: 0.14, rest: 0.3\n[period p]\ntariff = t\nprice = 1\nhours = 01:00-02:00\n", 6,
     "expected blocks or periods"},
    {US "[tariff t]\nprice = 1\n[period p]\ntariff = t\nprice = 1\n[period q]\ntariff = t\nprice = 2\n"
        "hours = 06:00-07:00\n",
     10, "overlaps p at h.ini:7"},
    {US "[tariff t]\n[period p]\ntariff = t\nprice = 1\nhours = 00:00-23:59\n", 5, "cover every minute"},
    {US "[tariff t]\n[period p]\ntariff = t\nprice = 1\ndays = mon-sat\n", 5, "cover every minute"},
    {US "[tariff t]\n[period p]\ntariff = t\nprice = 1\nmonths = jan-nov\n", 5, "cover every minute"},
    {US "[tariff t]\nprice = 1\n[period p]\ntariff = t\nprice = 1\nhours = 25:00-26:00\n", 10, "is no window"},
};

/* True where some line of the messages names the file and line (0: the file alone) and says the text. */
static bool message_has(const char *messages, int line, const char *says)
{
    char prefix[40];
    snprintf(prefix, sizeof prefix, line > 0 ? "h.ini:%d: " : "h.ini: ", line);
    for (const char *at = messages; at != NULL; at = strchr(at, '\n')) {
        at += *at == '\n';
        const char *end = strchr(at, '\n');
        const char *found = strstr(at, says);
        if (strncmp(at, prefix, strlen(prefix)) == 0 && found != NULL && (end == NULL || found < end)) {
            return true;
        }
    }
    return false;
}

START_TEST(fault_names_its_line)
{
    const struct bad_row *row = &bad_rows[_i];
    struct error error = {0};
    struct house *house = read_string(row->string, &error);
    ck_assert_msg(house == NULL, "no fault in:\n%s", row->string);
    ck_assert_int_eq(error.code, ERROR_INPUT);
    ck_assert_msg(message_has(error_message(&error), row->line, row->says), "want line %d `%s`, got:\n%s\nin:\n%s",
                  row->line, row->says, error_message(&error), row->string);
    ck_assert_msg(strstr(error_message(&error), "expected") != NULL, "%s", error_message(&error));
    error_done(&error);
}
END_TEST

/* ------------------------------------------------------------------ valid though unusual -------------------------- */

static const char *const good_rows[] = {
    US,
    US US_BRANCH,
    US US_BRANCH LAMP,
    US "[tariff t]\nprice = 0.1\n[tariff u]\nprice = 0\n",
    US "[tariff t]\nprice = 0.1\n",
    US_THREE "[branch b]\nlabel = B\nbreaker = 20\npoles = 2\nlegs = AC\n",
    US_THREE "[branch b]\nlabel = B\nbreaker = 20\npoles = 3\nlegs = ABC\n",
    US_SINGLE UK_BRANCH,
    IEC "system = split-phase\n[branch b]\nlabel = B\nbreaker = 16\npoles = 2\nlegs = AB\n",
    IEC "[branch b]\nlabel = B\nbreaker = 16\npoles = 2\nlegs = A\n",
    IEC "[branch b]\nlabel = B\nbreaker = 16\npoles = 2\n",
    IEC "[branch b]\nlabel = B\nbreaker = 16\nwire = 12 AWG copper\ntrip = D\nmethod = A1\n",
    US US_BRANCH "wire = 2.5 mm2 cu\nlength = 0\n",
    US US_BRANCH "wire = 12awg Copper\n[outlet o]\nbranch = b\nrun = 0\n",
    US US_BRANCH "wire = 1/0 AWG aluminum\n",
    US US_BRANCH "wire = 250 kcmil al\n",
    US US_BRANCH "wire = 2.5 mm\u00b2 copper\n",
    UK UK_BRANCH "poles = 2\nlayout = ring\nreturn = 5\nwire = 2.5 mm2 copper\n[outlet o]\nbranch = b\nrun = 5\n"
                 "[outlet p]\nbranch = b\nrun = 5\nfrom = o\n",
    "\xEF\xBB\xBF" US US_BRANCH,
    "[house]\r\nname = H\r\nrules = us\r\nmain_breaker = 100\r\n",
    "  [house]  \n\t name\t=\tH;1 \t; comment\nrules=us\n  main_breaker = 100 A ;x\n",
    US "[ branch \t b ] ; comment\nlabel = B ;comment\nbreaker = 20 ; =\nlegs = A\n",
    US "[branch b];comment\nlabel = B\nbreaker = 20\nlegs = A",
    US "[panel main]\nname = Hall\n",
    US "[panel main]\n",
    US US_BRANCH LAMP "hours = 0\nduty = 0\nstandby = 0\n",
    US US_BRANCH LAMP "use = 00:00-24:00\nhours = 24\n",
    US US_BRANCH LAMP "use = 22:00-06:00, 06:00-22:00\n",
    US US_BRANCH LAMP "use = 22:00 - 00:00 ,\t00:00-06:00\n",
    US US_BRANCH LAMP "days = mon-wed, tue-fri\nmonths = nov-mar, jan, dec-feb\n",
    US US_BRANCH LAMP "days = weekend, mon\n",
    US US_BRANCH LAMP "room = r\n[room r]\n",
    US US_BRANCH "[room r]\n[outlet o]\nbranch = b\n" LAMP "outlet = o\nroom = r\n",
    US US_BRANCH "[appliance a]\nname = A\nbranch = b\nresistance = 10\npower_factor = 1\n",
    US US_BRANCH "[appliance a]\nname = A\nbranch = b\nhorsepower = 1/2 hp\n",
    US US_BRANCH "[appliance a]\nname = a # b; c=d \"e\" [f]\nbranch = b\npower = 1\ngroup = x\n",
    US US_BRANCH LAMP "count = 3\n[scene s]\non = lamp * 3\n",
    US "frequency = 50Hz\ncurrency = JPY\nambient = -10 \u00b0C\nvoltage = 0.12 kV\n",
    US "[tariff t]\nblocks = 350: 0.14 , 1000 kWh:0.19, rest: 0.24\n",
    US "[tariff t]\nblocks = rest: 0.24\n",
    US "[tariff t]\n[period p]\ntariff = t\nprice = 1\n",
    US "[tariff t]\n[period p]\ntariff = t\nprice = 1\nhours = 22:00-06:00\n[period q]\ntariff = t\nprice = 2\n"
       "hours = 06:00-22:00\n",
    US "[tariff t]\n[period p]\ntariff = t\nprice = 1\ndays = weekdays\n[period q]\ntariff = t\nprice = 2\n"
       "days = weekend\n",
    US "[tariff t]\nprice = 1\n[period p]\ntariff = t\nprice = 1\nmonths = nov-mar\nhours = 22:00-06:00\n"
       "[period q]\ntariff = t\nprice = 2\nmonths = apr-oct\nhours = 22:00-06:00\n",
    US "[room abcdefghijklmnopqrstuvwxyzabcdefghijklmn]\n", /* 40 */
    US US_BRANCH "[appliance abcdefghijklmnopqrstuvwxyz0123456789-abc]\nname = A\nbranch = b\npower = 1\n",
};

START_TEST(unusual_is_read)
{
    struct error error = {0};
    struct house *house = read_string(good_rows[_i], &error);
    ck_assert_msg(house != NULL, "%s\nin:\n%s", error_message(&error), good_rows[_i]);
    house_free(house);
    error_done(&error);
}
END_TEST

/* Document, text and house come back the same: what is valid is a fixed point from the first writing on. */
static char *write_house(const struct house *house)
{
    struct document *document = house_document(house, "written");
    struct text text = {0};
    document_write(document, &text);
    document_free(document);
    return text.bytes;
}

START_TEST(unusual_is_written_back)
{
    struct error error = {0};
    struct house *house = read_string(good_rows[_i], &error);
    ck_assert_ptr_nonnull(house);
    char *first = write_house(house);
    struct house *again = read_string(first, &error);
    ck_assert_msg(again != NULL, "%s\nin:\n%s", error_message(&error), first);
    char *second = write_house(again);
    ck_assert_str_eq(first, second);
    free(first);
    free(second);
    house_free(house);
    house_free(again);
}
END_TEST

/* An outlet that says `from = panel` is the same house as one that says nothing: a database keeps no difference. */
START_TEST(from_panel_is_not_kept)
{
    static const char *const lines[] = {"", "from = panel\n"};
    for (size_t i = 0; i < 2; i++) {
        struct text string = {0};
        struct error error = {0};
        text_printf(&string, US US_BRANCH "[outlet o]\nbranch = b\nrun = 4\n%s", lines[i]);
        struct house *house = read_string(text_string(&string), &error);
        ck_assert_msg(house != NULL, "%s", error_message(&error));
        ck_assert(!key_is_given(&sections[KIND_OUTLET], section_key(&sections[KIND_OUTLET], "from"), house->outlets));
        ck_assert(house->outlets[0].from == NO_INDEX);
        house_free(house);
        text_done(&string);
    }
}
END_TEST

/* ------------------------------------------------------------------ lines ----------------------------------------- */

/* libraries.md, section 3: what inih by itself would cut, join or drop. Each gives the name that must come back. */
static const struct {
    const char *string;
    const char *want;
} name_rows[] = {
    {"[house]\nname = Ash Lane\n", "Ash Lane"},
    {"[house]\nname = a;b\n", "a;b"},
    {"[house]\nname = a # b\n", "a # b"},
    {"[house]\nname = \"a\" ; b\n", "\"a\""},
    {"[house]\nname = a\t; b\n", "a"},
    {"[house]\nname=a = b: c\n", "a = b: c"},
    {"[house]\n   name = indented\n", "indented"},
    {"[house]\r\nname = crlf\r\n", "crlf"},
    {"\xEF\xBB\xBF[house]\nname = mark\n", "mark"},
    {"[  house\t]\nname = blanks\n", "blanks"},
    {"[house] ; comment ] with a bracket\nname = comment\n", "comment"},
    {"[house]\n#name = a\n;name = b\n  # name = c\nname = d\n", "d"},
    {"[house]\nname = \u00c5ngstr\u00f6m \u4e2d\u6587\n", "\u00c5ngstr\u00f6m \u4e2d\u6587"},
    {"[house]\nname = ends in \u00c5\n", "ends in \u00c5"},
    {"[house]\nname = [x]\n", "[x]"},
};

START_TEST(name_comes_back_whole)
{
    struct text string = {0};
    text_printf(&string, "%srules = us\nmain_breaker = 100\n", name_rows[_i].string);
    struct error error = {0};
    struct house *house = read_string(text_string(&string), &error);
    ck_assert_msg(house != NULL, "%s", error_message(&error));
    ck_assert_str_eq(house->name, name_rows[_i].want);
    house_free(house);
    text_done(&string);
}
END_TEST

/* A name that makes its line `length` bytes long. */
static char *long_line(size_t length, const char *start, const char *fill)
{
    struct text text = {0};
    text_add(&text, US "[room a]\n");
    size_t before = text.length;
    text_add(&text, start);
    while (text.length - before + strlen(fill) <= length) {
        text_add(&text, fill);
    }
    while (text.length - before < length) {
        text_add(&text, "x");
    }
    text_add(&text, "\n[room b]\nname = after\n");
    return text.bytes;
}

static const size_t whole_lengths[] = {198, 199, 200, 201, 255, 256, 1023, 1024, 4000, 4094, 4095, 4096};

START_TEST(long_line_works)
{
    static const char *const fills[] = {"x", "\u20ac", "breaker=40 "};
    for (size_t i = 0; i < 3; i++) {
        char *string = long_line(whole_lengths[_i], "name=", fills[i]);
        struct error error = {0};
        struct house *house = read_string(string, &error);
        ck_assert_msg(house != NULL, "%s", error_message(&error));
        ck_assert_uint_eq(strlen(house->rooms[0].name), whole_lengths[_i] - strlen("name="));
        ck_assert_str_eq(house->rooms[1].name, "after");
        char *written = write_house(house);
        struct house *again = read_string(written, &error);
        ck_assert_msg(again != NULL, "%s", error_message(&error));
        ck_assert_str_eq(again->rooms[0].name, house->rooms[0].name);
        free(string);
        free(written);
        house_free(house);
        house_free(again);
    }
}
END_TEST

static const char *const too_long_rows[] = {"name = ", "; ", "[room ", "", "   "};

START_TEST(too_long_line_is_refused)
{
    char *string = long_line(4097, too_long_rows[_i], "x");
    struct error error = {0};
    ck_assert_ptr_null(read_string(string, &error));
    ck_assert_msg(message_has(error_message(&error), 6, "more than 4096 bytes"), "%s", error_message(&error));
    error_done(&error);
    free(string);
}
END_TEST

/* A comment of 205 bytes that ends in a key must not come to life behind inih's 200 bytes. */
START_TEST(long_comment_stays_a_comment)
{
    char *string = long_line(205, ";", "breaker=40 ");
    struct error error = {0};
    struct house *house = read_string(string, &error);
    ck_assert_msg(house != NULL, "%s", error_message(&error));
    ck_assert_str_eq(house->rooms[0].name, "a");
    house_free(house);
    free(string);
}
END_TEST

START_TEST(nul_byte_names_its_line)
{
    static const char string[] = US "[room a]\nname = A\0B\n";
    struct house *house = NULL;
    struct error error = {0};
    ck_assert(!housefile_read_house_bytes("h.ini", string, sizeof string - 1, &house, &error));
    ck_assert_msg(message_has(error_message(&error), 6, "NUL byte"), "%s", error_message(&error));
    ck_assert_ptr_null(house);
    error_done(&error);
}
END_TEST

/* ------------------------------------------------------------------ all faults at once ---------------------------- */

START_TEST(all_faults_come_in_line_order)
{
    static const char string[] =
        "[house]\nname = H\nrules = us\nmain_breaker = 1,5\n[room A]\n[branch b]\nbraker = 20\n"
        "legs = BA\n[appliance a]\nname = \xff\nbranch = c\npower = 0\n";
    static const struct {
        int line;
        const char *says;
    } wants[] = {{4, "decimal comma"},      {5, "not an ID"},        {6, "label is missing"},
                 {6, "breaker is missing"}, {7, "nearest: breaker"}, {8, "unknown legs"},
                 {9, "name is missing"},    {10, "UTF-8"},           {11, "no branch has the ID `c`"},
                 {12, "may not be 0"}};
    struct error error = {0};
    ck_assert_ptr_null(read_string(string, &error));
    for (size_t i = 0; i < sizeof wants / sizeof wants[0]; i++) {
        ck_assert_msg(message_has(error_message(&error), wants[i].line, wants[i].says), "want %d %s in:\n%s",
                      wants[i].line, wants[i].says, error_message(&error));
    }
    int last = 0;
    for (const char *at = error_message(&error); at != NULL; at = strchr(at, '\n')) {
        at += *at == '\n';
        int line = (int)strtol(at + strlen("h.ini:"), NULL, 10);
        ck_assert_int_ge(line, last);
        last = line;
    }
    error_done(&error);
}
END_TEST

START_TEST(fifty_faults_and_the_rest_counted)
{
    struct text string = {0};
    text_add(&string, US);
    for (int i = 0; i < 70; i++) {
        text_printf(&string, "[room r%d]\narea = x\n", i);
    }
    struct error error = {0};
    ck_assert_ptr_null(read_string(text_string(&string), &error));
    size_t lines = 1;
    for (const char *at = error_message(&error); *at != '\0'; at++) {
        lines += *at == '\n';
    }
    ck_assert_uint_eq(lines, 51);
    ck_assert(message_has(error_message(&error), 6, "not a number"));
    ck_assert(message_has(error_message(&error), 104, "not a number"));
    ck_assert(!message_has(error_message(&error), 106, "not a number"));
    ck_assert(message_has(error_message(&error), 0, "20 more faults"));
    error_done(&error);
    text_done(&string);
}
END_TEST

/* ------------------------------------------------------------------ files ----------------------------------------- */

static const struct {
    const char *path;
    const char *says;
} file_rows[] = {
    {"/nonexistent/h.ini", "/nonexistent/h.ini: cannot be opened"},
    {"/", "/: a directory"},
    {"/dev/null", "/dev/null: empty"},
    {"/dev/zero", "/dev/zero: more than 16 MiB"},
};

START_TEST(file_that_is_none_is_refused)
{
    struct house *house = NULL;
    struct error error = {0};
    ck_assert(!housefile_read(file_rows[_i].path, &house, &error));
    ck_assert_msg(strstr(error_message(&error), file_rows[_i].says) == error_message(&error), "%s",
                  error_message(&error));
    ck_assert_int_eq(error_exit_status(&error), 2);
    ck_assert_ptr_null(house);
    error_done(&error);
}
END_TEST

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

#if defined(__has_feature)
#define HAS_SANITIZER (__has_feature(address_sanitizer) != 0)
#elif defined(__SANITIZE_ADDRESS__)
#define HAS_SANITIZER true
#else
#define HAS_SANITIZER false
#endif

/* What 10 MB of rubbish can be made of; each must be refused within two seconds of processor time, ten times that where
 * a sanitizer looks at every step. */
static const struct {
    const char *start;
    const char *unit;
} rubbish_rows[] = {
    {"", "x"},
    {"", "x\n"},
    {"", "\x01\x02\xff\x00"},
    {"", "[\n"},
    {US, "[room a]\n"},
    {US, "[branch b]\nlegs = Q\n"},
    {US "[room a]\n", "name = A\n"},
    {US "[room a]\n", "nmae = A\n"},
    {US, "[appliance a]\nbranch = abcdefghijklmnopqrstuvwxyzabcdefghijklmn\n"},
    {US "[branch b]\nserves = ", "a,"},
    {US "[tariff t]\n", "[period p]\ntariff = t\nprice = 1\n"},
};

START_TEST(rubbish_is_refused_soon)
{
    struct text string = {0};
    text_add(&string, rubbish_rows[_i].start);
    size_t size = strlen(rubbish_rows[_i].unit);
    while (string.length < 10 * 1000 * 1000) {
        text_add_length(&string, rubbish_rows[_i].unit, size > 0 ? size : 1);
    }
    struct house *house = NULL;
    struct error error = {0};
    double start_s = seconds();
    ck_assert(!housefile_read_house_bytes("h.ini", string.bytes, string.length, &house, &error));
    double took_s = seconds() - start_s;
    ck_assert_msg(took_s < (HAS_SANITIZER ? 20 : 2), "row %d took %.2f s", _i, took_s);
    ck_assert_uint_lt(error.message.length, 51 * 700);
    error_done(&error);
    text_done(&string);
}
END_TEST

START_TEST(more_than_the_limit_is_refused)
{
    struct text string = {0};
    text_add(&string, US);
    while (string.length <= HOUSEFILE_BYTES_MOST) {
        text_add(&string, "; comment comment comment comment comment comment comment\n");
    }
    struct house *house = NULL;
    struct error error = {0};
    ck_assert(!housefile_read_house_bytes("h.ini", string.bytes, string.length, &house, &error));
    ck_assert(message_has(error_message(&error), 0, "16 MiB"));
    error_done(&error);
    string.length = HOUSEFILE_BYTES_MOST;
    string.bytes[string.length - 1] = '\n';
    ck_assert_msg(housefile_read_house_bytes("h.ini", string.bytes, string.length, &house, &error), "%s",
                  error_message(&error));
    house_free(house);
    text_done(&string);
}
END_TEST

/* Every file of tests/housefiles: good ones are read, bad ones say what their first line announces. */
static void check_sample(const char *path, bool is_good)
{
    struct house *house = NULL;
    struct error error = {0};
    bool good = housefile_read(path, &house, &error);
    ck_assert_msg(good == is_good, "%s: %s", path, error_message(&error));
    house_free(house);
    error_done(&error);
}

static const struct {
    const char *name;
    bool is_good;
} sample_rows[] = {{"us-split-phase.ini", true}, {"iec-three-phase.ini", true}, {"uk-ring.ini", true},
                   {"us-three-phase.ini", true}, {"many-faults.ini", false},    {"no-house.ini", false}};

START_TEST(sample_is_read)
{
    const char *tests = getenv("AMPSUM_TESTS");
    ck_assert_ptr_nonnull(tests);
    struct text path = {0};
    text_printf(&path, "%s/housefiles/%s", tests, sample_rows[_i].name);
    check_sample(text_string(&path), sample_rows[_i].is_good);
    text_done(&path);
}
END_TEST

/* ------------------------------------------------------------------ documents ------------------------------------- */

START_TEST(document_is_edited)
{
    struct error error = {0};
    struct document *document = NULL;
    ck_assert(housefile_read_bytes("h.ini", US US_BRANCH LAMP, strlen(US US_BRANCH LAMP), &document, &error));
    struct document *copy = document_copy(document);
    struct document_section *lamp = document_find(copy, "appliance", "lamp");
    ck_assert_ptr_nonnull(lamp);
    document_set(copy, lamp, "power", "75 W");
    document_set(copy, lamp, "duty", "50");
    struct document_section *room = document_add(copy, "room", "hall");
    document_set(copy, room, "floor", "1");
    document_set(copy, room, "floor", NULL);
    ck_assert_ptr_null(document_value(document_find(copy, "room", "hall"), "floor"));
    struct house *house = NULL;
    ck_assert_msg(house_build(copy, &house, &error), "%s", error_message(&error));
    ck_assert(house->appliances[0].power_w == 75 && house->appliances[0].duty_percent == 50);
    ck_assert_uint_eq(house->room_count, 1);
    house_free(house);
    document_remove(copy, "branch", "b");
    ck_assert(!house_build(copy, &house, &error));
    ck_assert_msg(strstr(error_message(&error), "h.ini:11: [appliance lamp] branch = b: no branch") != NULL, "%s",
                  error_message(&error));
    error_done(&error);
    ck_assert_str_eq(document_value(document_find(document, "appliance", "lamp"), "power"), "60");
    ck_assert_ptr_null(document_find(document, "room", "hall"));
    document_free(copy);
    document_free(document);
}
END_TEST

/* What a person types into `set` meets the same checks as a file, without a line. */
static const struct {
    const char *key;
    const char *value;
    const char *says;
} edit_rows[] = {
    {"name", "two\nlines", "set: [appliance lamp] name = two\\x0Alines: a line break"},
    {"name", "a ;b", "begin a comment"},
    {"name", ";b", "begin a comment"},
    {"name", " a", "a blank at an end"},
    {"name", "a ", "a blank at an end"},
    {"name", "a\tb", "control character"},
    {"name", "\xff", "not valid UTF-8"},
    {"name", "\u202ea", "control character"},
    {"name", "", "empty"},
    {"group", " g", "a blank at an end"},
    {"colour", "red", "set: [appliance lamp]: unknown key `colour`"},
    {"power", "", "not a number"},
    {"branch", "", "no branch has the ID ``"},
    {"use", "", "an empty entry"},
};

START_TEST(edit_meets_the_same_checks)
{
    struct error error = {0};
    struct document *document = NULL;
    ck_assert(housefile_read_bytes("set", US US_BRANCH LAMP, strlen(US US_BRANCH LAMP), &document, &error));
    document_set(document, document_find(document, "appliance", "lamp"), edit_rows[_i].key, edit_rows[_i].value);
    for (size_t i = 0; i < document->section_count; i++) {
        document->sections[i].line = 0;
    }
    struct house *house = NULL;
    ck_assert(!house_build(document, &house, &error));
    ck_assert_msg(strstr(error_message(&error), edit_rows[_i].says) != NULL, "%s", error_message(&error));
    error_done(&error);
    document_free(document);
}
END_TEST

/* A text as long as a line can hold is fine, a byte more is not. */
START_TEST(edit_keeps_to_the_line_limit)
{
    struct error error = {0};
    struct document *document = NULL;
    ck_assert(housefile_read_bytes("set", US, strlen(US), &document, &error));
    char name[4096 - 4 + 1]; /* one byte above 4096 - strlen("name=") */
    memset(name, 'x', sizeof name);
    name[sizeof name - 1] = '\0';
    struct house *house = NULL;
    document_set(document, document_find(document, "house", ""), "name", name);
    ck_assert(!house_build(document, &house, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "longer than a line"));
    error_done(&error);
    name[sizeof name - 2] = '\0';
    document_set(document, document_find(document, "house", ""), "name", name);
    ck_assert(house_build(document, &house, &error));
    char *written = write_house(house);
    struct house *again = read_string(written, &error);
    ck_assert_msg(again != NULL, "%s", error_message(&error));
    ck_assert_str_eq(again->name, name);
    house_free(house);
    house_free(again);
    free(written);
    document_free(document);
}
END_TEST

/* ------------------------------------------------------------------ writing files ----------------------------------
 */

static void expect_content(const char *path, const char *want)
{
    FILE *file = fopen(path, "r");
    ck_assert_ptr_nonnull(file);
    char content[100];
    size_t length = fread(content, 1, sizeof content - 1, file);
    content[length] = '\0';
    fclose(file);
    ck_assert_str_eq(content, want);
}

START_TEST(file_is_written_whole)
{
    char folder[] = "/tmp/ampsum-XXXXXX";
    ck_assert_ptr_nonnull(mkdtemp(folder));
    struct text path = {0};
    text_printf(&path, "%s/h.ini", folder);
    struct error error = {0};
    ck_assert_msg(file_write_whole(text_string(&path), "one", 3, false, &error), "%s", error_message(&error));
    expect_content(text_string(&path), "one");
    ck_assert(!file_write_whole(text_string(&path), "two", 3, false, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "exists already"));
    error_done(&error);
    expect_content(text_string(&path), "one");
    ck_assert(chmod(text_string(&path), 0640) == 0);
    ck_assert(file_write_whole(text_string(&path), "three", 5, true, &error));
    expect_content(text_string(&path), "three");
    struct stat status;
    ck_assert(stat(text_string(&path), &status) == 0 && (status.st_mode & 0777) == 0640);
    ck_assert(!file_write_whole(folder, "x", 1, true, &error));
    error_done(&error);
    ck_assert(!file_write_whole("/nonexistent/x", "x", 1, true, &error));
    error_done(&error);
    ck_assert(!file_write_whole("/dev/full", "x", 1, true, &error));
    ck_assert_int_eq(error.code, ERROR_INPUT);
    error_done(&error);
    ck_assert(unlink(text_string(&path)) == 0);
    ck_assert_msg(rmdir(folder) == 0, "something else was left in the folder");
    text_done(&path);
}
END_TEST

#define ROWS(table) (int)(sizeof(table) / sizeof(table)[0])

Suite *make_suite(void)
{
    Suite *suite = suite_create("housefile");
    TCase *tcase = tcase_create("housefile");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, fault_names_its_line, 0, ROWS(bad_rows));
    tcase_add_loop_test(tcase, unusual_is_read, 0, ROWS(good_rows));
    tcase_add_loop_test(tcase, unusual_is_written_back, 0, ROWS(good_rows));
    tcase_add_test(tcase, from_panel_is_not_kept);
    tcase_add_loop_test(tcase, name_comes_back_whole, 0, ROWS(name_rows));
    tcase_add_loop_test(tcase, long_line_works, 0, ROWS(whole_lengths));
    tcase_add_loop_test(tcase, too_long_line_is_refused, 0, ROWS(too_long_rows));
    tcase_add_test(tcase, long_comment_stays_a_comment);
    tcase_add_test(tcase, nul_byte_names_its_line);
    tcase_add_test(tcase, all_faults_come_in_line_order);
    tcase_add_test(tcase, fifty_faults_and_the_rest_counted);
    tcase_add_loop_test(tcase, file_that_is_none_is_refused, 0, ROWS(file_rows));
    tcase_add_loop_test(tcase, rubbish_is_refused_soon, 0, ROWS(rubbish_rows));
    tcase_add_test(tcase, more_than_the_limit_is_refused);
    tcase_add_loop_test(tcase, sample_is_read, 0, ROWS(sample_rows));
    tcase_add_test(tcase, document_is_edited);
    tcase_add_loop_test(tcase, edit_meets_the_same_checks, 0, ROWS(edit_rows));
    tcase_add_test(tcase, edit_keeps_to_the_line_limit);
    tcase_add_test(tcase, file_is_written_whole);
    suite_add_tcase(suite, tcase);
    return suite;
}
