/* The fullest branch of a house: what a program needs to use the library. cc example.c $(pkg-config --cflags --libs
 * ampsum) */
#include <stdio.h>
#include <stdlib.h>

#include <ampsum/assess.h>
#include <ampsum/housefile.h>

int main(int argc, char **argv)
{
    struct house *house = NULL;
    struct error error = {0};
    if (argc != 2 || !housefile_read(argv[1], &house, &error)) {
        fprintf(stderr, "%s\n", argc != 2 ? "usage: example HOUSE.ini" : error_message(&error));
        error_done(&error);
        return 2;
    }
    struct assessment *assessment = assess_house(house, &(struct assess_options){0});
    size_t fullest = 0;
    double most = -1;
    for (size_t i = 0; i < house->branch_count; i++) {
        double share = assessment->branches[i].all.planning_a / house->branches[i].breaker_a;
        if (share > most) {
            most = share;
            fullest = i;
        }
    }
    if (house->branch_count > 0) {
        printf("%s: %.1f A planned on a breaker of %.0f A\n", house->branches[fullest].label,
               assessment->branches[fullest].all.planning_a, house->branches[fullest].breaker_a);
    }
    assess_free(assessment);
    house_free(house);
    return EXIT_SUCCESS;
}
