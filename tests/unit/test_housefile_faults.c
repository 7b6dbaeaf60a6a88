#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"
#include "housefile_rows.h"

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
    {"[house]\nname = H\nrules = us\nmain_breaker = 100\nvoltage = 1e-300\n", 5,
     "too small, expected at least 1e-12 V"},
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
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = AB\n", 8, "2 legs on 1 pole,"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\npoles = 2\n", 8, "1 leg on 2 poles"},
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
    {US US_BRANCH "trip = B\n", 9, "expected inverse-time or fuse"},
    {UK UK_BRANCH "trip = inverse-time\n", 8, "`inverse-time` is of us rules; this house is uk, expected B, C, D, gG"},
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
    {US US_BRANCH "position = 1/3\n", 9, "without a unit; the two spaces of a two-pole breaker are written 1,3"},
    {US US_BRANCH "wire = 14/2 NM\n", 9, "(a cable marked 14/2 holds 2 wires of 14 AWG)"},
    {US US_BRANCH "wire = 1/0\n", 9, "or 2.5 mm2 aluminium"},
    {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = both\n", 8, "both of a 120/240 V house are AB"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\nresistance = 10\npower_factor = 0.9\n", 13,
     "beside resistance"},
    {US US_BRANCH LAMP "behaviour = inductive\n", 13, "resistive, electronic or motor"},
    {US US_BRANCH LAMP "start_factor = 0.99\n", 13, "at least 1"},
    {US US_BRANCH LAMP "count = 0\n", 13, "from 1 to 10000"},
    {US US_BRANCH LAMP "count = -1\n", 13, "negative"},
    {US US_BRANCH LAMP "count = 10001\n", 13, "from 1 to 10000"},
    {US US_BRANCH LAMP "count = 1.5\n", 13, "whole number"},
    {US US_BRANCH LAMP "fixed = maybe\n", 13, "expected yes or no"},
    {US US_BRANCH LAMP "use = 25:00-26:00\n", 13, "says no times"},
    {US US_BRANCH LAMP "use = 06:00\n", 13, "says no times"},
    {US US_BRANCH LAMP "use = 06:60-07:00\n", 13, "says no times"},
    {US US_BRANCH LAMP "use = 24:00-06:00\n", 13, "says no times"},
    {US US_BRANCH LAMP "use = 06:00-24:01\n", 13, "says no times"},
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
    /* what people write instead: the message says how it is written here */
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 0.5 amps\n", 12, "a rating in A stands in `current`"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\ncurrent = 1/3 hp\n", 12, "in hp stands in `horsepower`"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 2 hp\n", 12, "in hp stands in `horsepower`"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 60 Watts\n", 12, "(write W), expected power"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 60 # bulb\n", 12, "begins no comment behind a value"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = 50-60 W\n", 12, "a range is not accepted"},
    {US US_BRANCH "[appliance a]\nname = A\nbranch = b\npower = \"60\"\n", 12, "without quotes"},
    {US US_BRANCH LAMP "hours = 2:30\n", 13, "such as 2.5 h or 150 min"},
    {US US_BRANCH LAMP "volts = 120\n", 13, "nearest: rated_voltage"},
    {US US_BRANCH LAMP "duty = 60 W\n", 13, "wrong unit `W` (power), expected a share in %"},
    {US "[branch c]\nname = C\nbreaker = 15\nlegs = A\n", 6, "nearest: label"},
    {US "[circuit c]\nlabel = C\nbreaker = 15\nlegs = A\n", 5, "nearest: branch"},
    {US "[room Guest room]\n", 5, "such as guest-room"},
    {US "[room caf\u00e9]\n", 5, "expected 1 to 40 of a-z, 0-9 and -"},
    {US "[tariff t]\nprice = $0.30\n", 6, "without the sign of the currency"},
    {US "[tariff t]\nrate = 0.30\n", 6, "nearest: price"},
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
    {US "[tariff t]\nprice = 1\n[period p]\ntariff = t\nprice = 1\nhours = 25:00-26:00\n", 10, "says no times"},
};

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

/* `[branch kitchen] legs = BA: reason`, put together from the fields. */
static void add_fields(struct text *text, const struct error_fault *fault)
{
    if (fault->section != NULL) {
        text_printf(text, "[%s%s%s]", fault->section, fault->id[0] == '\0' ? "" : " ", fault->id);
        if (fault->value != NULL) {
            text_printf(text, " %s = %s", fault->key, fault->value);
        }
        text_add(text, ": ");
    }
    text_add(text, fault->reason);
}

/* Nobody has to look into the sentence for the section, the key and the value: each line of it is one fault's fields.
 */
START_TEST(fault_has_its_place_in_fields)
{
    struct error error = {0};
    ck_assert_ptr_null(read_string(bad_rows[_i].string, &error));
    const char *line = error_message(&error);
    ck_assert_uint_gt(error.fault_count, 0);
    for (size_t i = 0; i < error.fault_count; i++) {
        struct text want = {0};
        add_fields(&want, &error.faults[i]);
        const size_t length = strcspn(line, "\n");
        ck_assert_msg(length >= want.length &&
                          strncmp(line + length - want.length, text_string(&want), want.length) == 0,
                      "%s\nis not:\n%.*s", text_string(&want), (int)length, line);
        const char *from = memchr(line, '[', length - want.length); /* no place is left in front of the reason */
        ck_assert_msg(error.faults[i].section == NULL ? strncmp(error.faults[i].reason, "[branch ", 8) != 0
                                                      : from == NULL,
                      "%.*s", (int)length, line);
        line += length + (line[length] == '\n');
        text_done(&want);
    }
    ck_assert_str_eq(line, "");
    error_done(&error);
}
END_TEST

START_TEST(a_key_that_is_missing_is_named)
{
    static const struct {
        const char *string, *section, *id, *key;
    } rows[] = {
        {"[house]\nname = H\nrules = us\n", "house", "", "main_breaker"},
        {US "[branch b]\nbreaker = 20\nlegs = A\n", "branch", "b", "label"},
        {US "[branch b]\nlabel = B\nbreaker = 20\n", "branch", "b", "legs"},
        {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\n[appliance a]\nname = A\npower = 1 W\n", "appliance", "a",
         "outlet"},
        {US "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\n[appliance a]\nname = A\nbranch = b\n", "appliance", "a",
         "power"},
        {US "[tariff t]\nname = T\n", "tariff", "t", "price"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct error error = {0};
        ck_assert_ptr_null(read_string(rows[i].string, &error));
        ck_assert_msg(error.fault_count == 1, "%s", error_message(&error));
        ck_assert_str_eq(error.faults[0].section, rows[i].section);
        ck_assert_str_eq(error.faults[0].id, rows[i].id);
        ck_assert_str_eq(error.faults[0].key, rows[i].key);
        ck_assert_ptr_null(error.faults[0].value);
        error_done(&error);
    }
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
    } wants[] = {
        {4, "decimal comma"},    {5, "not an ID"},    {6, "label is missing"}, {6, "breaker is missing"},
        {7, "nearest: breaker"}, {8, "unknown legs"}, {10, "UTF-8"},           {11, "no branch has the ID `c`"},
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

#define ROWS(table) (int)(sizeof(table) / sizeof(table)[0])

Suite *make_suite(void)
{
    Suite *suite = suite_create("housefile_faults");
    TCase *tcase = tcase_create("housefile_faults");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, fault_names_its_line, 0, ROWS(bad_rows));
    tcase_add_loop_test(tcase, fault_has_its_place_in_fields, 0, ROWS(bad_rows));
    tcase_add_test(tcase, a_key_that_is_missing_is_named);
    tcase_add_test(tcase, all_faults_come_in_line_order);
    tcase_add_test(tcase, fifty_faults_and_the_rest_counted);
    suite_add_tcase(suite, tcase);
    return suite;
}
