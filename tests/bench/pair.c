/*
 * Times two commands in turn, as whole processes, and prints the median of each and of their ratio.
 *
 *   pair RUNS COMMAND_A COMMAND_B     (each a shell command; output goes to /dev/null)
 */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double run_ms(const char *command)
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
    waitpid(child, &status, 0);
    clock_gettime(CLOCK_MONOTONIC, &end);
    return (double)(end.tv_sec - start.tv_sec) * 1e3 + (double)(end.tv_nsec - start.tv_nsec) / 1e6;
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
    int runs = argc == 4 ? (int)strtol(argv[1], NULL, 10) : 0;
    if (runs < 1 || runs > 10000) {
        fprintf(stderr, "usage: pair RUNS COMMAND_A COMMAND_B\n");
        return 2;
    }
    double *a = malloc((size_t)runs * sizeof *a);
    double *b = malloc((size_t)runs * sizeof *b);
    double *ratio = malloc((size_t)runs * sizeof *ratio);
    if (a == NULL || b == NULL || ratio == NULL) {
        return 1;
    }
    run_ms(argv[2]);
    run_ms(argv[3]);
    for (int i = 0; i < runs; i++) {
        a[i] = run_ms(argv[2]);
        b[i] = run_ms(argv[3]);
        ratio[i] = a[i] / b[i];
    }
    printf("%10.2f ms  %10.2f ms  ratio %.2f   %s\n", median(a, runs), median(b, runs), median(ratio, runs), argv[2]);
    free(a);
    free(b);
    free(ratio);
    return 0;
}
