#include "chance_sum.h"

#include <string.h>

static size_t smaller(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Mass of the top entries that a shift by `steps` pushes above the limit. Four sums at once: one waits for itself. */
static double mass_pushed_over(const struct sum *from, size_t steps, size_t limit)
{
    size_t s = steps > limit ? 0 : limit + 1 - steps;
    double mass[4] = {0};
    for (; s + 4 <= from->support; s += 4) {
        for (size_t i = 0; i < 4; i++) {
            mass[i] += from->mass[s + i];
        }
    }
    for (; s < from->support; s++) {
        mass[0] += from->mass[s];
    }
    return (mass[0] + mass[1]) + (mass[2] + mass[3]);
}

void chance_sum_start(struct sum *sum)
{
    sum->mass[0] = 1;
    sum->support = 1;
    sum->over = 0;
}

void chance_sum_clear(struct sum *sum)
{
    sum->support = 0;
    sum->over = 0;
}

void chance_sum_copy(struct sum *sum, const struct sum *from)
{
    memcpy(sum->mass, from->mass, from->support * sizeof *sum->mass);
    sum->support = from->support;
    sum->over = from->over;
}

void chance_sum_gather(struct sum *sum, const struct sum *from, double weight, size_t steps, size_t limit)
{
    sum->over += weight * (from->over + mass_pushed_over(from, steps, limit));
    if (steps > limit || from->support == 0 || weight <= 0) {
        return;
    }
    size_t end = smaller(from->support + steps, limit + 1);
    if (end > sum->support) {
        memset(sum->mass + sum->support, 0, (end - sum->support) * sizeof *sum->mass);
        sum->support = end;
    }
    double *restrict to = sum->mass + steps;
    const double *restrict mass = from->mass;
    for (size_t s = 0; s < end - steps; s++) {
        to[s] += weight * mass[s];
    }
}

void chance_sum_add_load(struct sum *sum, const struct sum *from, double probability, size_t steps, size_t limit)
{
    const double off = 1 - probability;
    const size_t support = from->support;
    const size_t end = smaller(support + steps, limit + 1);
    const size_t low = smaller(steps, support);
    double *restrict to = sum->mass;
    const double *restrict mass = from->mass;
    sum->over = from->over + probability * mass_pushed_over(from, steps, limit);
    for (size_t s = 0; s < low; s++) {
        to[s] = off * mass[s];
    }
    for (size_t s = low; s < steps && s < end; s++) {
        to[s] = 0;
    }
    for (size_t s = steps; s < support; s++) {
        to[s] = off * mass[s] + probability * mass[s - steps];
    }
    for (size_t s = support > steps ? support : steps; s < end; s++) {
        to[s] = probability * mass[s - steps];
    }
    sum->support = steps > limit ? support : end;
}

size_t chance_sum_quantile(const struct sum *sum, double share, size_t limit)
{
    double most_above = (1 - share) * (1 + 1e-12); /* so that a tie like 1 - 0.95 against 0.05 is one */
    double above = sum->over;
    if (above > most_above) {
        return limit + 1;
    }
    size_t steps = sum->support;
    while (steps > 0 && above + sum->mass[steps - 1] <= most_above) {
        above += sum->mass[steps - 1];
        steps--;
    }
    return steps > 0 ? steps - 1 : 0;
}
