/*
 * Times two commands in turn, as whole processes, and prints the median of each and of their ratio: by the clock, and
 * by the processor time that they took, which says more on a machine that has other work.
 *
 *   pair RUNS COMMAND_A COMMAND_B     (each a shell command; output goes to /dev/null)
 */
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

struct times {
    double clock_ms;
    double processor_ms;
};

static double timeval_ms(struct timeval time)
{
    return (double)time.tv_sec * 1e3 + (double)time.tv_usec / 1e3;
}

static struct times run(const char *command)
{
    struct timespec start;
    struct timespec end;
    clock_gettime(CLOCK_MONOTONIC, &start);
    pid_t child = fork();
    if (child == 0) {
        int null = open("/dev/null", O_WRONLY);
        dup2(null, 1);
        dup2(null, 2);
        execl("/bin/sh", "sh", "-c", command, (char *)NULL);
        _exit(127);
    }
    int status = 0;
    struct rusage usage;
    wait4(child, &status, 0, &usage);
    clock_gettime(CLOCK_MONOTONIC, &end);
    return (struct times){
        .clock_ms = (double)(end.tv_sec - start.tv_sec) * 1e3 + (double)(end.tv_nsec - start.tv_nsec) / 1e6,
        .processor_ms = timeval_ms(usage.ru_utime) + timeval_ms(usage.ru_stime),
    };
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double *values, int count)
{
    qsort(values, (size_t)count, sizeof *values, by_size);
    return values[count / 2];
}

int main(int argc, char **argv)
{
    enum { A_CLOCK, B_CLOCK, CLOCK_RATIO, A_PROCESSOR, B_PROCESSOR, PROCESSOR_RATIO, COLUMNS };
    int runs = argc == 4 ? (int)strtol(argv[1], NULL, 10) : 0;
    if (runs < 1 || runs > 10000) {
        fprintf(stderr, "usage: pair RUNS COMMAND_A COMMAND_B\n");
        return 2;
    }
    double *column[COLUMNS];
    for (int i = 0; i < COLUMNS; i++) {
        column[i] = malloc((size_t)runs * sizeof *column[i]);
        if (column[i] == NULL) {
            return 1;
        }
    }
    run(argv[2]);
    run(argv[3]);
    for (int i = 0; i < runs; i++) {
        struct times a = run(argv[2]);
        struct times b = run(argv[3]);
        column[A_CLOCK][i] = a.clock_ms;
        column[B_CLOCK][i] = b.clock_ms;
        column[CLOCK_RATIO][i] = a.clock_ms / b.clock_ms;
        column[A_PROCESSOR][i] = a.processor_ms;
        column[B_PROCESSOR][i] = b.processor_ms;
        column[PROCESSOR_RATIO][i] = a.processor_ms / b.processor_ms;
    }
    for (int i = 0; i < COLUMNS; i++) {
        bool is_ratio = i == CLOCK_RATIO || i == PROCESSOR_RATIO;
        printf(is_ratio ? "  ratio %5.2f%s" : "%9.2f ms%s", median(column[i], runs),
               i == CLOCK_RATIO ? "  | processor" : "");
        free(column[i]);
    }
    printf("   %s\n", argv[2]);
    return 0;
}
