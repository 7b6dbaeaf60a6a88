/* The fullest branch of a house: what a program needs to use the library.
 *   cc example.c $(pkg-config --cflags --libs ampsum) */
#include <stdio.h>

#include <ampsum/ampsum.h>

int main(int argc, char **argv)
{
    struct ampsum_house *house = NULL;
    struct ampsum_check *check = NULL;
    char *fault = NULL;
    if (argc != 2) {
        fputs("usage: example HOUSE\n", stderr);
        return 2;
    }
    enum ampsum_status status = ampsum_open(argv[1], &house, &fault);
    if (status == AMPSUM_DONE) {
        status = ampsum_check(house, NULL, &check, &fault);
    }
    if (status != AMPSUM_DONE) {
        fprintf(stderr, "%s\n", fault);
        ampsum_fault_free(fault);
        ampsum_close(house);
        return status;
    }
    struct ampsum_branch branch;
    struct ampsum_branch fullest = {0};
    double most = -1;
    for (size_t i = 0; ampsum_check_branch(check, i, &branch); i++) {
        if (branch.planning_a / branch.breaker_a > most) {
            most = branch.planning_a / branch.breaker_a;
            fullest = branch;
        }
    }
    if (most >= 0) {
        printf("%s: %.1f A planned on a breaker of %.0f A\n", fullest.label, fullest.planning_a, fullest.breaker_a);
    }
    ampsum_check_free(check);
    ampsum_close(house);
    return 0;
}
