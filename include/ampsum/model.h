/*
 * The house as plain structs: what the house file and the house database both turn into, and what everything else
 * works on. Knows no file, no SQL and no limit of any code.
 *
 * Every quantity is in the unit of its name's ending (A, V, W, VA, ohm, m, m2, mm2, degree C, minute of day).
 * Whatever was not given holds its default once house_finish has run; `given` tells the two apart (one bit a key, in
 * the order of that section's key table in src/model/keys.c). A missing double is NAN, a missing index NO_INDEX, a
 * missing string NULL, a missing list empty.
 *
 * Checked: tests/unit/test_model.c.
 */
#ifndef AMPSUM_MODEL_H
#define AMPSUM_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/arena.h"

#define NO_INDEX ((size_t)-1)

/* Indexes of rule sets: none is known (units are metric); the one taken where nobody names one, the first row. */
enum { RULES_NONE = -1, RULES_FIRST = 0 };
enum supply_system { SYSTEM_SINGLE_PHASE, SYSTEM_SPLIT_PHASE, SYSTEM_THREE_PHASE };
enum trip { TRIP_INVERSE_TIME, TRIP_B, TRIP_C, TRIP_D, TRIP_FUSE, TRIP_BS3036, TRIP_BS88, TRIP_GG };
enum install_method {
    METHOD_A1,
    METHOD_A2,
    METHOD_B1,
    METHOD_B2,
    METHOD_C,
    METHOD_D, /* written D or D1 */
    METHOD_D2,
    METHOD_A,
    METHOD_B,
    METHOD_100,
    METHOD_101,
    METHOD_102,
    METHOD_103
};
enum cable {
    CABLE_NOT_SAID,
    CABLE_NM_B,
    CABLE_NM,
    CABLE_UF_B,
    CABLE_SER,
    CABLE_THHN,
    CABLE_THWN,
    CABLE_TW,
    CABLE_MC,
    CABLE_KNOB_AND_TUBE
};
enum insulation { INSULATION_PVC, INSULATION_XLPE };
enum tied { TIED_NOT_SAID = -1, TIED_NO, TIED_YES };
enum rcd_type { RCD_NONE, RCD_GENERAL, RCD_SELECTIVE };
enum earthing { EARTHING_NOT_SAID, EARTHING_TN_S, EARTHING_TN_C_S, EARTHING_TT, EARTHING_IT, EARTHING_GROUNDED };
enum service_from { SERVICE_FROM_RATING, SERVICE_FROM_MAIN_BREAKER, SERVICE_FROM_SUPPLY_FUSE, SERVICE_ASSUMED };
enum room_kind {
    ROOM_OTHER,
    ROOM_BATH,
    ROOM_KITCHEN,
    ROOM_LAUNDRY,
    ROOM_GARAGE,
    ROOM_OUTDOORS,
    ROOM_BASEMENT,
    ROOM_CRAWL_SPACE,
    ROOM_BEDROOM,
    ROOM_LIVING,
    ROOM_HALL,
    ROOM_UTILITY,
    ROOM_POOL
};
enum rating_from { RATING_FROM_NOT_SAID, RATING_FROM_PLATE, RATING_FROM_TYPICAL, RATING_FROM_GUESS };
enum connection { CONNECTION_NOT_SAID, CONNECTION_LINE_LINE, CONNECTION_2L_N, CONNECTION_3L_N };
enum control { CONTROL_NONE, CONTROL_SETPOINT, CONTROL_ON_OFF };
enum layout { LAYOUT_RADIAL, LAYOUT_RING };
enum purpose {
    PURPOSE_GENERAL,
    PURPOSE_LIGHTING,
    PURPOSE_SMALL_APPLIANCE,
    PURPOSE_LAUNDRY,
    PURPOSE_BATHROOM,
    PURPOSE_DEDICATED
};
enum behaviour { BEHAVIOUR_RESISTIVE, BEHAVIOUR_ELECTRONIC, BEHAVIOUR_MOTOR };
enum category {
    CATEGORY_LIGHTING,
    CATEGORY_COOKING,
    CATEGORY_RANGE,
    CATEGORY_DRYER,
    CATEGORY_LAUNDRY,
    CATEGORY_WATER_HEATING,
    CATEGORY_SPACE_HEATING,
    CATEGORY_AIR_CONDITIONING,
    CATEGORY_VEHICLE,
    CATEGORY_REFRIGERATION,
    CATEGORY_MOTOR,
    CATEGORY_OTHER,
    CATEGORY_HEAT_PUMP,
    CATEGORY_POOL,
    CATEGORY_MEDICAL,
    CATEGORY_GENERATOR
};
enum metal { METAL_COPPER, METAL_ALUMINIUM };
enum rating { RATING_POWER, RATING_APPARENT, RATING_CURRENT, RATING_RESISTANCE, RATING_HORSEPOWER };

enum { LEG_A = 1, LEG_B = 2, LEG_C = 4 };                                /* bits of `legs` */
enum { PROTECTION_GFCI = 1, PROTECTION_AFCI = 2, PROTECTION_RCD = 4 };   /* bits of `protection` */
enum { DAYS_ALL = 0x7F, DAYS_WEEKDAYS = 0x1F, DAYS_WEEKEND = 0x60 };     /* bit 0 Monday .. bit 6 Sunday */
enum { MONTHS_ALL = 0xFFF, MONTHS_IN_YEAR = 12, MINUTES_IN_DAY = 1440 }; /* bit 0 January .. bit 11 December */

/* The sections of a house, in the order in which a house file is written. */
enum kind {
    KIND_HOUSE,
    KIND_PANEL,
    KIND_ROOM,
    KIND_BRANCH,
    KIND_OUTLET,
    KIND_APPLIANCE,
    KIND_SCENE,
    KIND_TARIFF,
    KIND_PERIOD,
    KIND_COUNT
};

/* Rows of another section, by index, in the order in which they were given. */
struct index_list {
    size_t *index;
    size_t count;
};

/* From start_min (0..1439) to end_min, the end minute off. end_min <= start_min crosses midnight; all day is 0, 1440.
 */
struct window {
    int start_min;
    int end_min;
};

struct window_list {
    struct window *window;
    size_t count;
};

/* Spaces in a panel that a branch takes, 1 upwards. */
struct position_list {
    int *space;
    size_t count;
};

struct ref_conductor; /* a row of the conductor table, ampsum/reference.h */
struct ref_rule_set;  /* likewise of the rule sets */

/* Size and metal of one conductor. `conductor` NULL: no wire is known. */
struct wire {
    const struct ref_conductor *conductor;
};

/* Size and metal of a protective conductor, or the word for as large as the line conductor. Both missing: not given. */
struct protective {
    const struct ref_conductor *conductor;
    bool same;
};

/* One step of a block tariff. Decimal texts as the tariff prints them, digits and a point only. */
struct tariff_block {
    const char *upper_kwh; /* per billing month; NULL for the last one (`rest`) */
    const char *price;     /* money per kWh */
};

struct block_list {
    struct tariff_block *block;
    size_t count;
};

struct scene_member {
    size_t appliance;
    unsigned units; /* how many of them are on; 0: all of its count */
};

struct scene_list {
    struct scene_member *member;
    size_t count;
};

/* Sub-panels behind one another from the main panel on: each level is gone through for each of the panels above it. */
enum { PANELS_DEEP_MOST = 16 };

struct panel {
    uint64_t given;
    const char *id; /* "main" for panel 0 */
    const char *name;
    size_t from;      /* the panel that feeds it; NO_INDEX for the main panel */
    double breaker_a; /* of its feeder; for the main panel the house's main breaker */
    int poles;
    unsigned legs; /* LEG_ bits; for the main panel all that the system has */
    struct wire wire;
    int method;      /* enum install_method; -1: the rule set knows none */
    double length_m; /* NAN: not known */
    int cable;       /* enum cable */
    int terminals_c; /* temperature that both ends are marked for; 0: not said, where the rule set takes none */
    int insulation;  /* enum insulation */
    double ambient_c;
    int grouped;            /* circuits that lie together, itself included */
    double in_insulation_m; /* length wholly inside thermal insulation */
    double breaking_a;      /* interrupting rating of its feeder's device, of the main one for the main panel; NAN */
    struct protective cpc;
    double voltage_v; /* resolved: nominal voltage between the feeder's poles, as for a branch */
};

struct room {
    uint64_t given;
    const char *id;
    const char *name;
    const char *floor;
    double area_m2;
    int kind; /* enum room_kind; not given: by the words of ID and name */
};

struct branch {
    uint64_t given;
    const char *id;
    const char *label;
    size_t panel;
    struct position_list position;
    double breaker_a;
    int trip; /* enum trip */
    int poles;
    unsigned legs;
    struct wire wire;
    int method; /* enum install_method; -1: the rule set knows none */
    double length_m;
    int layout; /* enum layout */
    double return_m;
    struct index_list serves; /* rooms as given; house_branch_serves also looks at outlets and appliances */
    int purpose;              /* enum purpose */
    unsigned protection;
    int cable;       /* enum cable */
    int terminals_c; /* as a panel's */
    int insulation;  /* enum insulation */
    double ambient_c;
    int grouped;
    double in_insulation_m;
    size_t shared_neutral; /* the branch named as sharing its neutral; NO_INDEX: none named here */
    int tied;              /* enum tied; resolved: what any branch of the set says */
    double third_harmonic_percent;
    int cooker_socket;
    double breaking_a; /* interrupting rating; NAN: not known */
    struct protective cpc;
    int rcd_ma;             /* rated residual current; 0: none */
    int rcd_type;           /* enum rcd_type */
    double instantaneous_a; /* the maker's magnetic trip; NAN: not known */
    double zs_measured_ohm; /* read at the far end; NAN: not measured */
    double measured_at_c;
    size_t neutral_set;        /* resolved: first branch in the file of those that share one neutral; NO_INDEX: own */
    double voltage_v;          /* resolved: nominal voltage that its loads see */
    struct index_list outlets; /* resolved, in file order */
    struct index_list appliances; /* resolved, in file order */
};

struct outlet {
    uint64_t given;
    const char *id;
    size_t branch;
    size_t room;
    const char *name;
    size_t from; /* another outlet of the branch; NO_INDEX: the panel */
    double run_m;
    double rating_a;
    int contacts; /* places for plugs, 1 or 2 */
    int spur;
    double fuse_a; /* of a fused connection unit; NAN: none */
    double zs_measured_ohm;
    double measured_at_c;
    bool is_spur; /* resolved: on a ring and not of its chain (`spur`, a fuse, or fed from such a one) */
};

struct appliance {
    uint64_t given;
    const char *id;
    const char *name;
    size_t outlet;
    size_t branch; /* resolved from the outlet where one is named */
    size_t room;   /* resolved likewise; NO_INDEX: not known */
    double power_w;
    double apparent_va;
    double current_a;
    double resistance_ohm;
    double horsepower_hp;
    double motor_current_a; /* resolved: full-load current of the motor table where rated in horsepower */
    double rated_voltage_v;
    double power_factor;
    double start_factor;
    double on_time_s;       /* key `hours`: on-time on a day; resolved to the sum of the windows, or 0 */
    double typical_hours_s; /* as given, else 0 */
    double
        typical_time_s; /* resolved: of it what counts for the energy, where `hours` is not given; 0: on_time_s does */
    double duty_percent;
    double standby_w; /* of each unit while it is not on */
    struct window_list use;
    unsigned days;
    unsigned months;
    unsigned count;
    int rating;    /* resolved: enum rating, which of the five was given */
    int behaviour; /* enum behaviour */
    int fixed;
    int continuous;
    int category;              /* enum category */
    int rating_from;           /* enum rating_from */
    double minimum_ampacity_a; /* from the plate of one unit; NAN: not given; so maximum_breaker_a */
    double maximum_breaker_a;
    int connection;    /* enum connection */
    int control;       /* enum control */
    bool name_tells;   /* resolved: a word of the table of words stands in the name; most say nothing there */
    int read_category; /* resolved: enum category, without a key by the words of the name; `demand` never asks it */
    int connected;     /* resolved: enum connection; not said: as its branch's poles are */
    double plate_v;    /* resolved: rated_voltage_v as it counts between the lines of its branch */
    const char *group;
    size_t group_index; /* resolved: equal for equal groups, from 0; NO_INDEX without a group */
};

struct scene {
    uint64_t given;
    const char *id;
    const char *name;
    struct scene_list on;
};

struct tariff {
    uint64_t given;
    const char *id;
    const char *name;
    const char *price;    /* decimal texts; NULL where not given */
    const char *standing; /* money per day */
    const char *tax_percent;
    struct block_list blocks;
    struct index_list periods; /* resolved, in file order */
};

struct period {
    uint64_t given;
    const char *id;
    size_t tariff;
    const char *price;
    struct window_list hours; /* resolved: all day where not given */
    unsigned days;
    unsigned months;
};

struct house {
    struct arena *arena; /* owns everything below, the house itself included */
    uint64_t given;
    const char *name;
    int rules;        /* index of its row in ref_rule_set_rows, ampsum/reference.h */
    int system;       /* enum supply_system */
    double voltage_v; /* nominal, line to neutral */
    int frequency_hz;
    double main_breaker_a;   /* NAN: not given */
    double supply_fuse_a;    /* NAN: not given; 0: said to be unknown */
    double service_rating_a; /* as given; NAN: not given */
    struct wire service_wire;
    double service_run_m;
    int generation;
    int code_edition; /* year; 0: the rule set has no editions to choose from */
    int built_year;   /* 0: not given */
    double ground_c;  /* around buried cable; NAN where the rule set uses none; so soil */
    double soil_km_per_w;
    int earthing; /* enum earthing */
    double ze_ohm;
    double electrode_ohm;
    double pscc_a;
    double transformer_kva;
    double transformer_z_percent;
    double service_a; /* resolved: what the service is held against */
    int service_from; /* resolved: enum service_from, where that is from */
    double floor_area_m2;
    const char *currency; /* ISO 4217 code */
    size_t tariff;        /* NO_INDEX: energy is not priced */
    int billing_days;
    double ambient_c;

    struct panel *panels; /* panels[0] is the main one, always there */
    size_t panel_count;
    struct room *rooms;
    size_t room_count;
    struct branch *branches;
    size_t branch_count;
    struct outlet *outlets;
    size_t outlet_count;
    struct appliance *appliances;
    size_t appliance_count;
    struct scene *scenes;
    size_t scene_count;
    struct tariff *tariffs;
    size_t tariff_count;
    struct period *periods;
    size_t period_count;
    size_t group_count; /* resolved: number of distinct appliance groups */
};

/* An empty house with its arena and the main panel; house_free frees all. */
struct house *house_new(void);
void house_free(struct house *house);

/* First row and number of rows of a kind, for code that walks all kinds alike; KIND_HOUSE gives the house, 1. */
void *house_rows(const struct house *house, enum kind kind, size_t *ret_count);

/* Size in bytes of one row of a kind. */
size_t house_row_size(enum kind kind);

/* Puts an array of `count` rows (in the house's arena) in place for a kind other than KIND_HOUSE. */
void house_set_rows(struct house *house, enum kind kind, void *rows, size_t count);

/* `count` rows of a kind other than KIND_HOUSE with nothing given (missing values as above), put in place. */
void *house_add_rows(struct house *house, enum kind kind, size_t count);

/* The ID of row `index` of a kind; "" for the house. */
const char *house_row_id(const struct house *house, enum kind kind, size_t index);

/* What people call it: a branch's label, else its name (of a finished house: the ID where none was given), else its ID.
 */
const char *house_row_name(const struct house *house, enum kind kind, size_t index);

/*
 * Index of the row with that ID, or NO_INDEX. Linear; for one look-up. The main panel is `main`.
 */
size_t house_find(const struct house *house, enum kind kind, const char *id);

/* The same, looked for from row `near` on, once round: for walks over two houses that are much alike. */
size_t house_find_near(const struct house *house, enum kind kind, const char *id, size_t near);

/* True where `use`, `days` or `months` leave out some minute: where an appliance, or one of a branch, has a time. */
bool appliance_has_times(const struct appliance *appliance);
bool branch_has_times(const struct house *house, size_t branch);

/* The ID of that kind nearest to one that no row has, for a message; NULL where none is near (ampsum/words.h). */
const char *house_nearest_id(const struct house *house, enum kind kind, const char *id);

/* A space of a panel and the branch that takes it. */
struct panel_space {
    size_t panel;
    int number;
    size_t branch;
};

/* All spaces taken, by panel, number and branch: equal neighbours are one space taken twice. The caller frees. */
struct panel_space *house_spaces(const struct house *house, size_t *ret_count);

/*
 * Fills in what was not given and what follows from the rest: defaults, voltages, ratings, the outlets and appliances
 * of each branch, the periods of each tariff, groups. Call once after the rows are in place with all indices valid;
 * linear in the number of rows. Expects a house whose faults have been ruled out (house_build, or the store's checks).
 */
void house_finish(struct house *house);

/*
 * Asks the processor to fetch the appliances of branch `branch` while another is worked on: changes nothing but the
 * time of a walk by branches, which finds them scattered. Nothing for an index past the last branch.
 */
void house_fetch_ahead(const struct house *house, size_t branch);

/* The same for the windows of its appliances, which must have come by now: called one branch after house_fetch_ahead.
 */
void house_fetch_windows(const struct house *house, size_t branch);

/* Whether two branches share one neutral; true of a branch and itself only where it shares one. */
bool house_share_neutral(const struct house *house, size_t a, size_t b);

/* Nominal voltage of a circuit: contract, house-file.md, "Nominal voltage of a branch". */
double house_circuit_voltage_v(const struct house *house, int poles);

/* The house's rule set, its row; whether it shows lengths in feet, and has spaces in two columns, odd ones left. */
const struct ref_rule_set *house_rule_set(const struct house *house);
bool house_in_feet(const struct house *house);
bool house_has_two_columns(const struct house *house);

/* The legs that the supply system has, as LEG_ bits. */
unsigned house_system_legs(const struct house *house);

/* Rooms that a branch serves: those given, else those of its outlets and appliances, without repeats, in file order of
 * the rooms. The list is made in `arena`. */
struct index_list house_branch_serves(const struct house *house, size_t branch, struct arena *arena);
bool house_branch_serves_room(const struct house *house, size_t branch, size_t room, struct arena *arena);

/* How many panels stand between that one and the main panel, itself counted; more than PANELS_DEEP_MOST: no further. */
size_t panel_depth(const struct house *house, size_t panel);

/* Words of the house file for a value of an enum, never NULL. */
const char *rules_word(int rules); /* ID of the rule set; "" for RULES_NONE */
const char *system_word(int system);
const char *trip_word(int trip);
const char *method_word(int method);
const char *purpose_word(int purpose);
const char *category_word(int category);
const char *cable_word(int cable);
const char *insulation_word(int insulation);
const char *rcd_type_word(int type);
const char *earthing_word(int earthing);
const char *room_kind_word(int kind);

/* How long it is on on a day for what its energy costs, s: the typical hours where nothing better is known. */
double appliance_energy_time_s(const struct appliance *appliance);
const char *metal_word(int metal);
const char *day_word(int day);     /* 0 "mon" .. 6 "sun" */
const char *month_word(int month); /* 0 "jan" .. 11 "dec" */
const char *day_name(int day);     /* for people: 0 "Monday" .. 6 "Sunday" */
const char *month_name(int month); /* for people: 0 "January" .. 11 "December" */
const char *kind_word(enum kind kind);
const char *legs_word(unsigned legs); /* "A" .. "ABC" */

#endif
