/*
 * All that the library answers, one line a figure, and what it refuses. A stranger's program has names of its own:
 * these are names that the library uses inside, and must never call here.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <ampsum/ampsum.h>

double figure(void);
double find(void);
double give(void);
double memory_new(void);

static int strayed;

double figure(void)
{
    strayed++;
    return 1;
}

double find(void)
{
    strayed++;
    return 2;
}

double give(void)
{
    strayed++;
    return 3;
}

double memory_new(void)
{
    strayed++;
    return 4;
}

static double cents(double value)
{
    return round(value * 100);
}

static void print_findings(const struct ampsum_check *check, size_t index, const char *of,
                           bool (*next)(const struct ampsum_check *, size_t, size_t, struct ampsum_finding *))
{
    struct ampsum_finding finding;
    for (size_t i = 0; next(check, index, i, &finding); i++) {
        printf("%s\tfinding\t%s\t%d\t%s\t%s\t%s\n", of, finding.id, (int)finding.severity, finding.subject_kind,
               finding.subject_id, finding.text);
    }
}

static void print_check(const struct ampsum_check *check)
{
    struct ampsum_branch branch;
    struct ampsum_load load;
    struct ampsum_panel panel;
    for (size_t i = 0; ampsum_check_branch(check, i, &branch); i++) {
        printf("%s\tbranch\t%d\t%.0f\t%.0f\t%.0f\n", branch.id, (int)branch.verdict, cents(branch.current_a),
               cents(branch.planning_a), cents(branch.other_planning_a));
        for (size_t k = 0; ampsum_check_load(check, i, k, &load); k++) {
            printf("%s\tload\t%s\t%.0f\t%.0f\n", branch.id, load.id, cents(load.current_a), cents(load.power_w));
        }
        print_findings(check, i, branch.id, ampsum_branch_finding);
    }
    for (size_t i = 0; ampsum_check_panel(check, i, &panel); i++) {
        printf("%s\tpanel\t%.0f\t%.0f\t%.0f\n", panel.id, cents(panel.leg_current_a[0]), cents(panel.leg_current_a[1]),
               cents(panel.neutral_a));
        print_findings(check, i, panel.id, ampsum_panel_finding);
    }
}

static bool refuses(const struct ampsum_house *house, const struct ampsum_question *question)
{
    struct ampsum_check *check = NULL;
    char *fault = NULL;
    const enum ampsum_status status = ampsum_check(house, question, &check, &fault);
    const bool refused = status == AMPSUM_WRONG && check == NULL && fault != NULL && fault[0] != '\0' &&
                         ampsum_check(house, question, &check, NULL) == AMPSUM_WRONG;
    ampsum_fault_free(fault);
    return refused;
}

static bool wrong_questions_are_refused(const struct ampsum_house *house)
{
    const char *const nothing[] = {"no-such-load"};
    return refuses(house, &(struct ampsum_question){.scene = "no-such-scene"}) &&
           refuses(house, &(struct ampsum_question){.on = nothing, .on_count = 1}) &&
           refuses(house, &(struct ampsum_question){.scene = "breakfast", .on = nothing}) &&
           refuses(house, &(struct ampsum_question){.supply_v = 1e6}) &&
           refuses(house, &(struct ampsum_question){.supply_v = NAN});
}

static bool missing_file_is_refused(void)
{
    struct ampsum_house *house = NULL;
    char *fault = NULL;
    const bool refused = ampsum_open("no-such-file.ini", &house, &fault) == AMPSUM_WRONG && house == NULL &&
                         strstr(fault, "no-such-file.ini") != NULL &&
                         ampsum_open("no-such-file.db", &house, NULL) == AMPSUM_WRONG;
    ampsum_fault_free(fault);
    ampsum_check_free(NULL);
    ampsum_close(NULL);
    return refused;
}

int main(int argc, char **argv)
{
    struct ampsum_house *house = NULL;
    struct ampsum_check *check = NULL;
    if (argc < 2 || ampsum_open(argv[1], &house, NULL) != AMPSUM_DONE) {
        return 2;
    }
    const struct ampsum_question question = {.scene = argc > 2 ? argv[2] : NULL};
    if (ampsum_check(house, &question, &check, NULL) != AMPSUM_DONE) {
        return 2;
    }
    printf("%s\thouse\t%s\t%s\t%d\n", ampsum_house_name(house), ampsum_house_rules(house), ampsum_version(),
           (int)ampsum_check_verdict(check));
    print_check(check);
    struct ampsum_energy energy;
    ampsum_energy(house, &energy);
    printf("year\tenergy\t%.0f\t%s\t%s\n", cents(energy.kwh_year), energy.currency, energy.cost_year);
    struct ampsum_branch branch;
    const size_t found = ampsum_find_branch(house, "no-such-branch");
    const bool good = wrong_questions_are_refused(house) && missing_file_is_refused() &&
                      !ampsum_check_branch(check, found, &branch) && strayed == 0;
    ampsum_check_free(check);
    ampsum_close(house);
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
